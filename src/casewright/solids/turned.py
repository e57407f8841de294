"""Round bodies on one axis as one mesh: a screw's hole is a clearance, a pilot and a countersink, all turned alike.

Cones that share an axis are one body of revolution whose radius at each height is the largest of theirs. Made so, a
hole with a countersink costs no boolean, and holes that do not meet are taken out of a part all at once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from manifold3d import Manifold, Mesh64
from numpy.typing import NDArray

from casewright.design.frames import Frame, dot, scale, sub
from casewright.design.volumes import Cone
from casewright.solids.facets import Facets, circle_count, circle_points

Ring: TypeAlias = tuple[float, float]  # height on the axis, radius, mm
THIN = 1e-9  # mm: less than this is nothing
ALIKE = 6  # decimals, mm, to which axes must agree to be one


@dataclass(frozen=True, slots=True)
class Flank:
    """One cone on an axis: from radius r0 at z0 to r1 at z1 (z0 < z1)."""

    z0: float
    r0: float
    z1: float
    r1: float

    def radius(self, z: float) -> float:
        """Return its radius at a height, −1 outside it."""
        if not self.z0 - THIN <= z <= self.z1 + THIN:
            return -1.0
        return self.r0 + (self.r1 - self.r0) * (z - self.z0) / (self.z1 - self.z0)


def turned_bodies(cones: Iterable[Cone], grow: float, facets: Facets) -> list[Manifold]:
    """Return the union of cones as bodies that each have an axis of their own, `grow` mm larger all round."""
    out = []
    for frame, flanks in _by_axis(cones, grow):
        for rings in profiles(flanks):
            out.append(turned(rings, facets).transform(_matrix(frame)))
    return out


def profiles(flanks: list[Flank]) -> list[tuple[Ring, ...]]:
    """Return the outer line of flanks on one axis, from the lowest ring up, one for each body that stands apart."""
    heights = sorted({f.z0 for f in flanks} | {f.z1 for f in flanks} | set(_crossings(flanks)))
    out: list[list[Ring]] = [[]]
    for low, high in pairwise(heights):
        if high - low <= THIN:
            continue
        rings = _between(flanks, low, high)
        if rings is None:
            out.append([])
        else:
            out[-1].extend(r for r in rings if not out[-1] or _differ(out[-1][-1], r))
    return [tuple(_straightened(rings)) for rings in out if rings]


def turned(rings: tuple[Ring, ...], facets: Facets) -> Manifold:
    """Return the body of revolution about the z axis with this profile; only its first and last ring may be points."""
    # Bodies carry numbers in the order in which they are made, and the kernel sorts triangles by them: a body kept
    # from an earlier part would make the bytes of a mesh depend on what was made before. So only its mesh is kept.
    return Manifold(_turned_mesh(rings, facets))


@lru_cache(maxsize=4096)
def _turned_mesh(rings: tuple[Ring, ...], facets: Facets) -> Mesh64:
    count = circle_count(max(r for _, r in rings))
    stack, starts = [], [0]
    for z, r in rings:
        ring = circle_points(r, count, facets) if r > THIN else np.zeros((1, 2))
        stack.append(np.column_stack((ring, np.full(len(ring), z))))
        starts.append(starts[-1] + len(ring))
    walls = [_wall(starts[i], starts[i + 1], starts[i + 2], count) for i in range(len(rings) - 1)]
    fan = np.column_stack((np.zeros(count - 2, np.int64), np.arange(1, count - 1), np.arange(2, count)))
    if rings[0][1] > THIN:
        walls.append(fan[:, ::-1])
    if rings[-1][1] > THIN:
        walls.append(fan + starts[-2])
    points = np.ascontiguousarray(np.concatenate(stack))
    return Mesh64(points, np.ascontiguousarray(np.concatenate(walls).astype(np.uint64)))


def _by_axis(cones: Iterable[Cone], grow: float) -> list[tuple[Frame, list[Flank]]]:
    """Gather cones by their axis; the first on an axis gives the frame in which all of them are measured."""
    found: dict[tuple[float, ...], tuple[Frame, list[Flank]]] = {}
    for cone in cones:
        flank = _grown(cone, grow)
        if flank is None:
            continue
        frame, flanks = found.setdefault(_axis(cone.frame), (cone.frame, []))
        z, shift = frame.z, sub(cone.frame.origin, frame.origin)
        at = dot(shift, z)
        if dot(z, cone.frame.z) > 0:
            flanks.append(Flank(at + flank.z0, flank.r0, at + flank.z1, flank.r1))
        else:
            flanks.append(Flank(at - flank.z1, flank.r1, at - flank.z0, flank.r0))
    return list(found.values())


def _axis(frame: Frame) -> tuple[float, ...]:
    """Return the line of an axis: its direction, whichever way it is walked, and its point nearest to the origin."""
    z = frame.z
    if z < (0.0, 0.0, 0.0):
        z = (-z[0], -z[1], -z[2])
    foot = sub(frame.origin, scale(z, dot(frame.origin, z)))
    return tuple(round(value, ALIKE) + 0.0 for value in (*z, *foot))


def _grown(cone: Cone, grow: float) -> Flank | None:
    """Return a cone `grow` mm larger all round, None where nothing is left of it."""
    # The slanting side moves out square to itself: by grow / cos(slope) along the radius.
    slope = (cone.r1 - cone.r0) / cone.height
    out = grow * math.sqrt(1 + slope * slope)
    z0, z1 = -grow, cone.height + grow
    r0, r1 = cone.r0 + slope * z0 + out, cone.r0 + slope * z1 + out
    if r0 < 0 and slope:
        z0, r0 = z0 - r0 / slope, 0.0
    if r1 < 0 and slope:
        z1, r1 = z1 - r1 / slope, 0.0
    if z1 - z0 <= THIN or max(r0, r1) <= THIN or min(r0, r1) < 0:
        return None
    return Flank(z0, r0, z1, r1)


def _crossings(flanks: list[Flank]) -> list[float]:
    """Return the heights at which two flanks have one radius."""
    out = []
    for i, a in enumerate(flanks):
        for b in flanks[i + 1 :]:
            low, high = max(a.z0, b.z0), min(a.z1, b.z1)
            d0, d1 = a.radius(low) - b.radius(low), a.radius(high) - b.radius(high)
            if high > low and d0 * d1 < 0:
                out.append(low + (high - low) * d0 / (d0 - d1))
    return out


def _between(flanks: list[Flank], low: float, high: float) -> tuple[Ring, Ring] | None:
    """Return the rings of the widest flank between two heights at which none begins, ends or crosses another."""
    middle = (low + high) / 2
    widest = max(flanks, key=lambda f: f.radius(middle))
    if widest.radius(middle) <= 0:
        return None
    return (low, max(0.0, widest.radius(low))), (high, max(0.0, widest.radius(high)))


def _differ(a: Ring, b: Ring) -> bool:
    return abs(a[0] - b[0]) > THIN or abs(a[1] - b[1]) > THIN


def _straightened(rings: list[Ring]) -> list[Ring]:
    """Leave out rings on the straight line between their neighbours."""
    kept = rings[:1]
    for ring, ahead in pairwise(rings[1:]):
        (z0, r0), (z1, r1), (z2, r2) = kept[-1], ring, ahead
        if abs((z1 - z0) * (r2 - r0) - (z2 - z0) * (r1 - r0)) > THIN:
            kept.append(ring)
    return [*kept, rings[-1]]


def _wall(low: int, high: int, end: int, count: int) -> NDArray[np.int64]:
    """Return the triangles between two rings whose points start at `low` and `high`; either may be one point."""
    i, ahead = np.arange(count), (np.arange(count) + 1) % count
    if high - low == 1:
        return np.column_stack((np.full(count, low), high + ahead, high + i))
    if end - high == 1:
        return np.column_stack((low + i, low + ahead, np.full(count, high)))
    rising = np.column_stack((low + i, low + ahead, high + ahead))
    return np.concatenate((rising, np.column_stack((low + i, high + ahead, high + i))))


def _matrix(frame: Frame) -> NDArray[np.float64]:
    return np.array([frame.x, frame.y, frame.z, frame.origin]).T.copy()
