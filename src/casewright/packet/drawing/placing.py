"""Finds places for notes and labels on a drawing, so that everything can be read.

1. Everything that is drawn already is inked onto a raster of half-millimetre cells: lines, and apart from them texts.
2. A *label* (one text near what it names) goes to the nearest place whose box, with its margin, holds no ink:
   with an integral image all places are tried at once.
3. A *note* (lines of text with a leader to what it speaks of) has as candidates its best free places by
   distance; of these the cheapest is taken whose leader meets no text and no other leader. Crossing lines
   costs, running along them costs more.
4. Notes are placed one by one, the largest first; one that finds every way barred goes first in the next try.
   Then each is taken up and placed anew while that shortens the whole (coordinate descent; it ends, since the
   sum falls each time).
5. Where something finds no place the sheet is made larger and all is placed again: beside everything there is always
   room.

The answer is examined by `casewright.packet.drawing.overlaps`, which knows nothing of this.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from casewright.packet.drawing.ink import Mask, cheapest_way, nearest_target
from casewright.packet.drawing.lettering import Room, room_of
from casewright.packet.drawing.primitives import WHITE, XY, Anchor, Circle, Ends, Leader, LineRole, Primitive, Text
from casewright.packet.drawing.raster import CELL, KEEP, Floats, Indices, Raster
from casewright.packet.drawing.raster import shifted as shifted

LEADING = 1.35  # em from line to line of a note
SHOULDER = 2.2  # mm: the level piece of a leader beside its note
CANDIDATES = 240  # places of a note that are looked at closely
RANKED = 1500  # places of a note whose way is looked at for views that it does not speak of
STRIDE = 2  # cells between places of notes
CROSSING = 1.7  # mm of leader that crossing a line is worth
INSIDE = 9.0  # mm that standing inside an outline is worth
SHORT = 6.0  # mm that a leader which is hardly longer than its arrow is worth
FOREIGN = 60.0  # mm that standing in a view which a note does not speak of is worth
THROUGH = 40.0  # mm that a leader through such a view is worth
SAMPLES = 9  # points of a leader that are looked at for that
OVER = 80.0  # mm that a leader which comes back over its own note is worth
BACKWARDS = 25.0  # mm that a leader which doubles back is worth
DEAR = 60.0  # mm: a note that costs more is tried in shorter lines
NARROW = 15.0  # mm that long lines are worth over short ones
ALONE = 90.0  # mm that a keyed note without its leader is worth
NEARBY = 45.0  # mm around its targets where a note is looked for first
AWAY = 0.8  # mm between a note and its leader
LETTERS = 2  # a note of so many letters is a letter of a call-out, and needs no room around it
ASIDE = 0.3  # em above and below a note, so that two of them are not read as one
FIRST_LOOK = 14.0  # mm around its place where a label is looked for first
MEASURES = (AWAY, SHOULDER, BACKWARDS)
ROUNDS = 3
RESTARTS = 24
GIVE_UP = 2  # times that one note may be barred


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
    """Lines of text with a leader to one of the targets; without targets it stands by itself.

    `arrow` is the length of the leader's arrow, 0 for a dot. A `keyed` note begins with a letter that its targets
    bear: where no leader finds a way it may do without.
    """

    lines: tuple[str, ...]
    targets: tuple[XY, ...]
    size: float
    arrow: float = 0.0
    covered: bool = False
    keyed: bool = False
    foreign: tuple[tuple[float, float, float, float], ...] = ()  # views that it does not speak of: it keeps out of them
    ring: float = 0.0  # radius of a circle around a note of one line (a balloon); 0 without
    narrower: tuple[str, ...] = ()  # the same text in shorter lines, for where the long ones stand badly


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a note stands, in these lines: the middle left of its block, its leader, and what that costs in mm."""

    note: Note
    x: float
    y: float
    leader: tuple[XY, ...]
    cost: float


Window = tuple[float, float, float, float]


class NoRoom(Exception):  # noqa: N818 (reads as what it is)
    """Something found no place on a sheet of this size."""


