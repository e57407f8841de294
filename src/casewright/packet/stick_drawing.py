"""Sticks as pictures: to scale along their length, their height and the slant of their mitres fixed."""

from __future__ import annotations

from collections.abc import Callable

from casewright.layout.model import GRID, StickDemand, StickPart, StickPattern, StickPiece
from casewright.packet.drawing.balloons import spread
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
from casewright.packet.plate_drawing import (
    DIGIT,
    KEPT,
    MARGIN,
    MARK_SIZE,
    NUMBER_RADIUS,
    NUMBER_SIZE,
    SIZE_SIZE,
    STOCK,
)
from casewright.packet.stick_plan import end_lines, stick_cuts

HEIGHT, SLANT = 9.0, 2.4  # mm on paper
TICK = 2.6  # mm from the stick to its numbers
BELOW = 4.2  # mm under the stick for marks that do not fit into their piece

PieceSize = Callable[[str], str]


def stick_picture(
    pattern: StickPattern, demand: StickDemand, longest: int, *, across: float, size: PieceSize, alt: str
) -> Picture:
    """Return one stick, at the scale at which `longest` grid steps are `across` mm on paper."""
    stock = next(s for s in demand.stock if s.id == pattern.stock)
    parts = {p.id: p for p in demand.parts}
    k = (across - 2 * MARGIN) / longest
    width = stock.length * k + 2 * MARGIN
    low = 0.5 + BELOW
    items: list[Primitive] = [*_bar(MARGIN, low, stock.length * k)]
    if demand.keep_length and pattern.rest >= demand.keep_length:
        items += _rest(pattern, stock.length, k, low, size)
    outside: list[tuple[float, str]] = []
    for piece in pattern.pieces:
        shape = _shape(parts[piece.part], piece, k, low)
        items += [Fill((shape,), WHITE), Polyline(shape, LineRole.VISIBLE, closed=True)]
        label = _label(piece, k, low, size)
        items += label
        if not label:
            outside.append((MARGIN + (piece.start + piece.length / 2) * k, piece.part))
    items += _outside(outside, low, width)
    items += _numbers([MARGIN + c.at * k for c in stick_cuts(pattern, demand)], low + HEIGHT, width)
    return Picture(width, low + HEIGHT + TICK + 2 * NUMBER_RADIUS + 0.5, tuple(items), alt, k * GRID)


def _bar(x: float, y: float, length: float) -> tuple[Primitive, Primitive]:
    ring = ((x, y), (x + length, y), (x + length, y + HEIGHT), (x, y + HEIGHT))
    return Fill((ring,), STOCK), Polyline(ring, LineRole.VISIBLE, closed=True)


def _rest(pattern: StickPattern, length: int, k: float, low: float, size: PieceSize) -> list[Primitive]:
    last = pattern.pieces[-1]
    x0, x1 = MARGIN + (last.start + last.length) * k + SLANT, MARGIN + length * k
    ring = ((x0, low), (x1, low), (x1, low + HEIGHT), (x0, low + HEIGHT))
    out: list[Primitive] = [Fill((ring,), KEPT)]
    if x1 - x0 > 12.0:
        out.append(Text(((x0 + x1) / 2, low + HEIGHT / 2), "keep", 3.0))
    return out


def _shape(part: StickPart, piece: StickPiece, k: float, low: float) -> tuple[XY, XY, XY, XY]:
    """Return the piece's outline; its outer face is the upper edge."""
    left, right = end_lines(part, piece)
    x0, x1 = MARGIN + piece.start * k, MARGIN + (piece.start + piece.length) * k
    slant = min(SLANT, (x1 - x0) / 3)
    top0, low0 = x0 + slant * (left[0] > left[1]), x0 + slant * (left[0] < left[1])
    top1, low1 = x1 - slant * (right[0] < right[1]), x1 - slant * (right[0] > right[1])
    return ((low0, low), (low1, low), (top1, low + HEIGHT), (top0, low + HEIGHT))


def _label(piece: StickPiece, k: float, low: float, size: PieceSize) -> list[Primitive]:
    """Return mark and length where both fit between the slants, else the mark, else nothing."""
    room = piece.length * k - 2 * SLANT - 0.6
    x, y = MARGIN + (piece.start + piece.length / 2) * k, low + HEIGHT / 2
    text = size(piece.part)
    if room >= DIGIT * max(MARK_SIZE * len(piece.part), SIZE_SIZE * len(text)):
        return [Text((x, y + 2.0), piece.part, MARK_SIZE), Text((x, y - 2.0), text, SIZE_SIZE)]
    if room >= DIGIT * SIZE_SIZE * len(piece.part):
        return [Text((x, y), piece.part, SIZE_SIZE)]
    if piece.length * k >= SIZE_SIZE + 0.6 and DIGIT * SIZE_SIZE * len(piece.part) + 0.8 <= HEIGHT:
        return [Text((x, y), piece.part, SIZE_SIZE, turn=90.0)]
    return []


def _outside(labels: list[tuple[float, str]], low: float, width: float) -> list[Primitive]:
    """Return marks under the stick, each with a line to its piece."""
    if not labels:
        return []
    pitch = max(DIGIT * SIZE_SIZE * len(mark) for _, mark in labels) + 1.0
    out: list[Primitive] = []
    for (x, mark), at in zip(labels, spread([x for x, _ in labels], pitch, MARGIN, width - MARGIN), strict=True):
        out.append(Segments(((x, low, at, low - BELOW + SIZE_SIZE),), LineRole.LEADER))
        out.append(Text((at, low - BELOW + SIZE_SIZE / 2), mark, SIZE_SIZE))
    return out


def _numbers(cuts: list[float], top: float, width: float) -> list[Primitive]:
    pitch = 2 * NUMBER_RADIUS + 0.5
    out: list[Primitive] = []
    y = top + TICK + NUMBER_RADIUS
    r = min(NUMBER_RADIUS, (width - 1.0) / max(len(cuts), 1) / 2.3)
    for number, (x, at) in enumerate(zip(cuts, spread(cuts, min(pitch, 2.2 * r), r, width - r), strict=True), 1):
        out.append(Segments(((x, top, at, y - r),), LineRole.CUT))
        out += [Circle((at, y), r, LineRole.LEADER, WHITE), Text((at, y), str(number), NUMBER_SIZE * r / NUMBER_RADIUS)]
    return out
