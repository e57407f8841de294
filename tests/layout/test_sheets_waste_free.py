"""Parts that were cut from sheets without waste go back onto them."""

from __future__ import annotations

import random

import pytest
from tests.layout.sheet_jobs import cut_up

from casewright.layout.model import GRID, Goal, Saws, SheetDemand, SheetPart, SheetStock
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.waste_free import waste_free_sets
from casewright.layout.verify_sheets import verify_sheets


def _demand(seed: int, kerf: int, scale: int) -> SheetDemand:
    rng = random.Random(seed)
    kinds = ((900, 700), (600, 1000), (500, 500))
    boxes = [box for kind in kinds for box in cut_up(rng, kind, 11, kerf)]
    rng.shuffle(boxes)
    parts = tuple(SheetPart(id=str(i), length=x * scale, width=y * scale) for i, (x, y) in enumerate(boxes))
    stock = tuple(
        SheetStock(id=str(k), length=x * scale, width=y * scale, price=(x + kerf) * (y + kerf), count=4)
        for k, (x, y) in enumerate(kinds)
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=kerf * scale), goals=(Goal.COST,))


@pytest.mark.parametrize(("seed", "kerf", "scale"), [(0, 0, 1), (1, 4, 1), (2, 3, GRID)])
def test_sheets_cut_without_waste_are_found_again(seed: int, kerf: int, scale: int) -> None:
    demand = _demand(seed, kerf, scale)
    layout = solve_sheets(demand, steps=20_000)
    assert verify_sheets(demand, layout) == ()
    assert not layout.unplaced
    assert layout.outcome.proven
    assert layout.outcome.value == sum(sheet.price for sheet in demand.stock)


def test_a_set_with_waste_is_not_tried() -> None:
    demand = _demand(0, 0, 1)
    price = sum(sheet.price for sheet in demand.stock)
    problem = read(demand)
    assert (1, 1, 1) in waste_free_sets(problem, price)
    assert waste_free_sets(problem, price + 1) == []
    turning = SheetPart(id="turning", length=10, width=20, turn=True)
    with_turning = SheetDemand(parts=(*demand.parts, turning), stock=demand.stock, saws=demand.saws)
    assert waste_free_sets(read(with_turning), price + 200) == []
