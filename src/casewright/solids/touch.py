"""Contacts: which two things of a piece touch, and over what area.

Flat faces that look at each other in parallel planes, at most 0.01 mm apart (or 0.02 mm into each
other, which is no collision yet), touch where their outlines overlap. Areas are exact. Curved
surfaces touch along lines and have no area.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from manifold3d import CrossSection, FillRule
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Hardware, Part
from casewright.solids.collide import DEPTH_LIMIT, near_pairs
from casewright.solids.evaluate import matrix, solid_mesh
from casewright.units.grid import record

TOUCH_LIMIT = 0.01  # mm
LEAST_AREA = 1.0  # mm²
PARALLEL = 1.0 - 1e-9  # cosine: within 0.045 mm in a metre

Array = NDArray[np.float64]


@record
class Contact:
    """Two placed things (paths, in the order of the piece) that touch over `area` mm² in all.

    `normal` points from a to b at the largest of their common faces, `at` is that face's middle (both in
    the piece frame).
    """

    a: str
    b: str
    area: float
    normal: Vec
    at: Vec


@record
class Touch:
    """The same for two things by themselves, in the frame of the first."""

    area: float
    normal: Vec
    at: Vec


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A flat face as an outline in its own plane: p = origin + x u + y v."""

    outline: CrossSection
    origin: Array
    u: Array
    v: Array


@dataclass(frozen=True, slots=True, eq=False)
class Faces:
    """The k flat faces of a solid: normals (k, 3), offsets (k,), boxes (k, 6), and the triangles of each."""

    normals: Array
    offsets: Array
    boxes: Array
    triangles: Array  # (t, 3, 3)
    starts: NDArray[np.int64]  # (k + 1,)
    _patches: dict[int, Patch] = field(default_factory=dict)  # made when first asked for

    def patch(self, i: int) -> Patch:
        """Return face i in its own plane."""
        if i not in self._patches:
            self._patches[i] = _patch(self.triangles[self.starts[i] : self.starts[i + 1]], self.normals[i])
        return self._patches[i]


def contacts(piece: PieceDesign, cache: Cache, least_area: float = LEAST_AREA) -> tuple[Contact, ...]:
    """Return every pair of placed things that touch over at least `least_area` mm², in the order of the piece."""
    found = []
    for a, b in near_pairs(piece, cache, TOUCH_LIMIT):
        hit = touch(a.thing, b.thing, a.frame.relative(b.frame), cache)
        if hit is not None and hit.area >= least_area:
            found.append(
                Contact(
                    a=a.path, b=b.path, area=hit.area, normal=a.frame.direction(hit.normal), at=a.frame.point(hit.at)
                )
            )
    return tuple(found)


def touch(a: Part | Hardware, b: Part | Hardware, at: Frame, cache: Cache) -> Touch | None:
    """Return how `b`, placed at a frame seen from `a`, touches it; None where it does not."""
    return cache.made("touch", (a.key, b.key, at), lambda: (_touch(faces(a, cache), faces(b, cache), at),))[0]


def touches(a: Part | Hardware, b: Part | Hardware, at: Frame, cache: Cache, least_area: float = LEAST_AREA) -> bool:
    """True where `b`, placed at a frame seen from `a`, touches it over an area of at least so many mm²."""

    def found() -> tuple[bool]:
        return (_touches(faces(a, cache), faces(b, cache), at, least_area),)

    return cache.made("touches", (a.key, b.key, at, least_area), found)[0]


def faces(thing: Part | Hardware, cache: Cache) -> Faces:
    """Return the flat faces of a thing's solid in its own frame."""
    return cache.made("faces", thing.key, lambda: _faces(thing, cache))


def _faces(thing: Part | Hardware, cache: Cache) -> Faces:
    points, triangles = solid_mesh(thing, cache)
    corners = points[triangles]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    corners, normal, size = corners[size > 1e-9], normal[size > 1e-9], size[size > 1e-9]
    normal = normal / size[:, None]
    offset = (normal * corners[:, 0]).sum(axis=1)
    # A plane that falls on a rounding edge is split in two; areas are summed, so nothing is lost.
    plane = np.round(np.column_stack((normal * 1e5, offset * 1e3))).astype(np.int64)
    # The largest triangle of each face leads it: its normal is the truest.
    order = np.lexsort((-size, plane[:, 3], plane[:, 2], plane[:, 1], plane[:, 0]))
    corners, normal, offset, plane = corners[order], normal[order], offset[order], plane[order]
    starts = np.flatnonzero(np.append(True, (plane[1:] != plane[:-1]).any(axis=1)))
    low, high = np.minimum.reduceat(corners.min(axis=1), starts), np.maximum.reduceat(corners.max(axis=1), starts)
    return Faces(
        normals=normal[starts],
        offsets=offset[starts],
        boxes=np.concatenate((low, high), axis=1),
        triangles=corners,
        starts=np.append(starts, len(corners)),
    )


