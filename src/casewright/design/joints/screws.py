"""Screws square through one part into another: clearance hole, pilot, countersink or counterbore, slots."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.blanks import Face
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Slot
from casewright.design.frames import Frame, Vec, X, Y, add, cross, dot, scale, unit
from casewright.design.joints.base import Box, Resolution, Site
from casewright.design.outlines import Point2, obround
from casewright.design.parts import Fastener, Placed
from casewright.design.sites import Span, along, blocked, depth_along, entry, spots
from casewright.findings import Finding, Severity
from casewright.stock.model import Screw


def driven_frame(origin: Vec, direction: Vec) -> Frame:
    """Return the frame of a fastener: z the way it is driven."""
    z = unit(direction)
    other = X if abs(z[0]) < 0.9 else Y
    x = unit(cross(other, z))
    return Frame(origin=origin, x=x, y=unit(cross(z, x)))


def screw_fastener(screw: Screw, path: str, joint: Joint, origin: Vec, direction: Vec) -> Fastener:
    """Return a screw in place, `origin` where the top of its head lies."""
    # Flat heads count in the nominal length, round and washer heads stand on it.
    flat = screw.sink_angle > 0
    return Fastener(
        path=path,
        item=screw.id,
        joint=joint.id,
        parts=(joint.a, joint.b),
        frame=driven_frame(origin, direction),
        length=screw.length if flat else screw.length + screw.head_height,
        shank_radius=screw.diameter / 2,
        thread_length=screw.thread_length,
        head_radius=screw.head_diameter / 2,
        head_height=screw.head_height,
        mass=screw.mass,
    )


HARD_FROM = 500.0  # kg/m³: cherry, the oaks, plywood and MDF take the larger pilots of the tables


def pilot(screw: Screw, density: float) -> float:
    """Return the pilot diameter, mm, for wood of a density in kg/m³."""
    return screw.pilot_hard if density > HARD_FROM else screw.pilot_soft


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewLine:
    """`count` screws along a line on the outer face of part a, driven along `drive` into part b.

    `start`, `end`: the line in the piece. `ends`, `apart`: least distances from the line's ends and between
    screws. Where there is no room for all, the lines shifted by `others` are tried in turn, then as few screws as
    `least` (0: all or none). `forced` gives places
    in mm from `start` instead (the order's, or a hardware's own holes). `sunk` is the depth of a counterbore
    under the face; heads with a sink angle are countersunk flush. `bare` drills no hole in a (hardware with
    its own holes). `slot` makes the holes in a slots of that length along `slot_way`, the screw standing
    `slot_at` mm from the slot's middle towards `slot_way`. `clearance` widens the holes in a (room to shift a
    part while gaps are set), `pilot_at` says when the pilots in b are bored.
    """

    screw: Screw
    start: Vec
    end: Vec
    drive: Vec
    count: int
    ends: float
    apart: float
    least: int = 0
    others: tuple[Vec, ...] = ()
    forced: tuple[float, ...] = ()
    sunk: float = 0.0
    bare: bool = False
    slot: float = 0.0
    slot_way: Vec = (0.0, 1.0, 0.0)
    slot_at: float = 0.0
    no_pilot: bool = False
    clearance: float = 0.0
    pilot_at: MadeAt = MadeAt.BENCH

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the screws around keepouts and earlier fasteners, then drill for each."""
        way, length = along(self.start, self.end)
        found = self._places(joint, site, way, length)
        if found is None:
            return Resolution(findings=(no_room(joint, self.count, length),))
        start, places = found
        features: list[tuple[str, Feature]] = []
        fasteners: list[Fastener] = []
        for i, s in enumerate(places):
            point = add(start, scale(way, s))
            origin = point
            if not self.bare:
                cut, origin = self._through(site.placed[joint.a], joint, point)
                features.append((joint.a, cut))
            if not self.no_pilot:
                features.append((joint.b, self._pilot(site.placed[joint.b], joint, origin)))
            fasteners.append(screw_fastener(self.screw, f"{joint.id}.screw[{i + 1}]", joint, origin, self.drive))
        return Resolution(features=tuple(features), fasteners=tuple(fasteners))

    def _places(self, joint: Joint, site: Site, way: Vec, length: float) -> tuple[Vec, tuple[float, ...]] | None:
        """Return where the line starts that has room, and the places on it."""
        if self.forced:
            return self.start, self.forced
        radius = max(self.screw.head_diameter, self.slot) / 2
        boxes, pockets = site.boxes((joint.a, joint.b)), site.pockets((joint.a, joint.b))
        starts = [self.start, *(add(self.start, shift) for shift in self.others)]

        def lines(avoid: list[Box]) -> list[tuple[Vec, list[Span]]]:
            return [(s, blocked(s, way, self.drive, self.sunk + self.screw.length, radius, avoid)) for s in starts]

        # All of them clear of pockets too, if that can be had; else it is enough that no fastener is met.
        tries = [(self.count, lines([*boxes, *pockets]))] if pockets else []
        plain = lines(boxes)
        tries += [(count, plain) for count in range(self.count, (self.least or self.count) - 1, -1)]
        for count, found_lines in tries:
            for start, taken in found_lines:
                found = spots(length, count, self.ends, self.apart, taken)
                if found is not None:
                    return start, found
        return None

    def _through(self, a: Placed, joint: Joint, point: Vec) -> tuple[Feature, Vec]:
        face, at, origin = entry(a, point, self.drive)
        # Round and washer heads bear on the face (or on the bottom of their counterbore); flat ones lie in it.
        proud = 0.0 if self.screw.sink_angle > 0 else self.screw.head_height
        origin = add(origin, scale(self.drive, self.sunk - proud))
        if self.slot > 0:
            return self._slot(a, face, at, joint), origin
        bored = self.sunk > 0
        hole = Hole(
            face=face,
            u=at[0],
            v=at[1],
            diameter=self.clearance or self.screw.clearance,
            bore_diameter=self.screw.head_diameter + 1.0 if bored else 0.0,
            bore_depth=self.sunk,
            countersink=self.screw.head_diameter if self.screw.sink_angle > 0 and not bored else 0.0,
            sink_angle=self.screw.sink_angle or 82.0,
            joint=joint.id,
        )
        return hole, origin

    def _slot(self, a: Placed, face: Face, at: Point2, joint: Joint) -> Slot:
        local = a.frame.local_direction(self.slot_way)
        u, v = face.uv_axes
        half = (self.slot - self.screw.clearance) / 2
        mid = (at[0] - local[u] * self.slot_at, at[1] - local[v] * self.slot_at)
        ends = (
            (mid[0] - local[u] * half, mid[1] - local[v] * half),
            (mid[0] + local[u] * half, mid[1] + local[v] * half),
        )
        outline = obround(ends[0], ends[1], self.screw.clearance).canonical_start()
        return Slot(face=face, outline=outline, depth=depth_along(a, self.drive), joint=joint.id)

    def _pilot(self, b: Placed, joint: Joint, origin: Vec) -> Hole:
        face, at, at_face = entry(b, origin, self.drive)
        tip = add(origin, scale(self.drive, self._reach()))
        depth = dot(tip, self.drive) - dot(at_face, self.drive)
        return Hole(
            face=face,
            u=at[0],
            v=at[1],
            diameter=pilot(self.screw, b.part.mass_density),
            depth=depth,
            made_at=self.pilot_at,
            joint=joint.id,
        )

    def _reach(self) -> float:
        return self.screw.length if self.screw.sink_angle > 0 else self.screw.length + self.screw.head_height


def no_room(joint: Joint, count: int, length: float) -> Finding:
    """Return the finding of a line of fasteners that has no place among what is hidden there."""
    return Finding(
        code="fastener.no_room",
        severity=Severity.STOP,
        path=joint.id,
        message=f"no room for {count} fasteners on a line of {length:.1f} mm around what is hidden there",
        value=float(count),
        unit="",
        remedy="use fewer fasteners, or move what they must go around",
    )
