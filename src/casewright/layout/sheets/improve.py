"""Improvement of a first layout: the price of stock first, then the other goals at that price."""

from __future__ import annotations

from typing import TYPE_CHECKING

from casewright.layout.model import GRID, Goal, SheetDemand, SheetPart, SheetStock, Saws
from casewright.layout.sheets.engine import (
    BLINK,
    ENDLESS,
    MOST,
    SPICE,
    Engine,
    build,
    lower,
    new_engine,
    patterns_of,
    seek,
    step_of_price,
)
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.recreate import run as run_steps

if TYPE_CHECKING:
    from casewright.layout.sheets.solve import Run


def improve(run: Run, steps: int | None) -> None:
    """Search within the budget; every better layout is offered to the run."""
    problem, best = run.problem, run.best
    assert best is not None
    budget = ENDLESS if steps is None else steps
    sheets = sum(p.times for p in best.patterns if not p.locked)
    engine = new_engine(problem, run.seed, sheets + 4)
    known = best.outcome.value - problem.locked_cost if not best.unplaced else ENDLESS
    build(engine, known)
    _lower_cost(run, engine, known, budget)
    run.steps = engine.steps


def _lower_cost(run: Run, engine: Engine, known: int, budget: int) -> None:
    step = step_of_price(run.problem)
    floor = run.bound - run.problem.locked_cost
    goal = known
    while goal >= floor:
        if engine.complete:
            run.steps = engine.steps
            patterns = patterns_of(engine)
            if patterns is not None:
                run.offer(patterns, run.problem.hopeless, "search")
            goal = min(known, engine.cost) - step
            known = min(known, engine.cost)
            if goal < floor:
                break
            lower(engine, goal)
        if not seek(engine, goal, budget, run.go_on):
            break


def warm() -> None:
    """Compile (or load) every kernel by solving a small problem."""
    parts = tuple(SheetPart(id=str(i), length=(300 + 7 * i) * GRID, width=200 * GRID, turn=True) for i in range(8))
    sheet = SheetStock(id="sheet", length=700 * GRID, width=500 * GRID, price=1)
    problem = read(SheetDemand(parts=parts, stock=(sheet,), saws=Saws(kerf=GRID), goals=(Goal.COST,)))
    engine = new_engine(problem, 0, 8)
    build(engine)
    lower(engine, 2)
    run_steps(engine.search, engine.room, 2, 5, MOST, SPICE, BLINK)
