"""Improvement of a first layout: the price of stock first, then the other goals at that price."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from casewright.layout.model import GRID, Goal, Saws, SheetDemand, SheetLayout, SheetPart, SheetPattern, SheetStock
from casewright.layout.sheets.columns import generate, rounded
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
from casewright.layout.sheets.fill import Filling
from casewright.layout.sheets.first import first_layout
from casewright.layout.sheets.problem import Problem, read
from casewright.layout.sheets.recreate import run as run_steps
from casewright.layout.sheets.relaxation import recombined, relaxation
from casewright.layout.sheets.rungs import Rungs
from casewright.layout.sheets.scales import all_rows
from casewright.layout.sheets.shelves import find_shelf, new_bench
from casewright.layout.sheets.stock_sets import StockSets
from casewright.layout.sheets.tidy import Tidy
from casewright.layout.sheets.trees import Trees
from casewright.layout.sheets.waste_free import WasteFree, waste_free_sets

if TYPE_CHECKING:
    from casewright.layout.sheets.run import Run

MANY = 2_500  # pieces from which on patterns are made several times
TIDY_MANY = 1_500  # pieces up to which the later goals are searched
WASTE_FREE_SHARE = 0.25  # of the budget, where there is a set of sheets without waste
STATES_A_STEP = 10  # of the joining of blocks, for each step of the budget
MOST_JOINED = 200_000  # states before the search; the others while sets of sheets are tried
JOINED_A_STEP = 2  # states for each step of the search, then
FIRST_STEPS = 30_000  # of search before the bound is looked at more closely
FREE_STEPS = 5_000  # the same where there are several kinds of sheet: before sets of sheets are tried
SEARCH_SHARE = 0.5  # of a small budget that comes before it
RELAX_SHARE = 0.75  # of the time, when it must end
ROUNDS = 120  # of pricing
STEPS_A_ROUND = 1_000  # of the budget for each of them
MOST_STEPS = 500_000  # of a budget that count for it
FEWER_STEPS = 50_000  # where there are several kinds of sheet
JOINS_A_STEP = 1_000  # of fillings, for each step of the budget
TIDY_SHARE = 0.2  # of the budget, kept for the later goals
TIDY_STEPS = 20_000  # where the budget has no end
PATIENCE = 7  # the later goals are left once they have not improved for this part of the budget


def improve(run: Run, steps: int | None) -> None:
    """Search within the budget; every better layout is offered to the run."""
    problem, best = run.problem, run.best
    assert best is not None
    budget = ENDLESS if steps is None else steps
    goals = problem.demand.goals
    fixed: tuple[SheetPattern, ...] = ()
    if sum(thing.count for thing in problem.things) > MANY:
        rounds = ENDLESS if steps is None else max(1, steps // 50)
        fixed, problem = rounded(generate(problem, run.seed, rounds, _until(run, 0.5)))
        patterns, unplaced = first_layout(problem)
        run.offer(fixed + patterns, run.problem.hopeless + unplaced, "column generation")
        if not problem.things or unplaced:
            return
    joining = None
    if goals[:1] == (Goal.COST,) and not fixed and not run.proven:
        joining = WasteFree(problem, waste_free_sets(problem, run.bound - problem.locked_cost))
        work = min(MOST_JOINED, int(WASTE_FREE_SHARE * min(budget, ENDLESS // STATES_A_STEP) * STATES_A_STEP))
        join_without_waste(run, joining, work, _until(run, WASTE_FREE_SHARE))
        if joining.found:
            return
    engine = new_engine(problem, run.seed, _sheets(first_layout(problem)[0]) + 4)
    search = Descent(run, engine, fixed, joining)
    later = len(goals) > 1 and len(engine.owner) <= TIDY_MANY
    if goals[:1] == (Goal.COST,):
        share = 1 - TIDY_SHARE if later else 1.0
        price_budget, until = int(budget * share), _until(run, share)
        first = FIRST_STEPS if len(problem.sheets) == 1 else FREE_STEPS
        search.descend(min(first, int(SEARCH_SHARE * price_budget)), until)
        if not fixed and not run.proven and until():
            relax(run, price_budget, _until(run, RELAX_SHARE * share))
        search.descend(price_budget, until, sets=True)
    else:
        build(engine)
    if later and search.last is not None and search.stands:
        search.tidy(min(budget, engine.steps + TIDY_STEPS) if steps is None else budget)
    run.steps = engine.steps


def join_without_waste(run: Run, joining: WasteFree, work: int, go_on: Callable[[], bool]) -> int:
    """Join within `work` states; returns how many were used. Ends once a layout is found."""
    used = 0
    while not joining.found and used + joining.work <= work and go_on():
        used += joining.work
        patterns = joining.next_round(go_on)
        joining.found = patterns is not None and run.offer(patterns, run.problem.hopeless, "without waste")
    return used


def _sheets(patterns: tuple[SheetPattern, ...]) -> int:
    return sum(pattern.times for pattern in patterns)


def _until(run: Run, share: float) -> Callable[[], bool]:
    """A clock that stops after a share of the run's time."""

    def go_on() -> bool:
        early = run.seconds is not None and time.perf_counter() - run.began >= share * run.seconds
        return not early and run.go_on()

    return go_on


