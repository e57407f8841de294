"""Filled pictures: the visible parts of all faces as areas, lit from the upper left.

The visible edges of all faces cut the plane into cells; each cell takes the tone of the face that is
nearest to the viewer inside it; cells of one tone make one fill.
"""

from __future__ import annotations

import numpy as np
import shapely

from casewright.packet.drawing.primitives import XY, Fill, Tone
from casewright.packet.drawing.tones import lit
from casewright.solids.hide import Projection, front_at, visible_lines
from casewright.solids.mesh import Floats

OVERSHOOT = 0.005  # mm: edges are drawn out by this so that they surely cross
NODING = 0.002  # mm: grid on which crossings are found
LIGHT = (-0.35, 0.62, 0.70)  # x right, y up, z to the viewer
AMBIENT, DIRECT = 0.58, 0.46
LEVELS = 40.0  # of light: neighbouring facets of a curve share a fill where they look alike


def shaded(projection: Projection, tones: tuple[Tone, ...]) -> tuple[Fill, ...]:
    """Return fills in the projection's own mm; `tones` are those of its nodes."""
    cells = _cells(visible_lines(projection, all_edges=True).ends)
    inside = shapely.get_coordinates(shapely.point_on_surface(cells))
    face = front_at(projection, inside)
    seen = face >= 0
    light = np.round(_light(projection.normals[face]) * LEVELS) / LEVELS
    groups: dict[Tone, list[int]] = {}
    for i in np.flatnonzero(seen):
        tone = lit(tones[int(projection.triangle_owner[face[i]])], float(light[i]))
        groups.setdefault(tone, []).append(int(i))
    return tuple(Fill(_rings(cells[groups[tone]]), tone) for tone in sorted(groups))


def _cells(ends: Floats) -> np.ndarray[tuple[int], np.dtype[np.object_]]:
    way = ends[:, 2:] - ends[:, :2]
    way *= OVERSHOOT / np.linalg.norm(way, axis=1, keepdims=True)
    lines = shapely.linestrings(np.stack((ends[:, :2] - way, ends[:, 2:] + way), axis=1))
    noded = shapely.unary_union(lines, grid_size=NODING)
    cells: np.ndarray[tuple[int], np.dtype[np.object_]] = shapely.get_parts(shapely.polygonize([noded]))
    return cells


def _light(normals: Floats) -> Floats:
    away = np.array(LIGHT) / np.linalg.norm(LIGHT)
    direct: Floats = AMBIENT + DIRECT * np.maximum(0.0, normals @ away)
    return direct


def _rings(cells: np.ndarray[tuple[int], np.dtype[np.object_]]) -> tuple[tuple[XY, ...], ...]:
    together = shapely.normalize(shapely.coverage_union_all(cells))  # cells of one noding meet in whole edges
    return tuple(
        tuple((x, y) for x, y in shapely.get_coordinates(ring).tolist()[:-1])
        for part in shapely.get_parts(together)
        if part.geom_type == "Polygon"
        for ring in (part.exterior, *part.interiors)
    )
