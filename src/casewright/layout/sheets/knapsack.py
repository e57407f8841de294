"""One sheet of greatest value, by boxes: bounds and fillings over the raster points of the sheet.

Each pass keeps the best few fillings of each box that could lead to a better sheet; nothing dropped is the proof. The
worth of a thing is its value less a price for its use, chosen so that the bound without counts is least. Wants plain
saws (every cut allowed, one kerf) and few raster points: where there are too many, sizes can be rounded up.
See docs/layout-sheets.md for the sources.
"""

from __future__ import annotations

import bisect
import random
from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from casewright.layout.model import SheetPattern
from casewright.layout.sheets.boxes import (
    LEAF,
    Boxes,
    Draft,
    Fillings,
    count_relaxed,
    fill_row,
    relax,
    surround,
)
from casewright.layout.sheets.order_of_cuts import Node, cut_sheet
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.trees import Ints

SCALE = 1_000  # worth in thousandths of a unit of value
MOST_BOXES = 400_000
MOST_POINTS = 2_500
FIELD = 62  # bits of a word in use
PRICING = 400_000_000  # joins of boxes that may be spent on prices
PRICE_ROUNDS = 150
FIRST, GROWTH, LARGEST = 4, 4, 4_096  # fillings kept for each box
RANKED = 12
MOST_FILLINGS = 2_500_000


class Ended(NamedTuple):
    """How a pass ended: whole if it was not broken off; was any filling dropped."""

    whole: bool
    dropped: bool


def points(sizes: Sequence[int], full: int, most: int) -> list[int] | None:
    """Raster points of a side (Scheithauer and Terno 1996): 0, and what a sum of sizes leaves; None if too many."""
    sums = {0}
    for size in sorted(set(sizes)):
        fresh = sums
        while fresh:
            fresh = {total + size for total in fresh if total + size <= full} - sums
            sums = sums | fresh
            if len(sums) > 8 * most:
                return None
    normal = sorted(sums)
    raster = sorted({0, *(normal[bisect.bisect_right(normal, full - p) - 1] for p in normal)})
    return raster if len(raster) <= most else None


def _beside(raster: list[int]) -> Ints:
    table = np.array(raster, np.int64)
    left = np.searchsorted(table, np.maximum(table[:, None] - table[None, :], 0), side="right") - 1
    return np.ascontiguousarray(left.astype(np.int64))


