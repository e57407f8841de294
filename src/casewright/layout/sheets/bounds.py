"""Lower bounds of the cost of stock: what no layout can beat.

Area bound: parts (each with the kerf that frees it, sheets one kerf larger) fill area; whole sheets are
bought for the least that gives this area, offcuts on hand first, counts respected.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from casewright.layout.model import GRID, Goal
from casewright.layout.sheets.problem import Problem

MOST_COSTS = 30_000
FEW = 20


def continuous(problem: Problem) -> int:
    """Least cost of stock whose area takes all things of the problem (without the locked sheets)."""
    kerf = min(problem.rules.kerf, problem.rules.rough)
    need = sum((p.length + kerf) * (p.width + kerf) * t.count for t in problem.things for p in t.members)
    room = [(length + kerf) * (width + kerf) for length, width in problem.inner]
    prices = [sheet.price for sheet in problem.sheets]
    return cheapest(need, room, prices, problem.left)


def cheapest(need: int, room: Sequence[int], prices: Sequence[int], left: Sequence[int | None], least: int = 0) -> int:
    """Least cost, at least `least`, of whole sheets with `room` in total at least `need`.

    Fractional where there are too many costs.
    """
    for i, price in enumerate(prices):
        if price == 0:  # offcuts on hand are free
            count = left[i]
            need = need - room[i] * count if count is not None else 0
    if need <= 0:
        return least
    paid = [i for i, price in enumerate(prices) if price > 0 and room[i] > 0]
    if not paid:
        return least  # it cannot be had: the layout will say so
    floor = whole_price(max(least, _fractional(need, paid, room, prices)), [prices[i] for i in paid])
    step = math.gcd(*(prices[i] for i in paid))
    most = floor // step + max(prices[i] for i in paid) // step + 1
    return (
        floor
        if most > MOST_COSTS
        else _least_cost(need, floor, step, most, [(room[i], prices[i], left[i]) for i in paid])
    )


def _fractional(need: int, paid: Sequence[int], room: Sequence[int], prices: Sequence[int]) -> int:
    best = min(paid, key=lambda i: (prices[i] / room[i], i))
    return -(-need * prices[best] // room[best])


def _least_cost(need: int, floor: int, step: int, most: int, sheets: Sequence[tuple[int, int, int | None]]) -> int:
    """First cost from `floor` on for which sheets of enough area can be bought (a knapsack over costs)."""
    area = [0] * (most + 1)  # greatest area for a cost of so many steps
    for room, price, left in sheets:
        size = price // step
        copies = 0 if left is None or left > FEW else left
        for _ in range(copies):
            for cost in range(most, size - 1, -1):
                area[cost] = max(area[cost], area[cost - size] + room)
        if left is None or left > FEW:  # more than a few count as endless: still a bound
            for cost in range(size, most + 1):
                area[cost] = max(area[cost], area[cost - size] + room)
    return next((step * cost for cost in range(floor // step, most + 1) if area[cost] >= need), floor)


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
