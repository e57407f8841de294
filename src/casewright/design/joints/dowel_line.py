"""Dowels along a line where the end of one part butts against the face of another, as deep as each part allows."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.features.base import Feature
from casewright.design.features.holes import Hole
from casewright.design.frames import Vec, add, scale
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import driven_frame, no_room
from casewright.design.parts import Fastener
from casewright.design.sites import along, blocked, depth_along, entry, spots
from casewright.stock.model import Dowel


@dataclass(frozen=True, slots=True, kw_only=True)
class DowelLine:
    """`count` dowels whose axes cross the joint on the line `start`–`end`, along `drive` from part a into part b.

    Part b is bored to half the dowel's length, or as deep as leaves practice fastener.point_cover under the hole;
    part a takes the rest. Each hole is half of `spare` deeper than the dowel goes in.
    """

    dowel: Dowel
    start: Vec
    end: Vec
    drive: Vec
    count: int
    ends: float
    apart: float
    spare: float = 1.0

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the dowels around keepouts and earlier fasteners, and bore both parts for each."""
        way, length = along(self.start, self.end)
        into = self._into(joint, site)
        out = self.dowel.length - into
        radius = self.dowel.diameter / 2
        boxes = site.boxes((joint.a, joint.b))
        taken = blocked(add(self.start, scale(self.drive, -out)), way, self.drive, self.dowel.length, radius, boxes)
        places = spots(length, self.count, self.ends, self.apart, taken)
        if places is None:
            return Resolution(findings=(no_room(joint, self.count, length),))
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        for i, s in enumerate(places):
            point = add(self.start, scale(way, s))
            features.append((joint.a, self._hole(joint, site, joint.a, point, -1.0, out)))
            features.append((joint.b, self._hole(joint, site, joint.b, point, 1.0, into)))
            fasteners.append(self._fastener(joint, i, add(point, scale(self.drive, -out))))
        return Resolution(features=tuple(features), fasteners=tuple(fasteners))

    def _into(self, joint: Joint, site: Site) -> float:
        room = depth_along(site.placed[joint.b], self.drive) - site.practice["fastener.point_cover"] - self.spare / 2
        return min(self.dowel.length / 2, room)

    def _hole(self, joint: Joint, site: Site, path: str, point: Vec, way: float, depth: float) -> Hole:
        face, at, _ = entry(site.placed[path], point, scale(self.drive, way))
        return Hole(
            face=face,
            u=at[0],
            v=at[1],
            diameter=self.dowel.diameter,
            depth=depth + self.spare / 2,
            joint=joint.id,
        )

    def _fastener(self, joint: Joint, i: int, start: Vec) -> Fastener:
        return Fastener(
            path=f"{joint.id}.dowel[{i + 1}]",
            item=self.dowel.id,
            joint=joint.id,
            parts=(joint.a, joint.b),
            frame=driven_frame(start, self.drive),
            length=self.dowel.length,
            shank_radius=self.dowel.diameter / 2,
            thread_length=0.0,
        )
