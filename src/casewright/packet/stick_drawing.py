"""Sticks as pictures: to scale along their length, their height and the slant of their mitres fixed.

Numbers of cuts stand above the stick in their order, marks that do not fit into their piece below it; where one row
does not hold them they take turns in two or more.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from casewright.demand import marks_in
from casewright.layout.model import GRID, StickDemand, StickPart, StickPattern, StickPiece
from casewright.packet.drawing.balloons import spread
from casewright.packet.drawing.lettering import width_of
from casewright.packet.drawing.primitives import (
    WHITE,
    XY,
    Circle,
    Fill,
    LineRole,
    Picture,
    Polyline,
    Primitive,
    Segments,
    Text,
)
from casewright.packet.drawing.raster import shifted
from casewright.packet.drawing.rows import spread as nearest
from casewright.packet.plate_drawing import EM, KEPT, MARGIN, MARK_EM, STOCK, ring_of
from casewright.packet.stick_plan import end_lines, stick_cuts

HEIGHT, SLANT = 10.5, 2.4  # mm on paper
TICK = 2.6  # mm from the stick to its numbers
MOST_ROWS = 3  # in more of them neighbours would stand no closer
LINE = 2.2  # mm from the middle of the stick to the two lines of a label

PieceSize = Callable[[str], str]


def stick_picture(
    pattern: StickPattern, demand: StickDemand, longest: int, *, across: float, size: PieceSize, alt: str
) -> Picture:
    """Return one stick, at the scale at which `longest` grid steps are `across` mm on paper."""
    stock = next(s for s in demand.stock if s.id == pattern.stock)
    parts = {p.id: p for p in demand.parts}
    k = (across - 2 * MARGIN) / longest
    width = stock.length * k + 2 * MARGIN
    labels = {
        id(p): _pair_label(parts[p.part], p, k) if parts[p.part].parted else _label(p, k, size) for p in pattern.pieces
    }
    outside = [(MARGIN + (p.start + p.length / 2) * k, p.part) for p in pattern.pieces if not labels[id(p)]]
    below = _hung(outside, width, -1)
    low = 0.5 + below.depth
    items: list[Primitive] = [*_bar(MARGIN, low, stock.length * k)]
    if demand.keep_length and pattern.rest >= demand.keep_length:
        items += _rest(pattern, stock.length, k, low, size)
    for piece in pattern.pieces:
        shape = _shape(parts[piece.part], piece, k, low)
        items += [Fill((shape,), WHITE), Polyline(shape, LineRole.VISIBLE, closed=True)]
        items += [shifted(i, 0.0, low) for i in labels[id(piece)]]
        items += _parting(parts[piece.part], piece, k, low)
    cuts = [(MARGIN + c.at * k, str(n)) for n, c in enumerate(stick_cuts(pattern, demand), 1)]
    above = _hung(cuts, width, 1)
    items += [shifted(i, 0.0, low) for i in below.items]
    items += [shifted(i, 0.0, low + HEIGHT) for i in above.items]
    return Picture(width, low + HEIGHT + above.depth + 0.5, tuple(items), alt, k * GRID)


def _bar(x: float, y: float, length: float) -> tuple[Primitive, Primitive]:
    ring = ((x, y), (x + length, y), (x + length, y + HEIGHT), (x, y + HEIGHT))
    return Fill((ring,), STOCK), Polyline(ring, LineRole.VISIBLE, closed=True)


def _rest(pattern: StickPattern, length: int, k: float, low: float, size: PieceSize) -> list[Primitive]:
    last = pattern.pieces[-1]
    x0, x1 = MARGIN + (last.start + last.length) * k + SLANT, MARGIN + length * k
    ring = ((x0, low), (x1, low), (x1, low + HEIGHT), (x0, low + HEIGHT))
    out: list[Primitive] = [Fill((ring,), KEPT)]
    if x1 - x0 > 12.0:
        out.append(Text(((x0 + x1) / 2, low + HEIGHT / 2), "keep", EM))
    return out


def _shape(part: StickPart, piece: StickPiece, k: float, low: float) -> tuple[XY, XY, XY, XY]:
    """Return the piece's outline; its outer face is the upper edge."""
    left, right = end_lines(part, piece)
    x0, x1 = MARGIN + piece.start * k, MARGIN + (piece.start + piece.length) * k
    slant = min(SLANT, (x1 - x0) / 3)
    top0, low0 = x0 + slant * (left[0] > left[1]), x0 + slant * (left[0] < left[1])
    top1, low1 = x1 - slant * (right[0] < right[1]), x1 - slant * (right[0] > right[1])
    return ((low0, low), (low1, low), (top1, low + HEIGHT), (top0, low + HEIGHT))


