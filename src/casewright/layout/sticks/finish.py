"""The exact end of a search: all patterns that an answer could still use, and an integer programme over them.

An answer that costs no more than `target` holds no pattern whose reduced cost is above target − relaxation
(Baldacci, Christofides and Mingozzi 2008, for routes). Where these patterns are few enough to list, the
integer programme over them finds the answer or proves that there is none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

from casewright.layout.budget import Budget
from casewright.layout.highs import quiet_highs
from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.first import gather
from casewright.layout.sticks.master import State, items_of
from casewright.layout.sticks.problem import UNLIMITED, Pattern, Shape
from casewright.layout.sticks.relaxation import Relaxation, Relaxed

Floats = NDArray[np.float64]

PROVEN_NONE = (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kObjectiveBound)


@dataclass(frozen=True, slots=True)
class Effort:
    """The most patterns to list, and the most nodes of the programme over them."""

    patterns: int
    nodes: int


PARTS = 4  # of patterns that do not fit, for each that may be listed
QUICK, THOROUGH = Effort(3_000, 200), Effort(40_000, 20_000)


@dataclass(frozen=True, slots=True)
class Listed:
    """Patterns, one row each, with the kind of stick of each."""

    stocks: NDArray[np.int64]
    rows: NDArray[np.int16]


def finish(
    relaxation: Relaxation,
    costs: Costs,
    state: State,
    relaxed: Relaxed,
    target: int,
    effort: Effort,
    budget: Budget,
) -> tuple[Pattern, ...] | bool:
    """Return patterns that cost no more than `target`, False where there are none, True where this stays open.

    Lists at several duals and goes on with the shortest list.
    """
    best: Listed | None = None
    for duals in _duals(relaxation, state, relaxed, budget):
        listed = _list(relaxation, state, duals, target / costs.dearest, len(best.rows) if best else effort.patterns)
        if listed is not None and (best is None or len(listed.rows) < len(best.rows)):
            best = listed
        if best is not None and len(best.rows) <= QUICK.patterns // 2:
            break
    if best is None:
        return True
    return _solve(relaxation, state, best, target / costs.dearest, effort, budget) if len(best.rows) else False


def _duals(relaxation: Relaxation, state: State, relaxed: Relaxed, budget: Budget) -> Iterator[Floats]:
    """Duals worth listing at: the node's; those without a least number of sticks; mixtures of these with the material.

    Where the numbers of sticks are what costs, the node's own duals say nothing about the pieces; those of pieces that
    only fill up are 0. Mixtures of feasible duals are feasible.
    """
    yield relaxed.duals
    whole = replace(state, least=np.zeros_like(state.least))
    relaxation.master.restrict(whole)
    pieces = relaxation.solve(whole, budget, to_the_end=True).duals
    yield pieces
    rate = min((c / n for c, n in zip(relaxation.costs, relaxation.pricer.capacities, strict=True) if c > 0), default=0)
    for share in (0.5, 0.15, 1.0):
        yield (1 - share) * pieces + share * float(rate) * relaxation.pricer.sizes


def _list(relaxation: Relaxation, state: State, duals: Floats, target: float, most: int) -> Listed | None:
    """All full patterns that an answer of `target` may hold; None where there are more than `most`.

    Swapping one stick of what the bound counts for one cut to a pattern costs the pattern's reduced cost more, or
    that less the stick's own, where the bound counts such a stick at all.
    """
    bound, gains = relaxation.bound_at(state, duals)
    net = relaxation.costs - gains
    counted = np.where((net < 0) | (state.least > 0), net, 0.0)
    copies = relaxation.copies(state)
    stocks: list[int] = []
    found: list[NDArray[np.int16]] = []
    for s in np.flatnonzero(state.most > 0):
        least = float(relaxation.costs[s] - counted[s]) - (target - bound + 1e-7)
        rows = relaxation.pricer.listed(duals, copies, int(s), least, most - len(stocks))
        if rows is not None and relaxation.problem.shape is not None:
            rows = _fitting(relaxation.problem.shape, int(s), rows, duals, least, most - len(stocks))
        if rows is None:
            return None
        found.append(rows)
        stocks += [int(s)] * len(rows)
    return Listed(np.array(stocks, dtype=np.int64), np.vstack(found))


def _fitting(
    shape: Shape, stock: int, rows: NDArray[np.int16], values: Floats, least: float, most: int
) -> NDArray[np.int16] | None:
    """The rows that fit, and the largest parts, worth `least` or more, of those that do not; None beyond `most`."""
    kept: set[tuple[int, ...]] = set()
    waiting = set(map(tuple, rows.tolist()))
    seen = set(waiting)
    while waiting:
        row = waiting.pop()
        if shape.fits(stock, items_of(np.array(row))):
            kept.add(row)
        elif len(seen) > PARTS * most:
            return None
        else:
            worth = float(np.dot(row, values))
            smaller = {(*row[:i], n - 1, *row[i + 1 :]) for i, n in enumerate(row) if n and worth - values[i] >= least}
            waiting |= smaller - seen
            seen |= smaller
    if len(kept) > most:
        return None
    return np.array(sorted(kept), dtype=np.int16).reshape(-1, len(values))


def _solve(
    relaxation: Relaxation,
    state: State,
    listed: Listed,
    target: float,
    effort: Effort,
    budget: Budget,
) -> tuple[Pattern, ...] | bool:
    stocks, rows = listed.stocks, listed.rows
    mip = _model(relaxation, state, stocks, rows)
    mip.setOptionValue("objective_target", target + 1e-6)
    mip.setOptionValue("objective_bound", target + 1e-6)
    mip.setOptionValue("mip_max_nodes", effort.nodes)
    if budget.left is not None:
        mip.setOptionValue("time_limit", max(0.1, budget.left))
    mip.run()
    budget.step(1 + max(0, int(mip.getInfo().mip_node_count)))
    status = mip.getModelStatus()
    info = mip.getInfo()
    if info.primal_solution_status == 2 and info.objective_function_value <= target + 1e-6:
        times = np.round(np.array(mip.getSolution().col_value)).astype(np.int64)
        return _exact(state, stocks, rows, times)
    return not (status in PROVEN_NONE or info.mip_dual_bound > target + 1e-6)


def _model(relaxation: Relaxation, state: State, stocks: NDArray[np.int64], rows: NDArray[np.int16]) -> Any:
    mip = quiet_highs()
    none = np.zeros(0, dtype=np.int32), np.zeros(0)
    for d in state.demands:
        mip.addRow(float(d), highspy.kHighsInf, 0, *none)
    for low, high in zip(state.least, state.most, strict=True):
        mip.addRow(float(low), float(high) if high < UNLIMITED else highspy.kHighsInf, 0, *none)
    filled = [np.flatnonzero(row) for row in rows]
    starts = np.cumsum([0] + [len(f) + 1 for f in filled[:-1]]).astype(np.int32)
    index = np.concatenate([np.append(f, state.demands.size + s) for f, s in zip(filled, stocks, strict=True)])
    entries = np.concatenate([np.append(row[f], 1) for f, row in zip(filled, rows, strict=True)]).astype(np.float64)
    n = len(rows)
    mip.addCols(
        n, relaxation.costs[stocks], np.zeros(n), np.full(n, highspy.kHighsInf), index.size, starts,
        index.astype(np.int32), entries,
    )  # fmt: skip
    whole = np.array([highspy.HighsVarType.kInteger] * n)
    mip.changeColsIntegrality(n, np.arange(n, dtype=np.int32), whole)
    return mip


def _exact(
    state: State, stocks: NDArray[np.int64], rows: NDArray[np.int16], times: NDArray[np.int64]
) -> tuple[Pattern, ...]:
    """Take out what is cut beyond the demand, stick by stick."""
    left = state.demands.copy()
    patterns: list[Pattern] = []
    for k in np.flatnonzero(times):
        for _ in range(int(times[k])):
            row = np.minimum(rows[k], left)
            left -= row
            items = tuple((int(i), int(row[i])) for i in np.flatnonzero(row))
            if items:
                patterns.append(Pattern(stock=int(stocks[k]), items=items))
    return gather(patterns)
