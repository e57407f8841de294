"""One sheet of greatest value and bounds of the price, against enumeration, an exact model and published values."""

from __future__ import annotations

import random
from functools import cache

import pytest

from casewright.layout.model import Goal, Saws, SheetDemand, SheetPart, SheetStock, Status
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.bounds import continuous
from casewright.layout.sheets.fill import fill_sheet
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.relaxation import recombined, relaxation
from casewright.layout.verify_sheets import verify_sheets

Row = tuple[int, int, int, int]  # width, height, copies, value

# Beasley 1985, problem 1: sheet 250 x 250. Unconstrained guillotine optimum 56,460 (Cintra, Miyazawa, Wakabayashi and
# Xavier 2008; tables at www.ime.usp.br/~glauber/gcut), one copy each 48,368 (best of the published oriented values).
GCUT1: tuple[tuple[int, int], ...] = (
    *((167, 184), (114, 118), (167, 152), (83, 140), (70, 86)),
    *((143, 166), (120, 160), (66, 148), (87, 141), (69, 165)),
)


def _demand(side: tuple[int, int], rows: tuple[Row, ...], *, turn: bool = False, kerf: int = 0) -> SheetDemand:
    parts = tuple(SheetPart(id=str(i), length=w, width=h, count=n, turn=turn) for i, (w, h, n, _) in enumerate(rows))
    stock = (SheetStock(id="sheet", length=side[0], width=side[1], count=1, price=1),)
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=kerf))


def _enumerated(side: tuple[int, int], rows: tuple[Row, ...]) -> int:
    """Greatest value by enumeration of every guillotine cut and every set of parts."""

    @cache
    def sets(w: int, h: int) -> frozenset[tuple[int, ...]]:
        found = {(0,) * len(rows)}
        for i, (a, b, _, _) in enumerate(rows):
            if a <= w and b <= h:
                found.add(tuple(int(k == i) for k in range(len(rows))))
        halves = [(sets(x, h), sets(w - x, h)) for x in range(1, w // 2 + 1)]
        halves += [(sets(w, y), sets(w, h - y)) for y in range(1, h // 2 + 1)]
        for near, far in halves:
            for one in near:
                for other in far:
                    both = tuple(p + q for p, q in zip(one, other, strict=True))
                    if all(n <= row[2] for n, row in zip(both, rows, strict=True)):
                        found.add(both)
        return frozenset(found)

    return max(sum(n * row[3] for n, row in zip(counts, rows, strict=True)) for counts in sets(*side))


@pytest.mark.parametrize("seed", range(15))
def test_one_sheet_is_filled_to_the_proof(seed: int) -> None:
    rng = random.Random(seed)
    side = rng.randint(8, 11), rng.randint(8, 11)
    sizes = [(rng.randint(2, 7), rng.randint(2, 7), rng.randint(1, 2)) for _ in range(4)]
    rows = tuple((w, h, n, rng.choice([w * h, rng.randint(1, 40)])) for w, h, n in sizes)
    filled = fill_sheet(_demand(side, rows), {str(i): row[3] for i, row in enumerate(rows)})
    assert filled.value == filled.bound == _enumerated(side, rows)
    assert filled.status is Status.PROVEN


@pytest.mark.parametrize(("copies", "optimum"), [(1, 48_368), (99, 56_460)])
def test_a_published_sheet(copies: int, optimum: int) -> None:
    rows = tuple((w, h, copies, w * h) for w, h in GCUT1)
    filled = fill_sheet(_demand((250, 250), rows), {str(i): row[3] for i, row in enumerate(rows)})
    assert (filled.value, filled.bound) == (optimum, optimum)


def test_a_filled_sheet_with_kerf_and_turning_verifies() -> None:
    rng = random.Random(5)
    rows = tuple((w, h, 2, w * h) for w, h in ((rng.randint(20, 60), rng.randint(20, 60)) for _ in range(8)))
    demand = _demand((150, 120), rows, turn=True, kerf=3)
    values = {str(i): row[3] for i, row in enumerate(rows)}
    filled = fill_sheet(demand, values)
    assert filled.pattern is not None
    assert filled.value <= filled.bound < 150 * 120
    more = fill_sheet(_demand((150, 120), rows, turn=True), values)
    assert more.bound >= filled.value  # a blade that takes nothing can only help


def _bins(seed: int) -> SheetDemand:
    rng = random.Random(seed)
    parts = tuple(SheetPart(id=str(i), length=rng.randint(12, 60), width=rng.randint(12, 60)) for i in range(16))
    stock = (
        SheetStock(id="sheet", length=100, width=100, price=10),
        SheetStock(id="small", length=70, width=70, price=6),
    )
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=1), goals=(Goal.COST,))


@pytest.mark.parametrize("seed", range(4))
def test_bounds_by_pricing_never_pass_a_layout_and_never_fall(seed: int) -> None:
    demand = _bins(seed)
    layout = solve_sheets(demand, steps=4000)
    problem = read(demand)
    relaxed = relaxation(problem, 10_000_000)
    assert relaxed is not None
    relaxed.take_in(layout.patterns)
    area = continuous(problem)
    bound = relaxed.bound(area, 10**9, 40, lambda: True)
    assert area <= bound <= layout.outcome.value
    patterns = recombined(relaxed, 0)
    assert patterns is not None
    assert sum({"sheet": 10, "small": 6}[p.stock] * p.times for p in patterns) <= layout.outcome.value
    assert verify_sheets(demand, layout) == ()
