"""Shared mitres and pieces that must be held, against an exact model that knows no patterns and no code of ours."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import pytest

from casewright.layout.model import StickDemand, StickEnd, StickPart, StickStock
from casewright.layout.sticks import solve_sticks
from casewright.layout.verify_sticks import verify_sticks

ENDS = {"M": StickEnd.MITRE, "S": StickEnd.SQUARE, "I": StickEnd.MITRE_IN}
SIGN = {StickEnd.SQUARE: 0, StickEnd.MITRE: -1, StickEnd.MITRE_IN: 1}


def _part(chance: random.Random, number: int, runs: tuple[int, int], longest: int) -> StickPart:
    left, right = (ENDS[end] for end in chance.choice(("MM", "MS", "SM", "SS", "MI", "II")))
    a, b = chance.choice(runs), chance.choice(runs)
    return StickPart(
        id=f"p{number}",
        length=chance.randint(a + b + 2, longest),
        count=chance.randint(1, 2),
        left=left,
        right=right,
        left_run=a if left is not StickEnd.SQUARE else 0,
        right_run=b if right is not StickEnd.SQUARE else 0,
    )


def _tiny(seed: int) -> StickDemand:
    chance = random.Random(seed)
    runs = chance.choice(((12, 12), (37, 37), (60, 20)))
    parts: list[StickPart] = []
    while sum(p.count for p in parts) < 5:
        parts.append(_part(chance, len(parts), runs, 400))
    stock = (
        StickStock(id="short", length=chance.randint(600, 800), price=chance.randint(50, 80)),
        StickStock(id="long", length=chance.randint(900, 1200), price=chance.randint(80, 120)),
        StickStock(id="offcut", length=chance.randint(300, 500), count=1, offcut=True),
    )
    return StickDemand(
        parts=tuple(parts),
        stock=stock,
        kerf=3,
        mitre_kerf=chance.choice((0, 5)),
        end_trim=chance.choice((0, 6)),
        least_held=chance.choice((0, 100, 150)),
        share_mitres=seed % 4 > 0,
    )


def _lying(part: StickPart, turned: bool) -> tuple[int, int]:
    """Slopes of the ends as they lie: outer face less inner face."""
    slopes = SIGN[part.left] * part.left_run, -SIGN[part.right] * part.right_run
    return (slopes[1], slopes[0]) if turned else slopes


def _sets_that_fit(demand: StickDemand, pieces: list[StickPart], source: StickStock) -> set[int]:
    """Every set of pieces (as bits) that some order and turns lay on a stick, all orders tried."""
    wide, trim = demand.mitre_kerf or demand.kerf, 0 if source.offcut else demand.end_trim
    turns = (False, True) if demand.share_mitres else (False,)
    starts = {(1 << i, i, turned): trim for i in range(len(pieces)) for turned in turns}
    fit: set[int] = set()
    for bits in range(1, 1 << len(pieces)):
        for i, turned in ((i, t) for i in range(len(pieces)) for t in turns if (bits, i, t) in starts):
            end = starts[bits, i, turned] + pieces[i].length
            held = end == source.length or max(pieces[i].length, source.length - end) >= demand.least_held
            if held and end <= source.length - trim:
                fit.add(bits)
            for k, other in ((k, t) for k in range(len(pieces)) for t in turns if not bits >> k & 1):
                right, left = _lying(pieces[i], turned)[1], _lying(pieces[k], other)[0]
                kerf = wide if right or left else demand.kerf
                at = end + kerf - (abs(right) if demand.share_mitres and right == left else 0)
                inside = at + pieces[k].length <= source.length - trim
                key = bits | 1 << k, k, other
                if inside and max(pieces[i].length, source.length - at) >= demand.least_held:
                    starts[key] = min(at, starts.get(key, at))
    return fit


def _exact(demand: StickDemand) -> int:
    pieces = [p for p in demand.parts for _ in range(p.count)]
    fit = [_sets_that_fit(demand, pieces, s) for s in demand.stock]

    @cache
    def least(bits: int, offcuts: int) -> int:
        if not bits:
            return 0
        costs = [10**9]
        part = bits
        while part:
            for source, sets in zip(demand.stock, fit, strict=True):
                if part & bits & -bits and part in sets and (offcuts or not source.offcut):
                    costs.append(source.price + least(bits ^ part, offcuts - source.offcut))
            part = (part - 1) & bits
        return min(costs)

    return least((1 << len(pieces)) - 1, 1)


@pytest.mark.parametrize("seed", range(40))
def test_cost_equals_all_orders_tried(seed: int) -> None:
    demand = _tiny(seed)
    layout = solve_sticks(demand)
    assert verify_sticks(demand, layout) == ()
    assert layout.outcome.proven
    assert layout.outcome.value == _exact(demand)


@pytest.mark.parametrize("seed", range(6))
def test_moulding_jobs_of_a_shop_are_proven(seed: int) -> None:
    """Fronts mitred at both ends and returns at one, three stock lengths: 6 to 40 pieces with and without sharing."""
    chance = random.Random(seed)
    parts = [_part(chance, i, (37, 37), 1200) for i in range(chance.randint(3, 10))]
    parts = [replace(p, count=chance.randint(2, 4)) for p in parts]
    stock = tuple(StickStock(id=f"{x}", length=x, price=round(x * 0.52)) for x in (2438, 3658, 4877))
    demand = StickDemand(
        parts=tuple(parts), stock=stock, kerf=2, end_trim=6, least_held=203, share_mitres=seed % 2 == 0
    )
    layout = solve_sticks(demand)
    assert verify_sticks(demand, layout) == ()
    assert layout.outcome.proven
