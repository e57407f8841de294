"""Free outlines sunk into a face: recess, slot, mortise, channel, cut-out, curved edge."""

from __future__ import annotations

from dataclasses import field
from typing import Self

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.outlines import Outline, obround, rectangle
from casewright.design.volumes import Volume
from casewright.units.grid import record


@record
class Recess:
    """An outline in (u, v) of `face`, sunk to `depth`, with square walls."""

    face: Face
    outline: Outline
    depth: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a recess without depth; start the loop at its least vertex, so that equal recesses are equal."""
        if self.depth <= 0:
            raise ValueError(f"a recess needs a depth above 0, got {self.depth}")
        object.__setattr__(self, "outline", self.outline.canonical_start())

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One prism; through where it is as deep as the blank."""
        _, _, through = blank.extent(self.face)
        depth = self.depth + PROUD if self.depth >= through - 1e-6 else self.depth
        return (blank.prism(self.face, self.outline, depth, PROUD),)

    def carry(self, turn: Turn, blank: Blank) -> Self:
        """Carry the outline."""
        return type(self)(
            face=turn.face(self.face),
            outline=turn.outline(self.face, self.outline, blank),
            depth=self.depth,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return NAMES[type(self).__name__]


class Slot(Recess):
    """A long hole for a screw that must slide."""

    __slots__ = ()


class Channel(Recess):
    """A way for a cable or plug."""

    __slots__ = ()


class Cutout(Recess):
    """An opening right through, for access or clearance."""

    __slots__ = ()


class Mortise(Recess):
    """A hole with straight walls for a tenon, square as a chisel leaves it or with the round ends of a bit."""

    __slots__ = ()


class ShapedEdge(Recess):
    """An edge cut to a curve: what lies between the curve and the edge goes, right through."""

    __slots__ = ()


NAMES = {
    "Recess": "recess",
    "Slot": "slot",
    "Mortise": "mortise",
    "Channel": "channel",
    "Cutout": "cut-out",
    "ShapedEdge": "curved edge",
}


def mortise(
    face: Face,
    u: tuple[float, float],
    v: tuple[float, float],
    depth: float,
    *,
    rounded: bool = False,
    joint: str = "",
) -> Mortise:
    """Return a mortise over the spans `u` × `v` of a face, `depth` deep, its ends square or `rounded`.

    Rounded ends lie within the spans, across the shorter one: the bit is as wide as the mortise.
    """
    (u0, u1), (v0, v1) = u, v
    half = min(u1 - u0, v1 - v0) / 2
    if not rounded:
        outline = rectangle(u0, v0, u1, v1)
    elif u1 - u0 >= v1 - v0:
        outline = obround((u0 + half, v0 + half), (u1 - half, v0 + half), 2 * half)
    else:
        outline = obround((u0 + half, v0 + half), (u0 + half, v1 - half), 2 * half)
    return Mortise(face=face, outline=outline, depth=depth, joint=joint)