def place_label(raster: Raster, label: Label) -> Text:
    """Return a label as a text in the nearest free place, and ink it. Raises NoRoom."""
    room = room_of(label.text, label.size)
    wide, high = (room.width, room.up + room.down) if not label.turn else (room.up + room.down, room.width)
    reach = min(label.reach, FIRST_LOOK)
    found = _nearest(raster, label, wide, high, reach)
    if found is None and reach < label.reach:
        found = _nearest(raster, label, wide, high, label.reach)
    if found is None:
        raise NoRoom(label.text)
    # The middle of a text is the middle of a figure, not of its box.
    drop = (room.up - room.down) / 2
    at = (found[0] + (drop if label.turn else 0.0), found[1] - (0.0 if label.turn else drop))
    text = Text(at, label.text, label.size, turn=label.turn)
    raster.ink((text,))
    return text


def _nearest(raster: Raster, label: Label, wide: float, high: float, reach: float) -> XY | None:
    (x, y), half = label.near, (wide / 2 + KEEP, high / 2 + KEEP)
    free, ox, oy = raster.free(
        wide, high, (x - reach - half[0], y - reach - half[1], x + reach + half[0], y + reach + half[1])
    )
    ys, xs = np.nonzero(free)
    cx, cy = (xs + ox + 0.5) * CELL + half[0], (ys + oy + 0.5) * CELL + half[1]
    far = np.hypot(cx - x, cy - y)
    good = far <= reach
    if label.within is not None:
        x0, y0, x1, y1 = label.within
        good &= (cx - wide / 2 >= x0) & (cx + wide / 2 <= x1) & (cy - high / 2 >= y0) & (cy + high / 2 <= y1)
    if not good.any():
        return None
    k = int(np.flatnonzero(good)[far[good].argmin()])
    return (float(cx[k]), float(cy[k]))


def place_notes(raster: Raster, notes: Sequence[Note]) -> tuple[Primitive, ...]:
    """Return notes and their leaders in places of their own, and ink them. Raises NoRoom."""
    order = sorted(range(len(notes)), key=lambda i: (-_block(notes[i]).width * len(notes[i].lines), i))
    standing = _first_places(raster, notes, order)
    for _ in range(ROUNDS):
        better = False
        for i in order:
            before = standing.take_up(i)
            found = _best(standing.sheet(), notes[i])
            gains = found is not None and found.cost < before.cost - 1e-6
            standing.put(i, found if gains and found is not None else before)
            better |= gains
        if not better:
            break
    placed: list[Primitive] = [item for i in sorted(standing.spots) for item in _drawn(standing.spots[i])]
    raster.ink(placed)
    return tuple(placed)


def _first_places(raster: Raster, notes: Sequence[Note], order: list[int]) -> _Standing:
    """Place notes one by one; one whose ways are barred goes first in the next try. `order` ends as used."""
    barred = order[0] if order else 0
    first = Counter[int]()  # how often each was barred
    for _ in range(RESTARTS):
        standing = _Standing(raster)
        for i in order:
            found = _fair(standing.sheet(), notes[i])
            if found is None:
                barred = i
                break
            standing.put(i, found)
        else:
            return standing
        first[barred] += 1
        if barred == order[0] or first[barred] > GIVE_UP:
            break  # not even alone, or they bar each other by turns
        order.remove(barred)
        order.insert(0, barred)
    raise NoRoom(" / ".join(notes[barred].lines))


class _Standing:
    """The notes that stand on a sheet: how many of them lie on each cell, so that one can be taken up again."""

    def __init__(self, raster: Raster) -> None:
        self._raster = raster
        self._texts = raster.texts.astype(np.int16)
        self._leaders = raster.leaders.astype(np.int16)
        self._cells: dict[int, tuple[Indices, Indices]] = {}
        self.spots: dict[int, Spot] = {}

    def put(self, i: int, spot: Spot) -> None:
        """Let note i stand at a spot."""
        self._cells[i] = _cells_of(self._raster, spot)
        self.spots[i] = spot
        self._add(i, 1)

    def take_up(self, i: int) -> Spot:
        """Take note i away and return where it stood."""
        self._add(i, -1)
        return self.spots.pop(i)

    def sheet(self) -> Raster:
        """Return the ink of the sheet with what stands on it."""
        copy = self._raster.empty()
        copy.lines, copy.costly, copy.solid = self._raster.lines, self._raster.costly, self._raster.solid
        copy.texts, copy.leaders = self._texts > 0, self._leaders > 0
        copy.led = [*self._raster.led, *(e for spot in self.spots.values() for e in _ends(spot))]
        return copy

    def _add(self, i: int, by: int) -> None:
        for counts, cells in zip((self._texts, self._leaders), self._cells[i], strict=True):
            counts.reshape(-1)[cells] += by


