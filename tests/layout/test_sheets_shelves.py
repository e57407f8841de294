"""Shelves without waste, and sets of sheets filled with them: what they hold is counted and measured here."""

from __future__ import annotations

import random

import numpy as np
import pytest
from tests.layout.sheet_jobs import cut_up

from casewright.layout.model import GRID, Goal, Saws, SheetDemand, SheetPart, SheetStock, Status
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.engine import build, new_engine, patterns_of
from casewright.layout.sheets.goals import answer
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.rungs import Rungs
from casewright.layout.sheets.scales import all_rows
from casewright.layout.sheets.shelf_search import ShelfSearch
from casewright.layout.sheets.shelves import find_shelf, new_bench
from casewright.layout.sheets.stock_sets import StockSets
from casewright.layout.verify_sheets import verify_sheets

KINDS = ((90, 70), (60, 100), (50, 50))
LARGE = 2  # sheets of each kind that hold everything without waste


def _demand(pieces: int, *, kerf: int = 0, scale: int = 1, spare: tuple[int, int] | None = None) -> SheetDemand:
    """Parts cut from two sheets of each kind; a strip of the `spare` size may be bought as well."""
    rng = random.Random(1)
    boxes = [box for kind in KINDS for _ in range(LARGE) for box in cut_up(rng, kind, pieces, kerf)]
    rng.shuffle(boxes)
    parts = tuple(SheetPart(id=str(i), length=x * scale, width=y * scale) for i, (x, y) in enumerate(boxes))
    sizes = KINDS if spare is None else (*KINDS, spare)
    stock = tuple(
        SheetStock(id=str(k), length=x * scale, width=y * scale, price=(x + kerf) * (y + kerf), count=LARGE)
        for k, (x, y) in enumerate(sizes)
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=kerf * scale), goals=(Goal.COST,))


@pytest.mark.parametrize("axis", [0, 1])
def test_a_shelf_is_full_and_takes_each_piece_once(axis: int) -> None:
    rng = random.Random(0)
    size = np.array([(rng.randint(10, 40), rng.randint(10, 40)) for _ in range(200)])
    bench = new_bench(size, 300, seed=0)
    used: list[int] = []
    found = 0
    for high in range(20, 60):
        if not find_shelf(bench, axis, 300, high):
            continue
        found += 1
        length = 0
        for block in bench.chosen[: bench.chosen[-1]]:
            bars = [[p for p in bench.bar[i] if p >= 0] for i in bench.block[block] if i >= 0]
            longs = {sum(int(size[p][axis]) for p in bar) for bar in bars}
            talls = [{int(size[p][1 - axis]) for p in bar} for bar in bars]
            assert len(longs) == 1
            assert all(len(tall) == 1 for tall in talls)
            assert sum(tall.pop() for tall in talls) == high
            length += longs.pop()
            used += [int(p) for bar in bars for p in bar]
        assert length == 300
    assert found >= 3
    assert len(used) == len(set(used))
    assert sorted(used) == np.flatnonzero(bench.free == 0).tolist()


@pytest.mark.parametrize(("kerf", "scale"), [(0, 1), (1, 1), (1, GRID)])
def test_a_set_with_little_to_spare_is_filled_with_shelves(kerf: int, scale: int) -> None:
    """Two per cent of waste on 120 or 240 parts: most of it lies outside the shelves, so that few steps are enough."""
    demand = _demand(40 if kerf == 0 else 20, kerf=kerf, scale=scale, spare=(30, 20))
    problem = read(demand)
    engine = new_engine(problem, 0, 8)
    build(engine)
    assert ShelfSearch.suits(problem)
    search = ShelfSearch(engine, 0)
    tries = (search.seek((2, 2, 2, 1), 8_000, 1 << 40, lambda: True) for _ in range(12))
    assert any(result is not None and result[0] for result in tries)
    patterns = patterns_of(engine)
    assert engine.complete
    assert patterns is not None
    laid = answer(demand, patterns, (), bound=0, status=Status.TIME, seed=0, steps=0, seconds=0.0)
    assert verify_sheets(demand, laid) == ()
    assert laid.outcome.value <= sum(2 * sheet.price for sheet in demand.stock[:3]) + demand.stock[3].price


def test_sets_that_are_only_put_off_prove_nothing() -> None:
    """More parts than the joining takes, and a set without waste: what is not found is not called impossible."""
    demand = _demand(30)
    layout = solve_sheets(demand, steps=4_000)
    least = sum(LARGE * sheet.price for sheet in demand.stock)
    assert layout.outcome.bound <= least
    problem = read(demand)
    engine = new_engine(problem, 0, 8)
    build(engine)
    rungs = Rungs(engine, StockSets(problem, all_rows(problem), 0), least)
    assert rungs.below(least + rungs.sets.step, engine.steps + 50, lambda: True) is False


def test_parts_that_may_turn_have_no_shelves() -> None:
    demand = _demand(10)
    turning = SheetPart(id="turning", length=10, width=20, turn=True)
    with_turning = SheetDemand(parts=(*demand.parts, turning), stock=demand.stock, saws=demand.saws)
    assert not ShelfSearch.suits(read(with_turning))
