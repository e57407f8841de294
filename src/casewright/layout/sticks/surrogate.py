"""A bound from one inequality: sticks must together gain what the pieces are worth.

At any duals no stick gains more than its best pattern, so the cheapest whole numbers of sticks whose
gains reach the worth of the demand bound the cost. The relaxation allows fractions of sticks here; this
does not.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.master import State
from casewright.layout.sticks.problem import UNLIMITED, Problem

Floats = NDArray[np.float64]

CELLS = 2_000_000


def surrogate_bound(problem: Problem, costs: Costs, state: State, duals: Floats, gains: Floats, most: int) -> int:
    """Return the bound at `duals`, where `gains` is the most that each stick's pieces are worth at them.

    `most` (or 0, where the table would be too large) is the highest that it returns.
    """
    from casewright.layout.sticks import kernels

    prices = np.array(problem.costs, dtype=np.int64) // costs.unit
    units = most // costs.unit
    if (prices.size + 1) * (units + 1) > CELLS:
        return 0
    usable = np.where(state.most >= UNLIMITED, units // np.maximum(1, prices) + 1, state.most) - state.least
    worth = float(state.demands @ duals - gains @ state.least)
    spent = int(prices @ state.least)
    free = prices == 0
    worth -= float((gains * usable)[free].sum())
    table = np.zeros((prices.size + 1, max(0, units - spent) + 1))
    usable = np.maximum(0, np.where(free, 0, usable))
    kernels.fill_table(prices, usable, gains, table.shape[1] - 1, table)
    reached = int(np.searchsorted(table[0], worth - 1e-7 * max(1.0, abs(worth))))
    return min(most, (spent + reached) * costs.unit)
