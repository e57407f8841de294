"""Finds places for notes and labels on a drawing, so that everything can be read.

1. Everything that is drawn already is inked onto a raster of half-millimetre cells: lines, and apart from them texts.
2. A *label* (one text near what it names) goes to the nearest place whose box, with its margin, holds no ink: with an integral
   image all places are tried at once.
3. A *note* (lines of text with a leader to what it speaks of) has as candidates its best free places by distance; of these the
   cheapest is taken whose leader meets no text and no other leader. Crossing lines costs, running along them costs more.
4. Notes are placed one by one, those with the fewest places first; then each is taken up and placed anew while that shortens
   the whole (coordinate descent; it ends, since the sum falls each time).
5. Where something finds no place the sheet is made larger and all is placed again: beside everything there is always room.

The answer is examined by `casewright.packet.drawing.overlaps`, which knows nothing of this.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from casewright.packet.drawing.lettering import Room, corners_of, room_of
from casewright.packet.drawing.primitives import (
    XY,
    Anchor,
    Arc,
    Circle,
    Fill,
    Leader,
    Polyline,
    Primitive,
    Segments,
    Text,
)  # fmt: skip

CELL = 0.5  # mm
KEEP = 0.75  # mm kept clear around a text: 0.3 mm of paper, half a thick line, and the raster
LEADING = 1.35  # em from line to line of a note
SHOULDER = 2.2  # mm: the level piece of a leader beside its note
CANDIDATES = 240  # places of a note that are looked at closely
STRIDE = 2  # cells between places of notes
CROSSING = 1.1  # mm of leader that crossing a line is worth
INSIDE = 4.0  # mm that standing inside an outline is worth
ROUNDS = 3

Mask = NDArray[np.bool_]
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Label:
    """A text that stands near a place; `reach` is how far off it may be, mm. `within` is a box it must stay in."""

    text: str
    near: XY
    size: float
    reach: float = 30.0
    within: tuple[float, float, float, float] | None = None
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Note:
    """Lines of text with a leader to one of the targets; without targets, near `near`.

    `arrow` is the length of the leader's arrow, 0 for a dot. `ground` is a box that the target lies in (a view).
    """

    lines: tuple[str, ...]
    targets: tuple[XY, ...]
    size: float
    arrow: float = 0.0
    covered: bool = False


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a note stands: the middle left of its block, its leader, and what that costs in mm."""

    x: float
    y: float
    leader: tuple[XY, ...]
    cost: float


class NoRoom(Exception):
    """Something found no place on a sheet of this size."""


@dataclass(slots=True)
class Raster:
    """The ink on a sheet: lines and texts apart, by cells; `costly` are areas where notes had better not stand."""

    width: float
    height: float
    lines: Mask = field(init=False)
    texts: Mask = field(init=False)
    leaders: Mask = field(init=False)
    costly: Mask = field(init=False)

    def __post_init__(self) -> None:
        """Make empty masks."""
        shape = (math.ceil(self.height / CELL) + 2, math.ceil(self.width / CELL) + 2)
        self.lines, self.texts, self.leaders, self.costly = (np.zeros(shape, np.bool_) for _ in range(4))

    def ink(self, items: Sequence[Primitive]) -> None:
        """Add what is drawn."""
        for item in items:
            if isinstance(item, Text):
                self.fill(self.texts, corners_of(item))
            elif isinstance(item, Leader):
                self.run(self.leaders, item.points)
            else:
                for run in runs_of(item):
                    self.run(self.lines, run)

    def run(self, mask: Mask, points: Sequence[XY]) -> None:
        """Mark the cells that a run of lines passes."""
        path = np.asarray(points, np.float64)
        for a, b in zip(path[:-1], path[1:], strict=True):
            n = max(2, int(math.hypot(*(b - a)) / (CELL * 0.4)) + 2)
            steps = a + (b - a) * np.linspace(0.0, 1.0, n)[:, None]
            self.mark(mask, steps)

    def mark(self, mask: Mask, points: Floats) -> None:
        """Mark the cells of points that lie on the sheet."""
        cells = np.floor(points / CELL).astype(np.int64)
        good = (cells >= 0).all(axis=1) & (cells[:, 1] < mask.shape[0]) & (cells[:, 0] < mask.shape[1])
        mask[cells[good, 1], cells[good, 0]] = True

    def fill(self, mask: Mask, corners: Sequence[XY]) -> None:
        """Mark the cells under a box that may be turned."""
        (ax, ay), (bx, by), _, (dx, dy) = corners
        n = int(math.hypot(bx - ax, by - ay) / (CELL * 0.7)) + 2
        m = int(math.hypot(dx - ax, dy - ay) / (CELL * 0.7)) + 2
        u, v = np.linspace(0, 1, n)[:, None, None], np.linspace(0, 1, m)[None, :, None]
        grid = np.array((ax, ay)) + u * np.array((bx - ax, by - ay)) + v * np.array((dx - ax, dy - ay))
        self.mark(mask, grid.reshape(-1, 2))

    def free(self, width: float, height: float) -> tuple[Mask, int, int]:
        """Return for each cell whether a box with its lower left corner there is free, margins included; and its cells."""
        ink = self.lines | self.texts | self.leaders
        sums = np.zeros((ink.shape[0] + 1, ink.shape[1] + 1), np.int32)
        sums[1:, 1:] = ink.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
        w, h = math.ceil((width + 2 * KEEP) / CELL) + 1, math.ceil((height + 2 * KEEP) / CELL) + 1
        rows, columns = ink.shape[0] - h - 1, ink.shape[1] - w - 1
        if rows <= 0 or columns <= 0:
            return np.zeros((0, 0), np.bool_), w, h
        total = sums[h : h + rows, w : w + columns] - sums[:rows, w : w + columns]
        total = total - sums[h : h + rows, :columns] + sums[:rows, :columns]
        return total == 0, w, h


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


