"""Sets of sheets that the things would fill to the last bit: found by joining blocks with equal sides, or not at all.

A search that puts things where they fit well leaves a few per cent over and hardly ever none. Without waste every
join is between equal sides, which leaves few choices where things are few: `joins` follows them, more and more states
side by side. Only for plain saws and things that lie one way; kerf is in the sizes, so that with kerf and sizes of
chance there is hardly ever such a set, and nothing is spent on it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from casewright.layout.model import SheetPattern
from casewright.layout.sheets.joins import beam
from casewright.layout.sheets.order_of_cuts import Node, cut_sheet
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.stock_sets import Counts, StockSets, rows_of
from casewright.layout.sheets.trees import Ints

MOST_BLOCKS = 128
LONGEST = 20_000  # sides, in units of what divides all sides
MOST_SETS = 3
WIDTHS = (100, 400, 1_600, 6_400, 25_600)
ENDLESS = 1 << 60
WAYS_TO_LOOK = ((0.0, 0.2), (0.5, 0.5), (0.5, 0.2))  # what partners ahead count, window of sides as a share


@dataclass(frozen=True, slots=True)
class Blocks:
    """The things one by one, in units of what divides all sides, kerf included; a set's sheets likewise."""

    unit: int
    owner: list[int]
    size: Ints
    sheets: Ints
    counts: Counts


def waste_free_sets(problem: Problem, price: int) -> list[Counts]:
    """Sets of sheets of a price whose area, all kerfs counted, is just that of the things; fewest sheets first."""
    if not problem.rules.plain or any(len(t.shapes) > 1 or len(t.members) > 1 for t in problem.things):
        return []
    if sum(thing.count for thing in problem.things) > MOST_BLOCKS or problem.rules.kerf != problem.rules.rough:
        return []
    rows = rows_of(problem)
    sets = StockSets(problem, rows, 0)
    if not sets.paid:
        return []
    found = [c for c in sets.between(price, price) if math.isclose(float(np.dot(rows[0].room, c)), rows[0].need)]
    return sorted(found, key=lambda counts: (sum(counts), counts))[:MOST_SETS]


class WasteFree:
    """The joining of the things to one of the sets, in rounds, each wider than those before."""

    def __init__(self, problem: Problem, sets: list[Counts]) -> None:
        self.problem = problem
        self.found = False  # set by who takes what is found
        tasks = [blocks for counts in sets if (blocks := _blocks(problem, counts)) is not None]
        self.rounds = [
            (width, ahead, spread, noise, blocks)
            for noise, width in enumerate(WIDTHS)
            for ahead, spread in WAYS_TO_LOOK
            for blocks in tasks
        ]
        self.rounds.reverse()

    @property
    def work(self) -> int:
        """States of the next round; without end where there is none."""
        return self.rounds[-1][0] * len(self.rounds[-1][4].owner) if self.rounds else ENDLESS

    def next_round(self, go_on: Callable[[], bool]) -> tuple[SheetPattern, ...] | None:
        """Patterns that cut all things from a set; None if this round does not find them, or `go_on` ends it."""
        width, ahead, spread, noise, blocks = self.rounds.pop()
        made = beam(blocks.size, blocks.sheets, blocks.counts, width, (ahead, spread, noise), go_on)
        return None if made is None else _cut(self.problem, blocks, made)


def _blocks(problem: Problem, counts: Counts) -> Blocks | None:
    kerf = problem.rules.kerf
    owner = [i for i, thing in enumerate(problem.things) for _ in range(thing.count)]
    size = np.array([problem.things[i].shapes[0].size for i in owner], np.int64) + kerf
    sheets = np.array(problem.inner, np.int64) + kerf
    unit = math.gcd(*size.ravel().tolist(), *sheets.ravel().tolist())
    if int(sheets.max()) // unit > LONGEST or len(owner) <= sum(counts):
        return None
    return Blocks(unit, owner, size // unit, sheets // unit, counts)


def _cut(problem: Problem, blocks: Blocks, made: Ints) -> tuple[SheetPattern, ...] | None:
    kerf = problem.rules.kerf
    nodes = {block: Node(problem.things[i].shapes[0].size, thing=i) for block, i in enumerate(blocks.owner)}
    for i, j, a in made.tolist():
        nodes[i] = _row(nodes[i], nodes.pop(j), a, kerf)
    patterns, left = [], list(blocks.counts)
    for node in nodes.values():
        sheet = next(k for k, size in enumerate(problem.inner) if size == node.size and left[k] > 0)
        left[sheet] -= 1
        root = cut_sheet(problem, sheet, node)
        if root is None:
            return None
        patterns.append(SheetPattern(stock=problem.sheets[sheet].id, root=root))
    return tuple(patterns)


def _row(one: Node, two: Node, split: int, kerf: int) -> Node:
    """Two nodes side by side; rows along the same axis become one row."""
    below = tuple(piece for node in (one, two) for piece in (node.below if node.split == split else (node,)))
    along = one.size[split] + two.size[split] + kerf
    size = (along, one.size[1]) if split == 0 else (one.size[0], along)
    return Node(size, split=split, below=below)
