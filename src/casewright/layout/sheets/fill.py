"""One sheet filled for the greatest value: the guillotine knapsack, box by box to the proof, or by the search.

In the search what is left out weighs its value; the best solution met is kept beside the one that it stands at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from casewright.layout.budget import Budget
from casewright.layout.model import SheetDemand, SheetPattern, Status, Stop
from casewright.layout.sheets.engine import CHUNK, ENDLESS, SPICE, build, new_engine, patterns_of
from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.knapsack import Knapsack, knapsack
from casewright.layout.sheets.problem import Problem, read
from casewright.layout.sheets.recreate import new_round, step
from casewright.layout.sheets.search import HUGE, Search
from casewright.layout.sheets.trees import Floats, Stockroom, Trees, copy_sheet, new_trees

BLINK = 0.1
JOINS = 1_000  # pairs of fillings tried over boxes that count as one step
FINE = 150_000  # boxes from which on a coarser raster is tried first
COARSE = 160  # its units in a sheet
MOST = 3  # subtrees taken off in one step: one sheet has few


@dataclass(frozen=True, slots=True, kw_only=True)
class FilledSheet:
    """The best filling found: `value` of the parts on it (by their ids), a proven upper bound, how it ended."""

    pattern: SheetPattern | None
    value: int
    bound: int
    status: Status
    steps: int
    seconds: float


@lean_kernel
def run_fill(
    f: Search, s: Stockroom, best: Trees, lightest: Floats, steps: int, most: int, spice: float, blink: float
) -> None:
    """Search for `steps` steps; the sheet with the least weight left out is copied to `best`."""
    if f.spent[4] == 0:
        f.cost[0] = HUGE
        new_round(f)
    for _ in range(steps):
        step(f, s, ENDLESS, most, spice, blink)
        weight = 0.0
        for i in range(f.at_out[-1]):
            weight += s.weight[f.at_out[i]]
        if weight < lightest[0] - 1e-9:
            lightest[0] = weight
            copy_sheet(f.at, 0, best, 0)
        if f.at_out[-1] == 0:
            break


def fill_sheet(
    demand: SheetDemand,
    values: Mapping[str, int],
    *,
    seed: int = 0,
    steps: int | None = 200_000,
    seconds: float | None = None,
    stop: Stop | None = None,
) -> FilledSheet:
    """Fill one sheet of the demand's first stock so that the values of the parts on it add up to the most.

    Box by box until that is the proof (`knapsack`); where the saws or the raster forbid it, by search.
    """
    problem, budget = read(demand), Budget(steps, seconds, stop)
    if not problem.things:
        return FilledSheet(pattern=None, value=0, bound=0, status=Status.PROVEN, steps=0, seconds=0.0)
    one = replace(problem, sheets=problem.sheets[:1], inner=problem.inner[:1], left=(1,))
    worth = [sum(values[part.id] for part in thing.members) for thing in one.things]
    bound = _area_bound(one, np.array(worth, np.float64))
    found: list[tuple[int, SheetPattern | None]] = [(0, None)]
    for boxes in _boxes(one, worth):
        _run_boxes(boxes, budget)
        found.append((boxes.value, boxes.pattern()))
        bound = min(bound, boxes.bound) if boxes.exact else bound
    if found[-1][0] < bound and budget.over() is None:
        found.append(_searched(one, np.array(worth, np.float64), seed, bound, budget))
    value, pattern = max((entry for entry in found if entry[0] == 0 or entry[1]), key=lambda entry: entry[0])
    status = Status.PROVEN if value >= bound else budget.over() or Status.BUDGET
    return FilledSheet(
        pattern=pattern, value=value, bound=bound, status=status, steps=budget.steps, seconds=budget.spent
    )


def _boxes(one: Problem, worth: list[int]) -> Iterator[Knapsack]:
    """The search over boxes; if the raster is fine, first over a coarser one."""
    exact = knapsack(one, worth)
    if exact is None or exact.table.size > FINE:
        coarse = knapsack(one, worth, coarse=max(1, max(one.inner[0]) // COARSE))
        if coarse is not None:
            yield coarse
    if exact is not None:
        yield exact


def _run_boxes(boxes: Knapsack, budget: Budget) -> None:
    before = budget.steps

    def go_on() -> bool:
        budget.steps = before + boxes.joins // JOINS
        return budget.over() is None

    boxes.run(go_on)


def _searched(one: Problem, worth: Floats, seed: int, bound: int, budget: Budget) -> tuple[int, SheetPattern | None]:
    filling = Filling(one, worth, seed)
    while filling.value < bound and budget.over() is None:
        chunk = CHUNK if budget.limit is None else min(CHUNK, budget.limit - budget.steps)
        filling.run(chunk)
        budget.step(chunk)
    return round(filling.value), filling.pattern()


class Filling:
    """A search for the most valuable filling of one sheet; `worth` is the value of each thing."""

    def __init__(self, problem: Problem, worth: Floats, seed: int) -> None:
        area = sum(thing.area * thing.count for thing in problem.things)
        total = float(sum(w * t.count for w, t in zip(worth, problem.things, strict=True)))
        scale = area / max(total, 1e-9) / max(x * y for x, y in problem.inner)
        self.worth = worth
        self.engine = new_engine(problem, seed, 1, weight=worth * scale)
        build(self.engine, ENDLESS)
        self.best = new_trees(1, self.engine.nodes)
        copy_sheet(self.engine.search.at, 0, self.best, 0)
        self.lightest = np.array([HUGE])

    def run(self, steps: int) -> None:
        """Search on."""
        e = self.engine
        run_fill(e.search, e.room, self.best, self.lightest, steps, MOST, SPICE, BLINK)
        e.steps += steps

    @property
    def taken(self) -> dict[int, int]:
        """How many of each thing lie on the best sheet."""
        leaves = (int(kind) for kind in self.best.kind[0, : self.best.nodes[0]])
        return dict(Counter(self.engine.owner[leaf >> 2] for leaf in leaves if leaf >= 0))

    @property
    def value(self) -> float:
        """Value of the best sheet."""
        return float(sum(self.worth[thing] * n for thing, n in self.taken.items()))

    def pattern(self) -> SheetPattern | None:
        """The best sheet, cut."""
        patterns = patterns_of(self.engine, self.best)
        return patterns[0] if patterns else None


def _area_bound(problem: Problem, worth: Floats) -> int:
    """Value of the best fractional filling by area (kerf included)."""
    kerf = problem.rules.kerf
    free = float(max((x + kerf) * (y + kerf) for x, y in problem.inner)) if problem.inner else 0.0
    total = 0.0
    sizes = [sum((p.length + kerf) * (p.width + kerf) for p in thing.members) for thing in problem.things]
    for i in sorted(range(len(sizes)), key=lambda i: -worth[i] / sizes[i]):
        taken = min(float(problem.things[i].count), free / sizes[i])
        total += taken * worth[i]
        free -= taken * sizes[i]
    return int(total + 1e-6)