def place_label(raster: Raster, label: Label) -> Text:
    """Return a label as a text in the nearest free place, and ink it. Raises NoRoom."""
    room = room_of(label.text, label.size)
    wide, high = (room.width, room.up + room.down) if not label.turn else (room.up + room.down, room.width)
    free, _, _ = raster.free(wide, high)
    ys, xs = np.nonzero(free)
    cx, cy = (xs + 0.5) * CELL + KEEP + wide / 2, (ys + 0.5) * CELL + KEEP + high / 2
    far = np.hypot(cx - label.near[0], cy - label.near[1])
    good = far <= label.reach
    if label.within is not None:
        x0, y0, x1, y1 = label.within
        good &= (cx - wide / 2 >= x0) & (cx + wide / 2 <= x1) & (cy - high / 2 >= y0) & (cy + high / 2 <= y1)
    if not good.any():
        raise NoRoom(label.text)
    k = int(np.flatnonzero(good)[far[good].argmin()])
    # The middle of a text is the middle of a figure, not of its box.
    drop = (room.up - room.down) / 2
    at = (float(cx[k]) + (drop if label.turn else 0.0), float(cy[k]) - (0.0 if label.turn else drop))
    text = Text(at, label.text, label.size, turn=label.turn)
    raster.ink((text,))
    return text


def place_notes(raster: Raster, notes: Sequence[Note]) -> tuple[Primitive, ...]:
    """Return notes and their leaders in places of their own, and ink them. Raises NoRoom."""
    order = sorted(range(len(notes)), key=lambda i: (-_block(notes[i]).width * len(notes[i].lines), i))
    spots: dict[int, Spot] = {}
    for i in order:
        spots[i] = _best(raster, notes[i], [notes[j] for j in spots], [spots[j] for j in spots])
    for _ in range(ROUNDS):
        better = False
        for i in order:
            others = [j for j in spots if j != i]
            found = _best(raster, notes[i], [notes[j] for j in others], [spots[j] for j in others])
            if found.cost < spots[i].cost - 1e-6:
                spots[i], better = found, True
        if not better:
            break
    placed: list[Primitive] = [item for i in sorted(spots) for item in _drawn(notes[i], spots[i])]
    raster.ink(placed)
    return tuple(placed)


def _block(note: Note) -> Room:
    """Return the width of a note and how far it reaches up and down from the middle of its first line."""
    rooms = [room_of(line, note.size) for line in note.lines]
    down = (len(rooms) - 1) * LEADING * note.size + rooms[-1].down
    return Room(max(r.width for r in rooms), rooms[0].up, down)


def _best(raster: Raster, note: Note, others: list[Note], spots: list[Spot]) -> Spot:
    with_others = _with(raster, others, spots)
    block = _block(note)
    high = block.up + block.down
    free, _, _ = with_others.free(block.width, high)
    thin = np.zeros_like(free)
    thin[::STRIDE, ::STRIDE] = free[::STRIDE, ::STRIDE]
    ys, xs = np.nonzero(thin)
    if not len(xs):
        raise NoRoom(" / ".join(note.lines))
    left = (xs + 0.5) * CELL + KEEP
    first = (ys + 0.5) * CELL + KEEP + block.down  # the middle of the first line
    order, targets = _ranked(note, with_others, left, first, block)
    best: Spot | None = None
    for k, t, base in zip(order, targets, _bases(note, left, first, block, order, targets), strict=True):
        if best is not None and base >= best.cost:
            continue
        spot = _spot(with_others, note, block, float(left[k]), float(first[k]), t)
        if spot is not None and (best is None or spot.cost < best.cost):
            best = spot
    if best is None:
        raise NoRoom(" / ".join(note.lines))
    return best


def _with(raster: Raster, notes: list[Note], spots: list[Spot]) -> Raster:
    copy = Raster(raster.width, raster.height)
    copy.lines, copy.costly = raster.lines, raster.costly
    copy.texts, copy.leaders = raster.texts.copy(), raster.leaders.copy()
    for note, spot in zip(notes, spots, strict=True):
        copy.ink(_drawn(note, spot))
    return copy