def _cells_of(raster: Raster, spot: Spot) -> tuple[Indices, Indices]:
    """Return the cells that a note and its leader take."""
    own = raster.empty()
    own.ink([i for i in _drawn(spot) if not isinstance(i, Circle)])
    if spot.note.ring:
        x, y, d = spot.x, spot.y - spot.note.ring, 2 * spot.note.ring
        own.fill(own.texts, ((x, y), (x + d, y), (x + d, y + d), (x, y + d)))
    return np.flatnonzero(own.texts), np.flatnonzero(own.leaders)


def _block(note: Note) -> Room:
    """Return the width of a note and how far it reaches up and down from the middle of its first line."""
    if note.ring:
        return Room(2 * note.ring, note.ring, note.ring)
    rooms = [room_of(line, note.size) for line in note.lines]
    down = (len(rooms) - 1) * LEADING * note.size + rooms[-1].down
    aside = ASIDE * note.size * (len("".join(note.lines)) > LETTERS)
    return Room(max(r.width for r in rooms), rooms[0].up + aside, down + aside)


def _fair(sheet: Raster, note: Note) -> Spot | None:
    """Return the best place of a note in its own lines, without a leader where its targets bear its letter."""
    found = _best_in_lines(sheet, note)
    if note.keyed and (found is None or found.cost > ALONE):
        return _without_leader(sheet, note) or found
    return found


def _best(sheet: Raster, note: Note) -> Spot | None:
    """Return the best place of a note on a sheet, in shorter lines where it would cost much; None where it has none."""
    found = _fair(sheet, note)
    if not note.narrower or (found is not None and found.cost <= DEAR):
        return found
    other = _fair(sheet, replace(note, lines=note.narrower, narrower=()))
    return other if other is not None and (found is None or other.cost + NARROW < found.cost) else found


def _best_in_lines(sheet: Raster, note: Note) -> Spot | None:
    """Return the best place of a note in its own lines.

    A place costs at least its distance: where one within NEARBY costs no more than that, none further off is better.
    """
    if not note.targets:
        return _by_itself(sheet, note)
    found = _within(sheet, note, _around(note))
    return found if found is not None and found.cost <= NEARBY else _within(sheet, note, None)


def _by_itself(sheet: Raster, note: Note) -> Spot | None:
    """Return the free place furthest to the upper left, for a note without a leader."""
    left, first, inside = _places(sheet, note, None)
    if not len(left):
        return None
    cost = left + sheet.height - first
    k = int((cost + inside).argmin())
    return Spot(note, float(left[k]), float(first[k]), (), float(cost[k]))


def _without_leader(sheet: Raster, note: Note) -> Spot | None:
    """Return the free place of a note that is nearest to its targets."""
    left, first, inside = _places(sheet, note, None)
    if not len(left):
        return None
    targets = np.array(note.targets, np.float64)
    reach, _ = nearest_target(left, first, targets, MEASURES, _block(note).width, note.ring)
    k = int((reach + inside).argmin())
    return Spot(note, float(left[k]), float(first[k]), (), ALONE + 1e-3 * float(reach[k] + inside[k]))


def _around(note: Note) -> Window:
    """Return where the box of a note stands whose leader is no longer than NEARBY."""
    block = _block(note)
    xs, ys = zip(*note.targets, strict=True)
    wide, high = (NEARBY + side + 2 * (SHOULDER + AWAY) for side in (block.width, block.up + block.down))
    return (min(xs) - wide, min(ys) - high, max(xs) + wide, max(ys) + high)


