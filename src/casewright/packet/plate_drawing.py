"""Sheets and boards as pictures to scale, with cuts numbered in order and parts named by mark.

1. The stock and its trim, rests and parts are drawn to scale (a slender board wider than that, by a stated number);
   saw lines lie in the middle of their kerf.
2. Each number stands on its line: at the first of several places along it that is free of other numbers.
3. A part's label is its mark and size where both fit beside the numbers, else its mark alone; where not even
   that fits, the mark stands in a balloon beside the stock, with a leader.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from casewright.layout.model import GRID, Axis, Laid, Rest
from casewright.packet.cut_plan import CutPlan, SawLine, part_label
from casewright.packet.drawing.balloons import COLUMN, MarkedPoint, balloons
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
    Tone,
)

STOCK: Tone = (226, 226, 226)  # waste, trim and kerf
KEPT: Tone = (244, 244, 244)
SLENDER = 28.0  # mm on paper: what is narrower is drawn wider than to scale
NUMBER_RADIUS, SMALL_NUMBER = 2.0, 1.6  # mm
NUMBER_SIZE = 2.6
MARK_SIZE, SIZE_SIZE = 3.6, 2.8
DIGIT = 0.56  # em: a text is taken as this wide a character
MARGIN = 2.5

Box = tuple[float, float, float, float]  # x0 y0 x1 y1
PartText = Callable[[Laid], str]  # the size of a part as it lies


@dataclass(slots=True)
class _Paper:
    """What is on the paper so far.

    `k` (along) and `ky` (across) are paper mm for a grid step, `x`, `y` the stock's corner.
    """

    k: float
    ky: float
    x: float
    y: float
    items: list[Primitive] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def xy(self, x: float, y: float) -> XY:
        return (self.x + x * self.k, self.y + y * self.ky)

    def box(self, x: float, y: float, length: float, width: float) -> Box:
        return (*self.xy(x, y), *self.xy(x + length, y + width))

    def free(self, box: Box, gap: float = 0.25) -> bool:
        return not any(
            box[0] - gap < o[2] and o[0] < box[2] + gap and box[1] - gap < o[3] and o[1] < box[3] + gap
            for o in self.taken
        )


def plate_picture(
    length: int, width: int, plan: CutPlan, *, across: float, size: PartText, alt: str, highest: float = 1e9
) -> Picture:
    """Return a sheet or board of `length` × `width` grid steps, at most `across` × `highest` mm on paper."""
    for side in (0.0, COLUMN):
        paper, small = _plate(length, width, plan, across, highest, side, size)
        if not small or side:
            break
    w, h = 2 * paper.x + length * paper.k, 2 * paper.y + width * paper.ky
    if small:
        paper.items.extend(balloons(tuple(small), w, h))
    return Picture(w, h, tuple(paper.items), alt, paper.k * GRID)


def widening(length: int, width: int, across: float) -> float:
    """Return how many times wider than to scale a slender board is drawn, so that its marks find room."""
    as_drawn = width / length * across
    return 1.0 if as_drawn >= SLENDER else float(min(5, max(2, round(SLENDER / as_drawn))))


def _plate(
    length: int, width: int, plan: CutPlan, across: float, highest: float, side: float, size: PartText
) -> tuple[_Paper, list[MarkedPoint]]:
    k = min((across - 2 * (MARGIN + side)) / length, (highest - 2 * MARGIN) / width)
    paper = _Paper(k=k, ky=k * widening(length, width, across), x=MARGIN + side, y=MARGIN)
    whole = paper.box(0, 0, length, width)
    paper.items.append(Fill((_ring(whole),), STOCK))
    for rest in plan.rests:
        if rest.keep:
            paper.items.append(Fill((_ring(paper.box(rest.x, rest.y, rest.length, rest.width)),), KEPT))
    for part in plan.laid:
        box = paper.box(part.x, part.y, part.length, part.width)
        paper.items += [Fill((_ring(box),), WHITE), Polyline(_ring(box), LineRole.VISIBLE, closed=True)]
    paper.items.append(Polyline(_ring(whole), LineRole.VISIBLE, closed=True))
    for line in plan.lines:
        _saw_line(paper, line)
    for line in sorted(plan.lines, key=lambda n: n.end - n.start):
        _number(paper, line)
    for rest in plan.rests:
        if rest.keep:
            _keep_label(paper, rest, size)
    small = [point for part in plan.laid if (point := _part_label(paper, part, size)) is not None]
    return paper, small


def _saw_line(paper: _Paper, line: SawLine) -> None:
    a, b = _ends(paper, line)
    paper.items.append(Segments(((*a, *b),), LineRole.CUT))


def _ends(paper: _Paper, line: SawLine) -> tuple[XY, XY]:
    if line.axis is Axis.RIP:
        return paper.xy(line.start, line.at), paper.xy(line.end, line.at)
    return paper.xy(line.at, line.start), paper.xy(line.at, line.end)


def _number(paper: _Paper, line: SawLine) -> None:
    (x0, y0), (x1, y1) = _ends(paper, line)
    run = abs(x1 - x0) + abs(y1 - y0)
    first = min(NUMBER_RADIUS + 0.8, run / 2)
    shares = (first / run, 1 - first / run, *(i / 32 for i in range(2, 31))) if run > 0 else (0.5,)
    places = [(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in shares]
    # A smaller circle is better than one that covers another; where neither is free, the least covered.
    tries = [(_crowding(paper, at, r), n, at, r) for r in (NUMBER_RADIUS, SMALL_NUMBER) for n, at in enumerate(places)]
    free = next((t for t in tries if t[0] == 0.0), min(tries))
    _, _, at, radius = free
    paper.taken.append(_around(at, radius))
    size = NUMBER_SIZE * radius / NUMBER_RADIUS * (0.8 if line.number > 99 else 1.0)
    paper.items += [Circle(at, radius, LineRole.LEADER, WHITE), Text(at, str(line.number), size)]


def _around(at: XY, r: float) -> Box:
    return (at[0] - r, at[1] - r, at[0] + r, at[1] + r)


def _crowding(paper: _Paper, at: XY, radius: float) -> float:
    """Return how much of a number at a place would lie on what is there already, mm²."""
    a = _around(at, radius)
    return sum(
        max(0.0, min(a[2], b[2]) - max(a[0], b[0])) * max(0.0, min(a[3], b[3]) - max(a[1], b[1])) for b in paper.taken
    )


def _part_label(paper: _Paper, part: Laid, size: PartText) -> MarkedPoint | None:
    """Put the fullest label that fits; return a point for a balloon where none does."""
    box = paper.box(part.x, part.y, part.length, part.width)
    mark = part_label(part.part)
    for turn in (0.0, 90.0):
        for lines in (((mark, MARK_SIZE), (size(part), SIZE_SIZE)), ((mark, MARK_SIZE),), ((mark, 2.6),)):
            if _write(paper, box, lines, turn):
                return None
    return MarkedPoint(mark, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), False)


def _keep_label(paper: _Paper, rest: Rest, size: PartText) -> None:
    box = paper.box(rest.x, rest.y, rest.length, rest.width)
    as_part = Laid(part="", x=rest.x, y=rest.y, length=rest.length, width=rest.width, turned=False)
    for turn in (0.0, 90.0):
        for lines in ((("keep", 3.0), (size(as_part), SIZE_SIZE)), (("keep", SIZE_SIZE),)):
            if _write(paper, box, lines, turn):
                return


def _write(paper: _Paper, box: Box, lines: tuple[tuple[str, float], ...], turn: float) -> bool:
    """Write lines into a box where a place is free; return whether there was one."""
    wide = max(DIGIT * size * max(len(text), 1) for text, size in lines)
    high = sum(size for _, size in lines) * 1.12
    w, h = (wide, high) if not turn else (high, wide)
    if w > box[2] - box[0] - 0.8 or h > box[3] - box[1] - 0.8:
        return False
    for fx in (0.5, 0.35, 0.65, 0.2, 0.8):
        for fy in (0.5, 0.35, 0.65, 0.2, 0.8):
            cx = box[0] + 0.4 + w / 2 + fx * (box[2] - box[0] - 0.8 - w)
            cy = box[1] + 0.4 + h / 2 + fy * (box[3] - box[1] - 0.8 - h)
            place = (cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2)
            if paper.free(place):
                paper.taken.append(place)
                paper.items.extend(_stacked((cx, cy), lines, high, turn))
                return True
    return False


def _stacked(at: XY, lines: tuple[tuple[str, float], ...], high: float, turn: float) -> list[Primitive]:
    out: list[Primitive] = []
    top = high / 2
    for text, size in lines:
        off = top - size * 1.12 / 2
        place = (at[0], at[1] + off) if not turn else (at[0] - off, at[1])
        out.append(Text(place, text, size, turn=turn))
        top -= size * 1.12
    return out


def _ring(b: Box) -> tuple[XY, XY, XY, XY]:
    return ((b[0], b[1]), (b[2], b[1]), (b[2], b[3]), (b[0], b[3]))
