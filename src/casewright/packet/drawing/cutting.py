"""A piece cut by a plane: what the plane meets, as exact outlines by part, and what stands behind it, as lines."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame, Vec, cross, dot
from casewright.design.parts import Hardware, Part, Placed
from casewright.solids.evaluate import matrix, solid
from casewright.solids.hide import project, visible_lines
from casewright.solids.lines import Lines, merged
from casewright.solids.mesh import Floats, Node, Scene, mesh_of, meshed
from casewright.solids.view import View
from casewright.units.grid import key_of

THIN = 0.01  # mm: thinner slivers of a cut are not drawn


@dataclass(frozen=True, slots=True)
class Plane:
    """Where a piece is cut: the view that looks at the cut, and how far towards the viewer the plane lies, mm."""

    view: View
    at: float

    @property
    def normal(self) -> Vec:
        """The direction to the viewer."""
        return cross(self.view.right, self.view.up)


@dataclass(frozen=True, slots=True, eq=False)
class CutPart:
    """What the plane meets of one thing: its area in the view's mm, and the way of its grain there."""

    placed: Placed
    area: BaseGeometry
    grain: Vec | None  # in the view: right, up, towards


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """A section: the cut parts, and the visible lines behind the plane (n, 4), both in the view's mm."""

    plane: Plane
    parts: tuple[CutPart, ...]
    beyond: Floats


def cut_piece(
    piece: PieceDesign, plane: Plane, cache: Cache, *, without: tuple[str, ...] = (), deep: float | None = None
) -> Cut:
    """Return a piece cut by a plane, what stands in front of it taken away.

    `deep` leaves out what lies further behind the plane than that, mm.
    """
    things = [p for p in piece.placed if p.path not in without]
    parts = []
    nodes: list[Node] = []
    meshes = {}
    for placed in things:
        low, high = _reach(placed, plane, cache)
        if low >= plane.at - 1e-6 or (deep is not None and high < plane.at - deep):
            continue  # in front of the plane, or too far behind it
        key, frame = placed.thing.key, placed.frame
        if high > plane.at + 1e-6:
            found = _slice(placed, plane, cache)
            if found is not None:
                parts.append(found)
            key, frame = f"{key}|{key_of(placed.frame, plane.at, plane.normal)}", Frame()
            meshes[key] = cache.made("cut-mesh", key, lambda p=placed: meshed(_trimmed(p, plane, cache)))  # type: ignore[misc]
            if not len(meshes[key].triangles):
                continue
        else:
            meshes[key] = mesh_of(placed.thing, cache)
        nodes.append(Node(placed.path, placed.name, key, frame, placed.thing))
    lines = Lines(np.zeros((0, 4)), np.zeros(0, np.int64), np.zeros(0, np.int64))
    if nodes:
        lines = merged(visible_lines(project(Scene(meshes=meshes, nodes=tuple(nodes)), plane.view)))
    return Cut(plane, tuple(parts), lines.ends)


def _reach(placed: Placed, plane: Plane, cache: Cache) -> tuple[float, float]:
    """Return how far a thing reaches along the plane's normal."""
    body = solid(placed.thing, cache)
    normal = plane.normal
    corners = [
        dot(placed.frame.point((x, y, z)), normal)
        for x in (body.low[0], body.high[0])
        for y in (body.low[1], body.high[1])
        for z in (body.low[2], body.high[2])
    ]
    return min(corners), max(corners)


def _slice(placed: Placed, plane: Plane, cache: Cache) -> CutPart | None:
    body = solid(placed.thing, cache).body.transform(matrix(placed.frame))
    turn = np.column_stack((plane.view.matrix, np.zeros(3)))
    rings = body.transform(turn).slice(plane.at).to_polygons()
    if not rings:
        return None
    area = shapely.Polygon()
    for ring in rings:  # outer rings run counter-clockwise, holes the other way
        shape = shapely.Polygon(ring)
        area = area.symmetric_difference(shape if shape.is_valid else shape.buffer(0))
    if area.area < THIN or area.buffer(-THIN / 2).is_empty:
        return None
    return CutPart(placed, area, _grain(placed, plane))


def _grain(placed: Placed, plane: Plane) -> Vec | None:
    if isinstance(placed.thing, Hardware):
        return None
    x, view = placed.frame.x, plane.view
    return (dot(x, view.right), dot(x, view.up), dot(x, plane.normal))


def _trimmed(placed: Placed, plane: Plane, cache: Cache):  # type: ignore[no-untyped-def]
    body = solid(placed.thing, cache).body.transform(matrix(placed.frame))
    n = plane.normal
    return body.trim_by_plane((-n[0], -n[1], -n[2]), -plane.at)


def thickness_way(placed: Placed, plane: Plane) -> Vec:
    """Return the direction of a part's thickness in the view."""
    z, view = placed.frame.z, plane.view
    return (dot(z, view.right), dot(z, view.up), dot(z, plane.normal))


def closed_up(piece: PieceDesign, paths: frozenset[str]) -> PieceDesign:
    """Return a piece with some placed things alone."""
    return replace(piece, placed=tuple(p for p in piece.placed if p.path in paths))


def is_sheet(thing: Part | Hardware) -> bool:
    """True for a part cut from sheet goods."""
    return isinstance(thing, Part) and thing.form.value == "sheet"