def _places(sheet: Raster, note: Note, window: Window | None) -> tuple[Floats, Floats, Floats]:
    """Return the free places of a note: its left, the middle of its first line, and what standing there costs."""
    block = _block(note)
    free, column, row = sheet.free(block.width, block.up + block.down, window)
    ys, xs = np.nonzero(free[row % STRIDE :: STRIDE, column % STRIDE :: STRIDE])
    left: Floats = ((xs * STRIDE + column + column % STRIDE + 0.5) * CELL + KEEP).astype(np.float64)
    first: Floats = ((ys * STRIDE + row + row % STRIDE + 0.5) * CELL + KEEP + block.down).astype(np.float64)
    inside = (INSIDE * sheet.costly[_cells(sheet, left + block.width / 2, first)]).astype(np.float64)
    for x0, y0, x1, y1 in note.foreign:
        meets = (left < x1) & (left + block.width > x0) & (first - block.down < y1) & (first + block.up > y0)
        inside += FOREIGN * meets
    return left, first, inside


def _within(sheet: Raster, note: Note, window: Window | None) -> Spot | None:
    """Return the best place of a note with targets in a window of the sheet; in the whole of it for None."""
    left, first, inside = _places(sheet, note, window)
    if not len(left):
        return None
    width = _block(note).width
    reach, nearest = nearest_target(left, first, np.array(note.targets, np.float64), MEASURES, width, note.ring)
    ranked = np.argsort(reach + inside, kind="stable")
    if note.foreign:
        ranked = _clear_first(note, width, left, first, reach + inside, nearest, ranked)
    found = None
    # Where the near places are all barred, the others are tried, the far ones every fourth.
    for order in (ranked[:CANDIDATES], ranked[CANDIDATES : 8 * CANDIDATES], ranked[8 * CANDIDATES :: 4]):
        if found is None and len(order):
            targets = np.array(note.targets)[nearest[order]]
            found = _cheapest(sheet, note, width, left[order], first[order], targets, inside[order])
    return found


def _clear_first(
    note: Note, width: float, left: Floats, first: Floats, cost: Floats, nearest: Indices, ranked: Indices
) -> Indices:
    """Rank the better places anew with what leaders through views that the note does not speak of cost."""
    better, rest = ranked[:RANKED], ranked[RANKED:]
    targets = np.array(note.targets, np.float64)[nearest[better]]
    _, elbow, _ = _starts(note, width, left[better], first[better], targets)
    through = THROUGH * _through(note, elbow, targets - elbow)
    return np.concatenate((better[np.argsort(cost[better] + through, kind="stable")], rest))


def _starts(note: Note, width: float, left: Floats, first: Floats, targets: Floats) -> tuple[Floats, Floats, Mask]:
    """Return where leaders start and where their level piece ends, and which start on the right of the text."""
    right: Mask = targets[:, 0] > left + width / 2
    if note.ring:
        middle = np.column_stack((left + note.ring, first))
        out = targets - middle
        size = np.maximum(np.hypot(*out.T), 1e-6)[:, None]
        start = middle + out / size * note.ring
        return start, start + out / size * 1e-3, right
    start = np.column_stack((np.where(right, left + width + AWAY, left - AWAY), first))
    return start, start + np.column_stack((np.where(right, SHOULDER, -SHOULDER), np.zeros(len(right)))), right


def _cells(raster: Raster, x: Floats, y: Floats) -> tuple[Indices, Indices]:
    rows, columns = raster.costly.shape
    row = np.clip((y / CELL).astype(np.int64), 0, rows - 1)
    return row, np.clip((x / CELL).astype(np.int64), 0, columns - 1)


