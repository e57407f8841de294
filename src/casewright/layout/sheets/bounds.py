"""Lower bounds of the cost of stock: what no layout can beat.

Continuous bound: parts (each with the kerf that frees it, sheets one kerf larger) fill area; sheets are bought at the
best price per area, offcuts on hand first, counts respected.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from casewright.layout.model import GRID, Goal
from casewright.layout.sheets.problem import Problem


def continuous(problem: Problem) -> int:
    """Least cost of stock whose area takes all things of the problem (without the locked sheets)."""
    kerf = min(problem.rules.kerf, problem.rules.rough)
    need = sum((p.length + kerf) * (p.width + kerf) * t.count for t in problem.things for p in t.members)
    room = [(length + kerf) * (width + kerf) for length, width in problem.inner]
    prices = [sheet.price for sheet in problem.sheets]
    return cheapest(need, room, prices, problem.left)


def cheapest(need: int, room: Sequence[int], prices: Sequence[int], left: Sequence[int | None]) -> int:
    """Least cost of stock with `room` in total at least `need`: fractional, or whole sheets where all are alike."""
    cost_num, spent = 0, 0
    for i in sorted(range(len(room)), key=lambda i: (prices[i] / room[i], i)):
        if need <= 0:
            break
        pieces = -(-need // room[i])
        available = left[i]
        if available is None or pieces <= available:
            # exact integer ceiling of the fractional cost of what is still needed
            cost_num = -(-need * prices[i] // room[i])
            need = 0
        else:
            spent += prices[i] * available
            need -= room[i] * available
    return whole_price(spent + cost_num, prices)


def whole_price(cost: int, prices: Sequence[int]) -> int:
    """Raise a bound to the next cost that whole sheets can have: a multiple of what divides all prices."""
    step = math.gcd(*prices)
    return -(-cost // step) * step if step else cost


def lower_bound(problem: Problem) -> int:
    """Bound of the demand's first goal, in the sense in which its value is small when good."""
    goals = problem.demand.goals
    if goals and goals[0] is Goal.COST:
        return problem.locked_cost + continuous(problem)
    if goals and goals[0] is Goal.OFFCUTS:
        return -sum(s.length * s.width * (s.count or 0) for s in problem.demand.stock if s.offcut) // GRID**2
    if goals and goals[0] is Goal.REMNANT:
        return -max((x * y for x, y in problem.inner), default=0) // GRID**2
    return 0
