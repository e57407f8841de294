"""Better bounds of the price, and patterns: values of things, and what one sheet of each kind can hold of them at most.

If no sheet of kind k holds more than r(k) of a value, sheets for all things together must have Σ r(k) ≥ the value of
all things: the area bound with `knapsack`'s proven r(k) for areas. Values first are areas, then the dual values of a
linear program over the patterns found (Gilmore and Gomory 1961); each proves what it proves, converged or not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from casewright.layout.model import Cut, Laid, Rest, SheetPattern
from casewright.layout.sheets.bounds import cheapest
from casewright.layout.sheets.columns import Column, Master
from casewright.layout.sheets.first import first_columns, orders_for
from casewright.layout.sheets.knapsack import Knapsack, knapsack, things_on
from casewright.layout.sheets.plates import Rules, record
from casewright.layout.sheets.problem import Problem, laid_in

FINE = 25_000  # most boxes of a sheet
VALUE = 1_000_000  # of the most valuable thing; values are whole numbers
PRICES = 5  # subgradient steps for each bound
MOST_THINGS = 150
MOST_TIMES = 1_000
EFFORT = 2.0  # of the set covering, in the solver's deterministic seconds
KEPT = 8  # fillings of each box in pricing


class Kind:
    """A kind of sheet that is still to be had: what it can hold at most, and its best fillings."""

    def __init__(self, problem: Problem, sheet: int, boxes: Knapsack) -> None:
        self.sheet, self.boxes = sheet, boxes
        self.may_cut = problem.rules.plain

    def look(self, values: list[int], go_on: Callable[[], bool], *, proof: bool = False) -> None:
        """Bound the value that one sheet can hold, and fill it; on request to the proof."""
        self.boxes.revalue(values)
        self.boxes.price(PRICES, go_on)
        if proof:
            self.boxes.run(go_on)
        elif self.may_cut:
            self.boxes.narrow(KEPT, go_on)


class Relaxation:
    """Raises the bound of a problem's price and collects patterns; `work` is how many joins it may take."""

    def __init__(self, problem: Problem, kinds: list[Kind], work: int) -> None:
        self.problem, self.kinds, self.work = problem, kinds, work
        self.master = Master(problem)
        self.start: dict[int, int] = {}  # columns of the layout taken in last, and how often it has them
        for order in orders_for(problem):
            for sheet, filled, _ in first_columns(problem, order)[0]:
                self.master.add(Column(sheet, filled.taken, record(filled.root, problem.rules)))

    def _within(self, go_on: Callable[[], bool]) -> Callable[[], bool]:
        """Limit the work without a clock."""
        return lambda: sum(kind.boxes.joins for kind in self.kinds) < self.work and go_on()

    def take_in(self, patterns: Iterable[SheetPattern]) -> None:
        """Take in the patterns of a layout."""
        thing_of = {thing.members[0].id: i for i, thing in enumerate(self.problem.things)}
        kind_of = {sheet.id: i for i, sheet in enumerate(self.problem.sheets)}
        self.start = {}
        for pattern in patterns:
            names = Counter(laid.part for laid in laid_in(pattern.root))
            taken = {thing_of[name]: n for name, n in names.items() if name in thing_of}
            if not pattern.locked:
                self.start[len(self.master.columns)] = pattern.times
                self.master.add(Column(kind_of[pattern.stock], taken, pattern.root))

    def bound(self, floor: int, enough: int, rounds: int, go_on: Callable[[], bool]) -> int:
        """Raise `floor`, a bound of the price, as far as it goes in so many rounds of pricing; ends at `enough`."""
        go_on = self._within(go_on)
        areas = _whole([float(sum(p.length * p.width for p in thing.members)) for thing in self.problem.things])
        self._look(areas, go_on)
        floor = max(floor, self._proves(areas, floor))
        for _ in range(rounds):
            if floor >= enough or not go_on() or not self.master.solve():
                break
            values = _whole(self.master.values())
            self._look(values, go_on)
            fresh = self._priced()
            if not fresh and go_on():
                self._look(values, go_on, proof=True)
                fresh = self._priced()
            floor = max(floor, self._proves(values, floor))
            if not fresh:
                break
        return floor

    def _look(self, values: list[int], go_on: Callable[[], bool], *, proof: bool = False) -> None:
        for kind in self.kinds:
            kind.look(values, go_on, proof=proof)

    def _proves(self, values: list[int], floor: int) -> int:
        """What these values prove: whole sheets that hold them all, at no less than `floor`."""
        need = sum(v * thing.count for v, thing in zip(values, self.problem.things, strict=True))
        room = [0] * len(self.problem.sheets)
        for kind in self.kinds:
            room[kind.sheet] = kind.boxes.bound
        prices = [sheet.price for sheet in self.problem.sheets]
        paid = [i for i, price in enumerate(prices) if price > 0 and room[i] > 0]
        return cheapest(need, room, prices, self.problem.left, floor) if paid and need > 0 else floor

    def _priced(self) -> bool:
        """Take in the patterns that are worth more than their sheet; False if there is none."""
        duals = self.master.values()
        fresh: list[Column] = []
        for kind in self.kinds:
            boxes = kind.boxes
            for node in dict.fromkeys((boxes.best, *boxes.ranked)) if kind.may_cut else ():
                taken = {} if node is None else dict(Counter(things_on(node)))
                worth = sum(duals[i] * n for i, n in taken.items())
                if worth <= self.master.price(kind.sheet) * (1 + 1e-7) + 1e-6:
                    continue
                pattern = boxes.pattern(kind.sheet, node)
                if pattern is not None:
                    fresh.append(Column(kind.sheet, taken, pattern.root))
        for column in fresh:
            self.master.add(column)
        return bool(fresh)


