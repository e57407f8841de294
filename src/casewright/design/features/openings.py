"""Free outlines sunk into a face: recess, slot, channel, cut-out."""

from __future__ import annotations

from dataclasses import field
from typing import Self

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.outlines import Outline
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
        return {"Slot": "slot", "Channel": "channel", "Cutout": "cut-out"}.get(type(self).__name__, "recess")


class Slot(Recess):
    """A long hole for a screw that must slide."""

    __slots__ = ()


class Channel(Recess):
    """A way for a cable or plug."""

    __slots__ = ()


class Cutout(Recess):
    """An opening right through, for access or clearance."""

    __slots__ = ()