def relax(run: Run, budget: int, go_on: Callable[[], bool]) -> None:
    """Raise the bound by values of things; recombine the patterns that come with it."""
    problem, best = run.problem, run.best
    assert best is not None
    relaxed = (
        None
        if best.unplaced
        else relaxation(problem, min(budget, MOST_STEPS if len(problem.sheets) == 1 else FEWER_STEPS) * JOINS_A_STEP)
    )
    if relaxed is None:
        return
    relaxed.take_in(best.patterns)
    floor, known = run.bound - problem.locked_cost, best.outcome.value - problem.locked_cost
    rounds = max(1, min(ROUNDS, budget // STEPS_A_ROUND))
    run.bound = max(run.bound, problem.locked_cost + relaxed.bound(floor, known, rounds, go_on))
    if run.bound < best.outcome.value and go_on():
        patterns = recombined(relaxed, run.seed)
        if patterns is not None:
            run.offer(patterns, problem.hopeless, "patterns recombined")


class Descent:
    """Lowers the goal of an engine step by step; `last` is the last complete solution, not yet cut up perhaps."""

    def __init__(
        self, run: Run, engine: Engine, fixed: tuple[SheetPattern, ...], joining: WasteFree | None = None
    ) -> None:
        prices = {sheet.id: sheet.price for sheet in run.problem.sheets}
        self.run, self.engine, self.fixed = run, engine, fixed
        self.spent = run.problem.locked_cost + sum(prices[p.stock] * p.times for p in fixed)
        self.last: Trees | None = None
        self.last_cost = ENDLESS
        self.goal: int | None = None
        self.rungs: Rungs | None = None
        self.joining = joining
        self.joined = 0  # states of the joining since sets of sheets are tried
        self.offered = 0.0

    @property
    def stands(self) -> bool:
        """True where the engine's last complete solution costs no more than the best layout."""
        best = self.run.best
        return best is None or bool(best.unplaced) or self.last_cost + self.spent <= self._cost(best)

    def _cost(self, layout: SheetLayout) -> int:
        prices = {sheet.id: sheet.price for sheet in self.run.problem.demand.stock}
        return sum(prices[pattern.stock] * pattern.times for pattern in layout.patterns)

    def descend(self, budget: int, go_on: Callable[[], bool], *, sets: bool = False) -> None:
        """Lower the goal until the bound or the budget's end; may be called again, then set by set of sheets."""
        run, engine = self.run, self.engine
        known = self._known()
        floor, step = run.bound - self.spent, step_of_price(engine.problem)
        if self.goal is None:
            build(engine, known)
            self.goal = known
        elif known <= self.goal:  # a better layout has come from elsewhere
            self.goal = known - step
            if self.goal >= floor:
                lower(engine, self.goal)
        if sets and len(engine.problem.sheets) > 1 and self._lowest() < ENDLESS:
            self._climb_down(budget, go_on)
            if self.run.proven or engine.steps >= budget or not go_on():
                return
            self.goal = self._lowest() - step
            if self.goal >= floor:
                lower(engine, self.goal)
        while self.goal >= floor:
            if engine.complete:
                self._note()
                self.goal = min(self.goal, engine.cost) - step
                if self.goal < floor:
                    break
                lower(engine, self.goal)
            if not seek(engine, self.goal, budget, go_on):
                break
        self._offer()

    def _known(self) -> int:
        """The price of the best layout, without the fixed patterns; without end while there is no complete one."""
        best = self.run.best
        return best.outcome.value - self.spent if best is not None and not best.unplaced else ENDLESS

    def _lowest(self) -> int:
        """The least price of all complete layouts so far, without the fixed patterns."""
        return min(self._known(), self.last_cost)

    def _climb_down(self, budget: int, go_on: Callable[[], bool]) -> None:
        """Several kinds of sheet: try sets of sheets, cheaper and cheaper, until there is none left or time is up."""
        run, engine = self.run, self.engine
        if self.rungs is None:
            sets = StockSets(engine.problem, all_rows(engine.problem), run.seed)
            self.rungs = Rungs(engine, sets, max(0, run.bound - self.spent))
        found: bool | None = engine.complete
        while found is not None:
            if found:
                self._note()
            if self._lowest() <= run.bound - self.spent or engine.steps >= budget or not go_on():
                break
            if self.joining is not None and self.joined < JOINED_A_STEP * engine.steps:
                work = int(JOINED_A_STEP * engine.steps) - self.joined
                self.joined += join_without_waste(run, self.joining, work, go_on)
            found = self.rungs.below(self._lowest(), budget, go_on)
        self._offer()
        if found is None and self.rungs.sets.all_seen and not self.fixed and self.stands:
            run.bound = max(run.bound, self.spent + self.last_cost)

    def _note(self) -> None:
        """Keep a complete solution; cut it up at once only where that takes little of the time."""
        self.last = Trees._make(part.copy() for part in self.engine.search.at)
        self.last_cost = self.engine.cost
        if time.perf_counter() - self.run.began > 10 * self.offered:
            self._offer()

    def _offer(self) -> None:
        if self.last is None:
            return
        began = time.perf_counter()
        self.run.steps = self.engine.steps
        patterns = patterns_of(self.engine, self.last)
        if patterns is not None:
            self.run.offer(self.fixed + patterns, self.run.problem.hopeless, "search")
        self.offered += time.perf_counter() - began

    def tidy(self, budget: int) -> None:
        """Search for the later goals at the price reached."""
        engine, run = self.engine, self.run
        assert self.last is not None
        restore(engine, self.last, self.last_cost)
        tidy = Tidy(engine, run.problem.demand.goals[1:])
        least, since = float(tidy.least[0]), engine.steps
        while engine.steps < budget and engine.steps - since < budget // PATIENCE and run.go_on():
            engine.steps += tidy.run(self.last_cost, budget - engine.steps)
            if tidy.least[0] < least:
                least, since = float(tidy.least[0]), engine.steps
        self.last = tidy.best
        self._offer()


def restore(engine: Engine, trees: Trees, cost: int) -> None:
    """Let an engine stand at a complete solution again."""
    f = engine.search
    for mine, theirs, work in zip(f.at, trees, f.work, strict=True):
        mine[:] = theirs
        work[:] = theirs
    f.at_out[-1] = f.out[-1] = 0
    f.spent[:2] = cost
    f.seen[:] = -1


def warm() -> None:
    """Compile (or load) every kernel by solving a small problem."""
    parts = tuple(SheetPart(id=str(i), length=(300 + 7 * i) * GRID, width=200 * GRID, turn=True) for i in range(8))
    sheet = SheetStock(id="sheet", length=700 * GRID, width=500 * GRID, price=1)
    problem: Problem = read(SheetDemand(parts=parts, stock=(sheet,), saws=Saws(kerf=GRID), goals=(Goal.COST,)))
    engine = new_engine(problem, 0, 8)
    build(engine)
    Tidy(engine, (Goal.REMNANT,)).run(8, 5)
    Filling(replace(problem, left=(1,)), np.ones(len(problem.things)), 0).run(5)
    if (relaxed := relaxation(problem, 1 << 40)) is not None:
        relaxed.bound(0, 1 << 60, 2, lambda: True)
    halves = (SheetPart(id="half", length=10, width=10, count=2),)
    whole = SheetStock(id="whole", length=20, width=10, price=1)
    WasteFree(read(SheetDemand(parts=halves, stock=(whole,), saws=Saws(kerf=0))), [(1,)]).next_round(lambda: True)
    find_shelf(new_bench(np.array([[10, 10], [10, 10]]), 20, 0), 0, 20, 10)
    lower(engine, 2)
    run_steps(engine.search, engine.room, 2, 5, MOST, SPICE, BLINK)
