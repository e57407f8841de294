"""A set of sheets tried with shelves: most of it filled without waste, the rest by the search."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from operator import itemgetter

from casewright.layout.sheets.engine import Engine, adopt, build, load, new_engine, seek_least
from casewright.layout.sheets.order_of_cuts import Node, node_of
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.shelf_fill import Filled, ShelfFill, unit_of
from casewright.layout.sheets.stock_sets import EDGE, Counts
from casewright.layout.sheets.trees import Ints

WASTE = (0.03, 0.12)  # share of the rest that may be waste: drawn between
LONGEST = 4_000  # side of a sheet, in units of what divides all sides
FILLS = 3  # fillings to choose from
STEPS_A_SHELF = 2  # that asking for one counts for
WORTHWHILE = 0.1  # of the area that must be filled by shelves


class ShelfSearch:
    """Tries sets of sheets for an engine's problem."""

    def __init__(self, engine: Engine, seed: int) -> None:
        self.engine = engine
        self.problem = engine.problem
        self.shelves = ShelfFill(self.problem, seed)
        self.need = int(self.shelves.size.prod(axis=1).sum())
        self.seed = seed

    @staticmethod
    def suits(problem: Problem) -> bool:
        """True for plain saws and pieces that lie one way, each by itself, of sizes in not too small units."""
        rules = problem.rules
        plain = rules.plain and rules.kerf == rules.rough
        single = all(len(thing.shapes) == 1 and len(thing.members) == 1 for thing in problem.things)
        longest = max(side for size in problem.inner for side in size) + rules.kerf
        return plain and single and longest <= LONGEST * unit_of(problem)

    def seek(self, counts: Counts, steps: int, left: int, go_on: Callable[[], bool]) -> tuple[bool, float] | None:
        """Try one set with so many steps of search: whether all went in, else the least area that was left out.

        The search has at least as many steps as the shelves took, both together no more than are `left`. What went in
        is then the state of the engine. None where too few shelves are found.
        """
        shelves = self.shelves
        kinds = [kind for kind, n in enumerate(counts) for _ in range(n)]
        total = sum(x * y for x, y in (shelves.inner[kind] for kind in kinds))
        leave = int((total - self.need) / shelves.rng.uniform(*WASTE))
        asked = shelves.asked
        shelves.go_on, shelves.most = go_on, asked + left // (2 * STEPS_A_SHELF)
        _, sheets, free = min((self._fill(kinds, leave) for _ in range(FILLS)), key=itemgetter(0))
        worked = STEPS_A_SHELF * (shelves.asked - asked)
        self.engine.steps += worked
        shelves.bench.free[:] = free
        opened = [place for sheet in sheets if (place := sheet.open) is not None]
        if sum(place.area for place in opened) > (1 - WORTHWHILE) * total:
            return None
        rest: dict[int, Node] = {}
        if free.any():
            self.seed += 1
            steps = min(left - worked, max(steps, worked))
            part = new_engine(self._rest(opened), self.seed, len(opened), one_each=True)
            build(part)
            adopt(part, [1] * len(opened), steps)
            found, out = seek_least(part, len(opened), steps, go_on)
            self.engine.steps += part.steps
            if not found:
                return False, out
            rest = self._laid(part, opened)
        laid = [(sheet.kind, shelves.node(sheet, rest)) for sheet in sheets]
        load(self.engine, [(kind, node) for kind, node in laid if node is not None])
        return True, 0.0

    def _fill(self, kinds: list[int], leave: int) -> tuple[float, list[Filled], Ints]:
        """One filling, the sheets in an order drawn at random; first how much is open, edges counted."""
        self.shelves.rng.shuffle(kinds)
        sheets = self.shelves.fill(kinds, leave)
        opened = [place for sheet in sheets if (place := sheet.open) is not None]
        side = math.sqrt(self.need / len(self.shelves.owner))
        size = sum(place.area + EDGE * side * sum(place.size) for place in opened)
        return size, sheets, self.shelves.bench.free.copy()

    def _rest(self, opened: list[Filled]) -> Problem:
        """The free pieces, and each open rectangle as a sheet."""
        problem = self.problem
        free = Counter(self.shelves.owner[p] for p in self.shelves.bench.free.nonzero()[0].tolist())
        return replace(
            problem,
            things=tuple(replace(thing, count=free[i]) for i, thing in enumerate(problem.things)),
            sheets=tuple(replace(problem.sheets[place.kind], price=1, count=1) for place in opened),
            inner=tuple(self.shelves.net(place.size) for place in opened),
            left=(1,) * len(opened),
        )

    def _laid(self, part: Engine, opened: list[Filled]) -> dict[int, Node]:
        """What lies in the open rectangles, by the identity of each."""
        t, laid = part.search.at, {}
        for b in range(part.slots):
            if t.sheet[b] >= 0:
                n = int(t.nodes[b])
                arrays = (t.kind[b, :n].tolist(), t.end[b, :n].tolist(), t.size[b, :n].tolist())
                laid[id(opened[t.sheet[b]])] = node_of(*arrays, part.owner, self.shelves.kerf)
        return laid
