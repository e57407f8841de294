"""A small picture of a piece with one place marked: what a finding is about, found at a glance.

1. It is seen from the side that shows most of what is meant.
2. What is meant is grey, also where something covers it; its own edges are thick, or dashed where they are covered.
3. What is small on paper stands in a ring. A few parts have their marks in balloons; a whole drawer needs none.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.balloons import COLUMN, MarkedPoint, marked_points, placed_balloons, seen_areas
from casewright.packet.drawing.picture import MARGIN, Sheet
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import XY, Circle, Fill, LineRole, Picture, Primitive, Tone
from casewright.packet.drawing.taken_apart import VIEWS
from casewright.solids.hide import Projection, front_at, hidden_lines, project, visible_lines
from casewright.solids.lines import Lines, merged, uncovered
from casewright.solids.mesh import Scene, scene_of
from casewright.solids.view import View

MEANT: Tone = (178, 178, 178)
SMALL = 7.0  # mm on paper: what is smaller gets a ring
RING = 4.2  # mm: radius of the ring at least
MOST_MARKS = 4
ENOUGH = 0.6  # of what is meant: a view that shows that much is taken


def located_picture(
    piece: PieceDesign, things: Sequence[str], fasteners: Sequence[str], marks: Mapping[str, str], cache: Cache, fit: XY
) -> Picture:
    """Return a picture of a piece within `fit` (mm) on which some things and fasteners are marked, all by their paths.

    `marks` are the labels of those that have one. Raises ValueError where none of the paths is in the piece.
    """
    wanted = frozenset(fasteners)
    shown = replace(piece, fasteners=tuple(f for f in piece.fasteners if f.path in wanted))
    scene = scene_of(shown, cache, fasteners=True)
    meant = frozenset(i for i, n in enumerate(scene.nodes) if n.path in wanted or n.path in frozenset(things))
    if not meant:
        raise ValueError(f"nothing to mark in {piece.path}: {[*things, *fasteners]}")
    view, projection = _best_view(scene, meant)
    sheet, area = _sheet(projection, fit), _silhouette(projection, meant)
    items = [*_drawn(projection, sheet, meant, area), *_ring(sheet, area)]
    named = {path: mark for path, mark in marks.items() if path in frozenset(things)}
    if len(frozenset(named.values())) <= MOST_MARKS:
        items += _balloons(scene, projection, sheet, items, named)
    alt = f"{piece.title}, {view.name} view, marked: {', '.join(_names(scene, meant, named))}"
    return Picture(sheet.width, sheet.height, tuple(items), alt, sheet.scale)


def _best_view(scene: Scene, meant: frozenset[int]) -> tuple[View, Projection]:
    """Return the view in which most of what is meant is seen; the usual one where none shows it."""
    found: list[tuple[float, View, Projection]] = []
    for view in VIEWS:
        projection = project(scene, view)
        share = _share_seen(projection, meant)
        if share > ENOUGH:
            return view, projection
        found.append((share, view, projection))
    _, view, projection = max(found, key=lambda f: f[0])
    return view, projection


def _share_seen(projection: Projection, meant: frozenset[int]) -> float:
    """Return how much of what is meant is not covered, 0 to 1, by the middles of its triangles."""
    own = np.isin(projection.triangle_owner, sorted(meant))
    corners = projection.triangles[own].reshape(-1, 3, 3)[:, :, :2]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    areas = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    face = front_at(projection, corners.mean(axis=1))
    seen = own[face] & (face >= 0)
    return float(areas[seen].sum() / areas.sum()) if areas.sum() > 0 else 0.0


def _silhouette(projection: Projection, meant: frozenset[int]) -> shapely.Geometry:
    own = projection.triangles[np.isin(projection.triangle_owner, sorted(meant))]
    corners = own.reshape(-1, 3, 3)[:, :, :2]
    return shapely.union_all(shapely.buffer(shapely.polygons(corners), 1e-3, join_style="mitre"))


def _sheet(projection: Projection, fit: XY) -> Sheet:
    """Return how the picture lies on its paper, with a column for balloons on both sides."""
    xs, ys = projection.triangles[:, 0::3], projection.triangles[:, 1::3]
    low, size = (float(xs.min()), float(ys.min())), (float(np.ptp(xs)), float(np.ptp(ys)))
    k = min((fit[0] - 2 * (MARGIN + COLUMN)) / size[0], (fit[1] - 2 * MARGIN) / size[1])
    width, height = size[0] * k + 2 * (MARGIN + COLUMN), size[1] * k + 2 * MARGIN
    return Sheet(width, height, k, (MARGIN + COLUMN - low[0] * k, MARGIN - low[1] * k))


def _drawn(projection: Projection, sheet: Sheet, meant: frozenset[int], area: shapely.Geometry) -> list[Primitive]:
    """Return the area of what is meant, the piece in thin lines, and the edges of what is meant over them."""
    rings = [r for p in shapely.get_parts(area) if p.geom_type == "Polygon" for r in (p.exterior, *p.interiors)]
    fill = Fill(tuple(tuple(map(tuple, shapely.get_coordinates(r).tolist()[:-1])) for r in rings), MEANT)
    visible = visible_lines(projection)
    seen = merged(visible)
    covered = uncovered(merged(hidden_lines(projection, meant)), seen)
    return [
        sheet.fill(fill),
        *sheet.lines(covered.ends, LineRole.HIDDEN),
        *sheet.lines(seen.ends, LineRole.VISIBLE),
        *sheet.lines(merged(_own(visible, meant)).ends, LineRole.OUTLINE),
    ]


def _own(lines: Lines, meant: frozenset[int]) -> Lines:
    own = np.isin(lines.owner, sorted(meant))
    return Lines(ends=lines.ends[own], owner=lines.owner[own], edge=lines.edge[own])


def _ring(sheet: Sheet, area: shapely.Geometry) -> list[Primitive]:
    x0, y0, x1, y1 = area.bounds
    if max(x1 - x0, y1 - y0) * sheet.scale >= SMALL:
        return []
    radius = max(RING, math.hypot(x1 - x0, y1 - y0) * sheet.scale / 2 + 1.2)
    return [Circle(sheet.xy(((x0 + x1) / 2, (y0 + y1) / 2)), radius, LineRole.OUTLINE)]


def _balloons(
    scene: Scene, projection: Projection, sheet: Sheet, items: Sequence[Primitive], marks: Mapping[str, str]
) -> tuple[Primitive, ...]:
    """Return a balloon for each mark, as many as there is room for."""
    points = marked_points(scene, projection, marks)
    placed = tuple(MarkedPoint(p.mark, sheet.xy(p.at), p.covered) for p in points)
    areas = seen_areas(projection) * sheet.scale + np.array(sheet.shift)
    for count in range(len(placed), 0, -1):
        try:
            return placed_balloons(items, placed[:count], sheet.width, sheet.height, areas)
        except NoRoom:
            continue
    return ()


def _names(scene: Scene, meant: frozenset[int], marks: Mapping[str, str]) -> list[str]:
    named = (scene.nodes[i] for i in sorted(meant))
    return list(dict.fromkeys(f"{marks[n.path]} {n.name}" if n.path in marks else n.name for n in named))
