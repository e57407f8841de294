"""Volumes to solids: closed triangle meshes with exact planes, and arcs as facets.

A solid may be made `slack` mm smaller all round: base and additions shrink, removals grow. Shrunk
solids are what collisions are tested with; see docs/solids.md.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from manifold3d import CrossSection, Error, JoinType, Manifold, Mesh64, OpType, triangulate
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Hardware, Part
from casewright.design.volumes import Cone, HalfSpace, Loft, Lowered, Prism, Volume
from casewright.solids.facets import CHORD, Facets, Points, outline_points
from casewright.solids.reach import lowered
from casewright.solids.turned import turned_bodies

Matrix = NDArray[np.float64]
SHAPED = 5  # cuts but bores from which on a shape is worth keeping for parts that differ in their bores alone


class SolidError(Exception):
    """Volumes that make no solid: a half-space as a body, or an outline that crosses itself."""


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A closed mesh in its own frame, with its box; `low` and `high` are 0 where it is empty."""

    body: Manifold
    low: Vec
    high: Vec

    @property
    def empty(self) -> bool:
        """True where nothing is left of it."""
        return bool(self.body.is_empty())


def solid_of(volumes: Lowered, slack: float | None = None, cache: Cache | None = None) -> Solid:
    """Return (base ∪ additions) − removals, arcs within 0.01 mm.

    As it is, with the volume and the box of the true arcs; or, where `slack` is given, everything that
    many mm smaller and facets inside bodies and outside cuts. `cache` keeps what is shaped before it is bored: four
    feet of one shape have their holes elsewhere. Raises SolidError where the volumes make no solid.
    """
    bores = tuple(v for v in volumes.removals if isinstance(v, Cone))
    if cache is None or not bores or len(volumes.removals) - len(bores) < SHAPED:
        return _measured(_shaped(volumes, slack))
    plain = replace(volumes, removals=tuple(v for v in volumes.removals if not isinstance(v, Cone)))
    whole = cache.made("shaped", (plain, slack), lambda: _shaped(plain, slack))
    cuts = _bodies(bores, slack or 0.0, Facets.EQUAL if slack is None else Facets.OUTSIDE)
    return _measured(Manifold.batch_boolean([whole, *cuts], OpType.Subtract) if cuts else whole)


def _shaped(volumes: Lowered, slack: float | None) -> Manifold:
    """Return (base ∪ additions) − removals; see `solid_of`."""
    inside, outside = (Facets.EQUAL, Facets.EQUAL) if slack is None else (Facets.INSIDE, Facets.OUTSIDE)
    slack = slack or 0.0
    bodies = _bodies(volumes.base + volumes.additions, -slack, inside)
    if not bodies:
        return Manifold()
    whole = bodies[0] if len(bodies) == 1 else Manifold.batch_boolean(bodies, OpType.Add)
    # Planes first: it is quicker to trim what has few faces yet.
    for v in volumes.removals:
        if isinstance(v, HalfSpace):
            whole = _trimmed(whole, v.frame, slack)
    cuts = _bodies((v for v in volumes.removals if not isinstance(v, HalfSpace)), slack, outside)
    if cuts:
        whole = Manifold.batch_boolean([whole, *cuts], OpType.Subtract)
    return whole


def solid(thing: Part | Hardware, cache: Cache) -> Solid:
    """Return the solid of a part or hardware item in its own frame."""
    return cache.made("solid", thing.key, lambda: solid_of(lowered(thing, cache), cache=cache))


def solid_mesh(thing: Part | Hardware, cache: Cache) -> tuple[Matrix, NDArray[np.int64]]:
    """Return the vertices of its solid, (n, 3) in its own frame, and the triangles, (m, 3) of them."""

    def read() -> tuple[Matrix, NDArray[np.int64]]:
        mesh = solid(thing, cache).body.to_mesh64()
        return mesh.vert_properties[:, :3].copy(), mesh.tri_verts.astype(np.int64)

    return cache.made("solid mesh", thing.key, read)


