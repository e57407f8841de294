"""The most valuable pattern of every stick length, and all patterns worth a given value.

On a coarse grid (all that a shop's rules divide into) one table answers for all lengths at once; on a
fine one each length is searched.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sticks.problem import Problem

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

TABLE_CELLS = 12_000_000
SEARCH_WORK = 3_000_000


@dataclass(slots=True)
class Pricer:
    """Sizes and capacities in the largest common unit; `table` where it is small enough, else None."""

    sizes: Ints
    capacities: Ints
    table: Floats | None
    exact: bool = True  # False once a search was cut short: bounds from it hold no more

    def price(self, values: Floats, copies: Ints, stocks: list[int]) -> tuple[Floats, Ints]:
        """Return for each of `stocks` the greatest value of a pattern, and the pattern (one row each)."""
        best = np.zeros(len(stocks))
        rows = np.zeros((len(stocks), self.sizes.size), dtype=np.int64)
        if self.table is None:
            return self._search(values, copies, stocks, best, rows)
        from casewright.layout.sticks import kernels

        top = int(max(self.capacities[s] for s in stocks))
        kernels.fill_table(self.sizes, copies, values, top, self.table)
        for k, s in enumerate(stocks):
            capacity = int(self.capacities[s])
            best[k] = self.table[0, capacity]
            kernels.best_pattern(self.sizes, copies, values, capacity, self.table, rows[k])
        return best, rows

    def _search(self, values: Floats, copies: Ints, stocks: list[int], best: Floats, rows: Ints) -> tuple[Floats, Ints]:
        from casewright.layout.sticks import kernels

        order = np.argsort(-values / self.sizes, kind="stable")
        pattern = np.zeros(self.sizes.size, dtype=np.int64)
        w, b, v = self.sizes[order], copies[order], values[order]
        for k, s in enumerate(stocks):
            best[k], proven = kernels.search_best(w, b, v, int(self.capacities[s]), SEARCH_WORK, pattern)
            if not proven:  # what every rate allows is still a bound
                self.exact = False
                best[k] = float(v[0] / w[0]) * int(self.capacities[s])
            rows[k, order] = pattern
        return best, rows

    def listed(self, values: Floats, copies: Ints, stock: int, least: float, most: int) -> NDArray[np.int16] | None:
        """Return all full patterns of `stock` worth `least` or more, one row each; None where there are more than `most`."""
        from casewright.layout.sticks import kernels

        capacity = int(self.capacities[stock])
        out = np.zeros((most, self.sizes.size), dtype=np.int16)
        work = 200 * most + 100_000
        if self.table is not None:
            kernels.fill_table(self.sizes, copies, values, capacity, self.table)
            n = kernels.list_patterns(self.sizes, copies, values, capacity, self.table, least, capacity, out, work)
            return None if n < 0 else out[:n]
        order = np.argsort(-values / self.sizes, kind="stable")
        w, b, v = self.sizes[order], copies[order], values[order]
        n = kernels.search_list(w, b, v, capacity, least, capacity, out, 10 * work)
        if n < 0:
            return None
        rows = np.zeros((n, self.sizes.size), dtype=np.int16)
        rows[:, order] = out[:n]
        return rows


def make_pricer(problem: Problem) -> Pricer:
    """Return the pricer of `problem`, its lengths divided by their greatest common divisor."""
    unit = math.gcd(*problem.sizes)
    sizes = np.array([s // unit for s in problem.sizes], dtype=np.int64)
    most = sum(s * d for s, d in zip(problem.sizes, problem.demands, strict=True)) // unit
    capacities = np.array([min(c // unit, most) for c in problem.capacities], dtype=np.int64)
    cells = (len(sizes) + 1) * (int(capacities.max()) + 1)
    table = np.zeros((len(sizes) + 1, int(capacities.max()) + 1)) if cells <= TABLE_CELLS else None
    return Pricer(sizes=sizes, capacities=capacities, table=table)
