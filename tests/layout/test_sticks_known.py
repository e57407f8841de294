"""Sticks against published optima and against an exact model of the same problem."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from casewright.layout.model import Status, StickDemand, StickPart, StickStock
from casewright.layout.sticks import solve_sticks
from casewright.layout.verify_sticks import verify_sticks

# One-dimensional instances of the library of Delorme, Iori and Martello (BPPLIB, 2018), each with its optimum there:
# t60_00 (Falkenauer 1996, triplets), TEST0049 (Waescher and Gau 1996), BPP1 (Schwerin and Waescher 1997).
T60_00 = (
    "495x1 474x1 473x1 472x1 466x1 450x1 445x1 444x1 439x1 430x1 419x1 414x1 410x1 395x1 372x1 370x1 366x3 363x1 361x1 "
    "357x1 355x1 351x1 350x2 347x1 320x1 315x1 307x1 303x1 299x1 298x2 292x1 288x1 287x1 283x1 275x2 274x1 273x2 272x2 "
    "271x1 269x2 268x1 263x1 262x1 261x1 259x1 258x1 255x1 254x1 252x3 251x1"
)
TEST0049 = (
    "2472x1 2371x2 2027x1 2026x1 1962x1 1939x3 1864x3 1840x1 1743x1 1681x2 1639x1 1554x1 1542x1 1298x1 1280x3 1260x1 "
    "1246x5 1230x1 1158x1 1146x4 1111x6 869x4 826x11 784x7 781x2 738x1 668x10 648x5 641x4 588x2 "
    "502x3 499x3 465x6 392x5 "
    "390x3 293x3 231x3 199x3 118x9 98x5 88x5 67x2 32x4"
)
SCHWERIN1_1 = (
    "200x3 199x1 198x2 197x2 194x2 193x1 192x1 191x3 190x2 189x1 188x2 187x2 186x1 185x4 184x3 183x3 182x3 181x2 180x1 "
    "179x4 178x1 177x4 175x1 174x1 173x2 172x1 171x3 170x2 169x3 167x2 165x2 164x1 163x4 162x1 161x1 160x2 159x1 158x3 "
    "157x1 156x6 155x3 154x2 153x1 152x3 151x2 150x4"
)


@pytest.mark.parametrize(
    ("items", "capacity", "optimum"), [(T60_00, 1000, 20), (TEST0049, 10_000, 11), (SCHWERIN1_1, 1000, 18)]
)
def test_published_optimum_is_reached_and_proven(items: str, capacity: int, optimum: int) -> None:
    pairs = [text.split("x") for text in items.split()]
    parts = tuple(StickPart(id=str(i), length=int(size), count=int(n)) for i, (size, n) in enumerate(pairs))
    demand = StickDemand(parts=parts, stock=(StickStock(id="bin", length=capacity, price=1),), kerf=0)
    layout = solve_sticks(demand)
    assert verify_sticks(demand, layout) == ()
    assert layout.outcome.status is Status.PROVEN
    assert layout.outcome.value == layout.outcome.bound == optimum


def _tiny(seed: int) -> StickDemand:
    chance = random.Random(seed)
    parts = tuple(StickPart(id=f"p{i}", length=chance.randint(8, 60), count=chance.randint(1, 3)) for i in range(5))
    stock = (
        StickStock(id="long", length=120, price=chance.randint(90, 130)),
        StickStock(id="short", length=80, price=chance.randint(55, 85)),
        StickStock(id="offcut", length=chance.randint(40, 75), count=2, offcut=True),
    )
    return StickDemand(parts=parts, stock=stock, kerf=2)


def _exact(demand: StickDemand) -> int:
    """The least cost by CP-SAT, piece by piece and stick by stick: no patterns, no code of ours."""
    model = cp_model.CpModel()
    pieces = [p.length for p in demand.parts for _ in range(p.count)]
    sticks = [s for s in demand.stock for _ in range(s.count if s.count is not None else len(pieces))]
    used = [model.new_bool_var("") for _ in sticks]
    on = [[model.new_bool_var("") for _ in sticks] for _ in pieces]
    for row in on:
        model.add_exactly_one(row)
    for j, stick in enumerate(sticks):
        filled = sum((size + demand.kerf) * on[k][j] for k, size in enumerate(pieces))
        model.add(filled <= (stick.length + demand.kerf) * used[j])
        if j and sticks[j - 1].id == stick.id:
            model.add(used[j] <= used[j - 1])
    model.minimize(sum(s.price * used[j] for j, s in enumerate(sticks)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(8))
def test_cost_equals_an_exact_model(seed: int) -> None:
    demand = _tiny(seed)
    layout = solve_sticks(demand)
    assert verify_sticks(demand, layout) == ()
    assert layout.outcome.proven
    assert layout.outcome.value == _exact(demand)
