"""Rectangular cuts on a face: rabbet, groove, dado, half lap, hinge mortise, notch; and tenon shoulders."""

from __future__ import annotations

from dataclasses import field
from typing import Self

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.outlines import rectangle
from casewright.design.volumes import Volume
from casewright.units.grid import record

PROUD = 1.0  # how far a removal stands out of an open side, so that no skin is left


def open_rectangle(
    blank: Blank, face: Face, u0: float, u1: float, v0: float, v1: float
) -> tuple[float, float, float, float]:
    """Return the rectangle stretched past the sides of the face that it reaches."""
    du, dv, _ = blank.extent(face)
    eps = 1e-6
    return (
        u0 - PROUD if u0 <= eps else u0,
        v0 - PROUD if v0 <= eps else v0,
        u1 + PROUD if u1 >= du - eps else u1,
        v1 + PROUD if v1 >= dv - eps else v1,
    )


@record
class RectCut:
    """A rectangle `u0..u1 × v0..v1` of `face`, sunk to `depth`; a side on the face's border is open."""

    face: Face
    u0: float
    u1: float
    v0: float
    v1: float
    depth: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a cut without size."""
        if self.u1 <= self.u0 or self.v1 <= self.v0 or self.depth <= 0:
            raise ValueError(f"a cut needs a size: {self.u0}..{self.u1} × {self.v0}..{self.v1}, depth {self.depth}")

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One prism, open where it meets the border, through where it is as deep as the blank."""
        _, _, through = blank.extent(self.face)
        depth = self.depth + PROUD if self.depth >= through - 1e-6 else self.depth
        box = open_rectangle(blank, self.face, self.u0, self.u1, self.v0, self.v1)
        return (blank.prism(self.face, rectangle(*box), depth, PROUD),)

    def carry(self, turn: Turn, blank: Blank) -> Self:
        """Carry the two corners."""
        a = turn.place(self.face, (self.u0, self.v0), blank)
        b = turn.place(self.face, (self.u1, self.v1), blank)
        return type(self)(
            face=turn.face(self.face),
            u0=min(a[0], b[0]),
            u1=max(a[0], b[0]),
            v0=min(a[1], b[1]),
            v1=max(a[1], b[1]),
            depth=self.depth,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return NAMES[type(self).__name__]


class Rabbet(RectCut):
    """A step along an edge or end."""

    __slots__ = ()


class Groove(RectCut):
    """A channel with the grain."""

    __slots__ = ()


class Dado(RectCut):
    """A channel across the grain."""

    __slots__ = ()


class HingeMortise(RectCut):
    """The shallow bed of a hinge leaf."""

    __slots__ = ()


class HalfLap(RectCut):
    """Half of the thickness taken off across the width, at an end or along the way, for its fellow to lie in."""

    __slots__ = ()


class Notch(RectCut):
    """A piece cut out of an edge or corner, right through."""

    __slots__ = ()


NAMES = {
    "RectCut": "cut",
    "Rabbet": "rabbet",
    "Groove": "groove",
    "Dado": "dado",
    "HalfLap": "half lap",
    "HingeMortise": "hinge mortise",
    "Notch": "notch",
}


@record
class Tenon:
    """A tongue on an end: the wood around the rectangle `u0..u1 × v0..v1` of that end goes, `length` deep.

    The tenon lies inside the blank. (u, v) of an end are blank y and z.
    """

    face: Face
    u0: float
    u1: float
    v0: float
    v1: float
    length: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a tenon that is not on an end or has no size."""
        if self.face.axis != 0 or self.u1 <= self.u0 or self.v1 <= self.v0 or self.length <= 0:
            raise ValueError(f"a tenon is made on an end and needs a size, got {self}")

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """Up to four prisms around the tongue: cheeks over the full width, shoulders between them."""
        du, dv, _ = blank.extent(self.face)
        strips = (
            (0.0, du, 0.0, self.v0),
            (0.0, du, self.v1, dv),
            (0.0, self.u0, self.v0, self.v1),
            (self.u1, du, self.v0, self.v1),
        )
        return tuple(
            blank.prism(self.face, rectangle(*open_rectangle(blank, self.face, *s)), self.length, PROUD)
            for s in strips
            if s[1] - s[0] > 1e-6 and s[3] - s[2] > 1e-6
        )

    def carry(self, turn: Turn, blank: Blank) -> Tenon:
        """Carry the two corners."""
        a = turn.place(self.face, (self.u0, self.v0), blank)
        b = turn.place(self.face, (self.u1, self.v1), blank)
        return Tenon(
            face=turn.face(self.face),
            u0=min(a[0], b[0]),
            u1=max(a[0], b[0]),
            v0=min(a[1], b[1]),
            v1=max(a[1], b[1]),
            length=self.length,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "tenon"
