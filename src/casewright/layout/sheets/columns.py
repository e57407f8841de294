"""Orders with many equal parts: patterns with a count, by column generation (Gilmore and Gomory 1961).

The linear program chooses how often each pattern is made; its dual values say which things are worth a place; new
patterns are filled greedily by value for area with a little noise, and where that fails by search (`fill`). What the
rounded-down answer leaves over is a small order of its own. OR-tools' GLOP is imported when it is wanted.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from casewright.layout.model import Cut, Laid, Rest, SheetPattern
from casewright.layout.sheets.fill import Filling
from casewright.layout.sheets.first import fill, first_columns, orders_for
from casewright.layout.sheets.plates import Plate, record
from casewright.layout.sheets.problem import Problem

BARREN = 6  # rounds of pricing without a new pattern, after which it ends
NOISE = 0.25
MOST_COPIES = 12
MOST_PIECES = 150
SEARCH_STEPS = 1_500


@dataclass(frozen=True, slots=True)
class Column:
    """A filled sheet: its kind, how many of each thing are on it, the cuts."""

    sheet: int
    taken: dict[int, int]
    root: Cut | Laid | Rest


class Master:
    """The linear program over the patterns so far."""

    def __init__(self, problem: Problem) -> None:
        from ortools.linear_solver import pywraplp

        self.problem = problem
        self.solver: Any = pywraplp.Solver.CreateSolver("GLOP")
        infinity = self.solver.infinity()
        self.rows = [self.solver.Constraint(thing.count, infinity) for thing in problem.things]
        self.stock = [None if n is None else self.solver.Constraint(-n, infinity) for n in problem.left]
        self.columns: list[Column] = []
        self.amounts: list[Any] = []
        self.solver.Objective().SetMinimization()

    def add(self, column: Column) -> None:
        """Take in a pattern."""
        amount = self.solver.NumVar(0, self.solver.infinity(), "")
        # a free offcut still costs a breath, or it would be made for nothing
        self.solver.Objective().SetCoefficient(amount, max(1e-3, self.problem.sheets[column.sheet].price))
        for thing, n in column.taken.items():
            self.rows[thing].SetCoefficient(amount, n)
        limit = self.stock[column.sheet]
        if limit is not None:
            limit.SetCoefficient(amount, -1)
        self.columns.append(column)
        self.amounts.append(amount)

    def solve(self) -> bool:
        """Solve the program; False if the patterns cannot make everything."""
        return bool(self.solver.Solve() == self.solver.OPTIMAL)

    def price(self, sheet: int) -> float:
        """What a pattern on this kind of sheet must be worth to come in."""
        limit = self.stock[sheet]
        return float(self.problem.sheets[sheet].price + (limit.dual_value() if limit is not None else 0.0))

    def values(self) -> list[float]:
        """Dual value of each thing."""
        return [row.dual_value() for row in self.rows]


def generate(problem: Problem, seed: int, rounds: int, go_on: Callable[[], bool]) -> Master:
    """Generate patterns until nothing new is worth its sheet, `rounds` are done, or `go_on` says no."""
    master = Master(problem)
    for order in orders_for(problem):
        for sheet, filled, _ in first_columns(problem, order)[0]:
            master.add(Column(sheet, filled.taken, record(filled.root, problem.rules)))
    rng = random.Random(seed)
    barren = 0
    for _ in range(rounds):
        if barren >= BARREN or not go_on() or not master.solve():
            break
        fresh = _priced(master, rng) if barren % 2 == 0 else _searched(master, rng.randrange(1 << 20))
        barren = 0 if fresh else barren + 1
        for column in fresh:
            master.add(column)
    return master


def _searched(master: Master, seed: int) -> list[Column]:
    """Search for the most valuable filling of one sheet of each kind, among the things of most value for area."""
    problem, values = master.problem, master.values()
    density = sorted(range(len(values)), key=lambda i: (-values[i] / problem.things[i].area, i))
    fresh = []
    for sheet, size in enumerate(problem.inner):
        chosen: list[int] = []
        things = []
        pieces = 0
        for i in density:
            copies = min(problem.things[i].count, size[0] * size[1] // problem.things[i].area, MOST_COPIES)
            if values[i] > 1e-9 and copies > 0 and pieces < MOST_PIECES:
                chosen.append(i)
                things.append(replace(problem.things[i], count=copies))
                pieces += copies
        if not things:
            continue
        one = replace(problem, things=tuple(things), sheets=(problem.sheets[sheet],), inner=(size,), left=(1,))
        filling = Filling(one, np.array([values[i] for i in chosen]), seed)
        filling.run(SEARCH_STEPS)
        if filling.value > master.price(sheet) * (1 + 1e-7) + 1e-6 and (pattern := filling.pattern()) is not None:
            fresh.append(Column(sheet, {chosen[k]: n for k, n in filling.taken.items()}, pattern.root))
    return fresh


def _priced(master: Master, rng: random.Random) -> list[Column]:
    """Fill one sheet of each kind by value for area, with noise; return those that are worth more than they cost."""
    problem, values = master.problem, master.values()
    density = [value / thing.area for value, thing in zip(values, problem.things, strict=True)]
    density = [d * (1 + NOISE * rng.random()) for d in density]
    wanted = [thing.count for thing in problem.things]
    good = sorted((i for i in range(len(values)) if values[i] > 1e-9), key=lambda i: (-density[i], i))
    fresh = []
    for sheet, stock in enumerate(problem.sheets):
        root = Plate(stock.trim[0], stock.trim[2], problem.inner[sheet])
        filled = fill(problem.rules, problem.things, root, good, wanted)
        worth = sum(values[i] * n for i, n in filled.taken.items())
        if worth > master.price(sheet) * (1 + 1e-7) + 1e-6:
            fresh.append(Column(sheet, filled.taken, record(filled.root, problem.rules)))
    return fresh


def rounded(master: Master) -> tuple[tuple[SheetPattern, ...], Problem]:
    """Make each pattern as often as the program says, rounded down; return them and the order that is left."""
    problem = master.problem
    wanted = [thing.count for thing in problem.things]
    left = list(problem.left)
    patterns = []
    if master.solve():
        shares = [(amount.solution_value(), k) for k, amount in enumerate(master.amounts)]
        for share, k in sorted(shares, key=lambda entry: (-entry[0], entry[1])):
            column = master.columns[k]
            times = min([int(share + 1e-6), *(wanted[i] // n for i, n in column.taken.items())])
            stock = left[column.sheet]
            if stock is not None:
                times = min(times, stock)
                left[column.sheet] = stock - times
            if times > 0:
                for i, n in column.taken.items():
                    wanted[i] -= n * times
                root = column.root
                patterns.append(SheetPattern(stock=problem.sheets[column.sheet].id, root=root, times=times))
    things = tuple(replace(t, count=n) for t, n in zip(problem.things, wanted, strict=True) if n > 0)
    return tuple(patterns), replace(problem, things=things, left=tuple(left), hopeless=())