def _parting(part: StickPart, piece: StickPiece, k: float, low: float) -> list[Primitive]:
    """Return the line at which a pair is parted later."""
    x = MARGIN + _parted_at(part, piece) * k
    return [Segments(((x, low, x, low + HEIGHT),), LineRole.HIDDEN)] if part.parted else []


def _parted_at(part: StickPart, piece: StickPiece) -> int:
    return piece.start + (part.length - part.parted if piece.flipped else part.parted)


def _pair_label(part: StickPart, piece: StickPiece, k: float) -> list[Primitive]:
    """Return the marks of a pair, each in its half, where both fit; the edge is at y 0."""
    at, end = _parted_at(part, piece), piece.start + piece.length
    marks = marks_in(piece.part)[:: -1 if piece.flipped else 1]
    halves = [(mark, (a + b) / 2, b - a) for mark, a, b in zip(marks, (piece.start, at), (at, end), strict=True)]
    if any(width_of(mark, EM) > room * k - 0.8 for mark, _, room in halves):
        return []
    return [Text((MARGIN + middle * k, HEIGHT / 2), mark, EM) for mark, middle, _ in halves]


def _label(piece: StickPiece, k: float, size: PieceSize) -> list[Primitive]:
    """Return mark and length where both fit between the slants, else the mark, else nothing; the edge is at y 0."""
    room = piece.length * k - 2 * SLANT - 0.8
    x, y = MARGIN + (piece.start + piece.length / 2) * k, HEIGHT / 2
    text = size(piece.part)
    if room >= max(width_of(piece.part, MARK_EM), width_of(text, EM)):
        return [Text((x, y + LINE), piece.part, MARK_EM), Text((x, y - LINE), text, EM)]
    if room >= width_of(piece.part, EM):
        return [Text((x, y), piece.part, EM)]
    return []


@dataclass(frozen=True, slots=True)
class _Hung:
    """Texts with lines to their places on an edge of the stick, that edge at y 0, and how far they reach from it."""

    items: tuple[Primitive, ...]
    depth: float


def _hung(labels: list[tuple[float, str]], width: float, way: int) -> _Hung:
    """Hang texts in circles off an edge, upwards (1) or downwards (-1), in as few rows as hold them."""
    if not labels:
        return _Hung((), 0.0)
    r = max(ring_of(text) for _, text in labels)
    rows = next(
        n for n in range(1, len(labels) + 1) if (len(labels) - 1) * _pitch(r, n) <= width - 2 * r - 0.6 or n > 9
    )
    pitch = _pitch(r, rows)
    near = nearest([x for x, _ in labels], [pitch] * (len(labels) - 1))
    places = spread(near, pitch, r + 0.3, width - r - 0.3)
    out: list[Primitive] = []
    for i, ((x, text), at) in enumerate(zip(labels, places, strict=True)):
        y = TICK + r + (i % rows) * (2 * r + 0.6)
        bent = (x, 0.0, at, way * TICK), (at, way * TICK, at, way * (y - r))
        out.append(Segments(bent[: 1 + (i % rows > 0)], LineRole.LEADER))
        out += [Circle((at, way * y), r, LineRole.LEADER, WHITE), Text((at, way * y), text, EM)]
    return _Hung(tuple(out), TICK + rows * (2 * r + 0.6))


def _pitch(radius: float, rows: int) -> float:
    """Return how far apart neighbours stand that take turns in rows: circles of a row, and lines beside circles."""
    return 2 * radius + 0.6 if rows == 1 else max((2 * radius + 0.6) / rows, radius + 0.6)
