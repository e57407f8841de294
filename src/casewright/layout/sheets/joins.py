"""Joining blocks without any waste: a beam search over equal sides (compiled).

Where things fill a set of sheets to the last bit, the two parts of every row have a side in common. A state is a
list of blocks, at first the things; a join makes one block of two with a side of the same length. Joins that chance
would hardly bring about count most: the search keeps the states whose joins are the greatest surprise, −Σ log of how
many blocks one would expect to have that side, which is the likelihood of the joins being meant. Sides of blocks not
joined yet that have a partner count in part. (The building up is that of Wang 1983, with no waste allowed.)
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sheets.kernel import kernel, lean_kernel
from casewright.layout.sheets.trees import Floats, Ints

WAYS = 8  # joins kept from each state
NEAR = 3  # least half width of the window in which sides are counted
ONE_MORE = 0.3  # counted with the blocks in the window: no count is nothing


class States(NamedTuple):
    """States of one depth: sizes of the blocks (0: joined to another, or a finished sheet), sheets still open."""

    size: NDArray[np.int32]  # state, block, axis
    mark: NDArray[np.uint64]  # state, block: which things are in it
    open: NDArray[np.int32]  # state, kind of sheet
    score: Floats
    whole: NDArray[np.uint64]  # a number for all that a state holds


class Joins(NamedTuple):
    """Joins that could be made: of which state, blocks i and j along an axis, what for."""

    of: Ints  # which, (state, i, j, axis)
    score: Floats
    value: Floats
    whole: NDArray[np.uint64]


class Sides(NamedTuple):
    """The blocks of one state by their sides."""

    block: Ints  # those there are
    many: Ints  # axis, side: blocks
    below: Ints  # axis, side: blocks with a shorter side
    head: Ints  # axis, side: first block
    next: Ints  # axis, block: next block with the same side
    surprise: Floats  # axis, block
    partnered: Floats  # block: the surprise of its better side that has a partner
    stamp: Ints  # block: look at which it was met; last entry: number of this look


def new_states(width: int, blocks: int, kinds: int) -> States:
    """Room for `width` states."""
    return States(
        size=np.zeros((width, blocks, 2), np.int32),
        mark=np.zeros((width, blocks), np.uint64),
        open=np.zeros((width, kinds), np.int32),
        score=np.zeros(width),
        whole=np.zeros(width, np.uint64),
    )


def new_joins(width: int) -> Joins:
    """Room for the joins of so many states."""
    n = width * WAYS
    return Joins(np.zeros((n, 4), np.int64), np.zeros(n), np.zeros(n), np.zeros(n, np.uint64))


def new_sides(blocks: int, longest: int) -> Sides:
    """Room to sort the blocks of a state."""
    return Sides(
        block=np.zeros(blocks, np.int64),
        many=np.zeros((2, longest + 2), np.int64),
        below=np.zeros((2, longest + 2), np.int64),
        head=np.zeros((2, longest + 2), np.int64),
        next=np.zeros((2, blocks), np.int64),
        surprise=np.zeros((2, blocks)),
        partnered=np.zeros(blocks),
        stamp=np.zeros(blocks + 1, np.int64),
    )


@lean_kernel
def mixed(mark: np.uint64, side: int) -> np.uint64:
    """A number for a block of some things with a side (splitmix)."""
    v = mark ^ (mark >> np.uint64(29))
    v *= np.uint64(0xBF58476D1CE4E5B9)
    v ^= v >> np.uint64(32)
    return v * np.uint64(2 * side + 1)


@lean_kernel
def sort_sides(t: States, b: int, s: Sides, spread: float) -> int:
    """Sort the blocks of state b by their sides; returns how many there are."""
    blocks = 0
    s.many[:] = 0
    s.head[:] = -1
    for i in range(t.size.shape[1]):
        if t.size[b, i, 0] == 0:
            continue
        s.block[blocks] = i
        blocks += 1
        for a in range(2):
            side = t.size[b, i, a]
            s.many[a, side] += 1
            s.next[a, i] = s.head[a, side]
            s.head[a, side] = i
    for a in range(2):
        for side in range(s.many.shape[1] - 1):
            s.below[a, side + 1] = s.below[a, side] + s.many[a, side]
        for q in range(blocks):
            i = s.block[q]
            s.surprise[a, i] = surprise(s, a, t.size[b, i, a], spread)
    return blocks


@lean_kernel
def surprise(s: Sides, a: int, side: int, spread: float) -> float:
    """−log of how many more blocks one expects to have a side, from those with sides nearly as long."""
    half = max(NEAR, int(spread * side))
    low, high = max(0, side - half), min(s.many.shape[1] - 2, side + half)
    near = s.below[a, high + 1] - s.below[a, low] - 2
    return float(-np.log(max(0.0, near) + ONE_MORE) + np.log(high - low + 1.0))


@lean_kernel
def fits(t: States, b: int, sheets: Ints, least: Ints, x: int, y: int) -> bool:
    """True where a block lies in an open sheet, and what is left beside it is none or could be a block."""
    for k in range(sheets.shape[0]):
        across, along = sheets[k, 0] - x, sheets[k, 1] - y
        if t.open[b, k] > 0 and (across == 0 or across >= least[0]) and (along == 0 or along >= least[1]):
            return True
    return False


@lean_kernel
def partnered(t: States, b: int, s: Sides, g: int) -> float:
    """The greater surprise of those sides of block g for which there is a partner; 0 where there is none."""
    best = s.surprise[0, g] if s.many[0, t.size[b, g, 0]] > 1 else 0.0
    if s.many[1, t.size[b, g, 1]] > 1 and s.surprise[1, g] > best:
        best = s.surprise[1, g]
    return float(best)


@lean_kernel
def prospect(t: States, b: int, s: Sides, i: int, j: int, x: int, y: int, spread: float) -> float:
    """What `partnered` of all blocks changes by once blocks i and j are one of x × y.

    Only blocks whose side is left with one or two blocks win or lose a partner.
    """
    total = -s.partnered[i] - s.partnered[j]
    count_sides(t, b, s, i, j, x, y, 1)
    s.stamp[-1] += 1
    for a in range(2):
        for turn in range(3):
            side = x if a == 0 else y
            if turn < 2:
                side = int(t.size[b, i if turn == 0 else j, a])
            g = s.head[a, side] if s.many[a, side] <= 2 else -1
            while g >= 0:
                if g != i and g != j and s.stamp[g] != s.stamp[-1]:
                    s.stamp[g] = s.stamp[-1]
                    total += partnered(t, b, s, g) - s.partnered[g]
                g = s.next[a, g]
    best = surprise(s, 0, x, spread) if s.many[0, x] > 1 else 0.0
    if s.many[1, y] > 1:
        best = max(best, surprise(s, 1, y, spread))
    count_sides(t, b, s, i, j, x, y, -1)
    return float(total + best)


@lean_kernel
def count_sides(t: States, b: int, s: Sides, i: int, j: int, x: int, y: int, way: int) -> None:
    """Count the sides as they are with blocks i and j made one of x × y (`way` 1), or take that back (−1)."""
    for a in range(2):
        s.many[a, t.size[b, i, a]] -= way
        s.many[a, t.size[b, j, a]] -= way
        s.many[a, x if a == 0 else y] += way


@lean_kernel
def note(w: Joins, first: int, last: int, value: float) -> int:
    """Where among the joins first … last − 1 of a state one of this value is kept; −1 where it is not."""
    if last - first < WAYS:
        return last
    at = first
    for q in range(first + 1, last):
        if w.value[q] < w.value[at]:
            at = q
    return at if w.value[at] < value else -1


@lean_kernel
def expand(
    t: States, b: int, sheets: Ints, least: Ints, s: Sides, w: Joins, last: int, ahead: float, spread: float, noise: int
) -> int:
    """Append the best joins of state b; returns how many joins there are now."""
    first = last
    blocks = sort_sides(t, b, s, spread)
    now = 0.0
    for q in range(blocks):
        s.partnered[s.block[q]] = partnered(t, b, s, s.block[q])
        now += s.partnered[s.block[q]]
    for q in range(blocks):
        i = s.block[q]
        for a in range(2):
            j = s.next[1 - a, i]
            while j >= 0:
                x = t.size[b, i, 0] + (t.size[b, j, 0] if a == 0 else 0)
                y = t.size[b, i, 1] + (t.size[b, j, 1] if a == 1 else 0)
                if fits(t, b, sheets, least, x, y):
                    whole = t.whole[b] - mixed(t.mark[b, i], t.size[b, i, 0]) - mixed(t.mark[b, j], t.size[b, j, 0])
                    whole += mixed(t.mark[b, i] + t.mark[b, j], x)
                    score = t.score[b] + s.surprise[1 - a, i]
                    value = score + (mixed(whole, noise) >> np.uint64(44)) / 2097152.0 if noise > 0 else score
                    if ahead > 0.0:
                        value += ahead * (now + prospect(t, b, s, i, j, x, y, spread))
                    at = note(w, first, last, value)
                    if at >= 0:
                        w.of[at, 0], w.of[at, 1], w.of[at, 2], w.of[at, 3] = b, i, j, a
                        w.score[at], w.value[at], w.whole[at] = score, value, whole
                        last = max(last, at + 1)
                j = s.next[1 - a, j]
    return last


@lean_kernel
def finish(t: States, b: int, i: int, sheets: Ints) -> None:
    """Take block i away if it is one of the sheets still open."""
    for k in range(sheets.shape[0]):
        if t.open[b, k] > 0 and t.size[b, i, 0] == sheets[k, 0] and t.size[b, i, 1] == sheets[k, 1]:
            t.open[b, k] -= 1
            t.size[b, i, 0] = 0
            t.size[b, i, 1] = 0
            return


@kernel
def succeed(t: States, w: Joins, q: int, u: States, b: int, sheets: Ints) -> None:
    """Write state b of the next depth: join q made."""
    of, i, j, a = w.of[q]
    u.size[b], u.mark[b], u.open[b] = t.size[of], t.mark[of], t.open[of]
    u.size[b, i, a] += u.size[b, j, a]
    u.mark[b, i] += u.mark[b, j]
    u.size[b, j] = 0
    u.score[b], u.whole[b] = w.score[q], w.whole[q]
    finish(u, b, i, sheets)


@kernel
def start_joining(t: States, sheets: Ints) -> Ints:
    """Take away blocks of the first state that are sheets already; returns the least sides of all blocks."""
    least = np.array([t.size[0, :, 0].min(), t.size[0, :, 1].min()], np.int64)
    for i in range(t.size.shape[1]):
        finish(t, 0, i, sheets)
    return least


@kernel
def one_join(
    t: States,
    states: int,
    u: States,
    w: Joins,
    s: Sides,
    made: Ints,
    sheets: Ints,
    least: Ints,
    ahead: float,
    spread: float,
    noise: int,
) -> int:
    """Make one join more in each of the first `states` of t; returns how many states u then has.

    `made` (state, 4) notes for each the state joined from, the two blocks and the axis.
    """
    last = 0
    for b in range(states):
        last = expand(t, b, sheets, least, s, w, last, ahead, spread, noise)
    if last == 0:
        return 0
    states = 0
    seen = {w.whole[0] + np.uint64(1)}
    for q in np.argsort(-w.value[:last]):
        if w.whole[q] not in seen and states < made.shape[0]:
            seen.add(w.whole[q])
            succeed(t, w, q, u, states, sheets)
            made[states] = w.of[q]
            states += 1
    return states


def beam(
    size: Ints,
    sheets: Ints,
    counts: Sequence[int],
    width: int,
    ways: tuple[float, float, int],
    go_on: Callable[[], bool],
) -> Ints | None:
    """Join blocks of these sizes to `counts` sheets of each kind, with `width` states side by side.

    `ways`: what partners ahead count, the window of sides as a share, the number of the noise. The joins (block kept,
    block joined to it, axis) in their order; None where the beam loses them or `go_on` says no.
    """
    blocks, (ahead, spread, noise) = len(size), ways
    t, u = new_states(width, blocks, len(sheets)), new_states(width, blocks, len(sheets))
    t.size[0], t.open[0] = size, counts
    t.mark[0] = np.random.default_rng(0).integers(1, 1 << 62, blocks, np.uint64)
    made = np.zeros((blocks - sum(counts), width, 4), np.int64)
    sides, joins = new_sides(blocks, int(sheets.max())), new_joins(width)
    least, states = start_joining(t, sheets), 1
    for level in made:
        if not go_on():
            return None
        states = one_join(t, states, u, joins, sides, level, sheets, least, ahead, spread, noise)
        t, u = u, t
    b = next((b for b in range(states) if t.open[b].sum() == 0), -1)
    if b < 0:
        return None
    path = np.zeros((len(made), 3), np.int64)
    for d in range(len(made) - 1, -1, -1):
        path[d] = made[d, b, 1:]
        b = int(made[d, b, 0])
    return path
