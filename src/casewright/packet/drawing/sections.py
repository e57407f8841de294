"""Sections of a piece: where it is cut, and the cut as a view with hatching, thick outlines and marks.

1. Upright planes go through the middle of each thing that moves and of each bay between upright panels, level ones
   through the middle of each thing that moves; where nothing moves, through the middle of the piece.
2. Of planes that meet the same materials at the same places one is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.parts import Part, Placed
from casewright.packet.drawing.chains_located import Link
from casewright.packet.drawing.cutting import Cut, CutPart, Plane
from casewright.packet.drawing.edge_bands import band_areas
from casewright.packet.drawing.hatching import BAND, TONES, Material, filled, hatched, material_of
from casewright.packet.drawing.lettering import corners_of
from casewright.packet.drawing.measured_view import SizedView
from casewright.packet.drawing.primitives import (
    XY,
    LineRole,
    Polyline,
    Primitive,
    Segments,
    Text,
)  # fmt: skip
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.stage import Stage
from casewright.packet.drawing.torn_line import torn_side
from casewright.solids.collide import is_under_any, placed_boxes
from casewright.solids.mesh import Floats
from casewright.solids.view import LEFT_SIDE, PLAN

NEIGHBOURS = 40.0  # mm: planes nearer to each other show the same
PANEL, HIGH = 60.0, 0.4  # an upright panel: at most so thick and at least so deep, mm; this share of the height
OFF = 0.37  # mm: planes keep off faces that lie in the very middle
MARGIN_OF_TEXT = 0.5  # mm that hatching keeps off texts


@dataclass(frozen=True, slots=True, kw_only=True)
class Sectioned:
    """A section by its name, and where it is cut. The name has a figure ("S1"), so that no mark is the same."""

    name: str
    plane: Plane
    what: str


def sections_of(piece: PieceDesign, cache: Cache) -> tuple[Sectioned, ...]:
    """Return where a piece is cut: upright through each unlike column, level through each unlike thing that moves."""
    things = tuple(p for p in piece.placed if p.path not in piece.excluded)
    boxes = placed_boxes(things, cache).tolist()
    moving = [b for motion in piece.motions if (b := _box(things, boxes, motion.members)) is not None]
    columns = sorted({round((b[0] + b[3]) / 2, 1) for b in moving} | set(_bays(things, boxes)))
    rows = sorted({round((b[2] + b[5]) / 2, 1) for b in moving}, reverse=True)
    middles = _unlike(things, boxes, _apart(columns or [0.0]), 0)
    heights = _unlike(things, boxes, _apart(rows or [round(piece.height / 2, 1)]), 2)
    upright = [Sectioned(name="", plane=Plane(LEFT_SIDE, -x + OFF), what="looking to the right") for x in middles]
    level = [Sectioned(name="", plane=Plane(PLAN, z + OFF), what="looking down") for z in heights]
    return tuple(replace(s, name=f"S{i}") for i, s in enumerate((*upright, *level), 1))


def _bays(things: Sequence[Placed], boxes: Sequence[Sequence[float]]) -> list[float]:
    """Return the middles of the bays between upright panels: parts that are thin from left to right, deep and high."""
    whole = max(b[5] for b in boxes) - min(b[2] for b in boxes)
    panels = sorted(
        (b[0], b[3])
        for thing, b in zip(things, boxes, strict=True)
        if isinstance(thing.thing, Part) and b[3] - b[0] < PANEL < b[4] - b[1] and b[5] - b[2] > whole * HIGH
    )
    return [round((p[1] + q[0]) / 2, 1) for p, q in pairwise(panels) if q[0] - p[1] > NEIGHBOURS]


def _unlike(
    things: Sequence[Placed], boxes: Sequence[Sequence[float]], places: Sequence[float], axis: int
) -> list[float]:
    """Leave out planes that meet the same materials at the same places as an earlier one."""
    kept: dict[frozenset[tuple[str, tuple[int, ...]]], float] = {}
    others = [i for i in range(3) if i != axis]
    for at in places:
        met = (
            (_material(thing), tuple(round(b[i + k]) for i in others for k in (0, 3)))
            for thing, b in zip(things, boxes, strict=True)
            if b[axis] < at < b[axis + 3]
        )
        kept.setdefault(frozenset(met), at)
    return list(kept.values())


def _material(placed: Placed) -> str:
    return placed.thing.stock if isinstance(placed.thing, Part) else placed.thing.item


def _apart(places: list[float]) -> list[float]:
    """Leave out places that are next to one that is kept."""
    kept: list[float] = []
    for at in places:
        if all(abs(at - k) > NEIGHBOURS for k in kept):
            kept.append(at)
    return kept


def _box(
    things: Sequence[Placed], boxes: Sequence[Sequence[float]], members: Sequence[str]
) -> tuple[float, ...] | None:
    own = [b for p, b in zip(things, boxes, strict=True) if is_under_any(p.path, members)]
    return (*(min(b[i] for b in own) for i in range(3)), *(max(b[i] for b in own) for i in (3, 4, 5))) if own else None


def section_view(
    stage: Stage,
    cut: Cut,
    box: tuple[float, float, float, float],
    rows: dict[Side, list[list[Link]]],
    caption: str,
    torn: bool = False,
) -> SizedView:
    """Return a cut piece as a view that can be drawn at any scale, within a box of the view.

    `torn` says that the box is a window: what it cuts off ends at a wavy line.
    """
    frame = shapely.box(*box)
    parts = _within(cut, frame)
    beyond = _clipped(cut.beyond, frame)

    def lines(k: float) -> list[Primitive]:
        return [
            segments_of(beyond, k, box, LineRole.BEYOND),
            *(i for p in cut.parts for i in _outline(p, window(k), k, box)),
        ]

    def window(k: float) -> shapely.Polygon:
        return torn_frame(box, k) if torn else frame

    def finish(items: list[Primitive], k: float, at: XY) -> list[Primitive]:
        texts = [shapely.Polygon(corners_of(i)).buffer(MARGIN_OF_TEXT) for i in items if isinstance(i, Text)]
        fills: list[Primitive] = []
        hatches: list[Primitive] = []
        bands: list[Primitive] = []
        for number, part in enumerate(_within(cut, window(k))):
            area = _on_paper(part.area, k, box, at)
            fills.append(filled(area, TONES[material_of(part)]))
            hatch = hatched(part, area, cut.plane, number, texts)
            hatches += [hatch] if hatch is not None else []
            bands += [filled(_on_paper(strip, k, box, at), BAND) for strip in band_areas(part, cut.plane, k)]
        return [*fills, *hatches, *bands, *items]

    return SizedView(
        box, lines, rows, balloons=_balloons(stage, parts), caption=caption, alt=f"{stage.piece.title}, {caption}",
        finish=finish,
    )  # fmt: skip


def torn_frame(box: tuple[float, float, float, float], k: float) -> shapely.Polygon:
    """Return the window of a view with wavy sides: what it cuts off is seen to go on."""
    x0, y0, x1, y1 = box
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    sides = zip(corners, (*corners[1:], corners[0]), strict=True)
    return shapely.Polygon([point for start, end in sides for point in torn_side(start, end, k)])


def _within(cut: Cut, frame: shapely.Polygon) -> list[CutPart]:
    """Return what of a cut lies in a window."""
    return [replace(p, area=area) for p in cut.parts if (area := p.area.intersection(frame)).area > 0.01]


def _on_paper(area: BaseGeometry, k: float, box: tuple[float, float, float, float], at: XY) -> BaseGeometry:
    return shapely.transform(area, lambda c: (c - np.array(box[:2])) * k + np.array(at))


def touching_row(stage: Stage, cut: Cut, i: int) -> list[Link]:
    """Return the longest row of cut parts that touch each other along direction i, with the size of each."""
    spans = sorted((p.area.bounds[i], p.area.bounds[i + 2], n) for n, p in enumerate(cut.parts) if p.grain is not None)
    best: dict[int, tuple[float, int, int | None]] = {}  # reach, count, part before
    for low, high, n in spans:
        before = [
            m for a, b, m in spans if m in best and abs(b - low) < 0.05 and _beside(cut.parts[m], cut.parts[n], 1 - i)
        ]
        prior = max(before, key=lambda m: best[m][:2], default=None)
        reach, count = best[prior][:2] if prior is not None else (0.0, 0)
        best[n] = (reach + high - low, count + 1, prior)
    last = max((m for m in best if best[m][1] > 1), key=lambda m: best[m][:2], default=None)
    row: list[Link] = []
    while last is not None:
        part = cut.parts[last]
        low, high = part.area.bounds[i], part.area.bounds[i + 2]
        words = stage.words(part.placed.path)
        row.append(Link(low, high, part.placed.path, words.text(high - low)))
        last = best[last][2]
    return row[::-1] if len(row) > 1 else []


def _beside(one: CutPart, two: CutPart, across: int) -> bool:
    a, b = one.area.bounds, two.area.bounds
    return bool(min(a[across + 2], b[across + 2]) - max(a[across], b[across]) > 1.0)


def _balloons(stage: Stage, parts: list[CutPart]) -> list[tuple[str, tuple[XY, ...]]]:
    """Return one balloon for each mark, with points inside the areas that it may point at, the widest areas first."""
    found: dict[str, list[tuple[float, XY]]] = {}
    for part in parts:
        mark = stage.marks.get(part.placed.path)
        if mark is not None:
            for piece in shapely.get_parts(part.area):
                p = piece.representative_point()
                found.setdefault(mark, []).append((-piece.area, (p.x, p.y)))
    return [(mark, tuple(p for _, p in sorted(points)[:4])) for mark, points in sorted(found.items())]


def outline_ends(cut: Cut) -> Floats:
    """Return the outlines of what is cut as lines (n, 4)."""
    out = []
    for part in cut.parts:
        for ring in _rings(part):
            c = shapely.get_coordinates(ring)
            out.append(np.concatenate((c[:-1], c[1:]), axis=1))
    return np.concatenate(out) if out else np.zeros((0, 4))


def _rings(part: CutPart) -> list[shapely.LinearRing]:
    return [r for s in shapely.get_parts(part.area) if s.geom_type == "Polygon" for r in (s.exterior, *s.interiors)]


def _outline(
    part: CutPart, window: shapely.Polygon, k: float, box: tuple[float, float, float, float]
) -> list[Primitive]:
    """Return the outline of what is cut, and a thin wavy line where the window ends it and not the part itself.

    Metal has thin lines, or small screws and slides would be black.
    """
    role = LineRole.BEYOND if material_of(part) is Material.METAL else LineRole.SECTION
    if window.covers(part.area):
        return [_ring(r, k, box, role) for r in _rings(part)]
    if part.area.intersection(window).area <= 0.01:
        return []
    own = shapely.line_merge(_lines(part.area.boundary.intersection(window)))
    ends = shapely.line_merge(_lines(window.boundary.intersection(part.area)))
    return [
        _ring(line, k, box, kind)
        for found, kind in ((own, role), (ends, LineRole.BEYOND))
        for line in shapely.get_parts(found)
    ]


def _lines(found: BaseGeometry) -> shapely.MultiLineString:
    """Leave out the points at which lines meet an area."""
    return shapely.MultiLineString([g for g in shapely.get_parts(found) if g.geom_type == "LineString"])


def _ring(line: BaseGeometry, k: float, box: tuple[float, float, float, float], role: LineRole) -> Polyline:
    """Return a line of a view, or a ring of it, at a scale."""
    points = tuple(((x - box[0]) * k, (y - box[1]) * k) for x, y in shapely.get_coordinates(line).tolist())
    closed = len(points) > 2 and points[0] == points[-1]
    return Polyline(points[:-1] if closed else points, role, closed)


def _clipped(ends: Floats, frame: shapely.Polygon) -> Floats:
    if not len(ends):
        return ends
    lines = shapely.intersection(shapely.linestrings(ends.reshape(-1, 2, 2)), frame)
    kept = [
        shapely.get_coordinates(g) for g in shapely.get_parts(lines) if g.geom_type == "LineString" and g.length > 0.05
    ]
    return np.array([[*c[0], *c[-1]] for c in kept]) if kept else np.zeros((0, 4))


def bounds_of(ends: Floats) -> tuple[float, float, float, float]:
    """Return the box around lines, x0 y0 x1 y1."""
    xs, ys = ends[:, [0, 2]], ends[:, [1, 3]]
    return (float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max()))


def segments_of(ends: Floats, k: float, box: tuple[float, float, float, float], role: LineRole) -> Segments:
    """Return lines of a view at a scale, the box's lower left corner at (0, 0)."""
    moved = (ends - np.array([box[0], box[1], box[0], box[1]])) * k
    return Segments(tuple((a, b, c, d) for a, b, c, d in moved.tolist()), role)
