"""Shaping: mitred and bevelled ends, tapers, coves."""

from __future__ import annotations

import math
from dataclasses import field

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.frames import Frame, Vec, X, Y, cosd, cross, scale, sind, unit
from casewright.design.outlines import circle
from casewright.design.volumes import HalfSpace, Volume
from casewright.units.grid import record


def half_space(point: Vec, outward: Vec) -> HalfSpace:
    """Return the half-space beyond a plane."""
    z = unit(outward)
    other: Vec = X if abs(z[0]) < 0.9 else Y
    x = unit(cross(other, z))
    return HalfSpace(frame=Frame(origin=point, x=x, y=unit(cross(z, x))))


@record
class EndCut:
    """An angled saw cut at an end.

    `mitre` is counted from a square cut, in the plane of face0 (positive: the cut's outward normal
    leans to +y); `bevel` from vertical (positive: it leans to +z). The cut passes through the centre
    line of the blank's box `at` mm from end0.
    """

    face: Face
    at: float
    mitre: float
    bevel: float = 0.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a cut that is not on an end or runs along the piece."""
        if self.face.axis != 0 or abs(self.mitre) >= 90 or abs(self.bevel) >= 90:
            raise ValueError(f"an end cut needs an end and angles below 90°, got {self.face} {self.mitre} {self.bevel}")

    def normal(self) -> Vec:
        """Return the unit normal that points off the piece."""
        side = 1.0 if self.face.high else -1.0
        return (side * cosd(self.bevel) * cosd(self.mitre), cosd(self.bevel) * sind(self.mitre), sind(self.bevel))

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The half-space beyond the cut."""
        return (half_space((self.at, blank.width / 2, blank.thickness / 2), self.normal()),)

    def carry(self, turn: Turn, blank: Blank) -> EndCut:
        """Carry the plane; its angles are read back from its normal."""
        return end_cut_from_normal(
            turn.vector(self.normal()),
            blank.length - self.at if turn.flip[0] else self.at,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        if self.mitre and self.bevel:
            return "compound mitre"
        return "mitre" if self.mitre else "bevel" if self.bevel else "crosscut"


def end_cut_from_normal(normal: Vec, at: float, *, made_at: MadeAt = MadeAt.BENCH, joint: str = "") -> EndCut:
    """Return the end cut whose plane has this outward normal (blank frame)."""
    n = unit(normal)
    bevel = math.degrees(math.asin(max(-1.0, min(1.0, n[2]))))
    mitre = math.degrees(math.atan2(n[1], abs(n[0])))
    face = Face.END1 if n[0] > 0 else Face.END0
    return EndCut(face=face, at=at, mitre=mitre, bevel=bevel, made_at=made_at, joint=joint)


@record
class Taper:
    """A face planed away towards an end: nothing at `start` mm from end0, `inset` mm at the end `towards`."""

    face: Face
    towards: Face
    start: float
    inset: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a taper of an end, or towards anything but one."""
        if self.face.axis == 0 or self.towards.axis != 0 or self.inset <= 0:
            raise ValueError("a taper leans a face or edge towards an end by more than 0")

    def angle(self, blank: Blank) -> float:
        """Return the taper's angle in degrees: atan(inset / length)."""
        return math.degrees(math.atan(self.inset / self._run(blank)))

    def _run(self, blank: Blank) -> float:
        return blank.length - self.start if self.towards.high else self.start

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The half-space beyond the leaning plane."""
        out = scale(blank.inward(self.face), -1.0)
        run = self._run(blank)
        way = 1.0 if self.towards.high else -1.0
        # The plane falls by inset over run in the direction `way` along x.
        normal = (way * self.inset, out[1] * run, out[2] * run)
        return (half_space(blank.point(self.face, (self.start, 0.0)), normal),)

    def carry(self, turn: Turn, blank: Blank) -> Taper:
        """Carry face, end and start."""
        return Taper(
            face=turn.face(self.face),
            towards=turn.face(self.towards),
            start=blank.length - self.start if turn.flip[0] else self.start,
            inset=self.inset,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "taper"


@record
class Cove:
    """A hollow of `radius` across a face or edge, square to the grain, its middle `at` mm from end0, `depth` deep."""

    face: Face
    at: float
    radius: float
    depth: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a cove deeper than its radius, or on an end."""
        if self.face.axis == 0 or not 0 < self.depth <= self.radius:
            raise ValueError("a cove lies on a face or edge and is at most as deep as its radius")

    @property
    def width(self) -> float:
        """Width of the hollow at the surface: the chord 2·√(2 r d − d²)."""
        return 2 * math.sqrt(2 * self.radius * self.depth - self.depth**2)

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """A bar of `radius` lying across the face."""
        across = 1 if self.face.axis == 2 else 2
        side = Face.EDGE0 if across == 1 else Face.FACE0
        height = self.radius - self.depth
        surface = blank.size[self.face.axis] + height if self.face.high else -height
        return (blank.prism(side, circle(self.at, surface, self.radius), blank.size[across] + PROUD, PROUD),)

    def carry(self, turn: Turn, blank: Blank) -> Cove:
        """Carry face and place."""
        return Cove(
            face=turn.face(self.face),
            at=blank.length - self.at if turn.flip[0] else self.at,
            radius=self.radius,
            depth=self.depth,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "cove"
