"""Sheets and boards as pictures to scale, with cuts numbered in order and parts named by mark.

1. The stock and its trim, rests and parts are drawn to scale (a slender board wider than that, by a stated number);
   saw lines lie in the middle of their kerf.
2. Each number stands on its line: at the first of several places along it that is free of other numbers and of
   parallel lines, which it might be taken to belong to.
3. A part's label is its mark and size where both fit beside the numbers, else its mark alone.
4. Numbers and marks that do not fit stand outside the stock with a leader (`placing`). Where one finds no place
   the margin grows. The result is examined (`overlaps`).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from casewright.layout.model import GRID, Axis, Laid, Rest
from casewright.packet.cut_plan import CutPlan, SawLine, part_label
from casewright.packet.drawing.lettering import em_for, width_of
from casewright.packet.drawing.measured_view import cropped
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.placing import NoRoom, Note, place_notes
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
from casewright.packet.drawing.raster import Raster

STOCK: Tone = (226, 226, 226)  # waste, trim and kerf
KEPT: Tone = (244, 244, 244)
SLENDER, BROAD = 28.0, 64.0  # mm on paper: what is narrower is drawn wider than to scale, up to that
WIDEST = 5  # times
LETTER = 2.5  # mm: height of capitals and figures
EM = em_for(LETTER)
MARK_EM = 1.15 * EM
MARGIN = 2.5  # mm around the stock
MARGINS = (MARGIN, 10.0, 18.0, 28.0, 40.0)  # mm, tried one after the other
CLEAR = 0.5  # mm between texts and what is near
SMALL = 10.0  # mm: parts smaller than that keep numbers off
BETWEEN = 2.0  # mm between a mark and a size beside it
LOOKS = 32  # places along a line

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
    small: list[Box] = field(default_factory=list)  # parts that a number would cover

    def xy(self, x: float, y: float) -> XY:
        return (self.x + x * self.k, self.y + y * self.ky)

    def box(self, x: float, y: float, length: float, width: float) -> Box:
        return (*self.xy(x, y), *self.xy(x + length, y + width))

    def free(self, box: Box) -> bool:
        return not any(
            box[0] - CLEAR < o[2] and o[0] < box[2] + CLEAR and box[1] - CLEAR < o[3] and o[1] < box[3] + CLEAR
            for o in self.taken
        )


def plate_picture(
    length: int,
    width: int,
    plan: CutPlan,
    *,
    across: float,
    size: PartText,
    alt: str,
    highest: float = 1e9,
    wider: float = 1.0,
) -> Picture:
    """Return a sheet or board of `length` × `width` grid steps, at most `across` × `highest` mm on paper.

    Its width is drawn `wider` than to scale (`widenings`). Raises NoRoom where not every number and mark finds a place.
    """
    for margin in MARGINS:
        paper, outside = _plate(length, width, plan, across, highest, margin, size, wider)
        w, h = 2 * paper.x + length * paper.k, 2 * paper.y + width * paper.ky
        try:
            items = (*paper.items, *_led(_inked(paper.items, w, h), outside))
        except NoRoom:
            continue
        drawn = cropped(Picture(w, h, items, alt, paper.k * GRID))
        if not overlaps(drawn):
            return drawn
    raise NoRoom(f"{len(plan.lines)} cuts on a picture {across:.0f} mm wide")


def crowded_picture(
    length: int,
    width: int,
    plan: CutPlan,
    *,
    across: float,
    size: PartText,
    alt: str,
    highest: float = 1e9,
    wider: float = 1.0,
) -> tuple[Picture, tuple[str, ...]]:
    """Return a picture of a stock too crowded for `plate_picture`, and the numbers and marks that found no place.

    It has the margin that leaves fewest of them out, and of those the least: there it is largest.
    """
    tried = (_crowded(length, width, plan, across, highest, margin, size, alt, wider) for margin in MARGINS[1:-1])
    return min(tried, key=lambda found: (len(overlaps(found[0])), len(found[1])))


def _crowded(
    length: int,
    width: int,
    plan: CutPlan,
    across: float,
    highest: float,
    margin: float,
    size: PartText,
    alt: str,
    wider: float,
) -> tuple[Picture, tuple[str, ...]]:
    """Return the picture with one margin around the stock, and what found no place on it."""
    paper, outside = _plate(length, width, plan, across, highest, margin, size, wider)
    w, h = 2 * paper.x + length * paper.k, 2 * paper.y + width * paper.ky
    items, left = list(paper.items), []
    for note in outside:
        try:
            added = _led(_inked(items, w, h), [note])
        except NoRoom:
            left.append(note.lines[0])
            continue
        items += added
    return cropped(Picture(w, h, tuple(items), alt, paper.k * GRID)), tuple(left)


def ring_of(text: str) -> float:
    """Return the radius of the circle that a number or mark stands in, mm."""
    return math.hypot(width_of(text, EM) / 2, LETTER / 2) + 0.45


def _inked(items: list[Primitive], width: float, height: float) -> Raster:
    raster = Raster(width, height)
    raster.ink(items)
    for item in items:  # circles have a ground: nothing may run into them
        if isinstance(item, Circle) and item.tone is not None:
            (x, y), r = item.centre, item.radius
            raster.fill(raster.texts, ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)))
    border = ((0.6, 0.6), (width - 0.6, 0.6), (width - 0.6, height - 0.6), (0.6, height - 0.6), (0.6, 0.6))
    raster.run(raster.texts, (border,))
    return raster


def _led(raster: Raster, outside: list[Note]) -> tuple[Primitive, ...]:
    return place_notes(raster, outside) if outside else ()


def widenings(length: int, width: int, across: float) -> tuple[float, ...]:
    """Return how many times wider than to scale a stock may be drawn: 1, and a slender board more and more."""
    as_drawn = width / length * across
    if as_drawn >= SLENDER:
        return (1.0,)
    least = min(WIDEST, max(2, round(SLENDER / as_drawn)))
    return tuple(float(n) for n in range(least, WIDEST + 1) if n == least or n * as_drawn <= BROAD)


def _plate(
    length: int,
    width: int,
    plan: CutPlan,
    across: float,
    highest: float,
    margin: float,
    size: PartText,
    wider: float,
) -> tuple[_Paper, list[Note]]:
    """Return what stands on the stock, and what is to stand beside it."""
    k = min((across - 2 * margin) / length, max(highest - 2 * margin, highest / 3) / width)
    paper = _Paper(k=k, ky=k * wider, x=margin, y=margin)
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
    boxes = [paper.box(p.x, p.y, p.length, p.width) for p in plan.laid]
    paper.small += [b for b in boxes if max(b[2] - b[0], b[3] - b[1]) < SMALL]
    outside = [
        note
        for line in sorted(plan.lines, key=lambda n: n.end - n.start)
        if (note := _number(paper, line, plan.lines)) is not None
    ]
    for rest in plan.rests:
        if rest.keep:
            _keep_label(paper, rest, size)
    outside += [note for part in plan.laid if (note := _part_label(paper, part, size)) is not None]
    return paper, outside


def _saw_line(paper: _Paper, line: SawLine) -> None:
    a, b = _ends(paper, line)
    paper.items.append(Segments(((*a, *b),), LineRole.CUT))


def _ends(paper: _Paper, line: SawLine) -> tuple[XY, XY]:
    if line.axis is Axis.RIP:
        return paper.xy(line.start, line.at), paper.xy(line.end, line.at)
    return paper.xy(line.at, line.start), paper.xy(line.at, line.end)


def _number(paper: _Paper, line: SawLine, lines: list[SawLine]) -> Note | None:
    """Put a number on its line; return a note with a leader to it where it finds no place there."""
    text = str(line.number)
    (x0, y0), (x1, y1) = _ends(paper, line)
    run, radius = abs(x1 - x0) + abs(y1 - y0), ring_of(text)
    first = min(radius + 0.8, run / 2)
    shares = (first / run, 1 - first / run, *(i / LOOKS for i in range(2, LOOKS - 1))) if run > 0 else (0.5,)
    places = [(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in shares]
    near = [_ends(paper, other) for other in lines if other.axis is line.axis and other is not line]
    for at in places:
        around = (at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius)
        if any(_meet(around, box) for box in paper.small):
            continue
        if paper.free(around) and not any(_within(at, ends, radius + CLEAR) for ends in near):
            paper.taken.append(around)
            paper.items += [Circle(at, radius, LineRole.LEADER, WHITE), Text(at, text, EM)]
            return None
    return Note((text,), tuple(places[2::3] or places), EM, ring=radius)


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _within(at: XY, ends: tuple[XY, XY], far: float) -> bool:
    """True where a level or plumb line comes closer to a place than that."""
    (x0, y0), (x1, y1) = ends
    dx, dy = max(x0 - at[0], at[0] - x1, 0.0), max(y0 - at[1], at[1] - y1, 0.0)
    return math.hypot(dx, dy) < far


def _part_label(paper: _Paper, part: Laid, size: PartText) -> Note | None:
    """Put the fullest label that fits; return a note with a leader where none does."""
    box = paper.box(part.x, part.y, part.length, part.width)
    mark = part_label(part.part)
    sized = size(part)
    for turn in (0.0, 90.0):
        if _write(paper, box, ((mark, MARK_EM), (sized, EM)), turn):
            return None
        if _write(paper, box, ((mark, EM), (sized, EM)), turn, beside=True):
            return None
        if _write(paper, box, ((mark, MARK_EM),), turn) or _write(paper, box, ((mark, EM),), turn):
            return None
    (x0, y0, x1, y1) = box
    inside = tuple((x0 + (x1 - x0) * u, y0 + (y1 - y0) * v) for u in (0.5, 0.2, 0.8) for v in (0.5, 0.25, 0.75))
    return Note((mark,), inside, EM, ring=ring_of(mark))


def _keep_label(paper: _Paper, rest: Rest, size: PartText) -> None:
    box = paper.box(rest.x, rest.y, rest.length, rest.width)
    as_part = Laid(part="", x=rest.x, y=rest.y, length=rest.length, width=rest.width, turned=False)
    for turn in (0.0, 90.0):
        for lines in ((("keep", EM), (size(as_part), EM)), (("keep", EM),)):
            if _write(paper, box, lines, turn):
                return


def _write(paper: _Paper, box: Box, lines: tuple[tuple[str, float], ...], turn: float, *, beside: bool = False) -> bool:
    """Write lines, or texts beside each other, into a box where a place is free; return whether there was one."""
    widths = [width_of(text, size) for text, size in lines]
    wide = sum(widths) + BETWEEN * (len(lines) - 1) if beside else max(widths)
    high = (max if beside else sum)(size for _, size in lines) * 1.12
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
                paper.items.extend((_beside if beside else _stacked)((cx, cy), lines, wide if beside else high, turn))
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


def _beside(at: XY, texts: tuple[tuple[str, float], ...], wide: float, turn: float) -> list[Primitive]:
    out: list[Primitive] = []
    along = -wide / 2
    for text, size in texts:
        off = along + width_of(text, size) / 2
        out.append(Text((at[0] + off, at[1]) if not turn else (at[0], at[1] + off), text, size, turn=turn))
        along += width_of(text, size) + BETWEEN
    return out


def _ring(b: Box) -> tuple[XY, XY, XY, XY]:
    return ((b[0], b[1]), (b[2], b[1]), (b[2], b[3]), (b[0], b[3]))
