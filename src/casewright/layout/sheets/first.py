"""The first answer, without a compiler: sheets are filled one by one, each part at the free plate it fits best.

A filled sheet is made as many times as what is still wanted allows, so work grows with kinds, not with counts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from casewright.layout.model import SheetPattern, Unplaced
from casewright.layout.sheets.plates import Plate, Rules, Size, record
from casewright.layout.sheets.problem import Problem, Shape, Thing, lay

ORDERS: tuple[Callable[[Thing], tuple[float, ...]], ...] = (
    lambda thing: (-math.prod(thing.shapes[0].size),),
    lambda thing: (-max(thing.shapes[0].size), -min(thing.shapes[0].size)),
    lambda thing: (-thing.shapes[0].size[1], -thing.shapes[0].size[0]),
    lambda thing: (-thing.shapes[0].size[0], -thing.shapes[0].size[1]),
)

MANY_KINDS = 120  # different things from which on one order is tried


def orders_for(problem: Problem) -> range:
    """Which of `ORDERS` are worth their time."""
    return range(len(ORDERS) if len(problem.things) <= MANY_KINDS else 1)


@dataclass(slots=True)
class Filled:
    """One sheet with what lies on it, by thing index."""

    root: Plate
    taken: dict[int, int]
    area: int


def first_layout(problem: Problem, order: int = 0) -> tuple[tuple[SheetPattern, ...], tuple[Unplaced, ...]]:
    """Lay everything that can be laid, things sorted by one of `ORDERS`."""
    columns, wanted = first_columns(problem, order)
    patterns = tuple(
        SheetPattern(stock=problem.sheets[sheet].id, root=record(filled.root, problem.rules), times=times)
        for sheet, filled, times in columns
    )
    return patterns, problem.hopeless + _left_over(problem.things, wanted)


def first_columns(problem: Problem, order: int) -> tuple[list[tuple[int, Filled, int]], list[int]]:
    """Filled sheets as (kind of sheet, filling, times), and what is still wanted of each thing."""
    things = problem.things
    wanted = [thing.count for thing in things]
    ranked = sorted(range(len(things)), key=lambda i: (*ORDERS[order](things[i]), i))
    left = list(problem.left)
    columns: list[tuple[int, Filled, int]] = []
    while any(wanted):
        best = _best_sheet(problem, ranked, wanted, left)
        if best is None:
            break
        sheet, filled = best
        times = min(wanted[i] // n for i, n in filled.taken.items())
        stock_left = left[sheet]
        if stock_left is not None:
            times = min(times, stock_left)
            left[sheet] = stock_left - times
        for i, n in filled.taken.items():
            wanted[i] -= n * times
        columns.append((sheet, filled, times))
    return columns, wanted


def _left_over(things: Sequence[Thing], wanted: list[int]) -> tuple[Unplaced, ...]:
    why = "the stock that there is does not suffice"
    return tuple(
        Unplaced(part=name, count=n * sum(part.id == name for part in thing.members), why=why)
        for thing, n in zip(things, wanted, strict=True)
        if n > 0
        for name in dict.fromkeys(part.id for part in thing.members)
    )


def _best_sheet(
    problem: Problem, ranked: list[int], wanted: list[int], left: list[int | None]
) -> tuple[int, Filled] | None:
    """Fill each kind of sheet there is; take the one whose parts come cheapest, offcuts before all."""
    best: tuple[int, Filled] | None = None
    best_key: tuple[float, ...] = ()
    everything = sum(thing.area * n for thing, n in zip(problem.things, wanted, strict=True))
    tried: set[tuple[Size, int]] = set()
    for index, sheet in enumerate(problem.sheets):
        if left[index] == 0 or (problem.inner[index], sheet.price) in tried:
            continue
        tried.add((problem.inner[index], sheet.price))
        root = Plate(sheet.trim[0], sheet.trim[2], problem.inner[index])
        filled = fill(problem.rules, problem.things, root, ranked, wanted)
        if not filled.area:
            continue
        whole = filled.area == everything
        rate = sheet.price / filled.area
        key = (rate, -filled.area) if not whole else (rate * 0.999, sheet.price)
        if best is None or key < best_key:
            best, best_key = (index, filled), key
    return best


def fill(rules: Rules, things: Sequence[Thing], root: Plate, ranked: list[int], wanted: list[int]) -> Filled:
    """Fill one sheet: each thing in turn, as often as it goes, in the free plate where least is left beside it."""
    filled = Filled(root, {}, 0)
    free = [root]
    for i in ranked:
        for _ in range(wanted[i]):
            if not _lay_best(rules, things[i], free):
                break
            filled.taken[i] = filled.taken.get(i, 0) + 1
            filled.area += things[i].area
    return filled


def _lay_best(rules: Rules, thing: Thing, free: list[Plate]) -> bool:
    options: list[tuple[int, int, int, int, Shape]] = []
    for place, plate in enumerate(free):
        for rank, shape in enumerate(thing.shapes):
            over = (plate.size[0] - shape.size[0], plate.size[1] - shape.size[1])
            if min(over) >= 0:
                options.append((min(over), max(over), place, rank, shape))
    options.sort(key=lambda option: option[:4])
    for *_, place, _rank, shape in options:
        if _lay_at(rules, thing, shape, free, place):
            return True
    return False


def _lay_at(rules: Rules, thing: Thing, shape: Shape, free: list[Plate], place: int) -> bool:
    """Cut the thing out so that the larger of the two rests is as large as can be."""
    plate = free[place]
    over = (plate.size[0] - shape.size[0], plate.size[1] - shape.size[1])
    keep_whole = 0 if over[0] * plate.size[1] >= over[1] * plate.size[0] else 1
    for order in ((keep_whole, 1 - keep_whole), (1 - keep_whole, keep_whole)):
        if lay(rules, plate, thing, shape, order):
            free[place : place + 1] = _free_plates(plate)
            return True
    return False


def _free_plates(plate: Plate) -> list[Plate]:
    if plate.near is not None and plate.far is not None:
        return _free_plates(plate.near) + _free_plates(plate.far)
    return [plate] if plate.laid is None and min(plate.size) > 0 else []