class Knapsack:
    """Search for the most valuable filling of the only sheet of a problem; `values` of the things, int."""

    def __init__(
        self, problem: Problem, values: Sequence[int], boxes: Boxes, counts: list[int], leaves: list[tuple[int, int]]
    ) -> None:
        self.problem, self.boxes, self.counts, self.leaves = problem, boxes, counts, leaves
        self.values = list(values)
        shape = (len(boxes.across), len(boxes.along))
        self.table = np.zeros(shape, np.int64)
        self.beyond = np.zeros(shape, np.int64)
        self.prices = np.zeros(len(values), np.int64)
        self.bound = sum(v * n for v, n in zip(values, self.counts, strict=True))
        self.value = 0
        self.best: Node | None = None
        self.proven = False
        self.exact = True  # no size was rounded
        self.ranked: tuple[Node, ...] = ()  # fillings of the whole sheet of the last pass, the best first
        self.joins = 0  # pairs of fillings tried
        self.thing = np.array([thing for thing, _ in leaves], np.int64)
        self.leaf_value = np.array([values[thing] for thing, _ in leaves], np.int64)

    def revalue(self, values: Sequence[int]) -> None:
        """Begin again with other values of the things."""
        self.values = list(values)
        self.leaf_value = np.array([values[thing] for thing, _ in self.leaves], np.int64)
        self.bound = sum(v * n for v, n in zip(values, self.counts, strict=True))
        self.value, self.best, self.proven, self.ranked = 0, None, False, ()

    def narrow(self, most: int, go_on: Callable[[], bool]) -> None:
        """One pass that keeps few fillings of each box."""
        if not self._pass(most, go_on).dropped and go_on():
            self.proven, self.bound = True, self.value

    @property
    def leaf_worth(self) -> Ints:
        """Value of each leaf less the price of its thing, in thousandths."""
        return self.leaf_value * SCALE - self.prices[self.thing]

    @property
    def spare(self) -> int:
        """What the prices of all things come to: a bound adds it back."""
        return int(sum(int(p) * n for p, n in zip(self.prices, self.counts, strict=True)))

    def price(self, rounds: int, go_on: Callable[[], bool]) -> None:
        """Choose prices by subgradient steps (Held and Karp) so that the bound without counts is low."""
        step, barren = 1.5, 0
        best, exact = self.prices.copy(), self.prices.astype(np.float64)
        least = 1 << 62
        used = np.zeros(len(self.values), np.int64)
        for _ in range(rounds):
            relax(self.boxes, self.leaf_worth, self.table)
            bound = int(self.table[-1, -1]) + self.spare
            barren = 0 if bound < least else barren + 1
            if bound < least:
                least, best = bound, self.prices.copy()
            if barren >= 6:
                step, barren = step / 2, 0
            if least // SCALE <= self.value or step < 0.01 or not go_on():
                break
            count_relaxed(self.boxes, self.leaf_worth, self.table, used)
            slope = np.array(self.counts, np.float64) - used
            slope[(exact <= 0) & (slope > 0)] = 0
            norm = float(slope @ slope)
            if norm == 0:
                break
            target = max(SCALE * self.value, least - least // 20)
            exact = np.maximum(0, exact - step * max(1, bound - target) / norm * slope)
            self.prices = np.rint(exact).astype(np.int64)
        self.prices = best
        self.bound = min(self.bound, least // SCALE)
        relax(self.boxes, self.leaf_worth, self.table)
        surround(self.boxes, self.table, self.beyond)

    def run(self, go_on: Callable[[], bool]) -> None:
        """Go on until the proof or until `go_on` says no, keeping more fillings in each pass."""
        n, m = self.table.shape
        work = n * m * (n + m) // 4 + 1
        self.price(1, go_on)
        ended = self._pass(1, go_on)
        self.price(max(3, min(PRICE_ROUNDS, PRICING // work)), go_on)
        most = FIRST
        while ended.whole and ended.dropped and self.value < self.bound and most <= LARGEST:
            ended = self._pass(most, go_on)
            most *= GROWTH
        if self.value >= self.bound or (ended.whole and not ended.dropped):
            self.proven, self.bound = True, self.value

    def _pass(self, most: int, go_on: Callable[[], bool]) -> Ended:
        n, m = self.table.shape
        words = len(self.boxes.bias)
        fillings = _fillings(4 * m * most, words, (n, m))
        draft = _draft(most, words)
        draft.state[4], draft.state[5] = self.value, -1
        end, whole, before = 0, True, self.joins
        for i in range(1, n):
            if end + m * most > len(fillings.worth):
                fillings = _larger(fillings, end + m * most)
            leaves = self.leaf_worth, self.leaf_value
            end = fill_row(self.boxes, fillings, draft, i, self.beyond, *leaves, self.spare, SCALE, most, end)
            self.joins = before + int(draft.state[6])
            if not go_on() or end > MOST_FILLINGS:
                whole = False
                break
        if draft.state[5] >= 0:
            self.value = int(draft.state[4])
            self.best = self._node(fillings, int(draft.state[5]))
            last = range(int(fillings.start[-1, -1]), int(fillings.stop[-1, -1])) if whole else range(0)
            self.ranked = tuple(self._node(fillings, at) for at in last[:RANKED])
        return Ended(whole, bool(draft.state[3]))

    def _node(self, a: Fillings, at: int) -> Node:
        kerf = self.problem.rules.kerf
        if a.cut[at] == LEAF:
            thing, shape = self.leaves[int(a.left[at])]
            return Node(self.problem.things[thing].shapes[shape].size, thing=thing, shape=shape)
        split = int(a.cut[at])
        below: list[Node] = []
        for child in (int(a.left[at]), int(a.right[at])):
            node = self._node(a, child)
            below += node.below if node.split == split else (node,)
        along = sum(node.size[split] for node in below) + kerf * (len(below) - 1)
        across = max(node.size[1 - split] for node in below)
        return Node((along, across) if split == 0 else (across, along), split=split, below=tuple(below))

    def pattern(self, sheet: int = 0, node: Node | None = None) -> SheetPattern | None:
        """The best sheet (or another filling of it), cut."""
        filling = node or self.best
        root = cut_sheet(self.problem, sheet, filling) if filling is not None else None
        return SheetPattern(stock=self.problem.sheets[sheet].id, root=root) if root is not None else None


def things_on(node: Node) -> list[int]:
    """The things of all leaves."""
    return [node.thing] if node.split < 0 else [thing for below in node.below for thing in things_on(below)]


def knapsack(
    problem: Problem, values: Sequence[int], sheet: int = 0, coarse: int = 1, most: int = MOST_BOXES
) -> Knapsack | None:
    """Set up the search on one sheet; None where the saws have limits or there are more than `most` boxes.

    Sizes are rounded to multiples of `coarse`, parts up and the sheet down: what is found can be cut.
    """
    if not problem.rules.plain or not problem.things:
        return None
    kerf = problem.rules.kerf
    full = [(side + kerf) // coarse for side in problem.inner[sheet]]
    sizes = [
        (thing, k, *(-(-(side + kerf) // coarse) for side in shape.size))
        for thing, one in enumerate(problem.things)
        for k, shape in enumerate(one.shapes)
    ]
    leaves = [leaf for leaf in sizes if leaf[2] <= full[0] and leaf[3] <= full[1]]
    if not leaves:
        return None
    across = points([leaf[2] for leaf in leaves], full[0], MOST_POINTS)
    along = points([leaf[3] for leaf in leaves], full[1], MOST_POINTS)
    if across is None or along is None or len(across) * len(along) > most:
        return None
    counts = [0] * len(problem.things)
    for thing, _, width, height in leaves:
        most = full[0] * full[1] // (width * height)
        counts[thing] = max(counts[thing], min(problem.things[thing].count, most))
    words, bias, guard = _packing(counts)
    places = [(bisect.bisect_left(across, w), bisect.bisect_left(along, h)) for *_, w, h in leaves]
    boxes = Boxes(
        across=np.array(across, np.int64),
        along=np.array(along, np.int64),
        beside_x=_beside(across),
        beside_y=_beside(along),
        leaf_box=np.array(places, np.int64),
        leaf_thing=np.array([leaf[0] for leaf in leaves], np.int64),
        words=words,
        bias=bias,
        guard=guard,
        mark=np.array([random.Random(t).getrandbits(62) for t in range(len(counts))], np.int64),
    )
    search = Knapsack(problem, values, boxes, counts, [(thing, k) for thing, k, *_ in leaves])
    search.exact = coarse == 1
    return search


def _packing(counts: Sequence[int]) -> tuple[Ints, Ints, Ints]:
    """Fields for counts: (thing, word) of one each; bias and guard bits by word."""
    word, bit = 0, 0
    place: list[tuple[int, int, int]] = []
    for count in counts:
        width = count.bit_length() + 1
        if bit + width > FIELD:
            word, bit = word + 1, 0
        place.append((word, bit, width))
        bit += width
    words = np.zeros((len(counts), word + 1), np.int64)
    bias, guard = np.zeros(word + 1, np.int64), np.zeros(word + 1, np.int64)
    for thing, (w, start, width) in enumerate(place):
        words[thing, w] = 1 << start
        bias[w] += ((1 << (width - 1)) - 1 - counts[thing]) << start
        guard[w] += 1 << (start + width - 1)
    return words, bias, guard


def _ints(*shape: int) -> Ints:
    return np.zeros(shape, np.int64)


def _fillings(n: int, words: int, boxes: tuple[int, int]) -> Fillings:
    packed, start, stop = _ints(n, words), _ints(*boxes), _ints(*boxes)
    return Fillings(_ints(n), _ints(n), _ints(n), packed, _ints(n), _ints(n), _ints(n), start, stop)


def _larger(a: Fillings, need: int) -> Fillings:
    more = max(need, 2 * len(a.worth)) - len(a.worth)
    grown = [np.concatenate([part, _ints(more, *part.shape[1:])]) for part in a[:-2]]
    return Fillings._make([*grown, a.start, a.stop])


def _draft(most: int, words: int) -> Draft:
    n = 4 * most + 64
    table = 1 << (4 * n).bit_length()
    empty = np.full(table, -1, np.int64)
    return Draft(
        _ints(n), _ints(n), _ints(n), _ints(n, words), _ints(n), _ints(n), _ints(n), _ints(table), empty, _ints(7)
    )