def _attach(note: Note, left: Floats, block: Room, target: XY) -> tuple[Floats, Floats]:
    """Return where a leader would leave each place, and on which side (−1 left)."""
    right_side = target[0] > left + block.width / 2
    return np.where(right_side, left + block.width + 0.8, left - 0.8), np.where(right_side, 1.0, -1.0)


def _ranked(
    note: Note, raster: Raster, left: Floats, first: Floats, block: Room
) -> tuple[NDArray[np.int64], list[XY | None]]:
    """Return the most promising places, and the target of each."""
    if not note.targets:
        far = left + (raster.height - first)
        order = np.argsort(far, kind="stable")[:CANDIDATES]
        return order, [None] * len(order)
    costs = np.array([_reach(note, left, first, block, t) for t in note.targets])
    nearest = costs.argmin(axis=0)
    middle = (
        np.clip(((first - block.up) / CELL).astype(np.int64), 0, raster.costly.shape[0] - 1),
        np.clip(((left + block.width / 2) / CELL).astype(np.int64), 0, raster.costly.shape[1] - 1),
    )
    least = costs.min(axis=0) + INSIDE * raster.costly[middle]
    order = np.argsort(least, kind="stable")[:CANDIDATES]
    return order, [note.targets[int(nearest[k])] for k in order]


def _reach(note: Note, left: Floats, first: Floats, block: Room, target: XY) -> Floats:
    x, side = _attach(note, left, block, target)
    far: Floats = np.hypot(x + side * SHOULDER - target[0], first - target[1])
    # A leader that would have to double back under its own note is as good as none.
    back = (target[0] - x) * side < SHOULDER * 0.4
    return far + np.where(back, 25.0, 0.0)


def _bases(
    note: Note, left: Floats, first: Floats, block: Room, order: NDArray[np.int64], targets: list[XY | None]
) -> list[float]:
    if not note.targets:
        return [float(left[k]) * 0.0 for k in order]
    return [
        float(_reach(note, left[k : k + 1], first[k : k + 1], block, t)[0]) if t is not None else 0.0
        for k, t in zip(order, targets, strict=True)
    ]


def _spot(raster: Raster, note: Note, block: Room, x: float, y: float, target: XY | None) -> Spot | None:
    inside = bool(raster.costly[_cell(raster, x + block.width / 2, y)])
    if target is None:
        return Spot(x, y, (), x + raster.height - y + INSIDE * inside)
    right = target[0] > x + block.width / 2
    side = 1.0 if right else -1.0
    start = (x + block.width + 0.8 if right else x - 0.8, y)
    elbow = (start[0] + side * SHOULDER, y)
    leader = (start, elbow, target)
    crossed = _crossed(raster, leader)
    if crossed is None:
        return None
    far = math.dist(elbow, target)
    level = abs(target[1] - y) < 0.12 * max(far, 1e-6)  # nearly level or plumb leaders look like other lines
    plumb = abs(target[0] - elbow[0]) < 0.12 * max(far, 1e-6)
    back = (target[0] - start[0]) * side < SHOULDER * 0.4
    cost = far + CROSSING * crossed + INSIDE * inside + 3.0 * (level or plumb) + 25.0 * back
    return Spot(x, y, leader, cost)


def _cell(raster: Raster, x: float, y: float) -> tuple[int, int]:
    rows, columns = raster.costly.shape
    return (min(max(int(y / CELL), 0), rows - 1), min(max(int(x / CELL), 0), columns - 1))


def _crossed(raster: Raster, leader: tuple[XY, ...]) -> int | None:
    """Return how many cells of line a leader passes, or None where it meets a text or a leader."""
    points = []
    for a, b in zip(leader, leader[1:], strict=False):
        n = max(2, int(math.dist(a, b) / (CELL * 0.8)) + 2)
        points.append(np.array(a) + (np.array(b) - np.array(a)) * np.linspace(0.0, 1.0, n)[:, None])
    path = np.concatenate(points)
    cells = np.floor(path / CELL).astype(np.int64)
    rows, columns = raster.lines.shape
    if (cells < 1).any() or (cells[:, 0] >= columns - 1).any() or (cells[:, 1] >= rows - 1).any():
        return None
    y, x = cells[:, 1], cells[:, 0]
    for dy in (-1, 0, 1):
        for dx in (-1, 0, 1):
            if raster.texts[y + dy, x + dx].any():
                return None
    # Leaders of one feature may end side by side, but never touch on the way.
    near_end = np.hypot(path[:, 0] - leader[-1][0], path[:, 1] - leader[-1][1]) < 1.2
    if (raster.leaders[y, x] & ~near_end).any() or (raster.leaders[y[:-1], x[1:]] & ~near_end[1:]).any():
        return None
    return int(raster.lines[y, x].sum())


def _drawn(note: Note, spot: Spot) -> tuple[Primitive, ...]:
    out: list[Primitive] = []
    if spot.leader:
        out.append(Leader(spot.leader, note.covered, note.arrow))
    for i, line in enumerate(note.lines):
        out.append(Text((spot.x, spot.y - i * LEADING * note.size), line, note.size, Anchor.START))
    return tuple(out)


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
