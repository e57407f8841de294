"""Rows of sizes along one side of a view: running sizes from a datum, and chains.

Within a row the places of texts are found exactly:
- running sizes (each measured from 0, as a tape is hooked on): texts stand square to the row, in the order of what they
  measure, as near to it as their height allows. Least squares under "at least a pitch apart" is isotonic regression:
  solved by pooling neighbours (Ayer et al. 1955). Lines bend to their texts and keep their order, so none cross.
- chains: a text stands in its span where there is room; the others are lifted beyond the line and stand, in order, at
  the least total distance from their spans that keeps them off each other and off the lines that pass: dynamic
  programming over places half a millimetre apart. Far enough out there is always room.

A row is built along s (left to right, or upwards) and t (away from the view), and mapped onto its side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import pairwise

from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import room_of
from casewright.packet.drawing.primitives import XY, Anchor, Ends, LineRole, Primitive, Segments, Text, arrow_head

BEND = 3.0  # mm over which lines bend to their texts
TAIL = 1.0  # mm of straight line before a text
AIR = 0.9  # mm between neighbouring texts
STEP = 0.5  # mm between places of lifted texts
ARROW = 2.5  # mm
SLASH = 1.1  # mm: half an oblique stroke


class Side(Enum):
    """The side of a view that a row stands on."""

    BELOW = "below"
    ABOVE = "above"
    LEFT = "left"
    RIGHT = "right"

    @property
    def upright(self) -> bool:
        """True where the row runs up the page."""
        return self in (Side.LEFT, Side.RIGHT)

    @property
    def sign(self) -> float:
        """1 where t grows with x or y."""
        return 1.0 if self in (Side.ABOVE, Side.RIGHT) else -1.0


@dataclass(frozen=True, slots=True)
class Stop:
    """A running size: where on the row, its text, and how far inside the view its line starts (t, ≤ 0)."""

    at: float
    text: str
    start: float = 0.0


@dataclass(frozen=True, slots=True)
class Span:
    """A link of a chain: from and to on the row, its text, and how far inside the view each of its lines starts."""

    low: float
    high: float
    text: str
    start_low: float = 0.0
    start_high: float = 0.0

    @property
    def middle(self) -> float:
        """Half way."""
        return (self.low + self.high) / 2


@dataclass(slots=True)
class Row:
    """A finished row: what is drawn, how far out it reaches, and the s of lines that rows further out must let pass."""

    side: Side
    edge: float  # x or y of the view's outline on that side
    items: list[Primitive] = field(default_factory=list)
    depth: float = 0.0

    def place(self, s: float, t: float) -> XY:
        """Map a place of the row onto the paper."""
        out = self.edge + self.side.sign * t
        return (out, s) if self.side.upright else (s, out)

    def line(self, points: Sequence[XY], role: LineRole) -> None:
        """Draw a run of straight lines given in (s, t)."""
        placed = [self.place(*p) for p in points]
        ends: list[Ends] = [(*a, *b) for a, b in pairwise(placed) if math.dist(a, b) > 1e-6]
        if ends:
            self.items.append(Segments(tuple(ends), role))

    def square_text(self, s: float, t: float, text: str, em: float) -> float:
        """Put a text square to the row, starting at t; return where it ends."""
        outward = self.side in (Side.ABOVE, Side.RIGHT)
        turn = 0.0 if self.side.upright else 90.0
        self.items.append(Text(self.place(s, t), text, em, Anchor.START if outward else Anchor.END, turn))
        return t + room_of(text, em).width

    def text(self, s: float, t: float, text: str, em: float, turned: bool) -> None:
        """Put a text with its middle at (s, t)."""
        turn = 90.0 if turned and self.side.upright else 0.0
        self.items.append(Text(self.place(s, t), text, em, Anchor.MIDDLE, turn))


def running_row(side: Side, edge: float, stops: Sequence[Stop], convention: Convention, out: float = 0.0) -> Row:
    """Return running sizes on a side; `out` is how far from the outline the row may begin."""
    row = Row(side, edge)
    em = convention.em
    ordered = sorted(stops, key=lambda s: s.at)
    pitches = [_square_height(s.text, em) for s in ordered]
    gaps = [(a + b) / 2 + AIR for a, b in pairwise(pitches)]
    places = spread([s.at for s in ordered], gaps)
    begin = out + convention.gap
    bent = any(abs(p - s.at) > 1e-6 for p, s in zip(places, ordered, strict=True))
    first = begin + TAIL
    second = first + (BEND if bent else 0.0)
    for stop, place in zip(ordered, places, strict=True):
        start = min(begin, stop.start) if stop.start < 0 else begin
        row.line([(stop.at, start), (stop.at, first), (place, second), (place, second + TAIL)], LineRole.EXTENSION)
        row.depth = max(row.depth, row.square_text(place, second + TAIL + AIR, stop.text, em))
    return row


def chain_row(
    side: Side, edge: float, spans: Sequence[Span], convention: Convention, out: float, passing: Sequence[float] = ()
) -> Row:
    """Return a chain on a side, its line `out` mm or more from the outline; `passing` are lines of rows further out."""
    row = Row(side, edge)
    em = convention.em
    inside = [s for s in spans if _fits(s, side, convention)]
    line = out + _half(side, inside, convention)
    if inside and not convention.broken and side in (Side.BELOW, Side.RIGHT):  # texts stand between outline and line
        line = max(line, out + 2 * _above(em) - 2.5)
    lifted = [s for s in spans if not _fits(s, side, convention)]
    _extensions(row, spans, line + convention.past, convention)
    for span in spans:
        _dimension_line(row, span, line, _fits(span, side, convention), convention)
    rooms = [room_of(s.text, em) for s in inside]
    across = [r.width / 2 if side.upright else r.up for r in rooms] if convention.broken else [2 * _above(em)]
    row.depth = line + max([convention.past, *across])
    if lifted:
        _lift(row, lifted, line, convention, passing)
    return row


def spread(wanted: Sequence[float], gaps: Sequence[float]) -> list[float]:
    """Return places in the same order with the given gaps between neighbours at least, nearest in least squares.

    Isotonic regression of the places less the gaps before them, by pooling neighbours.
    """
    before = [0.0]
    for gap in gaps:
        before.append(before[-1] + gap)
    blocks: list[tuple[float, int]] = []  # sum and count
    for value, shift in zip(wanted, before, strict=False):
        blocks.append((value - shift, 1))
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1] = (blocks[-1][0] + total, blocks[-1][1] + count)
    flat = [total / count for total, count in blocks for _ in range(count)]
    return [f + shift for f, shift in zip(flat, before, strict=False)]


def _square_height(text: str, em: float) -> float:
    room = room_of(text, em)
    return 2 * max(room.up, room.down)


def _above(em: float) -> float:
    return 0.5 * em + 0.7


def _turned(side: Side, convention: Convention) -> bool:
    return side.upright and not convention.broken


def _along(text: str, side: Side, convention: Convention) -> float:
    """Return how much of the row a text takes along it."""
    room = room_of(text, convention.em)
    if side.upright and convention.broken:
        return 2 * max(room.up, room.down)
    return room.width


def _half(side: Side, inside: Sequence[Span], convention: Convention) -> float:
    """Return how far out the line must be so that broken texts on it clear what is nearer."""
    if side.upright and convention.broken and inside:
        return max(room_of(s.text, convention.em).width for s in inside) / 2 + 0.4
    return 0.55 * convention.em + 0.4 if convention.broken else 0.0


def _fits(span: Span, side: Side, convention: Convention) -> bool:
    need = _along(span.text, side, convention) + 2 * AIR
    return need + (2 * ARROW if convention.broken else 0.0) <= span.high - span.low + 1e-9


def _extensions(row: Row, spans: Sequence[Span], reach: float, convention: Convention) -> None:
    ends: dict[float, float] = {}
    for s in spans:
        for at, start in ((s.low, s.start_low), (s.high, s.start_high)):
            ends[round(at, 4)] = min(ends.get(round(at, 4), 0.0), start)
    for at, start in sorted(ends.items()):
        row.line([(at, start + convention.gap), (at, reach)], LineRole.EXTENSION)


def _dimension_line(row: Row, span: Span, t: float, fits: bool, convention: Convention) -> None:
    em, low, high = convention.em, span.low, span.high
    if fits and convention.broken:
        half = _along(span.text, row.side, convention) / 2 + AIR / 2
        row.line([(low, t), (span.middle - half, t)], LineRole.DIMENSION)
        row.line([(span.middle + half, t), (high, t)], LineRole.DIMENSION)
        row.text(span.middle, t, span.text, em, False)
    else:
        row.line([(low, t), (high, t)], LineRole.DIMENSION)
        if fits:
            _text_over(row, span.middle, t, span.text, em)
    if high - low >= 2.6 * ARROW:
        for tip, tail in ((low, high), (high, low)):
            row.items.append(arrow_head(row.place(tip, t), row.place(tail, t), ARROW))
    else:
        for at in (low, high):
            row.line([(at - SLASH, t - SLASH), (at + SLASH, t + SLASH)], LineRole.DIMENSION)


def _text_over(row: Row, s: float, t: float, text: str, em: float) -> None:
    """Put a text above its line as one reads it: outward above and to the left, inward below and to the right."""
    up = _above(em)
    row.text(s, t + (up if row.side in (Side.ABOVE, Side.LEFT) else -up), text, em, True)


def _lift(row: Row, spans: Sequence[Span], line: float, convention: Convention, passing: Sequence[float]) -> None:
    em = convention.em
    sizes = [_along(s.text, row.side, convention) for s in spans]
    places = _ordered_places([s.middle for s in spans], sizes, passing)
    clear = row.depth + 0.8  # past the texts that stand in their spans
    bent = any(abs(p - s.middle) > 1e-6 for p, s in zip(places, spans, strict=True))
    near = clear + (2.5 if bent else 0.4)
    across = 0.0
    for span, place, _ in zip(spans, places, sizes, strict=True):
        room = room_of(span.text, em)
        deep = room.width if row.side.upright and convention.broken else room.up + room.down
        t = near + deep / 2 + 0.5
        row.text(place, t, span.text, em, _turned(row.side, convention))
        row.line([(span.middle, line), (span.middle, clear), (place, near)], LineRole.DIMENSION)
        across = max(across, near + deep + 1.0)
    row.depth = max(row.depth, across)


def _ordered_places(wanted: Sequence[float], sizes: Sequence[float], passing: Sequence[float]) -> list[float]:
    """Return places for texts in order, off each other and off passing lines, at the least total distance."""
    reach = sum(sizes) + (AIR + STEP) * len(sizes) + sum(2 * max(sizes) for _ in passing) + 10.0
    low, high = min(wanted) - reach, max(wanted) + reach
    grid = [low + STEP * i for i in range(int((high - low) / STEP) + 1)]
    best: list[list[float]] = []
    back: list[list[int]] = []
    for i, (want, size) in enumerate(zip(wanted, sizes, strict=True)):
        free = [all(abs(g - p) >= size / 2 + 0.8 for p in passing) for g in grid]
        gap = math.ceil(((sizes[i - 1] + size) / 2 + AIR) / STEP) if i else 0
        cost, came = [math.inf] * len(grid), [-1] * len(grid)
        running, at = (0.0, -1) if not i else (math.inf, -1)
        for k, g in enumerate(grid):
            if i and k - gap >= 0 and best[-1][k - gap] < running:
                running, at = best[-1][k - gap], k - gap
            if free[k]:
                cost[k], came[k] = running + abs(g - want), at
        best.append(cost)
        back.append(came)
    k = min(range(len(grid)), key=lambda j: best[-1][j])
    out = []
    for came in reversed(back):
        out.append(grid[k])
        k = came[k]
    return out[::-1]
