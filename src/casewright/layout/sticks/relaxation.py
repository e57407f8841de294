"""Column generation: the linear relaxation over all patterns, solved for what is still to be cut.

Gilmore and Gomory 1961; the bound at each step is Farley's (1990), with the price of each finite
stock raised until its best pattern does not pay.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.budget import Budget
from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.master import Master
from casewright.layout.sticks.pricing import Pricer, make_pricer
from casewright.layout.sticks.problem import UNLIMITED, Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

EPS = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """The relaxation's value and a proven bound (both in units of the dearest stick), duals, and prices of finite stocks."""

    value: float
    bound: float
    duals: Floats
    prices: Floats
    left_out: bool  # some piece finds no pattern


class Relaxation:
    """Master and pricer of one problem, kept warm from one state of a search to the next."""

    def __init__(self, problem: Problem, costs: Costs) -> None:
        self.problem = problem
        self.demands = np.array(problem.demands, dtype=np.int64)
        self.counts = np.array(problem.counts, dtype=np.int64)
        self.costs = costs.scaled
        self.pricer: Pricer = make_pricer(problem)
        total = int(self.demands.sum())
        finite = [s for s, n in enumerate(problem.counts) if n < min(UNLIMITED, total)]
        self.finite = np.array([s in finite for s in range(len(problem.counts))])
        outside = np.full(self.demands.size, 10.0 + 2.0 * float(self.costs.max()))
        self.master = Master(self.demands, self.counts, finite, self.costs, outside)

    def solve(self, demands: Ints, counts: Ints, budget: Budget, enough: float = np.inf) -> Relaxed:
        """Return the relaxation for what is left. Ends early once its bound is at `enough` or the budget is over."""
        best = 0.0
        stocks = [s for s in range(len(counts)) if counts[s] > 0]
        while True:
            value, duals, prices = self.master.solve()
            budget.step()
            copies = np.minimum(demands, int(self.pricer.capacities.max()) // self.pricer.sizes)
            gains, rows = self.pricer.price(duals, copies, stocks)
            best = max(best, self._bound(demands, counts, stocks, duals, gains))
            over = self._add(stocks, gains, rows, prices)
            if not over or best >= min(enough, value - EPS) or budget.over():
                weights = self.master.weights()[: self.demands.size]
                left_out = bool(weights.max(initial=0.0) > EPS)
                return Relaxed(value=value, bound=best, duals=duals, prices=prices, left_out=left_out)
            self._add_others(demands, copies, stocks, duals, prices, rows[int(np.argmax(gains - prices[stocks]))])

    def _add(self, stocks: list[int], gains: Floats, rows: Ints, prices: Floats) -> int:
        """Add the patterns that pay; return how many are new."""
        reduced = self.costs[stocks] + prices[stocks] - gains
        return sum(self.master.add(s, rows[k]) for k, s in enumerate(stocks) if reduced[k] < -EPS)

    def _add_others(
        self, demands: Ints, copies: Ints, stocks: list[int], duals: Floats, prices: Floats, row: Ints
    ) -> None:
        """Add patterns that leave the best one's pieces alone, so that the next master has a choice."""
        copies = copies.copy()
        for _ in range(4):
            used = row > 0
            if not used.any():
                return
            copies = np.minimum(copies, demands - row * int((demands[used] // row[used]).min()))
            gains, rows = self.pricer.price(duals, copies, stocks)
            if not self._add(stocks, gains, rows, prices):
                return
            row = rows[int(np.argmax(gains - prices[stocks]))]
            demands = copies

    def _bound(self, demands: Ints, counts: Ints, stocks: list[int], duals: Floats, gains: Floats) -> float:
        """Return Farley's bound from these duals."""
        costs, finite = self.costs[stocks], self.finite[stocks]
        scale = 1.0
        for cost, gain in zip(costs[~finite], gains[~finite], strict=True):
            scale = max(scale, gain / cost if cost > 0 else np.inf if gain > EPS else 1.0)
        if not np.isfinite(scale):
            return 0.0
        raised = np.maximum(0.0, gains / scale - costs)
        paid = (raised * counts[stocks])[finite].sum()
        return float(demands @ duals / scale - paid)
