"""One sheet filled for the greatest value: the guillotine knapsack, by the same search.

What is left out weighs its value; the best solution met is kept beside the one that the search stands at.
"""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from casewright.layout.model import SheetDemand, SheetPattern, Status, Stop
from casewright.layout.sheets.engine import BLINK, CHUNK, MOST, SPICE, Engine, build, new_engine, patterns_of
from casewright.layout.sheets.kernel import kernel
from casewright.layout.sheets.problem import Problem, read
from casewright.layout.sheets.recreate import HUGE, Search, new_round, step
from casewright.layout.sheets.trees import Floats, Ints, Stockroom, Trees, copy_sheet, new_trees


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
        step(f, s, 1, most, spice, blink)
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
    worth = np.array([sum(values[part.id] for part in thing.members) for thing in problem.things], np.float64)
    bound = _area_bound(problem, worth)
    if not problem.things:
        return FilledSheet(pattern=None, value=0, bound=0, status=Status.PROVEN, steps=0, seconds=0.0)
    area = sum(thing.area * thing.count for thing in problem.things)
    total = float(sum(w * t.count for w, t in zip(worth, problem.things, strict=True)))
    scale = area / max(total, 1.0) / max(x * y for x, y in problem.inner)
    engine = new_engine(problem, seed, 1, weight=worth * scale)
    build(engine, 1)
    best = new_trees(1, engine.nodes)
    lightest = np.array([HUGE])
    status, value = Status.BUDGET, -1
    pattern: SheetPattern | None = None
    while steps is None or engine.steps < steps:
        chunk = CHUNK if steps is None else min(CHUNK, steps - engine.steps)
        before = lightest[0]
        run_fill(engine.search, engine.room, best, lightest, chunk, MOST, SPICE, BLINK)
        engine.steps += chunk
        if lightest[0] < before:
            pattern, value = _filled(engine, best, worth)
        if value >= bound:
            status = Status.PROVEN
            break
        if stop is not None and stop.is_set():
            status = Status.STOPPED
            break
        if seconds is not None and time.perf_counter() - began >= seconds:
            status = Status.TIME
            break
    took = time.perf_counter() - began
    return FilledSheet(pattern=pattern, value=value, bound=bound, status=status, steps=engine.steps, seconds=took)


def _filled(engine: Engine, best: Trees, worth: Floats) -> tuple[SheetPattern | None, int]:
    patterns = patterns_of(engine, best)
    leaves = [int(kind) for kind in best.kind[0, : best.count[0]] if kind >= 0]
    value = round(sum(worth[engine.owner[leaf >> 2]] for leaf in leaves))
    return (patterns[0], value) if patterns else (None, -1)


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
