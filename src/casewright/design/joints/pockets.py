"""Pocket screws: slanting from a hidden face of one part into another."""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.features.base import Feature
from casewright.design.features.holes import PocketHole
from casewright.design.frames import Vec, add, cosd, scale, sind, unit
from casewright.design.joints.base import Box, Resolution, Site
from casewright.design.joints.screws import no_room, screw_fastener
from casewright.design.parts import Fastener
from casewright.design.sites import Span, along, blocked, box_around, depth_along, entry, spots
from casewright.shop.model import Practice
from casewright.stock.model import Screw


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketSetting:
    """`exit`: how far below the pocket's face the axis leaves the part; `bite`: length in the second part, mm."""

    exit: float
    bite: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketLine:
    """`count` pocket screws whose axes cross the joint along the line `start`–`end`.

    The line lies in the face of part a that meets b, at half the thickness of a. `opens` is the direction out of
    the face of a that holds the pockets, `drive` the direction square to the joint from a into b. `bite` is how far
    the screw goes into b along its axis. Where there is no room for all, as few as `least` (0: all or none) will do.
    `forced` places are taken as they are; if they `yield_to` what is hidden there already, others are looked for.
    """

    screw: Screw
    start: Vec
    end: Vec
    opens: Vec
    drive: Vec
    setting: PocketSetting
    count: int
    ends: float
    apart: float
    forced: tuple[float, ...] = ()
    yield_to: bool = False
    least: int = 0

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the pockets around keepouts and earlier fasteners."""
        p = site.practice
        angle = p["pocket.angle"]
        slant = unit(add(scale(self.drive, cosd(angle)), scale(self.opens, -sind(angle))))
        way, length = along(self.start, self.end)
        thickness = depth_along(site.placed[joint.a], self.opens)
        run = self.setting.exit / sind(angle)
        shoulder = self.screw.length - self.setting.bite
        lip = p["pocket.diameter"] / 2 / math.tan(math.radians(angle))  # of the mouth, beyond the axis
        # The line lies at half the thickness; the axis leaves the part `exit` under the pocket's face.
        shift = scale(self.opens, thickness / 2 - self.setting.exit)
        places = self._places(joint, site, way, length, slant, run)
        if not places:
            return Resolution(findings=(no_room(joint, self.count, length),))
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        tunnels: list[tuple[str, Box]] = []
        for i, s in enumerate(places):
            crossing = add(add(self.start, shift), scale(way, s))
            bored = add(crossing, scale(slant, -run - lip)), add(crossing, scale(slant, -shoulder))
            tunnels.append((joint.a, box_around(bored, p["pocket.diameter"] / 2)))
            features.append((joint.a, self._hole(joint, site, crossing, slant, run, shoulder)))
            head = add(crossing, scale(slant, -shoulder - self.screw.head_height))
            fasteners.append(screw_fastener(self.screw, f"{joint.id}.screw[{i + 1}]", joint, head, slant))
        return Resolution(features=tuple(features), fasteners=tuple(fasteners), tunnels=tuple(tunnels))

    def _places(
        self, joint: Joint, site: Site, way: Vec, length: float, slant: Vec, run: float
    ) -> tuple[float, ...] | None:
        if self.forced and not self.yield_to:
            return self.forced
        # Opposite members have their pockets apart: only their screws meet.
        radius = (self.screw.diameter if self.yield_to else site.practice["pocket.diameter"]) / 2
        boxes = site.boxes((joint.a, joint.b))
        # The pocket itself is part of what must stay clear: start the sweep where it opens.
        start = add(self.start, scale(slant, -run))
        reach = run + self.setting.bite
        # Boxes are drawn around heads, which lie in other members here: shank is held against shank.
        shank = self.screw.diameter - self.screw.head_diameter / 2
        crossed = blocked(start, way, slant, reach, shank, boxes) if self.forced else []
        if self.forced and not any(a < place < b for place in self.forced for a, b in crossed):
            return self.forced
        taken = blocked(start, way, slant, reach, radius, boxes)
        # Its mouth opens further back. Clear of the part's openings and other pockets if all of them can be had there;
        # else of its openings, though that may take some away; what is left beside a mouth then is for a check to say.
        wide = site.practice["pocket.diameter"] / 2
        lip = wide / math.tan(math.radians(site.practice["pocket.angle"]))

        def with_mouths(boxes: list[Box]) -> list[Span]:
            return [*taken, *blocked(add(start, scale(slant, -lip)), way, slant, reach + lip, wide, boxes)]

        openings, others = with_mouths(site.openings(joint.a, (joint.a, joint.b))), site.pockets((joint.a,))
        clear = with_mouths([*boxes, *others]) if others else openings
        fewest = self.least or self.count
        tries = [(self.count, clear)]
        tries += [(count, openings) for count in range(self.count, fewest - 1, -1)]
        tries += [(count, taken) for count in range(self.count, fewest - 1, -1)]
        found = (spots(length, count, self.ends, self.apart, spans) for count, spans in tries)
        return next((places for places in found if places is not None), None)

    def _hole(self, joint: Joint, site: Site, crossing: Vec, slant: Vec, run: float, shoulder: float) -> PocketHole:
        a = site.placed[joint.a]
        mouth = add(crossing, scale(slant, -run))
        face, at, _ = entry(a, mouth, scale(self.opens, -1.0))
        local = a.frame.local_direction(self.drive)
        u, v = face.uv_axes
        return PocketHole(
            face=face,
            u=at[0],
            v=at[1],
            du=local[u],
            dv=local[v],
            angle=site.practice["pocket.angle"],
            diameter=self.screw.clearance,
            pocket_diameter=site.practice["pocket.diameter"],
            shoulder=shoulder,
            run=run,
            joint=joint.id,
        )


def pocket_setting(screw: Screw, thickness: float, into: float, practice: Practice) -> PocketSetting | None:
    """Return where to set a pocket in stock of a thickness for a screw into `into` mm of wood, or None.

    The bite is 0.6 of the screw, less where the point would come out; the axis leaves at half the thickness, or as
    much deeper as the head needs to lie below the face. None where the bite is too short or the wood too thin.
    """
    angle, cover = practice["pocket.angle"], practice["fastener.point_cover"]
    bite = min(0.6 * screw.length, (into - cover) / cosd(angle))
    head = (screw.length - bite + screw.head_height) * sind(angle) + screw.head_diameter / 2 * cosd(angle)
    leaves = max(thickness / 2, head)
    if bite < practice["pocket.bite"] or leaves > thickness - cover - screw.clearance / 2:
        return None
    return PocketSetting(exit=leaves, bite=bite)


def pockets_apart(length: float, ends: float, practice: Practice) -> float:
    """Return how close two pockets on a line may stand, mm: nearer than other screws where the line is short."""
    return max(practice["pocket.frame_apart"], min(practice["fastener.apart"], length - 2 * ends))


def joint_count(width: float, practice: Practice) -> int:
    """Return how many pocket screws a frame joint of this width takes: one, two, and one more for each further step."""
    if width < practice["frame.one_screw_below"]:
        return 1
    wider = width - practice["frame.two_screws_to"]
    return 2 + max(0, math.ceil(wider / practice["frame.screw_step"]))
