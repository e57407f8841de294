"""One sheet filled for the greatest value: the guillotine knapsack, by the same search.

What is left out weighs its value; the best solution met is kept beside the one that the search stands at.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from casewright.layout.model import SheetDemand, SheetPattern, Status, Stop
from casewright.layout.sheets.engine import CHUNK, ENDLESS, SPICE, build, new_engine, patterns_of
from casewright.layout.sheets.kernel import kernel
from casewright.layout.sheets.problem import Problem, read
from casewright.layout.sheets.recreate import HUGE, Search, new_round, step
from casewright.layout.sheets.trees import Floats, Ints, Stockroom, Trees, copy_sheet, new_trees

BLINK = 0.1
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


@kernel
def run_fill(
    f: Search, s: Stockroom, best: Trees, lightest: Floats, steps: int, most: int, spice: float, blink: float
) -> Ints:
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
    return f.spent


def fill_sheet(
    demand: SheetDemand,
    values: Mapping[str, int],
    *,
    seed: int = 0,
    steps: int | None = 200_000,
    seconds: float | None = None,
    stop: Stop | None = None,
) -> FilledSheet:
    """Fill one sheet of the demand's first stock so that the values of the parts on it add up to the most."""
    began = time.perf_counter()
    problem = read(demand)
    if not problem.things:
        return FilledSheet(pattern=None, value=0, bound=0, status=Status.PROVEN, steps=0, seconds=0.0)
    worth = np.array([sum(values[part.id] for part in thing.members) for thing in problem.things], np.float64)
    filling = Filling(problem, worth, seed)
    bound = _area_bound(problem, worth)
    status = Status.BUDGET
    while steps is None or filling.engine.steps < steps:
        filling.run(CHUNK if steps is None else min(CHUNK, steps - filling.engine.steps))
        if filling.value >= bound:
            status = Status.PROVEN
        elif stop is not None and stop.is_set():
            status = Status.STOPPED
        elif seconds is not None and time.perf_counter() - began >= seconds:
            status = Status.TIME
        if status is not Status.BUDGET:
            break
    value, took = round(filling.value), time.perf_counter() - began
    pattern = filling.pattern()
    return FilledSheet(
        pattern=pattern, value=value, bound=bound, status=status, steps=filling.engine.steps, seconds=took
    )


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
