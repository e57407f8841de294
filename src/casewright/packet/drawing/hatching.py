"""What is cut, by material: end grain, long grain, plies, fibreboard, metal, told apart by pattern.

Lines of neighbours run differently. Hatching keeps off texts, and stops at the outline. Patterns follow common
practice for wood (ISO 128-50 leaves materials to the trade): growth rings for end grain, lines along the grain for long
grain, lines along the plies for plywood, every other one dashed, dots for fibreboard, dark for metal. No two materials
differ by their tone alone, so that a copy in black and white can still be read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from casewright.design.frames import Vec
from casewright.packet.drawing.cutting import CutPart, Plane, is_sheet, thickness_way
from casewright.packet.drawing.primitives import XY, Ends, Fill, LineRole, Segments, Tone

PITCH = 1.4  # mm on paper between growth rings
BOARD = 16.0  # mm on paper: a wide area is drawn as several boards, each with its own heart
HEART = 0.5  # of a board's width: how far its heart lies beyond its edge
CHORD = 10.0  # degrees of a ring that are one line
FINE = 0.9  # mm between lines along the grain
DASH = (2.0, 0.8)  # mm on and off: every other ply, whose grain runs across
DOTS, DOT = 1.3, 0.3  # mm between the dots of fibreboard, and how long each is
LEAST = 0.75  # mm on paper: what is thinner is filled alone


class Material(Enum):
    """How a cut surface looks, by its name in the key."""

    END_GRAIN = "end grain"
    LONG_GRAIN = "long grain"
    PLIES = "plywood, raw edge"
    FIBRE = "fibreboard"
    METAL = "bought part"


TONES: dict[Material, Tone] = {
    Material.END_GRAIN: (238, 238, 238), Material.LONG_GRAIN: (248, 248, 248), Material.PLIES: (228, 228, 228),
    Material.FIBRE: (222, 222, 222), Material.METAL: (150, 150, 150),
}  # fmt: skip
BAND: Tone = (70, 70, 70)


def material_of(part: CutPart) -> Material:
    """Return how a cut part looks: by its stock, and by whether the plane crosses the grain."""
    if part.grain is None:
        return Material.METAL
    if is_sheet(part.placed.thing):
        return Material.FIBRE if "mdf" in part.placed.part.stock else Material.PLIES
    return Material.END_GRAIN if abs(part.grain[2]) > 0.7 else Material.LONG_GRAIN


def filled(area: BaseGeometry, tone: Tone) -> Fill:
    """Return an area on paper as a fill."""
    rings = tuple(
        tuple((x, y) for x, y in shapely.get_coordinates(ring).tolist()[:-1])
        for shape in shapely.get_parts(area)
        if shape.geom_type == "Polygon"
        for ring in (shape.exterior, *shape.interiors)
    )
    return Fill(rings, tone)


def hatched(
    part: CutPart, area: BaseGeometry, plane: Plane, number: int, texts: Sequence[BaseGeometry]
) -> Segments | None:
    """Return the hatching of a cut area on paper, off the texts; None for what is filled alone."""
    material = material_of(part)
    if material is Material.METAL or area.buffer(-LEAST / 2).is_empty:
        return None
    clear = area.difference(shapely.unary_union(list(texts))) if texts else area
    return pattern(material, area, clear, _way(part, material, plane), number)


def pattern(material: Material, area: BaseGeometry, clear: BaseGeometry, way: XY, number: int) -> Segments | None:
    """Return the lines of a material over an area on paper, those within `clear`; `way` is that of grain or plies.

    Neighbours with other numbers have their lines elsewhere.
    """
    if material is Material.END_GRAIN:
        drawn = growth_rings(area, number)
    elif material is Material.FIBRE:
        drawn = _dots(area, number)
    else:
        drawn = _lines(area, way, number, crossed=material is Material.PLIES)
    ends: list[Ends] = []
    for line in shapely.get_parts(drawn.intersection(clear)):
        if line.geom_type == "LineString" and line.length > 0.2:
            points = line.coords
            ends += [(*a, *b) for a, b in pairwise(points)]
    return Segments(tuple(ends), LineRole.HATCH) if ends else None


def _way(part: CutPart, material: Material, plane: Plane) -> XY:
    if material is Material.LONG_GRAIN and part.grain is not None:
        return _unit(part.grain)
    if material is Material.PLIES:
        t = thickness_way(part.placed, plane)
        return _unit((-t[1], t[0], 0.0)) if abs(t[2]) < 0.9 else (1.0, 0.0)
    return (1.0, 0.0)


def growth_rings(area: BaseGeometry, number: int) -> BaseGeometry:
    """Return growth rings over an area: boards side by side along its longer side, their hearts by turns of parts."""
    x0, y0, x1, y1 = area.bounds
    lying = x1 - x0 >= y1 - y0
    long, short = (x1 - x0, y1 - y0) if lying else (y1 - y0, x1 - x0)
    boards = max(1, round(long / BOARD))
    wide = long / boards
    runs: list[BaseGeometry] = []
    for i in range(boards):
        heart = ((i + 0.5) * wide, -HEART * wide if number % 2 else short + HEART * wide)
        cell = shapely.box(i * wide, 0.0, (i + 1) * wide, short)
        far = math.hypot(wide / 2, short + HEART * wide)
        first = HEART * wide + PITCH * (0.35 + 0.3 * (number % 3))
        for r in np.arange(first, far, PITCH).tolist():
            ring = shapely.LineString(
                [(heart[0] + r * math.cos(t), heart[1] + r * math.sin(t)) for t in _turns(number % 2 == 1)]
            )
            runs.append(ring.intersection(cell))
    flat = shapely.union_all([r for r in runs if not r.is_empty])
    corner = np.array((x0, y0))
    return shapely.transform(flat, lambda c: (c if lying else c[:, ::-1]) + corner)


def _turns(upwards: bool) -> list[float]:
    """Return the angles of half a ring, in radians."""
    start = 0.0 if upwards else 180.0
    return [math.radians(start + CHORD * i) for i in range(int(180.0 / CHORD) + 1)]


def _unit(v: Vec) -> XY:
    size = math.hypot(v[0], v[1]) or 1.0
    return (v[0] / size, v[1] / size)


def _dots(area: BaseGeometry, number: int) -> BaseGeometry:
    """Return dots in rows, every other row half a step on; at least one row, and one dot, through the middle."""
    x0, y0, x1, y1 = area.bounds
    rows = np.arange(y0 + DOTS * (0.4 + number % 3 / 6), y1, DOTS * 0.8).tolist() or [(y0 + y1) / 2]
    runs = []
    for i, y in enumerate(rows):
        starts = np.arange(x0 + DOTS * (0.3 + i % 2 / 2), x1, DOTS).tolist() or [(x0 + x1 - DOT) / 2]
        runs += [((x, y), (x + DOT, y)) for x in starts]
    return shapely.multilinestrings(np.array(runs))


def _lines(area: BaseGeometry, way: XY, number: int, *, crossed: bool) -> BaseGeometry:
    """Return lines one way over an area; every other one dashed where plies cross."""
    x0, y0, x1, y1 = area.bounds
    middle, reach = np.array(((x0 + x1) / 2, (y0 + y1) / 2)), math.hypot(x1 - x0, y1 - y0) / 2 + FINE
    along, across = np.array(way), np.array((-way[1], way[0]))
    offsets = np.arange(-reach, reach, FINE) + (number % 3) * FINE / 3
    dashes = np.arange(0.0, 2 * reach, sum(DASH))
    runs = []
    for i, offset in enumerate(offsets):
        start = middle - along * reach + across * offset
        spans = [(s, s + DASH[0]) for s in dashes] if crossed and i % 2 else [(0.0, 2 * reach)]
        runs += [(start + along * a, start + along * b) for a, b in spans]
    return shapely.multilinestrings(np.array(runs))
