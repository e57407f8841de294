"""Diving: fix the patterns that the relaxation uses most, solve it again for what is left, and so on down.

Sadykov, Vanderbeck, Pessoa, Tahiri and Uchoa 2019. New dives round up another pattern than the first would, by
chance from the seed; each node also tries a plain filling of what is left.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from casewright.layout.budget import Budget
from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.first import first_answer, gather
from casewright.layout.sticks.problem import Pattern, cost_of
from casewright.layout.sticks.relaxation import Relaxation

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def dive(
    relaxation: Relaxation, costs: Costs, target: int, budget: Budget, chance: np.random.Generator | None
) -> tuple[Pattern, ...] | None:
    """Return patterns that cost no more than `target`, or None where this dive finds none."""
    problem = relaxation.problem
    demands, counts = relaxation.demands.copy(), relaxation.counts.copy()
    fixed: list[Pattern] = []
    spent = 0
    try:
        while demands.any():
            relaxed = relaxation.solve(demands, counts, budget)
            if relaxed.left_out or spent + costs.at_least(relaxed.bound) > target or budget.over():
                return None
            quick = _quick(relaxation, demands, counts, fixed, target)
            if quick is not None:
                return quick
            chosen = _choose(relaxation, demands, counts, chance)
            if not chosen:
                return None
            for stock, row, times in chosen:
                demands = demands - row * times
                counts[stock] -= times
                spent += problem.costs[stock] * times
                fixed.append(Pattern(stock=stock, items=_items(row), times=times))
            relaxation.master.restrict(demands, counts)
        return gather(fixed) if spent <= target else None
    finally:
        relaxation.master.restrict(relaxation.demands, relaxation.counts)


def _items(row: Ints) -> tuple[tuple[int, int], ...]:
    return tuple((int(i), int(row[i])) for i in np.flatnonzero(row))


def _quick(
    relaxation: Relaxation, demands: Ints, counts: Ints, fixed: list[Pattern], target: int
) -> tuple[Pattern, ...] | None:
    rest = replace(relaxation.problem, demands=tuple(demands.tolist()), counts=tuple(counts.tolist()))
    answer = first_answer(rest)
    patterns = gather([*fixed, *answer.patterns])
    return patterns if answer.complete and cost_of(relaxation.problem, patterns) <= target else None


def _choose(
    relaxation: Relaxation, demands: Ints, counts: Ints, chance: np.random.Generator | None
) -> list[tuple[int, Ints, int]]:
    """Return the patterns to fix and how often: whole parts first, else the largest fraction, or one by chance."""
    columns = relaxation.master.columns
    weights = relaxation.master.weights()[demands.size :]
    left, on_hand = demands.copy(), counts.copy()
    chosen: list[tuple[int, Ints, int]] = []

    def take(k: int, most: int) -> None:
        row, stock = columns.rows[k], columns.stocks[k]
        used = row > 0
        times = min(most, int((left[used] // row[used]).min()), int(on_hand[stock]))
        if times > 0:
            left[used] -= row[used] * times
            on_hand[stock] -= times
            chosen.append((stock, row, times))

    for k in np.flatnonzero(weights >= 1 - 1e-6):
        take(int(k), int(weights[k] + 1e-6))
    fractions = weights - np.floor(weights + 1e-6)
    order = np.argsort(-fractions, kind="stable")
    if chance is not None and not chosen:
        order = np.argsort(-fractions - chance.random(fractions.size) * 0.3 * (fractions > 0.05), kind="stable")
    if not chosen:
        order = [k for k in order[:200] if fractions[k] > 1e-6]
        for n, k in enumerate(order):
            if n == 0 or fractions[k] > 0.7:
                take(int(k), 1)
    return chosen
