"""Holes: straight (through, blind, countersunk, counterbored) and pocket holes."""

from __future__ import annotations

from dataclasses import field

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.frames import Frame, Vec, add, cosd, cross, scale, sind, unit
from casewright.design.volumes import Cone, Volume
from casewright.units.grid import record


def cylinder(start: Vec, direction: Vec, r0: float, r1: float, height: float) -> Cone:
    """Return a cone on a given axis; which way its circle is turned does not matter."""
    z = unit(direction)
    other: Vec = (1.0, 0.0, 0.0) if abs(z[0]) < 0.9 else (0.0, 1.0, 0.0)
    x = unit(cross(other, z))
    return Cone(frame=Frame(origin=start, x=x, y=unit(cross(z, x))), r0=r0, r1=r1, height=height)


@record
class Hole:
    """A hole square to `face` at (u, v).

    `depth` None is right through. A counterbore is a wider flat-bottomed start; a countersink a
    cone whose mouth is `countersink` wide with included angle `sink_angle`.
    """

    face: Face
    u: float
    v: float
    diameter: float
    depth: float | None = None
    bore_diameter: float = 0.0
    bore_depth: float = 0.0
    countersink: float = 0.0
    sink_angle: float = 82.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse holes without size."""
        if self.diameter <= 0 or (self.depth is not None and self.depth <= 0):
            raise ValueError(f"a hole needs a diameter and depth above 0, got {self.diameter}, {self.depth}")

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The shaft, and the counterbore and countersink where there are any."""
        inward = blank.inward(self.face)
        _, _, through = blank.extent(self.face)
        # A hole through must leave no skin; a blind one must not be deepened by its overshoot.
        reach = through + PROUD if self.depth is None or self.depth >= through - 1e-6 else self.depth
        mouth = blank.point(self.face, (self.u, self.v), -PROUD)
        r = self.diameter / 2
        out: list[Volume] = [cylinder(mouth, inward, r, r, reach + PROUD)]
        if self.bore_diameter > 0:
            out.append(cylinder(mouth, inward, self.bore_diameter / 2, self.bore_diameter / 2, self.bore_depth + PROUD))
        if self.countersink > self.diameter:
            slope = sind(self.sink_angle / 2) / cosd(self.sink_angle / 2)
            bed = blank.point(self.face, (self.u, self.v), self.bore_depth if self.bore_diameter > 0 else 0.0)
            out.append(cylinder(bed, inward, self.countersink / 2, r, (self.countersink / 2 - r) / slope))
        return tuple(out)

    def carry(self, turn: Turn, blank: Blank) -> Hole:
        """Carry the place."""
        u, v = turn.place(self.face, (self.u, self.v), blank)
        return Hole(
            face=turn.face(self.face),
            u=u,
            v=v,
            diameter=self.diameter,
            depth=self.depth,
            bore_diameter=self.bore_diameter,
            bore_depth=self.bore_depth,
            countersink=self.countersink,
            sink_angle=self.sink_angle,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        if self.bore_diameter > 0:
            return "counterbored hole"
        if self.countersink > self.diameter:
            return "countersunk hole"
        return "hole"


@record
class PocketHole:
    """A slanting pocket from `face` towards an end or edge, for a screw driven from a hidden face.

    (u, v) is where the screw's axis crosses the face; (du, dv) the unit direction along the face in which it
    dives, `angle` from the face. A pocket of `pocket_diameter` stops `shoulder` mm (along the axis)
    before `run`, the distance along the axis from the face to where the screw leaves the part; a
    pilot of `diameter` goes on right through.
    """

    face: Face
    u: float
    v: float
    du: float
    dv: float
    angle: float
    diameter: float
    pocket_diameter: float
    shoulder: float
    run: float
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def axis(self, blank: Blank) -> tuple[Vec, Vec]:
        """Return (point on the face, unit direction into the wood), blank frame."""
        start = blank.point(self.face, (self.u, self.v))
        along = [0.0, 0.0, 0.0]
        a, b = self.face.uv_axes
        along[a], along[b] = self.du, self.dv
        slant = add(
            scale((along[0], along[1], along[2]), cosd(self.angle)), scale(blank.inward(self.face), sind(self.angle))
        )
        return start, unit(slant)

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The pocket (open at the face, as its bit cuts it) and the pilot."""
        start, way = self.axis(blank)
        # The pocket must start outside the wood over its whole circle: back off by r / tan(angle).
        back = self.pocket_diameter / 2 * cosd(self.angle) / sind(self.angle) + PROUD
        mouth = add(start, scale(way, -back))
        pocket = self.run - self.shoulder
        r, p = self.pocket_diameter / 2, self.diameter / 2
        return (
            cylinder(mouth, way, r, r, back + pocket),
            cylinder(add(start, scale(way, pocket - PROUD)), way, p, p, self.shoulder + 2 * PROUD),
        )

    def carry(self, turn: Turn, blank: Blank) -> PocketHole:
        """Carry place and direction."""
        u, v = turn.place(self.face, (self.u, self.v), blank)
        u2, v2 = turn.place(self.face, (self.u + self.du, self.v + self.dv), blank)
        return PocketHole(
            face=turn.face(self.face),
            u=u,
            v=v,
            du=u2 - u,
            dv=v2 - v,
            angle=self.angle,
            diameter=self.diameter,
            pocket_diameter=self.pocket_diameter,
            shoulder=self.shoulder,
            run=self.run,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "pocket hole"
