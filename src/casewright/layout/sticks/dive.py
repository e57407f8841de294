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
from casewright.layout.sticks.master import State, items_of
from casewright.layout.sticks.problem import Pattern, Problem, cost_of
from casewright.layout.sticks.relaxation import Relaxation

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def dive(
    relaxation: Relaxation,
    costs: Costs,
    state: State,
    target: int,
    budget: Budget,
    chance: np.random.Generator | None,
) -> tuple[Pattern, ...] | None:
    """Return patterns for `state` that cost no more than `target`, or None where this dive finds none.

    Leaves the master restricted to where the dive ended.
    """
    fixed: list[Pattern] = []
    left = target
    while state.demands.any():
        relaxation.master.restrict(state)
        relaxed = relaxation.solve(state, budget)
        if relaxed.left_out or costs.at_least(relaxed.bound) > left or budget.over():
            return None
        quick = _quick(relaxation.problem, state, left)
        if quick is not None:
            return gather([*fixed, *quick])
        chosen = _choose(relaxation, state, chance)
        if not chosen:
            return None
        for stock, row, times in chosen:
            state = state.after(stock, row, times)
            left -= relaxation.problem.costs[stock] * times
            fixed.append(Pattern(stock=stock, items=items_of(row), times=times))
    return gather(fixed) if left >= 0 else None


def _quick(problem: Problem, state: State, left: int) -> tuple[Pattern, ...] | None:
    rest = replace(problem, demands=tuple(state.demands.tolist()), counts=tuple(state.most.tolist()))
    answer = first_answer(rest)
    return answer.patterns if answer.complete and cost_of(problem, answer.patterns) <= left else None


def _choose(relaxation: Relaxation, state: State, chance: np.random.Generator | None) -> list[tuple[int, Ints, int]]:
    """Return the patterns to fix and how often: whole parts first, else the largest fraction, or one by chance."""
    columns, problem = relaxation.master.columns, relaxation.problem
    weights = relaxation.master.weights()[state.demands.size :]
    left, on_hand = state.demands.copy(), state.most.copy()
    chosen: list[tuple[int, Ints, int]] = []

    def take(k: int, most: int) -> None:
        row, stock = columns.rows[k], columns.stocks[k]
        if not problem.lies(stock, items_of(row)):
            return
        used = row > 0
        times = min(most, int((left[used] // row[used]).min()), int(on_hand[stock]))
        if times > 0:
            left[used] -= row[used] * times
            on_hand[stock] -= times
            chosen.append((stock, row.copy(), times))

    for k in np.flatnonzero(weights >= 1 - 1e-6):
        take(int(k), int(weights[k] + 1e-6))
    if chosen:
        return chosen
    noise = 0.0 if chance is None else chance.random(weights.size) * 0.3 * (weights > 0.05)
    order = np.argsort(-weights - noise, kind="stable")[:200]
    for k in order[weights[order] > 1e-6]:
        if not chosen or weights[k] > 0.7:
            take(int(k), 1)
    return chosen
