"""The most valuable pattern of every stick length, and all patterns worth a given value.

One table answers for all lengths at once. Where the lengths have no common unit coarse enough for an exact
table, it is made of rounded lengths and bounds a search for the true ones.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sticks.problem import Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

EXACT_CELLS = 1_000_000
COARSE_CELLS = 600_000
COARSE_ROW = 4_000
SEARCH_WORK = 20_000  # nodes of one search
THOROUGH_WORK = 1_000_000


@dataclass(frozen=True, slots=True)
class Priced:
    """For each stock: what the pattern found is worth, what none can be worth more than, and the pattern's counts."""

    worth: Floats
    tops: Floats
    rows: Ints


@dataclass(slots=True)
class Pricer:
    """Sizes and capacities in their largest common unit, and a table over them divided by `coarse`."""

    sizes: Ints
    capacities: Ints
    coarse: int
    table: Floats

    def price(
        self,
        values: Floats,
        copies: Ints,
        stocks: list[int],
        enough: Floats | None = None,
        work: int = SEARCH_WORK,
    ) -> Priced:
        """Return the best patterns of `stocks` at these values of the pieces.

        A pattern worth more than `enough` of its stock need not be the best, where that would take a search; `work`
        limits the search.
        """
        from casewright.layout.sticks import kernels

        worth, tops = np.zeros(len(stocks)), np.zeros(len(stocks))
        rows = np.zeros((len(stocks), self.sizes.size), dtype=np.int64)
        self._fill(values, copies, int(max(self.capacities[s] for s in stocks)))
        for k, s in enumerate(stocks):
            capacity = int(self.capacities[s])
            least = np.inf if enough is None else float(enough[k])
            worth[k], proven = kernels.best_pattern(
                self.sizes, copies, values, capacity, self.coarse, self.table, least, work, rows[k]
            )
            tops[k] = worth[k] if proven else self.table[0, capacity // self.coarse]
        return Priced(worth, tops, rows)

    def listed(self, values: Floats, copies: Ints, stock: int, least: float, most: int) -> NDArray[np.int16] | None:
        """Return all full patterns of `stock` worth `least` or more, one row each; None beyond `most` of them."""
        from casewright.layout.sticks import kernels

        capacity = int(self.capacities[stock])
        out = np.zeros((most, self.sizes.size), dtype=np.int16)
        self._fill(values, copies, capacity)
        work = 2000 * most + 1_000_000
        n = kernels.list_patterns(self.sizes, copies, values, capacity, self.coarse, self.table, least, out, work)
        return None if n < 0 else out[:n]

    def _fill(self, values: Floats, copies: Ints, top: int) -> None:
        from casewright.layout.sticks import kernels

        kernels.fill_table(self.sizes // self.coarse, copies, values, top // self.coarse, self.table)


def make_pricer(problem: Problem) -> Pricer:
    """Return the pricer of `problem`."""
    unit = math.gcd(*problem.sizes)
    sizes = np.array([s // unit for s in problem.sizes], dtype=np.int64)
    most = sum(s * d for s, d in zip(problem.sizes, problem.demands, strict=True)) // unit
    capacities = np.array([min(c // unit, most) for c in problem.capacities], dtype=np.int64)
    top = int(capacities.max())
    exact = (sizes.size + 1) * (top + 1) <= EXACT_CELLS
    coarse = 1 if exact else -(-top // max(COARSE_ROW, COARSE_CELLS // (sizes.size + 1)))
    table = np.zeros((sizes.size + 1, top // coarse + 1))
    return Pricer(sizes=sizes, capacities=capacities, coarse=max(1, coarse), table=table)