def _matched(a: Faces, b: Faces, turn: Array, shift: Array) -> list[tuple[int, int]]:
    """Return which faces of two solids lie against each other, in one plane."""
    boxes = _turned_boxes(b.boxes, turn, shift)
    ia, ib = _near(a.boxes, boxes), _near(boxes, a.boxes)
    normals = b.normals[ib] @ turn.T
    gap = -(a.offsets[ia][:, None] + (b.offsets[ib] + normals @ shift)[None, :])
    match = (a.normals[ia] @ normals.T < -PARALLEL) & (gap <= TOUCH_LIMIT) & (gap >= -DEPTH_LIMIT)
    return [(int(ia[j]), int(ib[k])) for j, k in zip(*np.nonzero(match), strict=True)]


def _touches(a: Faces, b: Faces, at: Frame, least_area: float) -> bool:
    m = matrix(at)
    turn, shift = m[:, :3], m[:, 3]

    def size(pair: tuple[int, int]) -> float:
        return min(_extent(a.boxes[pair[0]]), _extent(b.boxes[pair[1]]))

    area = 0.0
    for i, k in sorted(_matched(a, b, turn, shift), key=size, reverse=True):
        common = _common(a.patch(i), b.patch(k), turn, shift)
        area += common[0] if common is not None else 0.0
        if area >= least_area:
            return True
    return False


def _extent(box: Array) -> float:
    """Return the greatest side of a box times the next, mm²."""
    sides = sorted((box[3:] - box[:3]).tolist())
    return float(sides[1] * sides[2])


def _touch(a: Faces, b: Faces, at: Frame) -> Touch | None:
    m = matrix(at)
    turn, shift = m[:, :3], m[:, 3]
    area, best, found = 0.0, 0.0, None
    for i, k in _matched(a, b, turn, shift):
        common = _common(a.patch(i), b.patch(k), turn, shift)
        if common is None:
            continue
        area += common[0]
        if common[0] > best:
            best, found = common[0], (a.normals[i], common[1])
    if found is None:
        return None
    n, p = found[0].tolist(), found[1].tolist()
    return Touch(area=area, normal=(n[0], n[1], n[2]), at=(p[0], p[1], p[2]))


def _near(boxes: Array, others: Array) -> NDArray[np.int64]:
    """Return the indices of the boxes that reach into the box of all others."""
    low, high = others[:, :3].min(axis=0) - DEPTH_LIMIT, others[:, 3:].max(axis=0) + DEPTH_LIMIT
    return np.flatnonzero(((boxes[:, :3] <= high) & (low <= boxes[:, 3:])).all(axis=1))


def _turned_boxes(boxes: Array, turn: Array, shift: Array) -> Array:
    centre, half = (boxes[:, :3] + boxes[:, 3:]) / 2, (boxes[:, 3:] - boxes[:, :3]) / 2
    centre, half = centre @ turn.T + shift, half @ np.abs(turn).T
    return np.concatenate((centre - half, centre + half), axis=1)


def _patch(triangles: Array, normal: Array) -> Patch:
    x, y, z = normal.tolist()
    least = min(range(3), key=lambda i: abs((x, y, z)[i]))
    # The axis that is most across the normal, made square to it.
    u = np.array(((0.0, z, -y), (-z, 0.0, x), (y, -x, 0.0))[least])
    u /= np.sqrt((u * u).sum())
    a, b, c = u.tolist()
    v = np.array((y * c - z * b, z * a - x * c, x * b - y * a))
    origin = triangles[0, 0]
    flat = (triangles - origin) @ np.column_stack((u, v))
    return Patch(outline=CrossSection(list(flat), FillRule.NonZero), origin=origin, u=u, v=v)


def _common(a: Patch, b: Patch, turn: Array, shift: Array) -> tuple[float, Array] | None:
    """Return (area, middle) of the common part of two patches, the second turned and shifted into the first's frame."""
    axes = np.column_stack((turn @ b.u, turn @ b.v, turn @ b.origin + shift - a.origin))
    both = a.outline ^ b.outline.transform(np.stack((a.u, a.v)) @ axes)
    area = float(both.area())
    if area < 1e-6:
        return None
    x0, y0, x1, y1 = both.bounds()
    return area, a.origin + a.u * (x0 + x1) / 2 + a.v * (y0 + y1) / 2
