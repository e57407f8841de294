"""The ink on a sheet as a raster of half-millimetre cells: what is free, what a line meets.

Lines, texts and leaders are kept apart. An integral image tells for every place at once whether a box there is free.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from casewright.packet.drawing.ink import free_boxes, mark_box, mark_runs
from casewright.packet.drawing.lettering import corners_of
from casewright.packet.drawing.primitives import (
    XY,
    Arc,
    Circle,
    Ends,
    Fill,
    Leader,
    Picture,
    Polyline,
    Primitive,
    Segments,
    Text,
)

CELL = 0.5  # mm
KEEP = 0.75  # mm kept clear around a text: 0.3 mm of paper, half a thick line, and the raster

Mask = NDArray[np.bool_]
Floats = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(slots=True)
class Raster:
    """The ink on a sheet: lines, texts and leaders apart, by cells.

    On `solid` areas nothing may stand, but leaders may cross them freely; on `costly` ones notes had better not stand.
    """

    width: float
    height: float
    lines: Mask = field(init=False)
    texts: Mask = field(init=False)
    leaders: Mask = field(init=False)
    costly: Mask = field(init=False)
    solid: Mask = field(init=False)
    led: list[Ends] = field(init=False, default_factory=list)  # the lines of leaders, mm

    def __post_init__(self) -> None:
        """Make empty masks."""
        shape = (math.ceil(self.height / CELL) + 2, math.ceil(self.width / CELL) + 2)
        self.lines, self.texts, self.leaders, self.costly, self.solid = (np.zeros(shape, np.bool_) for _ in range(5))

    def empty(self) -> Raster:
        """Return a raster of the same size without ink."""
        return Raster(self.width, self.height)

    def ink(self, items: Sequence[Primitive]) -> None:
        """Add what is drawn."""
        lines: list[tuple[XY, ...]] = []
        leaders: list[tuple[XY, ...]] = []
        for item in items:
            if isinstance(item, Text):
                self.fill(self.texts, corners_of(item))
            elif isinstance(item, Leader):
                leaders.append(item.points)
                self.led += [(*a, *b) for a, b in pairwise(item.points)]
            else:
                lines += runs_of(item)
        self.run(self.lines, lines)
        self.run(self.leaders, leaders)

    def run(self, mask: Mask, runs: Sequence[Sequence[XY]]) -> None:
        """Mark the cells that runs of lines pass."""
        pairs = [(*a, *b) for run in runs for a, b in pairwise(run)]
        if pairs:
            mark_runs(mask, np.array(pairs, np.float64) / CELL)

    def mark(self, mask: Mask, points: Floats) -> None:
        """Mark the cells of points that lie on the sheet."""
        cells = np.floor(points / CELL).astype(np.int64)
        good = (cells >= 0).all(axis=1) & (cells[:, 1] < mask.shape[0]) & (cells[:, 0] < mask.shape[1])
        mask[cells[good, 1], cells[good, 0]] = True

    def fill(self, mask: Mask, corners: Sequence[XY]) -> None:
        """Mark the cells under a box that may be turned."""
        (ax, ay), (bx, by), _, (dx, dy) = corners
        mark_box(mask, *(float(v) / CELL for v in (ax, ay, bx - ax, by - ay, dx - ax, dy - ay)))

    def free(
        self, width: float, height: float, window: tuple[float, float, float, float] | None = None
    ) -> tuple[Mask, int, int]:
        """Return for each cell whether a box with its lower left corner there is free, margins included.

        Within a window (mm) alone, where one is given; the column and row of the window's first cell come with it.
        """
        rows, columns = self.lines.shape
        x0, y0, x1, y1 = window or (0.0, 0.0, columns * CELL, rows * CELL)
        c0, r0 = max(0, int(x0 / CELL)), max(0, int(y0 / CELL))
        part = (slice(r0, max(r0, int(y1 / CELL) + 2)), slice(c0, max(c0, int(x1 / CELL) + 2)))
        wide, high = (math.ceil((side + 2 * KEEP) / CELL) + 1 for side in (width, height))
        lines, texts, leaders, solid = (
            np.ascontiguousarray(layer[part]) for layer in (self.lines, self.texts, self.leaders, self.solid)
        )
        return free_boxes(lines, texts, leaders, solid, wide, high), c0, r0


def runs_of(item: Primitive) -> list[tuple[XY, ...]]:
    """Return the lines of a primitive as runs of points; areas that are not black have none."""
    match item:
        case Segments():
            return [((a, b), (c, d)) for a, b, c, d in item.ends]
        case Polyline():
            return [(*item.points, item.points[0]) if item.closed else item.points]
        case Circle():
            return [_arc(item.centre, item.radius, 0.0, 360.0)]
        case Arc():
            return [_arc(item.centre, item.radius, item.start, item.start + (item.end - item.start) % 360.0)]
        case Fill() if max(item.tone) < 128:
            return [(*ring, ring[0]) for ring in item.rings]
        case _:
            return []


def _arc(centre: XY, radius: float, start: float, end: float) -> tuple[XY, ...]:
    n = max(6, int(abs(end - start) / 10))
    turns = [math.radians(start + (end - start) * i / n) for i in range(n + 1)]
    return tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)


def shifted(item: Primitive, dx: float, dy: float) -> Primitive:
    """Return a primitive moved on the paper."""

    def move(p: XY) -> XY:
        return (p[0] + dx, p[1] + dy)

    match item:
        case Segments():
            return replace(item, ends=tuple((a + dx, b + dy, c + dx, d + dy) for a, b, c, d in item.ends))
        case Polyline() | Leader():
            return replace(item, points=tuple(move(p) for p in item.points))
        case Fill():
            return replace(item, rings=tuple(tuple(move(p) for p in ring) for ring in item.rings))
        case Circle() | Arc():
            return replace(item, centre=move(item.centre))
        case Text():
            return replace(item, at=move(item.at))


def turned(picture: Picture) -> Picture:
    """Return a picture turned a quarter to the left, to be read from the right of the paper."""
    high = picture.height

    def turn(p: XY) -> XY:
        return (high - p[1], p[0])

    def one(item: Primitive) -> Primitive:
        match item:
            case Segments():
                return replace(item, ends=tuple((*turn((a, b)), *turn((c, d))) for a, b, c, d in item.ends))
            case Polyline() | Leader():
                return replace(item, points=tuple(turn(p) for p in item.points))
            case Fill():
                return replace(item, rings=tuple(tuple(turn(p) for p in ring) for ring in item.rings))
            case Circle():
                return replace(item, centre=turn(item.centre))
            case Arc():
                return replace(item, centre=turn(item.centre), start=item.start + 90.0, end=item.end + 90.0)
            case Text():
                return replace(item, at=turn(item.at), turn=item.turn + 90.0)

    return replace(picture, width=high, height=picture.width, items=tuple(one(i) for i in picture.items))
