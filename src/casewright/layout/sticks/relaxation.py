"""Column generation: the linear relaxation over all patterns, solved for what is still to be cut.

Gilmore and Gomory 1961; the bound at each step is Farley's (1990) for lengths without a limit, and
Lagrange's for those with one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.budget import Budget
from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.master import Master, State, items_of
from casewright.layout.sticks.pricing import THOROUGH_WORK, make_pricer
from casewright.layout.sticks.problem import UNLIMITED, Answer, Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

EPS = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxed:
    """The relaxation's value and a proven bound, in dearest sticks, and the duals."""

    value: float
    bound: float
    duals: Floats
    prices: Floats  # duals of the numbers of sticks
    gains: Floats  # the worth of each stick's best pattern
    usage: Floats  # sticks of each kind
    left_out: bool  # some piece finds no pattern


class Relaxation:
    """Master and pricer of one problem, kept warm from one state of a search to the next.

    It begins with the patterns of `start`; `outside` is more than any answer of interest costs.
    """

    def __init__(self, problem: Problem, costs: Costs, start: Answer, outside: int) -> None:
        self.problem = problem
        self.exact_costs = costs
        self.costs = costs.scaled
        self.pricer = make_pricer(problem)
        demands = np.array(problem.demands, dtype=np.int64)
        total = int(demands.sum())
        most = [n if n < total else UNLIMITED for n in problem.counts]
        self.whole = State(demands, np.zeros(len(most), dtype=np.int64), np.array(most, dtype=np.int64))
        self.master = Master(demands, self.costs, np.full(demands.size, outside / costs.dearest))
        for pattern in start.patterns:
            row = np.zeros_like(demands)
            for i, n in pattern.items:
                row[i] = n
            self.master.add(pattern.stock, row)
        self.master.restrict(self.whole)

    def solve(self, state: State, budget: Budget, enough: int | None = None, *, to_the_end: bool = False) -> Relaxed:
        """Return the relaxation for what is left.

        Ends early once no answer can cost less than `enough`, once a better bound would mean the same cost, or when
        the budget is over. `to_the_end` leaves out the first two.
        """
        best = 0.0
        at_least = self.exact_costs.at_least
        stocks = np.flatnonzero(state.most > 0)
        while True:
            value, duals, prices = self.master.solve()
            budget.step()
            copies = self.copies(state)
            paid = self.costs[stocks] - prices[stocks]
            priced = self.pricer.price(duals, copies, stocks.tolist(), paid + EPS)
            best = max(best, self._bound(state, stocks, duals, priced.tops))
            excess = priced.worth - paid
            new = self._add(stocks, priced.rows, excess)
            unsure = (priced.tops > paid + EPS).any() and at_least(best) < at_least(value)
            if not new and unsure and (to_the_end or state is self.whole):
                priced = self.pricer.price(duals, copies, stocks.tolist(), paid + EPS, THOROUGH_WORK)
                best = max(best, self._bound(state, stocks, duals, priced.tops))
                excess = priced.worth - paid
                new = self._add(stocks, priced.rows, excess)
            same = at_least(best) >= at_least(value) or (enough is not None and at_least(best) >= enough)
            if not new or (same and not to_the_end) or budget.over():
                return self._relaxed(value, best, duals, prices, stocks, priced.tops)
            self._add_others(state, copies, stocks, duals, paid, priced.rows[int(np.argmax(excess))])

    def copies(self, state: State) -> Ints:
        """Return how many pieces of each size one pattern may hold."""
        most: Ints = np.minimum(state.demands, int(self.pricer.capacities.max()) // self.pricer.sizes)
        return most

    def material(self) -> tuple[Floats, Floats]:
        """Return duals that are the pieces' lengths, and the greatest length that pieces fill of each stick."""
        lengths = self.pricer.sizes.astype(np.float64)
        stocks = list(range(self.costs.size))
        filled = self.pricer.price(lengths, self.copies(self.whole), stocks).tops
        return lengths, np.minimum(filled, self.pricer.capacities)

    def bound_at(self, state: State, duals: Floats) -> tuple[float, Floats]:
        """Return the bound that any `duals` prove for `state`, and the worth of each stick's best pattern."""
        stocks = np.flatnonzero(state.most > 0)
        gains = self.pricer.price(duals, self.copies(state), stocks.tolist()).tops
        all_gains = np.zeros(self.costs.size)
        all_gains[stocks] = gains
        net = self.costs[stocks] - gains
        free = (state.most[stocks] >= UNLIMITED) & (net < 0)
        if (net[free] < -EPS).any():
            return 0.0, all_gains
        sticks = np.where(net > 0, state.least[stocks], np.where(free, 0, state.most[stocks]))
        return float(state.demands @ duals + net @ sticks), all_gains

    def _relaxed(
        self, value: float, bound: float, duals: Floats, prices: Floats, stocks: Ints, gains: Floats
    ) -> Relaxed:
        all_gains = np.zeros(self.costs.size)
        all_gains[stocks] = gains
        left_out = self.master.weights()[: self.master.m].max(initial=0.0) > EPS
        usage = self.master.usage()
        return Relaxed(
            value=value, bound=bound, duals=duals, prices=prices, gains=all_gains, usage=usage, left_out=bool(left_out)
        )

    def _add(self, stocks: Ints, rows: Ints, excess: Floats) -> int:
        """Add the patterns that pay, and what can be cut of those that cannot; return how many are new."""
        paying = [(int(s), rows[k]) for k, s in enumerate(stocks) if excess[k] > EPS]
        new = sum(self.master.add(s, row) for s, row in paying)
        if self.problem.shape is not None:
            for s, row in paying:
                self._add_real(s, row.copy())
        return new

    def _add_real(self, stock: int, row: Ints) -> None:
        """Add a pattern less its shortest pieces, as many as must go for it to be cut."""
        while not self.problem.lies(stock, items_of(row)):
            row[np.flatnonzero(row)[-1]] -= 1
        if row.any():
            self.master.add(stock, row)

    def _add_others(self, state: State, copies: Ints, stocks: Ints, duals: Floats, paid: Floats, row: Ints) -> None:
        """Add patterns that leave the best one's pieces alone, so that the next master has a choice."""
        demands = state.demands
        for _ in range(1 if stocks.size > 1 else 4):
            used = row > 0
            if not used.any():
                return
            demands = np.minimum(copies, demands - row * int((demands[used] // row[used]).min()))
            priced = self.pricer.price(duals, demands, stocks.tolist(), paid + EPS)
            if not self._add(stocks, priced.rows, priced.worth - paid):
                return
            row = priced.rows[int(np.argmax(priced.worth - paid))]

    def _bound(self, state: State, stocks: Ints, duals: Floats, gains: Floats) -> float:
        """Return the bound that these duals prove: each stick at most gains what its best pattern does."""
        costs, least, most = self.costs[stocks], state.least[stocks], state.most[stocks]
        free = most >= UNLIMITED
        scale = 1.0
        for cost, gain in zip(costs[free], gains[free], strict=True):
            scale = max(scale, gain / cost if cost > 0 else np.inf if gain > EPS else 1.0)
        if not np.isfinite(scale):
            return 0.0
        net = costs - gains / scale
        sticks = np.where(net > 0, least, np.where(free, 0, most))
        return float(state.demands @ duals / scale + net @ sticks)
