"""Dowels, pins, inserts and hardware with its own holes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import Joint
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.holes import Hole
from casewright.design.frames import Vec, add, scale
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import driven_frame, no_room, screw_fastener
from casewright.design.parts import Fastener
from casewright.design.sites import along, blocked, entry, spots
from casewright.stock.model import Dowel, Pin, Screw


@dataclass(frozen=True, slots=True, kw_only=True)
class DowelAt:
    """Dowels whose middles lie in the joint at `points`, along `drive` from a into b, `spare` deeper than long."""

    dowel: Dowel
    points: tuple[Vec, ...]
    drive: Vec
    spare: float = 1.0

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Bore both parts half the dowel's length plus half the spare."""
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        depth = (self.dowel.length + self.spare) / 2
        for i, p in enumerate(self.points):
            for path, way in ((joint.a, scale(self.drive, -1.0)), (joint.b, self.drive)):
                face, at, _ = entry(site.placed[path], p, way)
                features.append(
                    (path, Hole(face=face, u=at[0], v=at[1], diameter=self.dowel.diameter, depth=depth, joint=joint.id))
                )
            start = add(p, scale(self.drive, -self.dowel.length / 2))
            fasteners.append(
                Fastener(
                    path=f"{joint.id}.dowel[{i + 1}]",
                    item=self.dowel.id,
                    joint=joint.id,
                    parts=(joint.a, joint.b),
                    frame=driven_frame(start, self.drive),
                    length=self.dowel.length,
                    shank_radius=self.dowel.diameter / 2,
                    thread_length=0.0,
                )
            )
        return Resolution(features=tuple(features), fasteners=tuple(fasteners))


@dataclass(frozen=True, slots=True, kw_only=True)
class PinLine:
    """Pins or brads along a line on the outer face of a, driven along `drive` into b: no drilled holes.

    `sunk` sets the head below the surface of the line (into a moulding's hollow the line lies on its face).
    """

    pin: Pin
    start: Vec
    end: Vec
    drive: Vec
    count: int
    ends: float
    apart: float

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the pins around keepouts and earlier fasteners."""
        way, length = along(self.start, self.end)
        boxes = site.boxes((joint.a, joint.b))
        taken = blocked(self.start, way, self.drive, self.pin.length, self.pin.diameter / 2, boxes)
        places = spots(length, self.count, self.ends, self.apart, taken)
        if places is None:
            return Resolution(findings=(no_room(joint, self.count, length),))
        return Resolution(
            fasteners=tuple(
                Fastener(
                    path=f"{joint.id}.pin[{i + 1}]",
                    item=self.pin.id,
                    joint=joint.id,
                    parts=(joint.a, joint.b),
                    frame=driven_frame(add(self.start, scale(way, s)), self.drive),
                    length=self.pin.length,
                    shank_radius=self.pin.diameter / 2,
                    thread_length=0.0,
                )
                for i, s in enumerate(places)
            )
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughBolt:
    """A bolt from inside, through parts into a pull; `point` is where its head bears, `drive` the way it goes.

    The first of `through` is bored on the bench (before mouldings go on), the others at assembly through its holes.
    """

    bolt: Screw
    point: Vec
    drive: Vec
    through: tuple[str, ...]
    hole: float

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Bore every part and place the bolt."""
        features: list[tuple[str, Feature]] = []
        for i, path in enumerate(self.through):
            face, at, _ = entry(site.placed[path], self.point, self.drive)
            made = MadeAt.BENCH if i == 0 else MadeAt.ASSEMBLY
            features.append((path, Hole(face=face, u=at[0], v=at[1], diameter=self.hole, made_at=made, joint=joint.id)))
        head = add(self.point, scale(self.drive, -self.bolt.head_height))
        bolt = screw_fastener(self.bolt, f"{joint.id}.bolt", joint, head, self.drive)
        return Resolution(features=tuple(features), fasteners=(replace(bolt, parts=(*self.through, joint.b)),))


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilled:
    """Holes that a hardware item needs in a part, given in the piece: points on the face it is drilled from."""

    part: str
    points: tuple[Vec, ...]
    drive: Vec
    diameter: float
    depth: float
    bore_diameter: float = 0.0
    bore_depth: float = 0.0
    made_at: MadeAt = MadeAt.BENCH

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Bore the part."""
        out: list[tuple[str, Feature]] = []
        for p in self.points:
            face, at, _ = entry(site.placed[self.part], p, self.drive)
            hole = Hole(
                face=face,
                u=at[0],
                v=at[1],
                diameter=self.diameter,
                depth=self.depth,
                bore_diameter=self.bore_diameter,
                bore_depth=self.bore_depth,
                made_at=self.made_at,
                joint=joint.id,
            )
            out.append((self.part, hole))
        return Resolution(features=tuple(out))
