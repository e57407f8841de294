"""Which costs an answer can have, and the next one above a bound."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sticks.problem import Problem

REACHABLE_BITS = 4_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """`unit` divides every cost; `scaled` are costs over the dearest; `reachable` has bit k set for k units payable."""

    unit: int
    dearest: int
    scaled: NDArray[np.float64]
    reachable: int
    limit: int

    def at_least(self, scaled: float) -> int:
        """Return the lowest cost that an answer can have at or above `scaled` dearest sticks."""
        units = max(0, math.ceil(scaled * self.dearest / self.unit - 1e-6 * max(1.0, scaled)))
        if units < self.limit:
            above = self.reachable >> units
            if above:
                units += (above & -above).bit_length() - 1
        return units * self.unit

    def below(self, cost: int) -> int | None:
        """Return the highest cost that an answer can have below `cost`, None where there is none."""
        units = cost // self.unit - 1
        if 0 <= units < self.limit:
            under = self.reachable & ((1 << (units + 1)) - 1)
            return (under.bit_length() - 1) * self.unit
        return units * self.unit if units >= 0 else None


def make_costs(problem: Problem, most: int) -> Costs:
    """Return the costs of `problem`, of which no answer of interest costs more than `most`."""
    unit = math.gcd(*problem.costs) or 1
    dearest = max(*problem.costs, 1)
    limit = most // unit + 1
    reachable = 0
    if limit <= REACHABLE_BITS:
        mask = (1 << limit) - 1
        reachable = 1
        for cost, count in sorted(set(zip(problem.costs, problem.counts, strict=True))):
            step, lot, left = cost // unit, 1, min(count, limit // max(1, cost // unit))
            while left > 0 and step:
                n = min(lot, left)
                reachable = (reachable | reachable << (n * step)) & mask
                left -= n
                lot *= 2
    scaled = np.array(problem.costs, dtype=np.float64) / dearest
    return Costs(unit=unit, dearest=dearest, scaled=scaled, reachable=reachable, limit=limit if reachable else 0)