def shrunk(thing: Part | Hardware, slack: float, cache: Cache) -> Solid:
    """Return its solid for collisions: `slack` mm smaller all round, facets inside bodies and outside cuts."""
    return cache.made("shrunk", (thing.key, slack), lambda: solid_of(lowered(thing, cache), slack, cache))


def matrix(frame: Frame) -> Matrix:
    """Return the 3 × 4 matrix [x y z origin] that maps points of the frame into its parent."""
    return np.array([frame.x, frame.y, frame.z, frame.origin]).T.copy()


def placed_points(points: Matrix, frame: Frame) -> Matrix:
    """Map (n, 3) points of the frame into its parent."""
    m = matrix(frame)
    mapped: Matrix = points @ m[:, :3].T + m[:, 3]
    return mapped


def _measured(body: Manifold) -> Solid:
    if body.status() != Error.NoError:
        raise SolidError(f"these volumes make no solid: {body.status()}")
    if body.is_empty():
        return Solid(body=body, low=(0.0, 0.0, 0.0), high=(0.0, 0.0, 0.0))
    x0, y0, z0, x1, y1, z1 = body.bounding_box()
    return Solid(body=body, low=(x0, y0, z0), high=(x1, y1, z1))


def _trimmed(body: Manifold, frame: Frame, slack: float) -> Manifold:
    z, o = frame.z, frame.origin
    reach = z[0] * o[0] + z[1] * o[1] + z[2] * o[2] - slack
    return body.trim_by_plane((-z[0], -z[1], -z[2]), -reach)


def _bodies(volumes: Iterable[Volume], grow: float, facets: Facets) -> list[Manifold]:
    """Return bounded volumes as meshes, `grow` mm larger all round (smaller where negative); what is gone is left out.

    Cones on one axis come as one body.
    """
    out = []
    cones = []
    for volume in volumes:
        match volume:
            case Prism():
                out.append(_prism(volume, grow, facets))
            case Cone():
                cones.append(volume)
            case Loft():
                out.append(_loft(volume, grow))
            case HalfSpace():
                raise SolidError("a half-space can only be removed: a body must be bounded")
    return [body for body in out if body is not None] + turned_bodies(cones, grow, facets)


def _prism(prism: Prism, grow: float, facets: Facets) -> Manifold | None:
    if prism.height + 2 * grow <= 0:
        return None
    rings = _offset(outline_points(prism.outline, facets), grow)
    if not rings:
        return None
    flat = np.concatenate(rings)
    caps = np.asarray(triangulate(rings), dtype=np.int64)
    return _mesh(_stacked([flat, flat], [-grow, prism.height + grow]), _walls(rings, 1), caps, prism.frame)


def _offset(points: Points, grow: float) -> list[Points]:
    # Sides move straight out; corners keep their angle, so that a box stays a box.
    if grow == 0.0:
        return [points]
    moved = CrossSection([points]).offset(grow, JoinType.Miter, 2.0)
    return [np.asarray(p) for p in moved.to_polygons()]


def _loft(loft: Loft, grow: float) -> Manifold | None:
    low, high = (outline_points(o, Facets.INSIDE) for o in (loft.lower, loft.upper))
    layers, splits = _loft_divisions(low, high)
    low, high = _split_sides(low, splits), _split_sides(high, splits)
    out = grow * math.hypot(1.0, float(np.abs(high - low).max()) / loft.height)
    z0, z1 = -grow, loft.height + grow
    if z1 <= z0:
        return None
    share = np.linspace(z0, z1, layers + 1) / loft.height
    rings = [_mitred(low + (high - low) * s, out) for s in share]
    if min(_area(r) for r in rings) <= 0:
        return None
    caps = np.asarray(triangulate([rings[0]]), dtype=np.int64)
    top = np.asarray(triangulate([rings[-1]]), dtype=np.int64)
    n = len(low)
    faces = np.concatenate((_walls([low], layers), caps[:, ::-1], top + layers * n))
    return _mesh_of(placed_points(_stacked(rings, [s * loft.height for s in share]), loft.frame), faces)


