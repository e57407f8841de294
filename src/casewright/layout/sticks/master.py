"""The linear programme over the patterns found so far, kept warm in HiGHS.

Rows: one for each size (at least the demand) and one for each kind of stick (how many may be used). The first
columns leave a piece of a size out at a price that no answer pays.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

from casewright.layout.highs import quiet_highs
from casewright.layout.sticks.problem import UNLIMITED, Items

DUAL, PRIMAL = 1, 4  # HiGHS's numbers

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class State:
    """A part of the search: what is still to be cut, and the least and most sticks of each kind still to be used."""

    demands: Ints
    least: Ints
    most: Ints

    def after(self, stock: int, row: Ints, times: int) -> State:
        """Return the state after `times` sticks of `stock`, each cut into `row`."""
        used = np.zeros_like(self.most)
        used[stock] = times
        most = np.where(self.most < UNLIMITED, self.most - used, UNLIMITED)
        return State(self.demands - row * times, np.maximum(0, self.least - used), most)


def items_of(row: NDArray[Any]) -> Items:
    """Return the counts of a row as items."""
    return tuple((int(i), int(row[i])) for i in np.flatnonzero(row))


class Columns:
    """Patterns found: stock and counts of each, and an index to find equal ones."""

    def __init__(self, sizes: int) -> None:
        self.stocks: list[int] = []
        self.known: set[tuple[int, bytes]] = set()
        self._rows = np.zeros((256, sizes), dtype=np.int64)

    @property
    def rows(self) -> Ints:
        """The counts, one row a pattern."""
        return self._rows[: len(self.stocks)]

    def add(self, stock: int, row: Ints) -> bool:
        """Add a pattern; False where it is known."""
        key = stock, row.tobytes()
        if key in self.known:
            return False
        self.known.add(key)
        if len(self.stocks) == len(self._rows):
            self._rows = np.vstack([self._rows, np.zeros_like(self._rows)])
        self._rows[len(self.stocks)] = row
        self.stocks.append(stock)
        return True


class Master:
    """The LP itself; the dearest stick costs 1, `outside` is the price of leaving out a piece of each size."""

    def __init__(self, demands: Ints, costs: Floats, outside: Floats) -> None:
        self.m, self.costs = demands.size, costs
        self.columns = Columns(self.m)
        self.moved = True  # the right-hand side has changed since the last solution: the dual simplex goes on from it
        self.lp = quiet_highs(presolve="off")
        none = np.zeros(0, dtype=np.int32), np.zeros(0)
        for d in demands:
            self.lp.addRow(float(d), highspy.kHighsInf, 0, *none)
        for _ in costs:
            self.lp.addRow(0.0, highspy.kHighsInf, 0, *none)
        for i in range(self.m):
            self.lp.addCol(float(outside[i]), 0.0, highspy.kHighsInf, 1, np.array([i], dtype=np.int32), np.ones(1))

    def add(self, stock: int, row: Ints) -> bool:
        """Add a pattern; False where it is there already."""
        if not self.columns.add(stock, row):
            return False
        index = np.flatnonzero(row).astype(np.int32)
        value = np.append(row[index].astype(np.float64), 1.0)
        index = np.append(index, np.int32(self.m + stock))
        self.lp.addCol(float(self.costs[stock]), 0.0, highspy.kHighsInf, index.size, index, value)
        return True

    def solve(self) -> tuple[float, Floats, Floats]:
        """Return the value, the duals of the sizes (≥ 0), and those of the sticks (below 0 where short of them)."""
        self.lp.setOptionValue("simplex_strategy", DUAL if self.moved else PRIMAL)
        self.moved = False
        self.lp.run()
        duals = np.array(self.lp.getSolution().row_dual)
        return self.lp.getInfo().objective_function_value, np.maximum(duals[: self.m], 0.0), duals[self.m :]

    def basis(self) -> Any:
        """Return where the LP stands, to come back to with `restore`."""
        return self.lp.getBasis()

    def restore(self, basis: Any) -> None:
        """Go back to where the LP stood; patterns found since are out of use."""
        fresh = self.m + len(self.columns.stocks) - len(basis.col_status)
        if fresh:
            basis.col_status = [*basis.col_status, *[highspy.HighsBasisStatus.kLower] * fresh]
        self.lp.setBasis(basis)

    def weights(self) -> Floats:
        """Return how often each pattern is used; the pieces left out come first (m entries)."""
        return np.array(self.lp.getSolution().col_value)

    def usage(self) -> Floats:
        """Return how many sticks of each kind are used."""
        stocks = np.array(self.columns.stocks, dtype=np.int64)
        usage: Floats = np.bincount(stocks, self.weights()[self.m :], self.costs.size).astype(np.float64)
        return usage

    def restrict(self, state: State) -> None:
        """Set what is still to be covered and how many sticks may be used; patterns that hold more are shut out."""
        self.moved = True
        for i, d in enumerate(state.demands):
            self.lp.changeRowBounds(i, float(d), highspy.kHighsInf)
        for s in range(self.costs.size):
            high = float(state.most[s]) if state.most[s] < UNLIMITED else highspy.kHighsInf
            self.lp.changeRowBounds(self.m + s, float(state.least[s]), high)
        if self.columns.stocks:
            proper: NDArray[np.bool_] = np.all(self.columns.rows <= state.demands, axis=1)
            index = np.arange(self.m, self.m + len(proper), dtype=np.int32)
            upper = np.where(proper, highspy.kHighsInf, 0.0)
            self.lp.changeColsBounds(index.size, index, np.zeros(index.size), upper)
