"""Fasteners by axis arithmetic: what each one runs into.

A fastener is two true cylinders on one axis, its head and its shank, each 0.02 mm smaller than the
tables say so that touching is no overlap. It is held against the triangles of other things' solids,
never made into a solid itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame, Vec, add, cross, dot, norm, scale, sub
from casewright.design.parts import Fastener, Placed
from casewright.solids.collide import DEPTH_LIMIT, Boxes, is_under, placed_boxes
from casewright.solids.evaluate import placed_points, solid_mesh
from casewright.units.grid import record

Array = NDArray[np.float64]


@record
class FastenerOverlap:
    """A fastener's path, and the path of the part, hardware, keepout or other fastener that it runs into."""

    fastener: str
    other: str


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A piece of a fastener: from z0 to z1 along its own axis, mm."""

    z0: float
    z1: float
    radius: float


def cylinders(fastener: Fastener) -> tuple[Cylinder, ...]:
    """Return shank and head in the fastener's own frame."""
    shank = Cylinder(fastener.head_height, fastener.length, fastener.shank_radius)
    if fastener.head_radius <= 0 or fastener.head_height <= 0:
        return (Cylinder(0.0, fastener.length, fastener.shank_radius),)
    return (shank, Cylinder(0.0, fastener.head_height, fastener.head_radius))


def fastener_overlaps(piece: PieceDesign, cache: Cache) -> tuple[FastenerOverlap, ...]:
    """Return every fastener that enters a placed thing its joint does not name, in the order of the piece."""
    found = []
    for i, j in _box_pairs(fastener_boxes(piece.fasteners), placed_boxes(piece.placed, cache)):
        fastener, placed = piece.fasteners[i], piece.placed[j]
        if placed.path not in fastener.parts and enters(fastener, placed, cache):
            found.append(FastenerOverlap(fastener=fastener.path, other=placed.path))
    return tuple(found)


def enters(fastener: Fastener, placed: Placed, cache: Cache) -> bool:
    """True where the fastener enters a placed thing by more than 0.02 mm."""
    f, seen = fastener, fastener.frame.relative(placed.frame)
    shape = (f.length, f.shank_radius, f.head_radius, f.head_height)
    kept = cache.made("enters", (shape, placed.thing.key, seen), lambda: (_enters(f, placed, seen, cache),))
    return kept[0]


def _enters(fastener: Fastener, placed: Placed, seen: Frame, cache: Cache) -> bool:
    points, triangles = solid_mesh(placed.thing, cache)
    return _cuts(cylinders(fastener), placed_points(points, seen)[triangles])


def keepout_overlaps(piece: PieceDesign) -> tuple[FastenerOverlap, ...]:
    """Return every fastener that enters a keepout, but those that hold one of its owners."""
    found = []
    keepouts = np.array([[*k.lo, *k.hi] for k in piece.keepouts]).reshape(-1, 6)
    for i, j in _box_pairs(fastener_boxes(piece.fasteners), keepouts):
        fastener, keepout = piece.fasteners[i], piece.keepouts[j]
        if keepout.of and not set(keepout.of) & set(fastener.parts):
            continue
        owned = any(is_under(part, owner) for part in fastener.parts for owner in keepout.owners)
        corners = placed_points(_box_corners(keepout.lo, keepout.hi), fastener.frame.inverse())
        if not owned and _cuts(cylinders(fastener), corners[BOX_TRIANGLES]):
            found.append(FastenerOverlap(fastener=fastener.path, other=keepout.id))
    return tuple(found)


def crossed_fasteners(piece: PieceDesign) -> tuple[FastenerOverlap, ...]:
    """Return every pair of fasteners that run into each other by more than 0.02 mm."""
    boxes = fastener_boxes(piece.fasteners)
    pairs = ((piece.fasteners[i], piece.fasteners[j]) for i, j in _box_pairs(boxes, boxes) if i < j)
    return tuple(FastenerOverlap(fastener=a.path, other=b.path) for a, b in pairs if _meet(a, b))


def cylinder_box(start: Vec, end: Vec, axis: Vec, radius: float) -> list[float]:
    """Return the box of a cylinder between two points of its axis: low x y z, high x y z, mm."""
    # A disc reaches radius × sin(angle between its axis and the direction).
    out = [radius * math.sqrt(max(0.0, 1 - c * c)) for c in axis]
    low = [min(a, b) - r for a, b, r in zip(start, end, out, strict=True)]
    return low + [max(a, b) + r for a, b, r in zip(start, end, out, strict=True)]


def fastener_boxes(fasteners: Sequence[Fastener]) -> Boxes:
    """Return the boxes of fasteners, heads included, (n, 6) in the piece: low x y z, high x y z, mm."""
    rows = [cylinder_box(f.frame.origin, f.tip, f.frame.z, max(f.shank_radius, f.head_radius)) for f in fasteners]
    return np.array(rows).reshape(-1, 6)


def _box_pairs(a: Array, b: Array) -> list[tuple[int, int]]:
    meet = ((a[:, None, :3] <= b[None, :, 3:]) & (b[None, :, :3] <= a[:, None, 3:])).all(axis=2)
    i, j = np.nonzero(meet)
    return list(zip(i.tolist(), j.tolist(), strict=True))


def _box_corners(lo: Vec, hi: Vec) -> Array:
    return np.array([(x, y, z) for x in (lo[0], hi[0]) for y in (lo[1], hi[1]) for z in (lo[2], hi[2])])