def _loft_divisions(low: Points, high: Points) -> tuple[int, int]:
    # A side whose ends turn against each other is a saddle; the flat halves of a cell leave it by a
    # quarter of the cell's twist, and m × m cells have 1/m² of the whole twist each.
    twist = (np.roll(high, -1, axis=0) - high) - (np.roll(low, -1, axis=0) - low)
    run = np.roll(low, -1, axis=0) - low
    off = np.abs(run[:, 0] * twist[:, 1] - run[:, 1] * twist[:, 0]) / np.hypot(run[:, 0], run[:, 1])
    worst = float(off.max())
    m = 1 if worst < 1e-6 else 2 * math.ceil(math.sqrt(worst / (4 * CHORD)) / 2)
    return m, m


def _split_sides(points: Points, parts: int) -> Points:
    if parts == 1:
        return points
    share = (np.arange(parts) / parts)[None, :, None]
    ahead = np.roll(points, -1, axis=0)
    split: Points = (points[:, None, :] + share * (ahead - points)[:, None, :]).reshape(-1, 2)
    return split


def _mitred(points: Points, grow: float) -> Points:
    if grow == 0.0:
        return points
    ahead = np.roll(points, -1, axis=0) - points
    length = np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    normal = np.column_stack((ahead[:, 1], -ahead[:, 0])) / length
    before = np.roll(normal, 1, axis=0)
    moved: Points = points + grow * (normal + before) / (1 + (normal * before).sum(axis=1))[:, None]
    return moved


def _area(points: Points) -> float:
    ahead = np.roll(points, -1, axis=0)
    return float((points[:, 0] * ahead[:, 1] - points[:, 1] * ahead[:, 0]).sum()) / 2


def _stacked(rings: list[Points], heights: list[float]) -> Matrix:
    return np.concatenate([np.column_stack((r, np.full(len(r), z))) for r, z in zip(rings, heights, strict=True)])


def _walls(rings: list[Points], layers: int) -> NDArray[np.int64]:
    """Return the side triangles between stacked copies of the rings, as indices into the stack."""
    total = sum(len(r) for r in rings)
    starts = np.cumsum([0, *(len(r) for r in rings[:-1])])
    here = np.arange(total)
    ahead = np.concatenate([s + (np.arange(len(r)) + 1) % len(r) for s, r in zip(starts, rings, strict=True)])
    up, ahead_up = here + total, ahead + total
    # The two ways to halve a cell, layer by layer in turn: on a saddle one lies above it and one below.
    rising = np.concatenate((np.column_stack((here, ahead, ahead_up)), np.column_stack((here, ahead_up, up))))
    falling = np.concatenate((np.column_stack((here, ahead, up)), np.column_stack((ahead, ahead_up, up))))
    return np.concatenate([(falling if k % 2 else rising) + k * total for k in range(layers)])


def _lids(caps: NDArray[np.int64], per_ring: int, layers: int) -> NDArray[np.int64]:
    return np.concatenate((caps[:, ::-1], caps + layers * per_ring))


def _mesh(points: Matrix, walls: NDArray[np.int64], caps: NDArray[np.int64], frame: Frame) -> Manifold:
    return _mesh_of(placed_points(points, frame), np.concatenate((walls, _lids(caps, len(points) // 2, 1))))


def _mesh_of(points: Matrix, faces: NDArray[np.int64]) -> Manifold:
    made = Manifold(
        Mesh64(np.ascontiguousarray(points, dtype=np.float64), np.ascontiguousarray(faces.astype(np.uint64)))
    )
    if made.status() != Error.NoError:
        raise SolidError(f"an outline crosses itself or runs the wrong way: {made.status()}")
    return made
