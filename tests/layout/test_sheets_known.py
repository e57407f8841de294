"""Sheet layouts against values that are proven elsewhere."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from casewright.layout.model import Goal, Saws, SheetDemand, SheetPart, SheetStock
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.fill import fill_sheet
from casewright.layout.verify_sheets import verify_sheets

# (sheet, rows of width, height, copies, profit, proven optimum of the constrained guillotine knapsack, oriented)
CGCUT1 = (  # Christofides and Whitlock 1977, problem 1
    (15, 10),
    ((8, 4, 2, 66), (3, 7, 1, 35), (8, 2, 3, 24), (3, 4, 5, 17), (3, 3, 2, 11), (3, 2, 2, 8), (2, 1, 1, 2)),
    244,
)
OF1 = (  # Oliveira and Ferreira 1990, problem 1
    (70, 40),
    (
        *((29, 5, 1, 145), (9, 39, 4, 351), (55, 9, 1, 495), (31, 15, 1, 465), (11, 16, 2, 176)),
        *((23, 21, 3, 483), (29, 14, 4, 406), (16, 19, 3, 304), (9, 36, 2, 324), (22, 4, 2, 88)),
    ),
    2737,
)
OF2 = (  # Oliveira and Ferreira 1990, problem 2
    (70, 40),
    (
        *((22, 18, 2, 396), (40, 10, 1, 400), (13, 27, 3, 351), (23, 18, 2, 414), (29, 8, 4, 232)),
        *((16, 4, 1, 64), (47, 9, 1, 423), (19, 19, 4, 361), (13, 16, 2, 208), (36, 16, 4, 576)),
    ),
    2690,
)


@pytest.mark.parametrize(("sheet", "rows", "optimum"), [CGCUT1, OF1, OF2], ids=["CGCUT1", "OF1", "OF2"])
def test_one_sheet_reaches_the_proven_optimum(
    sheet: tuple[int, int], rows: tuple[tuple[int, int, int, int], ...], optimum: int
) -> None:
    parts = tuple(SheetPart(id=str(i), length=w, width=h, count=n) for i, (w, h, n, _) in enumerate(rows))
    stock = (SheetStock(id="sheet", length=sheet[0], width=sheet[1], count=1, price=1),)
    demand = SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=0))
    filled = fill_sheet(demand, {str(i): row[3] for i, row in enumerate(rows)}, steps=60_000)
    assert filled.value == optimum
    assert filled.bound >= optimum


# Martello and Vigo 1998, class 7, 20 items, instance 1: 5 sheets of 100 x 100, with or without turning (closed: the
# bound and the best known guillotine value of the academic PackingSolver's files agree).
CLASS7_N20_1 = (
    *((56, 75), (98, 27), (74, 24), (99, 34), (80, 1), (84, 43), (88, 6), (89, 6), (98, 38), (78, 21)),
    *((75, 49), (31, 93), (90, 37), (21, 73), (71, 4), (93, 35), (89, 48), (90, 12), (13, 79), (10, 42)),
)


@pytest.mark.parametrize("turn", [False, True])
def test_bin_packing_reaches_the_closed_value(turn: bool) -> None:
    demand = _bins(CLASS7_N20_1, 100, turn=turn)
    layout = solve_sheets(demand, steps=5000)
    assert verify_sheets(demand, layout) == ()
    assert layout.outcome.value == 5
    assert layout.outcome.bound == 5  # as the bound of the same files


def _bins(items: tuple[tuple[int, int], ...], side: int, *, turn: bool) -> SheetDemand:
    parts = tuple(SheetPart(id=str(i), length=w, width=h, turn=turn) for i, (w, h) in enumerate(items))
    stock = (SheetStock(id="sheet", length=side, width=side, price=1),)
    return SheetDemand(parts=parts, stock=stock, saws=Saws(kerf=0), goals=(Goal.COST,))


def _exact(items: tuple[tuple[int, int], ...], side: int) -> int:
    """Fewest sheets by CP-SAT. At most four items fit a sheet, and four boxes always have a guillotine cut."""
    model = cp_model.CpModel()
    most = len(items)
    sheets = [model.new_int_var(0, most - 1, "") for _ in items]
    across, along = [], []
    for (w, h), sheet in zip(items, sheets, strict=True):
        x, y = model.new_int_var(0, side - w, ""), model.new_int_var(0, side - h, "")
        place = model.new_int_var(0, side * most, "")  # sheets side by side
        model.add(place == x + side * sheet)
        across.append(model.new_fixed_size_interval_var(place, w, ""))
        along.append(model.new_fixed_size_interval_var(y, h, ""))
    model.add_no_overlap_2d(across, along)
    used = model.new_int_var(1, most, "")
    for sheet in sheets:
        model.add(sheet < used)
    model.minimize(used)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(6))
def test_tiny_problems_agree_with_an_exact_model(seed: int) -> None:
    rng = random.Random(seed)
    items = tuple((rng.randint(10, 14), rng.randint(10, 14)) for _ in range(4))
    items += tuple((rng.randint(5, 18), rng.randint(12, 18)) for _ in range(4))
    items = tuple(item for item in items if item[0] * item[1] > 80)  # more than a fifth of 20 x 20
    layout = solve_sheets(_bins(items, 20, turn=False), steps=2000)
    exact = _exact(items, 20)
    assert layout.outcome.value == exact
    assert layout.outcome.bound <= exact
