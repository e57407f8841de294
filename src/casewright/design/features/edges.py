"""What is run along an edge or a seam: rip bevel, edge profiles (chamfer, roundover, cove, ogee …), V-groove.

Key: an arris is the corner line of two neighbouring faces; a is measured from `side` along `face`, b from `face`
along `side`, both into the wood; R is the axis that the cut runs along.
"""

from __future__ import annotations

import math
from dataclasses import field
from typing import TypeAlias

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.features.shaping import half_space
from casewright.design.frames import Frame, Vec, X, Y, Z, add, cosd, cross, scale, sind
from casewright.design.outlines import Outline
from casewright.design.volumes import Prism, Volume
from casewright.stock.loops import loop_area
from casewright.units.grid import record

Curve: TypeAlias = tuple[tuple[float, float, float], ...]
Stops: TypeAlias = tuple[float, float]

AXES = (X, Y, Z)
QUARTER = math.tan(math.pi / 8)  # bulge of a quarter circle


@record
class RipBevel:
    """An edge or face sawn at `angle` from square along its whole length, as with the blade tilted.

    The piece keeps its full size, less `inset`, at `datum`, the face that lies on the saw's table, and loses
    towards the face across from it.
    """

    face: Face
    datum: Face
    angle: float
    inset: float = 0.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a bevel of an end, or one measured from a face that is no neighbour along the length."""
        if self.face.axis == 0 or self.datum.axis in (0, self.face.axis):
            raise ValueError(f"a rip bevel runs along an edge or face, got {self.face.value} from {self.datum.value}")
        if not 0 < self.angle < 90 or self.inset < 0:
            raise ValueError(f"a rip bevel needs an angle from 0 to 90° and an inset from 0, got {self.angle}")

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The half-space beyond the leaning plane."""
        into = blank.inward(self.face)
        normal = add(scale(into, -cosd(self.angle)), scale(blank.inward(self.datum), sind(self.angle)))
        return (half_space(add(_corner(blank, self.face, self.datum), scale(into, self.inset)), normal),)

    def carry(self, turn: Turn, blank: Blank) -> RipBevel:
        """Carry both faces."""
        return RipBevel(
            face=turn.face(self.face),
            datum=turn.face(self.datum),
            angle=self.angle,
            inset=self.inset,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "rip bevel"


@record
class EdgeProfile:
    """A profile run along the arris of `face` and `side`.

    `curve` goes from the face (a, 0) to the side (0, b), vertices (a, b, bulge); what lies between it and the
    arris goes. `stop0` and `stop1` stay uncut at the low and high end of the arris.
    """

    face: Face
    side: Face
    curve: Curve
    shape: str = "profile"
    stop0: float = 0.0
    stop1: float = 0.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a curve that does not lead from the face to the side; give the two faces in one order."""
        if self.face.axis == self.side.axis:
            raise ValueError(f"{self.face.value} and {self.side.value} have no arris")
        if len(self.curve) < 2 or abs(self.curve[0][1]) > 1e-6 or abs(self.curve[-1][0]) > 1e-6:
            raise ValueError("an edge profile leads from (a, 0) on the face to (0, b) on the side")
        if min(min(a, b) for a, b, _ in self.curve) < 0 or self.area <= 0:
            raise ValueError("an edge profile lies within the wood and takes some of it")
        if self.face.axis < self.side.axis:  # the same cut, told from the other face
            face, side = self.side, self.face
            object.__setattr__(self, "curve", _swapped(self.curve))
            object.__setattr__(self, "face", face)
            object.__setattr__(self, "side", side)

    @property
    def area(self) -> float:
        """Section of the wood that goes, in mm²."""
        return loop_area((*self.curve[:-1], (*self.curve[-1][:2], 0.0), (0.0, 0.0, 0.0)))

    @property
    def sizes(self) -> tuple[float, float]:
        """How far it reaches along the face and down the side, in mm."""
        return (self.curve[0][0], self.curve[-1][1])

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One prism along the arris, standing out of both faces."""
        last = (*self.curve[-1][:2], 0.0)
        run, drop = self.sizes
        outline = Outline(
            vertices=(*self.curve[:-1], last, (-PROUD, drop, 0.0), (-PROUD, -PROUD, 0.0), (run, -PROUD, 0.0))
        )
        corner = _corner(blank, self.face, self.side)
        return (
            swept(blank, corner, blank.inward(self.side), blank.inward(self.face), outline, self.stop0, self.stop1),
        )

    def carry(self, turn: Turn, blank: Blank) -> EdgeProfile:
        """Carry both faces; the curve is measured from them, so it stays."""
        stops = _turned_stops(turn, self.face, self.side, self.stop0, self.stop1)
        return EdgeProfile(
            face=turn.face(self.face),
            side=turn.face(self.side),
            curve=self.curve,
            shape=self.shape,
            stop0=stops[0],
            stop1=stops[1],
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return f"stopped {self.shape}" if self.stop0 or self.stop1 else self.shape


@record
class VGroove:
    """A V of included angle `angle`, `depth` deep, in `face` along a seam or a joint of boards.

    `along` is the blank's axis that it runs along (0 x, 1 y, 2 z); `at` its place on the face's other axis. `stop0` and
    `stop1` stay uncut at its low and high end.
    """

    face: Face
    along: int
    at: float
    depth: float
    angle: float = 90.0
    stop0: float = 0.0
    stop1: float = 0.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a groove without size, or one that does not run along its face."""
        if self.along not in self.face.uv_axes or self.depth <= 0 or not 0 < self.angle < 180:
            raise ValueError("a V-groove runs along its face and needs a depth and an angle")

    @property
    def width(self) -> float:
        """Width at the surface, in mm."""
        return 2 * self.depth * math.tan(math.radians(self.angle / 2))

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One three-cornered prism."""
        across = next(axis for axis in self.face.uv_axes if axis != self.along)
        half = (self.depth + PROUD) * math.tan(math.radians(self.angle / 2))
        outline = Outline(
            vertices=(
                (self.at - half, -PROUD, 0.0),
                (self.at + half, -PROUD, 0.0),
                (self.at, self.depth, 0.0),
            )
        )
        corner = blank.point(self.face, (0.0, 0.0))
        return (swept(blank, corner, AXES[across], blank.inward(self.face), outline, self.stop0, self.stop1),)

    def carry(self, turn: Turn, blank: Blank) -> VGroove:
        """Carry the face, the run and the place."""
        across = next(axis for axis in self.face.uv_axes if axis != self.along)
        now, run = turn.order.index(across), turn.order.index(self.along)
        stops = (self.stop1, self.stop0) if turn.flip[run] else (self.stop0, self.stop1)
        return VGroove(
            face=turn.face(self.face),
            along=run,
            at=blank.size[across] - self.at if turn.flip[now] else self.at,
            depth=self.depth,
            angle=self.angle,
            stop0=stops[0],
            stop1=stops[1],
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "V-groove"


def swept(blank: Blank, corner: Vec, x: Vec, y: Vec, outline: Outline, stop0: float, stop1: float) -> Prism:
    """Return the prism of an outline in the axes x, y (along axes of the blank) through `corner`, along the third.

    An end with a stop of 0 is passed by PROUD.
    """
    z = cross(x, y)
    run = next(i for i in range(3) if abs(z[i]) > 0.5)
    low = stop0 if stop0 > 1e-6 else -PROUD
    high = blank.size[run] - (stop1 if stop1 > 1e-6 else -PROUD)
    start = list(corner)
    start[run] = low if z[run] > 0 else high
    return Prism(frame=Frame(origin=(start[0], start[1], start[2]), x=x, y=y), outline=outline, height=high - low)


def chamfer(face: Face, side: Face, run: float, drop: float | None = None, stops: Stops = (0.0, 0.0)) -> EdgeProfile:
    """Return a chamfer that takes `run` of the face and `drop` of the side (as much, where it is not given)."""
    curve = ((run, 0.0, 0.0), (0.0, run if drop is None else drop, 0.0))
    return EdgeProfile(face=face, side=side, curve=curve, shape="chamfer", stop0=stops[0], stop1=stops[1])


def roundover(face: Face, side: Face, radius: float, step: float = 0.0, stops: Stops = (0.0, 0.0)) -> EdgeProfile:
    """Return a quarter circle of `radius`; with a `step` it starts that far below the face, at a fillet."""
    start: Curve = ((radius, 0.0, 0.0), (radius, step, -QUARTER)) if step else ((radius, 0.0, -QUARTER),)
    return EdgeProfile(
        face=face,
        side=side,
        curve=(*start, (0.0, radius + step, 0.0)),
        shape="roundover",
        stop0=stops[0],
        stop1=stops[1],
    )


def edge_cove(face: Face, side: Face, radius: float, step: float = 0.0, stops: Stops = (0.0, 0.0)) -> EdgeProfile:
    """Return a quarter hollow of `radius` about the arris; with a `step` it starts that far below the face."""
    start: Curve = ((radius, 0.0, 0.0), (radius, step, QUARTER)) if step else ((radius, 0.0, QUARTER),)
    return EdgeProfile(
        face=face, side=side, curve=(*start, (0.0, radius + step, 0.0)), shape="cove", stop0=stops[0], stop1=stops[1]
    )


def ogee(face: Face, side: Face, radius: float, stops: Stops = (0.0, 0.0)) -> EdgeProfile:
    """Return an ogee: a round of `radius` off the face, then a hollow of `radius` to the side."""
    curve = ((2 * radius, 0.0, -QUARTER), (radius, radius, QUARTER), (0.0, 2 * radius, 0.0))
    return EdgeProfile(face=face, side=side, curve=curve, shape="ogee", stop0=stops[0], stop1=stops[1])


def _corner(blank: Blank, face: Face, side: Face) -> Vec:
    """Return the low end of the arris of two faces."""
    p = [0.0, 0.0, 0.0]
    for f in (face, side):
        p[f.axis] = blank.size[f.axis] if f.high else 0.0
    return (p[0], p[1], p[2])


def _turned_stops(turn: Turn, face: Face, side: Face, stop0: float, stop1: float) -> tuple[float, float]:
    run = turn.order.index(3 - face.axis - side.axis)
    return (stop1, stop0) if turn.flip[run] else (stop0, stop1)


def _swapped(curve: Curve) -> Curve:
    """Return a curve told with a and b exchanged: mirrored and run backwards, so that its bulges keep their sign."""
    bulges = [k for *_, k in reversed(curve[:-1])] + [0.0]
    return tuple((b, a, k) for (a, b, _), k in zip(reversed(curve), bulges, strict=True))