# Corner i of a box is at (lo, hi)[i >> 2], (lo, hi)[i >> 1 & 1], (lo, hi)[i & 1]; outward counter-clockwise.
BOX_TRIANGLES = np.array(
    [
        (0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
        (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3),
    ]
)  # fmt: skip


def _cuts(parts: tuple[Cylinder, ...], corners: Array) -> bool:
    """True where a cylinder about the z axis enters a closed mesh given by its triangles (t, 3, 3)."""
    return any(_cylinder_cuts(c, corners) for c in parts) or _encloses(corners, parts[0])


def _cylinder_cuts(c: Cylinder, corners: Array) -> bool:
    z0, z1, r = c.z0 + DEPTH_LIMIT, c.z1 - DEPTH_LIMIT, c.radius - DEPTH_LIMIT
    if z1 <= z0 or r <= 0:
        return False
    low, high = corners.min(axis=1), corners.max(axis=1)
    near = (low[:, 2] < z1) & (high[:, 2] > z0) & (low[:, :2] < r).all(axis=1) & (high[:, :2] > -r).all(axis=1)
    return any(_nearest(_slab(t.tolist(), z0, z1)) < r for t in corners[near])


def _slab(polygon: list[list[float]], z0: float, z1: float) -> list[list[float]]:
    """Return the part of a polygon between two heights."""
    for limit, side in ((z0, 1.0), (z1, -1.0)):
        kept: list[list[float]] = []
        for p, q in zip(polygon, polygon[1:] + polygon[:1], strict=True):
            dp, dq = side * (p[2] - limit), side * (q[2] - limit)
            if dp >= 0:
                kept.append(p)
            if (dp > 0 > dq) or (dp < 0 < dq):
                t = dp / (dp - dq)
                kept.append([p[i] + t * (q[i] - p[i]) for i in range(3)])
        polygon = kept
    return polygon


def _nearest(polygon: list[list[float]]) -> float:
    """Return the distance of the z axis from a convex polygon, seen along the axis; infinite if it is empty."""
    best, left, right = float("inf"), True, True
    for p, q in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        dx, dy = q[0] - p[0], q[1] - p[1]
        length = dx * dx + dy * dy
        t = min(1.0, max(0.0, -(p[0] * dx + p[1] * dy) / length)) if length > 0 else 0.0
        best = min(best, math.hypot(p[0] + t * dx, p[1] + t * dy))
        side = dx * p[1] - dy * p[0]
        left, right = left and side <= 0, right and side >= 0
    inside = len(polygon) > 2 and left != right
    return 0.0 if inside else best


def _encloses(corners: Array, c: Cylinder) -> bool:
    """True where a point of the axis lies inside the mesh: the solid angles of its triangles add up to 4π."""
    if (corners.min(axis=(0, 1)) > (0.0, 0.0, c.z1)).any() or (corners.max(axis=(0, 1)) < (0.0, 0.0, c.z0)).any():
        return False
    p = corners - np.array([0.0, 0.0, (c.z0 + c.z1) / 2])
    size = np.linalg.norm(p, axis=2)
    a, b, d = p[:, 0], p[:, 1], p[:, 2]
    top = np.einsum("ij,ij->i", a, np.cross(b, d))
    # Van Oosterom & Strackee (1983), "The solid angle of a plane triangle", eq. 8.
    bottom = size.prod(axis=1) + (a * b).sum(axis=1) * size[:, 2] + (b * d).sum(axis=1) * size[:, 0]
    bottom += (a * d).sum(axis=1) * size[:, 1]
    return bool(abs(np.arctan2(top, bottom).sum() * 2) > 2 * np.pi)


def _meet(a: Fastener, b: Fastener) -> bool:
    return any(_cylinders_meet(a.frame, ca, b.frame, cb) for ca in cylinders(a) for cb in cylinders(b))


def _cylinders_meet(fa: Frame, a: Cylinder, fb: Frame, b: Cylinder) -> bool:
    # Parallel axes: discs and heights apart. Otherwise the shanks are taken with rounded ends, as points are.
    reach = a.radius + b.radius - DEPTH_LIMIT
    if norm(cross(fa.z, fb.z)) < 1e-9:
        start = fa.local_point(fb.point((0.0, 0.0, b.z0)))
        end = fa.local_point(fb.point((0.0, 0.0, b.z1)))
        over = min(a.z1, max(start[2], end[2])) - max(a.z0, min(start[2], end[2]))
        return over > DEPTH_LIMIT and float(np.hypot(start[0], start[1])) < reach
    return _segments_apart(*_core(fa, a), *_core(fb, b)) < reach


def _core(frame: Frame, c: Cylinder) -> tuple[Vec, Vec]:
    pull = min(c.radius, (c.z1 - c.z0) / 2)
    return frame.point((0.0, 0.0, c.z0 + pull)), frame.point((0.0, 0.0, c.z1 - pull))


def _segments_apart(p1: Vec, q1: Vec, p2: Vec, q2: Vec) -> float:
    """Return the least distance of two segments (C. Ericson, Real-Time Collision Detection, 2005, 5.1.9)."""
    d1, d2, r = sub(q1, p1), sub(q2, p2), sub(p1, p2)
    a, e, f = dot(d1, d1), dot(d2, d2), dot(d2, r)
    if a < 1e-12 and e < 1e-12:
        return norm(r)
    if a < 1e-12:
        s, t = 0.0, _unit_range(f / e)
    elif e < 1e-12:
        s, t = _unit_range(-dot(d1, r) / a), 0.0
    else:
        b, c = dot(d1, d2), dot(d1, r)
        spread = a * e - b * b
        s = _unit_range((b * f - c * e) / spread) if spread > 1e-12 else 0.0
        t = _unit_range((b * s + f) / e)
        s = _unit_range((b * t - c) / a)
    return norm(sub(add(p1, scale(d1, s)), add(p2, scale(d2, t))))


def _unit_range(value: float) -> float:
    return min(1.0, max(0.0, value))
