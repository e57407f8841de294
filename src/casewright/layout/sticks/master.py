"""The linear programme over the patterns found so far, kept warm in HiGHS.

Rows: one for each size (at least the demand) and one for each finite stock (at most the count). The first
columns leave a piece of a size out at a price that no answer pays.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(slots=True)
class Columns:
    """Patterns found: stock and counts of each, and an index to find equal ones."""

    stocks: list[int] = field(default_factory=list)
    rows: list[Ints] = field(default_factory=list)
    known: dict[tuple[int, bytes], int] = field(default_factory=dict)

    def add(self, stock: int, row: Ints) -> int | None:
        """Add a pattern and return its number, or None where it is known."""
        key = stock, row.tobytes()
        if key in self.known:
            return None
        self.known[key] = len(self.stocks)
        self.stocks.append(stock)
        self.rows.append(row.copy())
        return len(self.stocks) - 1


class Master:
    """The LP itself; the dearest stick costs 1, `outside` is the price of leaving out a piece of each size."""

    def __init__(self, demands: Ints, counts: Ints, finite: list[int], costs: Floats, outside: Floats) -> None:
        self.m = demands.size
        self.finite = {s: self.m + k for k, s in enumerate(finite)}
        self.costs = costs
        self.columns = Columns()
        self.lp: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        self.lp.silent()
        for name, value in (("threads", 1), ("presolve", "off"), ("simplex_strategy", 4)):
            self.lp.setOptionValue(name, value)
        none = np.zeros(0, dtype=np.int32), np.zeros(0)
        for d in demands:
            self.lp.addRow(float(d), highspy.kHighsInf, 0, *none)
        for s in finite:
            self.lp.addRow(-highspy.kHighsInf, float(counts[s]), 0, *none)
        for i in range(self.m):
            self.lp.addCol(float(outside[i]), 0.0, highspy.kHighsInf, 1, np.array([i], dtype=np.int32), np.ones(1))

    def add(self, stock: int, row: Ints) -> bool:
        """Add a pattern; False where it is there already."""
        if self.columns.add(stock, row) is None:
            return False
        index = np.flatnonzero(row).astype(np.int32)
        value = row[index].astype(np.float64)
        if stock in self.finite:
            index, value = np.append(index, np.int32(self.finite[stock])), np.append(value, 1.0)
        self.lp.addCol(float(self.costs[stock]), 0.0, highspy.kHighsInf, index.size, index, value)
        return True

    def solve(self) -> tuple[float, Floats, Floats]:
        """Return the value, the duals of the sizes (≥ 0) and the prices of the finite stocks (≥ 0, by stock)."""
        self.lp.run()
        duals = np.array(self.lp.getSolution().row_dual)
        prices = np.zeros(self.costs.size)
        for s, row in self.finite.items():
            prices[s] = max(0.0, -duals[row])
        return self.lp.getInfo().objective_function_value, np.maximum(duals[: self.m], 0.0), prices

    def weights(self) -> Floats:
        """Return how often each pattern is used; the pieces left out come first (m entries)."""
        return np.array(self.lp.getSolution().col_value)

    def restrict(self, demands: Ints, counts: Ints) -> None:
        """Set what is still to be covered and what is still on hand; patterns that hold more than that are shut out."""
        for i, d in enumerate(demands):
            self.lp.changeRowBounds(i, float(d), highspy.kHighsInf)
        for s, row in self.finite.items():
            self.lp.changeRowBounds(row, -highspy.kHighsInf, float(counts[s]))
        if self.columns.rows:
            proper: NDArray[np.bool_] = np.all(np.array(self.columns.rows) <= demands, axis=1)
            index = np.arange(self.m, self.m + len(proper), dtype=np.int32)
            upper = np.where(proper, highspy.kHighsInf, 0.0)
            self.lp.changeColsBounds(index.size, index, np.zeros(index.size), upper)