def _cheapest(
    sheet: Raster, note: Note, width: float, left: Floats, first: Floats, targets: Floats, inside: Floats
) -> Spot | None:
    """Return the cheapest of some places whose leader meets no text and no leader."""
    start, elbow, right = _starts(note, width, left, first, targets)
    side = np.where(right, 1.0, -1.0)
    way = targets - elbow
    far = np.hypot(way[:, 0], way[:, 1])
    # Nearly level or plumb leaders look like other lines.
    square = np.minimum(np.abs(way[:, 0]), np.abs(way[:, 1])) < 0.12 * np.maximum(far, 1e-6)
    back = ((targets[:, 0] - start[:, 0]) * side < SHOULDER * 0.4) & (not note.ring)
    base = far + inside + 3.0 * square + BACKWARDS * back + SHORT * (far < 1.3 * note.arrow)
    base += THROUGH * _through(note, elbow, way)
    if not note.ring:
        base += OVER * _over_itself(_block(note), left, elbow, targets, right)
    ways = np.hstack((start, elbow, targets)) / CELL
    order = np.argsort(base, kind="stable")
    k, cost = cheapest_way(sheet.lines, sheet.texts, sheet.leaders, _others(sheet), ways, base, order, CROSSING)
    if k < 0:
        return None
    leader = tuple((float(p[k, 0]), float(p[k, 1])) for p in (start, elbow, targets))
    return Spot(note, float(left[k]), float(first[k]), leader, float(cost))


def _through(note: Note, elbow: Floats, way: Floats) -> Mask:
    """Return which leaders run through a view that the note does not speak of."""
    out: Mask = np.zeros(len(elbow), np.bool_)
    if note.foreign:
        at = elbow[:, None, :] + way[:, None, :] * np.linspace(0.0, 1.0, SAMPLES)[None, :, None]
        for x0, y0, x1, y1 in note.foreign:
            inside = (at[..., 0] > x0) & (at[..., 0] < x1) & (at[..., 1] > y0) & (at[..., 1] < y1)
            out |= inside.any(axis=1)
    return out


def _over_itself(block: Room, left: Floats, elbow: Floats, targets: Floats, right: Mask) -> Mask:
    """Return which leaders come back over the text that they start from."""
    edge = np.where(right, left + block.width, left)
    back = np.where(right, targets[:, 0] < edge, targets[:, 0] > edge)
    run = np.maximum(np.abs(elbow[:, 0] - targets[:, 0]), 1e-6)
    off = np.abs(targets[:, 1] - elbow[:, 1]) * np.abs(elbow[:, 0] - edge) / run
    over: Mask = back & (off < max(block.up, block.down) + KEEP)
    return over


def _ends(spot: Spot) -> list[Ends]:
    return [(*a, *b) for a, b in pairwise(spot.leader)]


def _others(sheet: Raster) -> Floats:
    return np.array(sheet.led, np.float64).reshape(-1, 4) / CELL


def _drawn(spot: Spot) -> tuple[Primitive, ...]:
    note = spot.note
    out: list[Primitive] = []
    if note.ring:
        centre = (spot.x + note.ring, spot.y)
        if spot.leader:
            rim = _rim(centre, spot.leader[-1], note.ring)
            out.append(Leader((rim, spot.leader[-1]), note.covered, note.arrow))
        return (*out, Circle(centre, note.ring, LineRole.LEADER, WHITE), Text(centre, note.lines[0], note.size))
    if spot.leader:
        out.append(Leader(spot.leader, note.covered, note.arrow))
    # The side from which the leader starts is the flush one: there the text ends where it is drawn, in any face.
    width = _block(note).width
    x, anchor = (spot.x + width, Anchor.END) if _ends_flush(spot) else (spot.x, Anchor.START)
    for i, line in enumerate(note.lines):
        out.append(Text((x, spot.y - i * LEADING * note.size), line, note.size, anchor))
    return tuple(out)


def _ends_flush(spot: Spot) -> bool:
    """True where the leader starts from the right of the text and does not come back over it."""
    block = _block(spot.note)
    right = spot.x + block.width
    if not spot.leader or spot.leader[0][0] < right:
        return False
    (x, y), (tx, ty) = spot.leader[1:]
    off = abs(ty - y) * (x - right) / (x - tx) if tx < right else math.inf
    return off > max(block.up, block.down) + KEEP


def _rim(centre: XY, towards: XY, radius: float) -> XY:
    far = math.dist(centre, towards) or 1.0
    return tuple(c + (t - c) / far * radius for c, t in zip(centre, towards, strict=True))  # type: ignore[return-value]
