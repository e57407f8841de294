"""Bounds for several kinds of sheet: against counting by hand, enumeration, and layouts that exist."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from casewright.layout.model import GRID, Goal, Saws, SheetDemand, SheetPart, SheetStock
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.bounds import continuous
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.scales import exaggerated, least_price, room_along

MM = GRID


def test_parts_of_more_than_half_a_sheet_are_counted() -> None:
    # One 6 x 6 goes on a 10 x 10 (price 5) and three, end to end, on a 10 x 20 (price 9): four cost 14 or more.
    part = SheetPart(id="part", length=6, width=6, count=4)
    stock = (
        SheetStock(id="small", length=10, width=10, price=5),
        SheetStock(id="long", length=10, width=20, price=9),
    )
    demand = SheetDemand(parts=(part,), stock=stock, saws=Saws(kerf=0), goals=(Goal.COST,))
    problem = read(demand)
    assert continuous(problem) == 9
    assert least_price(problem, 9, 20) == 14
    assert solve_sheets(demand, steps=1).outcome.proven


@pytest.mark.parametrize("seed", range(5))
def test_room_along_a_side_is_no_less_than_any_choice_takes(seed: int) -> None:
    rng = random.Random(seed)
    full = 20
    sizes = [rng.randint(2, 12) for _ in range(4)]
    count = [rng.randint(1, 3) for _ in sizes]
    values = np.array([[rng.random() for _ in sizes] for _ in range(3)])
    room = room_along(full, np.array(sizes), np.array(count), values)
    for row, most in zip(values, room, strict=True):
        best = max(
            sum(n * v for n, v in zip(chosen, row, strict=True))
            for chosen in itertools.product(*(range(n + 1) for n in count))
            if sum(n * size for n, size in zip(chosen, sizes, strict=True)) <= full
        )
        assert most == pytest.approx(best)


def _job(seed: int) -> SheetDemand:
    """Parts of which many are more than half as long or wide as some sheet."""
    rng = random.Random(seed)
    parts = tuple(
        SheetPart(
            id=str(i),
            length=round(rng.uniform(200, 2000) * MM),
            width=round(rng.uniform(100, 900) * MM),
            count=rng.randint(1, 3),
            turn=rng.random() < 0.4,
        )
        for i in range(rng.randint(2, 15))
    )
    stock = (
        SheetStock(id="full", length=2440 * MM, width=1220 * MM, price=9000, trim=(5 * MM,) * 4),
        SheetStock(id="square", length=1525 * MM, width=1525 * MM, price=7000),
        SheetStock(id="offcut", length=1000 * MM, width=700 * MM, count=2, offcut=True),
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=round(3.2 * MM)), goals=(Goal.COST,))


@pytest.mark.parametrize("seed", range(30))
def test_no_layout_has_less_room_than_the_bound_asks(seed: int) -> None:
    demand = _job(seed)
    layout = solve_sheets(demand, steps=0)
    problem = read(demand)
    if layout.unplaced:
        return
    counts = [sum(p.times for p in layout.patterns if p.stock == sheet.id) for sheet in problem.sheets]
    rows = exaggerated(problem)
    assert rows
    for row in rows:
        assert np.dot(counts, row.room) >= row.need


def test_large_parts_raise_the_bound_of_many_jobs() -> None:
    raised = sum(
        least_price(problem, low, 10 * low) > low
        for problem in map(read, map(_job, range(30)))
        if (low := continuous(problem)) > 0
    )
    assert raised >= 15
