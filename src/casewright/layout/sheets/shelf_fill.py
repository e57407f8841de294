"""Sheets filled shelf by shelf without any waste, as far as is wanted; what is left is for the search.

Where pieces are many, there are shelves without waste in plenty (`shelves`). Filled with them, most of a set of sheets
loses nothing, and all its waste is left to the few pieces and the small area that remain.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from casewright.layout.sheets.order_of_cuts import Node
from casewright.layout.sheets.plates import Size
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.shelves import Bench, find_shelf, new_bench
from casewright.layout.sheets.trees import Ints

ASKED = 40  # shelves asked for in vain, before a rectangle is left as it is
AGAIN = 4  # tries at a sheet, the one that leaves the least open is taken
ONE_HIGH = 0.3  # of the shelves are as high as one piece, the others as two one on the other


@dataclass(slots=True)
class Filled:
    """A sheet of a kind, or a rectangle in it: shelves along `axis` from its near edge, then what is beyond them."""

    kind: int
    size: Size  # with one kerf, in units of what divides all sides
    axis: int = 0
    shelves: list[list[list[list[int]]]] = field(default_factory=list)  # shelf, block, bar, piece
    beyond: Filled | None = None  # None where nothing is beyond

    @property
    def open(self) -> Filled | None:
        """The rectangle that is still open."""
        place: Filled | None = self
        while place is not None and place.shelves:
            place = place.beyond
        return place

    @property
    def area(self) -> int:
        """Of the whole rectangle."""
        return self.size[0] * self.size[1]

    @property
    def left(self) -> int:
        """Area that is still open."""
        place = self.open
        return place.area if place is not None else 0


class ShelfFill:
    """Fills sheets of a problem with shelves; pieces are numbered as in `engine.stockroom`."""

    def __init__(self, problem: Problem, seed: int) -> None:
        self.kerf = problem.rules.kerf
        self.owner = [i for i, thing in enumerate(problem.things) for _ in range(thing.count)]
        sizes = [problem.things[i].shapes[0].size for i in self.owner]
        size = np.array(sizes, np.int64).reshape(-1, 2) + self.kerf
        self.unit = unit_of(problem)
        self.size: Ints = size // self.unit
        self.inner = [((x + self.kerf) // self.unit, (y + self.kerf) // self.unit) for x, y in problem.inner]
        self.bench: Bench = new_bench(self.size, max(map(max, self.inner)), seed)
        self.rng = random.Random(seed)
        self.asked, self.most = 0, sys.maxsize  # shelves so far, and when to stop
        self.go_on: Callable[[], bool] = lambda: True  # asked before each shelf

    def fill(self, kinds: list[int], leave: int) -> list[Filled]:
        """Fill sheets of these kinds one after another until no more than an area `leave` is open."""
        self.bench.free[:] = 1
        left = sum(self.inner[kind][0] * self.inner[kind][1] for kind in kinds)
        sheets = []
        for kind in kinds:
            wanted = max(0, left - leave)
            before = self.bench.free.copy()
            best, after = Filled(kind, self.inner[kind]), before
            for _ in range(AGAIN if wanted > 0 else 0):
                self.bench.free[:] = before
                sheet = Filled(kind, self.inner[kind])
                self._fill(sheet, wanted)
                if sheet.left < best.left:
                    best, after = sheet, self.bench.free.copy()
                if best.left == 0 or best.area - best.left >= wanted:
                    break
            self.bench.free[:] = after
            left -= best.area - best.left
            sheets.append(best)
        return sheets

    def _fill(self, place: Filled | None, wanted: int) -> None:
        """Fill a rectangle by shelves of one direction, what is beyond them by others, until an area is used."""
        while place is not None and wanted > 0 and self._one_way(place, wanted):
            wanted -= place.area - (place.beyond.area if place.beyond is not None else 0)
            place = place.beyond

    def _one_way(self, place: Filled, wanted: int) -> bool:
        """Lay shelves of one direction; True if there is at least one."""
        first = self.rng.randrange(2)
        for axis in (first, 1 - first):
            if self._shelves(place, axis, wanted):
                return True
        return False

    def _shelves(self, place: Filled, axis: int, wanted: int) -> bool:
        length, high = place.size[axis], place.size[1 - axis]
        place.axis = axis
        done, failed = 0, 0
        while high > 0 and failed < ASKED and done * length < wanted and self.asked < self.most and self.go_on():
            tall = self._height(axis, high) if failed or self.rng.random() < 0.5 else high
            self.asked += 1
            if tall > 0 and find_shelf(self.bench, axis, length, tall):
                place.shelves.append(self._chosen())
                high, done, failed = high - tall, done + tall, 0
            else:
                failed += 1
        if done == 0:
            return False
        if high > 0:
            size = (length, high) if axis == 0 else (high, length)
            place.beyond = Filled(place.kind, size)
        return True

    def _height(self, axis: int, high: int) -> int:
        """A height at which a shelf may be found: of one free piece or of two; 0 where that is too high."""
        free = np.flatnonzero(self.bench.free)
        if len(free) < 2:
            return 0
        p, q = self.rng.sample(range(len(free)), 2)
        tall = int(self.size[free[p], 1 - axis])
        if self.rng.random() > ONE_HIGH:
            tall += int(self.size[free[q], 1 - axis])
        return tall if tall <= high else 0

    def _chosen(self) -> list[list[list[int]]]:
        k = self.bench
        blocks = []
        for b in k.chosen[: k.chosen[-1]].tolist():
            blocks.append([[p for p in k.bar[i].tolist() if p >= 0] for i in k.block[b].tolist() if i >= 0])
        return blocks

    def node(self, place: Filled, rest: dict[int, Node]) -> Node | None:
        """The cuts of a sheet; `rest` holds by the rectangle's identity what lies in those left open."""
        if not place.shelves:
            return rest.get(id(place))
        rows = [self._shelf(shelf, place.axis) for shelf in place.shelves]
        beyond = self.node(place.beyond, rest) if place.beyond is not None else None
        return joined([*rows, beyond] if beyond is not None else rows, 1 - place.axis, self.kerf)

    def _shelf(self, shelf: list[list[list[int]]], axis: int) -> Node:
        blocks = []
        for block in shelf:
            bars = [joined([self._piece(p) for p in bar], axis, self.kerf) for bar in block]
            blocks.append(joined(bars, 1 - axis, self.kerf))
        return joined(blocks, axis, self.kerf)

    def _piece(self, piece: int) -> Node:
        return Node(self.net(self.size[piece].tolist()), thing=self.owner[piece])

    def net(self, size: Sequence[int]) -> Size:
        """A size without kerf, in the units of the problem."""
        return size[0] * self.unit - self.kerf, size[1] * self.unit - self.kerf


def unit_of(problem: Problem) -> int:
    """What divides all sides, one kerf added to each."""
    sizes = [thing.shapes[0].size for thing in problem.things]
    return math.gcd(*(side + problem.rules.kerf for size in (*sizes, *problem.inner) for side in size)) or 1


def joined(nodes: list[Node], split: int, kerf: int) -> Node:
    """Nodes side by side along an axis; rows along the same axis become one row."""
    if len(nodes) == 1:
        return nodes[0]
    below = tuple(piece for node in nodes for piece in (node.below if node.split == split else (node,)))
    along = sum(node.size[split] for node in nodes) + kerf * (len(nodes) - 1)
    across = max(node.size[1 - split] for node in nodes)
    return Node((along, across) if split == 0 else (across, along), split=split, below=below)
