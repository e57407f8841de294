"""Lines of dowels: two or more in a joint, evenly spread, blind in both parts.

Common practice: diameter a third to a half of the thinner part, 3 to 4 in apart, at least one and a half diameters
deep in either part, and a stated cover left under a hole in the face of a sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.features.base import Feature
from casewright.design.features.holes import Hole
from casewright.design.frames import Vec, add, scale
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.screws import driven_frame, no_room
from casewright.design.parts import Fastener
from casewright.design.sites import along, blocked, entry, spots
from casewright.shop.model import Practice
from casewright.stock.model import Dowel

LEAST_DIAMETERS = 1.5  # depth in either part, in diameters (common practice)
SHARES = (1 / 3, 1 / 2)  # diameter as a share of the thinner part (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class DowelSetting:
    """A dowel and how deep its holes are in part a and part b, mm."""

    dowel: Dowel
    into_a: float
    into_b: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DowelLine:
    """`count` dowels along the line `start`–`end` in the joint's plane, along `drive` from a into b."""

    setting: DowelSetting
    start: Vec
    end: Vec
    drive: Vec
    count: int
    ends: float
    apart: float

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Spread the dowels around keepouts and earlier fasteners and bore both parts for each."""
        way, length = along(self.start, self.end)
        s = self.setting
        boxes = site.boxes((joint.a, joint.b))
        back = add(self.start, scale(self.drive, -s.into_a))
        taken = blocked(back, way, self.drive, s.into_a + s.into_b, s.dowel.diameter / 2, boxes)
        places = spots(length, self.count, self.ends, self.apart, taken)
        if places is None:
            return Resolution(findings=(no_room(joint, self.count, length),))
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        for i, at in enumerate(places):
            point = add(self.start, scale(way, at))
            features.extend(self._bores(joint, site, point))
            fasteners.append(self._dowel(joint, i + 1, point))
        return Resolution(features=tuple(features), fasteners=tuple(fasteners))

    def _bores(self, joint: Joint, site: Site, point: Vec) -> list[tuple[str, Feature]]:
        s = self.setting
        out: list[tuple[str, Feature]] = []
        for path, way, depth in ((joint.a, scale(self.drive, -1.0), s.into_a), (joint.b, self.drive, s.into_b)):
            face, at, _ = entry(site.placed[path], point, way)
            out.append(
                (path, Hole(face=face, u=at[0], v=at[1], diameter=s.dowel.diameter, depth=depth, joint=joint.id))
            )
        return out

    def _dowel(self, joint: Joint, number: int, point: Vec) -> Fastener:
        s = self.setting
        spare = (s.into_a + s.into_b - s.dowel.length) / 2
        return Fastener(
            path=f"{joint.id}.dowel[{number}]",
            item=s.dowel.id,
            joint=joint.id,
            parts=(joint.a, joint.b),
            frame=driven_frame(add(point, scale(self.drive, spare - s.into_a)), self.drive),
            length=s.dowel.length,
            shank_radius=s.dowel.diameter / 2,
            thread_length=0.0,
        )


def dowel_setting(
    dowels: Sequence[Dowel], thickness: float, room_a: float, room_b: float, practice: Practice
) -> DowelSetting | None:
    """Return the dowel and its depths for a joint whose thinner part is `thickness` thick, or None.

    `room_a` and `room_b` are the wood that each part has along the dowel; the cover under a hole is kept. Wanted is
    the practice's depth in both, less in a face that is too thin; the thickest, then the longest dowel that goes in.
    """
    cover, spare = practice["fastener.point_cover"], practice["dowel.spare"]
    best: DowelSetting | None = None
    for dowel in sorted(dowels, key=lambda d: (d.diameter, d.length, d.id)):
        if not SHARES[0] * thickness - 0.3 <= dowel.diameter <= SHARES[1] * thickness + 1e-6:
            continue
        whole, least = dowel.length + spare, LEAST_DIAMETERS * dowel.diameter
        into_a = min(whole / 2, room_a - cover)
        into_b = min(whole - into_a, room_b - cover)
        into_a = whole - into_b
        if min(into_a, into_b) >= least - 1e-6 and into_a <= room_a - cover + 1e-6:
            best = DowelSetting(dowel=dowel, into_a=into_a, into_b=into_b)
    return best


def dowel_count(length: float, practice: Practice) -> int:
    """Return how many dowels a joint of a length takes: two at least, at most the practice's spacing apart."""
    between = length - 2 * dowel_ends(length, practice)
    return 2 + max(0, -int(-(between - 1e-6) // practice["dowel.spacing"]) - 1)


def two_dowels_least(dowels: Sequence[Dowel], thickness: float, room: float, practice: Practice) -> float | None:
    """Return the least length (mm) of a joint in which two of the thinnest that suit have room; None where none suits.

    `room` is the wood that the part that is entered has along the dowel, the other has as much as it takes.
    """
    suited = [d for d in dowels if dowel_setting([d], thickness, room, 2 * d.length, practice) is not None]
    if not suited:
        return None
    return 2 * dowels_apart(min(d.diameter for d in suited), practice)


def dowels_apart(diameter: float, practice: Practice) -> float:
    """Return the least distance of two dowels, mm: their own thickness of wood between them, or the practice's."""
    return min(practice["fastener.apart"], 2 * diameter)


def dowel_ends(length: float, practice: Practice) -> float:
    """Return how far the first dowel stands from the end of a joint: by practice, less in a short joint."""
    return min(practice["dowel.ends"], length / 4)
