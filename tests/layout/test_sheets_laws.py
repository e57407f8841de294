"""Laws of sheet layouts: every answer verifies, whatever the saws demand; repeats; more freedom costs no more."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.layout.sheet_jobs import MM, shop_job

from casewright.layout.model import Goal, Report, Saws, SheetDemand, SheetPart, SheetStock, Status
from casewright.layout.sheets import solve_sheets
from casewright.layout.verify_sheets import verify_sheets


@settings(max_examples=25)
@given(st.integers(0, 10_000))
def test_every_answer_verifies(seed: int) -> None:
    demand = shop_job(seed)
    layout = solve_sheets(demand, steps=150)
    assert verify_sheets(demand, layout) == ()


@pytest.mark.parametrize("seed", range(4))
def test_the_search_keeps_the_saws_limits_by_itself(seed: int) -> None:
    """The slicing trees' own rules suffice: what the search offers is not thrown away by the verifier."""
    rng = random.Random(seed)
    parts = tuple(
        SheetPart(id=f"p{i}", length=rng.randint(100, 700) * MM, width=rng.randint(60, 400) * MM, count=2, turn=True)
        for i in range(14)
    )
    stock = (SheetStock(id="full", length=2440 * MM, width=1220 * MM, price=1),)
    saws = Saws(kerf=3 * MM, breakdown_allowance=4 * MM, lift_length=1300 * MM, lift_width=1250 * MM)
    demand = SheetDemand(parts=parts, stock=stock, saws=saws, stages=4)
    notes: list[Report] = []
    layout = solve_sheets(demand, steps=400, progress=notes.append)
    assert verify_sheets(demand, layout) == ()
    assert notes[-1].note == "search"


def test_equal_seed_equal_layout() -> None:
    demand = shop_job(6)
    once, again = (solve_sheets(demand, seed=3, steps=400) for _ in range(2))
    assert once.patterns == again.patterns
    assert replace(once.outcome, seconds=0.0) == replace(again.outcome, seconds=0.0)


def _small(kerf: int, sheets: int | None, seed: int) -> SheetDemand:
    rng = random.Random(seed)
    parts = tuple(
        SheetPart(id=str(i), length=rng.randint(20, 70), width=rng.randint(20, 70), turn=True) for i in range(9)
    )
    stock = (SheetStock(id="s", length=100, width=100, price=5, count=sheets),)
    if sheets is None:
        stock += (SheetStock(id="small", length=80, width=80, price=3),)
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=kerf), goals=(Goal.COST,))


@pytest.mark.parametrize("seed", range(8))
def test_more_freedom_never_costs_more_at_proof(seed: int) -> None:
    """A narrower blade, or another sheet size, can only help; the proven value may not rise."""
    plain = solve_sheets(_small(0, 9, seed), steps=3000).outcome
    kerf = solve_sheets(_small(3, 9, seed), steps=3000).outcome
    more = solve_sheets(_small(0, None, seed), steps=3000).outcome
    assert plain.bound <= kerf.value
    assert more.bound <= plain.value
    if plain.proven and kerf.proven:
        assert plain.value <= kerf.value
    if plain.proven and more.proven:
        assert more.value <= plain.value


def test_later_goals_never_cost_stock() -> None:
    demand = shop_job(11)
    alone = solve_sheets(replace(demand, goals=(Goal.COST,)), steps=400)
    every = solve_sheets(demand, steps=500)  # a fifth of the budget goes to the later goals
    assert verify_sheets(demand, every) == ()
    assert every.outcome.value <= alone.outcome.value


def test_reordered_goals_are_answered_in_their_order() -> None:
    demand = replace(shop_job(4), goals=(Goal.CUTS, Goal.COST))
    layout = solve_sheets(demand, steps=300)
    assert verify_sheets(demand, layout) == ()
    assert [goal for goal, _ in layout.outcome.goals] == [Goal.CUTS, Goal.COST]


def test_locked_patterns_stay_and_count() -> None:
    demand = replace(shop_job(8), first=None, stages=None)
    done = solve_sheets(demand, steps=0).patterns[0]
    locked = replace(done, times=1, locked=True)
    layout = solve_sheets(replace(demand, locked=(locked,)), steps=200)
    assert verify_sheets(replace(demand, locked=(locked,)), layout) == ()
    assert locked in layout.patterns


class _Now:
    def is_set(self) -> bool:
        return True


def test_a_stop_still_brings_a_whole_layout() -> None:
    demand = shop_job(9)
    layout = solve_sheets(demand, stop=_Now())
    assert verify_sheets(demand, layout) == ()
    assert layout.outcome.status in (Status.STOPPED, Status.PROVEN, Status.INFEASIBLE)


def test_many_equal_parts_become_patterns_with_a_count() -> None:
    rng = random.Random(2)
    parts = tuple(
        SheetPart(id=f"p{i}", length=rng.randint(100, 800) * MM, width=rng.randint(60, 500) * MM, count=700, turn=True)
        for i in range(10)
    )
    stock = (SheetStock(id="full", length=2440 * MM, width=1220 * MM, price=9000),)
    demand = SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=3 * MM), goals=(Goal.COST,))
    layout = solve_sheets(demand, steps=2000)
    assert verify_sheets(demand, layout) == ()
    assert max(pattern.times for pattern in layout.patterns) > 10
    assert layout.outcome.gap < 0.1
