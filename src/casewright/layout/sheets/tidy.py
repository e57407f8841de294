"""The goals after the price, on slicing trees: offcuts used, one large full-width rest, few settings, few cuts.

They are compared in the shop's order; the numbers here are those of `goals` but for the trims of single pieces, so
the layout that is kept in the end is chosen by `goals` itself.
"""

from __future__ import annotations

import numpy as np

from casewright.layout.model import Goal
from casewright.layout.sheets.engine import BLINK, CHUNK, MOST, Engine
from casewright.layout.sheets.kernel import kernel, lean_kernel
from casewright.layout.sheets.recreate import accept, new_round, recreate
from casewright.layout.sheets.ruin import ruin
from casewright.layout.sheets.search import HUGE, Search
from casewright.layout.sheets.trees import Floats, Ints, Stockroom, Trees, copy_sheet, new_trees

LEVEL = 1e4  # each goal counts so many times the next
ORDER = (Goal.OFFCUTS, Goal.REMNANT, Goal.SETTINGS, Goal.CUTS)


@kernel
def untidiness(t: Trees, s: Stockroom, offcut: Ints, scale: Floats) -> float:
    """Weighted sum of the goals, smaller is better; `scale` has one weight for each of `ORDER`."""
    offcuts, remnant = 0.0, 0.0
    cuts, n = 0, 0
    for b in range(t.nodes.shape[0]):
        n += 2 * t.nodes[b] + 2
    keys = np.empty(n, np.int64)
    n = 0
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] < 0:
            continue
        full0, full1 = s.inner[t.sheet[b], 0], s.inner[t.sheet[b], 1]
        if offcut[t.sheet[b]]:
            offcuts += float(full0) * float(full1) / s.unit
        w, h = t.size[b, 0, 0], t.size[b, 0, 1]
        remnant = max(remnant, float(full0 - w) * full1 / s.unit, float(full1 - h) * full0 / s.unit)
        cuts += (1 if w < full0 else 0) + (1 if h < full1 else 0)
        for i in range(t.nodes[b]):
            if t.kind[b, i] < 0:
                cuts += 1  # the plate is turned
            p = t.par[b, i]
            if p < 0:
                continue
            a = -1 - t.kind[b, p]
            cuts += 1
            keys[n] = 2 * t.size[b, i, a] + a
            n += 1
            if t.kind[b, i] >= 0 and t.size[b, i, 1 - a] < t.size[b, p, 1 - a]:
                cuts += 2
                keys[n] = 2 * t.size[b, i, 1 - a] + 1 - a
                n += 1
    used = np.sort(keys[:n])
    settings = 0
    for i in range(n):
        if i == 0 or used[i] != used[i - 1]:
            settings += 1
    return float(
        scale[2] * settings + scale[3] * cuts - scale[0] * np.floor(1000 * offcuts) - scale[1] * np.floor(200 * remnant)
    )


@lean_kernel
def run_tidy(
    f: Search, s: Stockroom, best: Trees, least: Floats, offcut: Ints, scale: Floats, goal: int, steps: int, most: int
) -> None:
    """Search among complete layouts that keep the goal; the tidiest is copied to `best`."""
    for _ in range(steps):
        ruin(f, s, most)
        recreate(f, s, goal, BLINK)
        cost = HUGE
        if f.out[-1] == 0:
            cost = untidiness(f.work, s, offcut, scale)
        kept = accept(f, min(cost, 1e200))
        if kept and cost < least[0]:
            least[0] = cost
            for b in range(f.at.nodes.shape[0]):
                copy_sheet(f.at, b, best, b)


def scales(goals: tuple[Goal, ...]) -> Floats:
    """Weights of `ORDER` for goals in the shop's order; a goal that is not asked for counts nothing."""
    return np.array([LEVEL ** (2 - goals.index(goal)) if goal in goals else 0.0 for goal in ORDER])


class Tidy:
    """A search that begins with an engine's complete solution; `best` is the tidiest seen."""

    def __init__(self, engine: Engine, goals: tuple[Goal, ...]) -> None:
        self.engine = engine
        self.scale = scales(goals)
        self.offcut = np.array([int(sheet.offcut) for sheet in engine.problem.sheets], np.int64)
        self.best = new_trees(engine.slots, engine.nodes)
        for b in range(engine.slots):
            copy_sheet(engine.search.at, b, self.best, b)
        f = engine.search
        self.least = np.array([untidiness(f.at, engine.room, self.offcut, self.scale)])
        f.cost[0] = self.least[0]
        f.spent[4] = 0
        new_round(f)
        f.history[:] = self.least[0]

    def run(self, goal: int, steps: int) -> int:
        """Take some steps; returns how many."""
        chunk = min(CHUNK, steps)
        e = self.engine
        run_tidy(e.search, e.room, self.best, self.least, self.offcut, self.scale, goal, chunk, MOST)
        return chunk