def recombined(relaxed: Relaxation, seed: int) -> tuple[SheetPattern, ...] | None:
    """The cheapest layout of whole patterns met so far (set covering by CP-SAT); None where they do not suffice.

    It begins with the layout taken in last, so that it is never dearer than that.
    """
    from ortools.sat.python import cp_model

    problem, columns = relaxed.problem, relaxed.master.columns
    model = cp_model.CpModel()
    most = [min(MOST_TIMES, max(t.count for t in problem.things)) for _ in columns]
    times = [model.new_int_var(0, n, "") for n in most]
    for i, thing in enumerate(problem.things):
        model.add(sum(c.taken[i] * x for c, x in zip(columns, times, strict=True) if i in c.taken) >= thing.count)
    for kind, left in enumerate(problem.left):
        if left is not None:
            model.add(sum(x for c, x in zip(columns, times, strict=True) if c.sheet == kind) <= left)
    model.minimize(sum(problem.sheets[c.sheet].price * x for c, x in zip(columns, times, strict=True)))
    for i, x in enumerate(times if relaxed.start else ()):
        model.add_hint(x, relaxed.start.get(i, 0))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.random_seed = 1, seed % (1 << 30)
    solver.parameters.max_deterministic_time = EFFORT
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return _without_surplus(problem, [(c, solver.value(x)) for c, x in zip(columns, times, strict=True)])


def _without_surplus(problem: Problem, made: list[tuple[Column, int]]) -> tuple[SheetPattern, ...]:
    """Make the patterns; what comes out beyond the count is left as waste."""
    wanted = {thing.members[0].id: thing.count for thing in problem.things}
    patterns = []
    for column, times in made:
        for _ in range(times):
            root = _only_wanted(column.root, wanted, problem.rules)
            patterns.append(SheetPattern(stock=problem.sheets[column.sheet].id, root=root))
    return tuple(patterns)


def _only_wanted(piece: Cut | Laid | Rest, wanted: dict[str, int], rules: Rules) -> Cut | Laid | Rest:
    if isinstance(piece, Cut):
        return replace(piece, pieces=tuple(_only_wanted(below, wanted, rules) for below in piece.pieces))
    if isinstance(piece, Laid):
        if wanted[piece.part] > 0:
            wanted[piece.part] -= 1
            return piece
        keep = rules.keeps and piece.length >= rules.keep[0] and piece.width >= rules.keep[1]
        return Rest(x=piece.x, y=piece.y, length=piece.length, width=piece.width, keep=keep)
    return piece


def unlimited(rules: Rules) -> Rules:
    """Return rules that allow every cut, with the narrowest line: what they give is a bound for all others."""
    return replace(rules, kerf=min(rules.kerf, rules.rough), lift=None, longest=(None, None), first=-1, stages=None)


def relaxation(problem: Problem, work: int) -> Relaxation | None:
    """Set it up; None with groups, with many things, or where the raster of a kind of sheet is too fine."""
    if len(problem.things) > MOST_THINGS or any(len(thing.members) > 1 for thing in problem.things):
        return None
    free = replace(problem, rules=unlimited(problem.rules))
    values = [1] * len(problem.things)
    kinds = []
    for sheet, left in enumerate(problem.left):
        if left == 0:
            continue
        boxes = knapsack(free, values, sheet, most=FINE)
        if boxes is None:
            return None
        kinds.append(Kind(problem, sheet, boxes))
    return Relaxation(problem, kinds, work)


def _whole(values: list[float]) -> list[int]:
    most = max(values, default=0.0)
    return [int(value / most * VALUE) for value in values] if most > 0 else [0 for _ in values]
