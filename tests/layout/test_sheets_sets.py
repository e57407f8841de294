"""Sets of sheets that could hold everything: the same as by trying every count."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest

from casewright.layout.model import Goal, Saws, SheetDemand, SheetPart, SheetStock
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.stock_sets import StockSets, rows_of
from casewright.layout.verify_sheets import verify_sheets


def _demand(seed: int) -> SheetDemand:
    rng = random.Random(seed)
    parts = tuple(
        SheetPart(id=str(i), length=rng.randint(5, 60), width=rng.randint(5, 30), count=rng.randint(1, 3))
        for i in range(8)
    )
    stock = tuple(
        SheetStock(id=str(k), length=length, width=width, price=price, count=rng.choice((2, 3, 4)))
        for k, (length, width, price) in enumerate(((60, 60, 40), (60, 30, 22), (30, 40, 13), (60, 10, 0)))
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=1), goals=(Goal.COST,))


def _holds(demand: SheetDemand, counts: tuple[int, ...]) -> bool:
    """Area enough for every choice of parts that go on none but some kinds (each with its kerf, sheets one larger)."""
    kinds = range(len(demand.stock))
    for some in itertools.chain.from_iterable(itertools.combinations(kinds, n) for n in range(1, len(kinds) + 1)):
        only = [
            part
            for part in demand.parts
            if all(
                k in some
                for k in kinds
                if part.length <= demand.stock[k].length and part.width <= demand.stock[k].width
            )
        ]
        need = sum((part.length + 1) * (part.width + 1) * part.count for part in only)
        if need > sum(counts[k] * (demand.stock[k].length + 1) * (demand.stock[k].width + 1) for k in some):
            return False
    return True


@pytest.mark.parametrize("seed", range(4))
def test_sets_between_two_prices_are_all_that_could_do(seed: int) -> None:
    demand = _demand(seed)
    problem = read(demand)
    sets = StockSets(problem, rows_of(problem), seed)
    ranges = [range(sheet.count + 1) if sheet.price else (sheet.count,) for sheet in demand.stock if sheet.count]
    low, high = 60, 130
    tried = {counts for counts in itertools.product(*ranges) if low <= sets.price(counts) <= high}
    found = sets.between(low, high)
    assert sets.all_seen
    assert len(found) == len(set(found))
    assert {counts for counts in tried if _holds(demand, counts)} <= set(found) <= tried
    assert all(
        sum(n * x for n, x in zip(c, rows_of(problem)[0].room, strict=True)) >= rows_of(problem)[0].need for c in found
    )


@pytest.mark.parametrize("seed", range(2))
def test_several_kinds_never_cost_more_than_the_first_layout(seed: int) -> None:
    demand = _demand(seed)
    demand = replace(demand, stock=(replace(demand.stock[0], count=None), *demand.stock[1:]))
    first = solve_sheets(demand, steps=0)
    layout = solve_sheets(demand, steps=6_000, seed=seed)
    assert verify_sheets(demand, layout) == ()
    assert not layout.unplaced
    assert layout.outcome.bound <= layout.outcome.value <= first.outcome.value
