"""Boards: laws, glue-ups, groups, show parts, quantities to buy, an exact model, and bad input."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.boards import exact_cost, tiny_demand
from casewright.layout.boards import solve_boards
from casewright.layout.boards.bound import cost_bound
from casewright.layout.boards.buy import BoardSupply, quantity_to_buy
from casewright.layout.boards.panels import finished, glued, widest_strip
from casewright.layout.boards.solve import prices
from casewright.layout.model import (
    BoardDemand,
    BoardLayout,
    BoardPart,
    BoardPattern,
    BoardStock,
    Cut,
    Laid,
    Rest,
    Status,
)
from casewright.layout.verify_boards import verify_boards


@st.composite
def demands(draw: st.DrawFn) -> BoardDemand:
    """Loads of solid parts and glue-ups, some matched, some that show; boards with unusable stretches."""
    chance = random.Random(draw(st.integers(0, 10_000)))
    parts = [
        BoardPart(
            id=f"s{i}",
            length=chance.randint(150, 1200),
            width=chance.randint(30, 140),
            count=chance.randint(1, 4),
            show=chance.random() < 0.3,
            match=chance.choice(["", "", "doors"]),
        )
        for i in range(chance.randint(1, 5))
    ]
    for i in range(chance.randint(0, 2)):
        parts.append(
            BoardPart(
                id=f"g{i}",
                length=chance.randint(300, 900),
                width=chance.randint(200, 500),
                count=chance.randint(1, 2),
                strip_min=50,
                strip_max=115,
                jointing=2,
                match=chance.choice(["", "doors"]),
            )
        )
    boards = []
    for i in range(chance.randint(4, 14)):
        length, at = chance.randint(1500, 3700), chance.randint(0, 1400)
        defects = ((at, at + chance.randint(5, 150)),) if chance.random() < 0.5 else ()
        price = chance.randint(500, 4000)
        width = chance.randint(110, 260)
        boards.append(
            BoardStock(id=f"b{i}", length=length, width=width, count=1, price=price, defects=defects, grade=i % 3)
        )
    return BoardDemand(parts=tuple(parts), stock=tuple(boards), kerf=3, end_trim=25, edge_trim=5)


def solved(demand: BoardDemand, steps: int = 6) -> BoardLayout:
    layout = solve_boards(demand, steps=steps)
    assert verify_boards(demand, layout) == ()
    return layout


@given(demands())
@settings(max_examples=20)
def test_every_answer_verifies_and_repeats(demand: BoardDemand) -> None:
    first, second = solved(demand), solved(demand)
    assert (first.patterns, first.panels, first.outcome.bound) == (second.patterns, second.panels, second.outcome.bound)


@given(st.integers(120, 900), st.integers(20, 80), st.integers(0, 5), st.lists(st.integers(60, 400), max_size=30))
def test_strips_always_finish_a_panel_within_the_limits(
    width: int, least: int, jointing: int, rooms: list[int]
) -> None:
    part = BoardPart(id="p", length=500, width=width, strip_min=least, strip_max=2 * least + 20, jointing=jointing)
    sawn: tuple[int, ...] = ()
    for room in [*rooms, *[10_000] * 80]:
        if finished(part, sawn):
            break
        strip = widest_strip(part, sawn, room)
        assert strip <= room
        sawn = (*sawn, strip) if strip else sawn
    assert finished(part, sawn)
    strips = glued(part, 1, sawn)
    assert sum(s.width for s in strips) == width
    assert all(part.strip_min <= s.width <= part.strip_max for s in strips)


def test_a_panel_loses_its_jointing_on_each_glued_edge() -> None:
    # 300 wide from strips of at most 100: three strips sawn 101 + 102 + 101 with 1 to joint on each glued edge
    part = BoardPart(id="top", length=800, width=300, strip_min=60, strip_max=100, jointing=1)
    board = BoardStock(id="b", length=800, width=101 + 3 + 102 + 3 + 101, count=1)
    layout = solve_boards(BoardDemand(parts=(part,), stock=(replace(board, width=340),), kerf=3))
    assert layout.outcome.status is not Status.INFEASIBLE
    ((_, _, strips),) = layout.panels
    assert sum(s.width for s in strips) == 300


def test_the_bound_is_met_where_boards_are_cut_without_loss() -> None:
    part = BoardPart(id="rail", length=500, width=50, count=4)
    stock = (
        BoardStock(id="exact", length=1003, width=103, count=1, price=10),
        BoardStock(id="large", length=2000, width=200, count=1, price=30),
    )
    layout = solved(BoardDemand(parts=(part,), stock=stock, kerf=3))
    assert layout.outcome.proven
    assert layout.outcome.value == 10


def test_show_parts_get_the_best_grade() -> None:
    parts = (
        BoardPart(id="hidden", length=600, width=80, count=6),
        BoardPart(id="front", length=600, width=80, count=3, show=True),
    )
    stock = tuple(
        BoardStock(id=f"g{grade}", length=2100, width=180, count=1, price=100 - 10 * grade, grade=grade)
        for grade in (2, 1, 0)
    )
    layout = solved(BoardDemand(parts=parts, stock=stock, kerf=3), steps=30)
    for pattern in layout.patterns:
        if any(leaf.part == "front" for leaf in _laid(pattern.root)):
            assert pattern.stock == "g0"


def _laid(node: Cut | Laid | Rest) -> list[Laid]:
    if isinstance(node, Cut):
        return [leaf for child in node.pieces for leaf in _laid(child)]
    return [node] if isinstance(node, Laid) else []


def test_nothing_lies_on_an_unusable_stretch() -> None:
    part = BoardPart(id="p", length=450, width=60, count=2)
    board = BoardStock(id="b", length=1000, width=70, count=1, defects=((480, 520),))
    layout = solved(BoardDemand(parts=(part,), stock=(board,), kerf=3))
    assert sorted(leaf.x for leaf in _laid(layout.patterns[0].root)) == [0, 520]


def test_boards_cut_alike_are_one_pattern_in_a_large_order() -> None:
    parts = (
        BoardPart(id="rail", length=500, width=60, count=50_000),
        BoardPart(id="stile", length=700, width=60, count=30_000),
        BoardPart(id="top", length=800, width=300, count=60, strip_min=50, strip_max=115, jointing=2, match="tops"),
    )
    stock = tuple(BoardStock(id=f"b{x}", length=x, width=200, price=x) for x in (2400, 3000, 3600))
    demand = BoardDemand(parts=parts, stock=stock, kerf=3, end_trim=25, edge_trim=5)
    layout = solved(demand, steps=1)
    assert not layout.unplaced
    assert max(p.times for p in layout.patterns) > 1000
    assert layout.outcome.bound <= layout.outcome.value < 1.3 * layout.outcome.bound


def test_the_bound_counts_whole_lengths() -> None:
    # three lengths of 700 in 2400, not 3.4: eight pieces of the full width take three boards
    part = BoardPart(id="p", length=700, width=100, count=8)
    stock = (BoardStock(id="b", length=2400, width=100, price=7),)
    layout = solved(BoardDemand(parts=(part,), stock=stock, kerf=0))
    assert layout.outcome.proven
    assert layout.outcome.bound == 21


@given(demands())
@settings(max_examples=20)
def test_no_plan_costs_less_than_the_bound(demand: BoardDemand) -> None:
    layout = solved(demand, steps=2)
    if not layout.unplaced:
        bound = cost_bound(demand, prices(demand), demand.parts, show_on_best=False)
        assert bound <= sum(s.price for p in layout.patterns for s in demand.stock if s.id == p.stock)


@pytest.mark.parametrize("seed", range(14))
def test_tiny_loads_cost_what_all_ways_to_saw_them_cost(seed: int) -> None:
    demand = tiny_demand(seed)
    exact = exact_cost(demand)
    layout = solve_boards(demand)
    assert verify_boards(demand, layout) == ()
    assert exact is not None
    assert layout.outcome.value == exact
    assert cost_bound(demand, prices(demand), demand.parts, show_on_best=True) <= exact


def test_the_bound_counts_what_joints_take_from_narrow_strips() -> None:
    # 300 wide from boards of 80: four strips lose 3 × 2 × 3 = 18 to the jointer, so that 318 is sawn: five lanes of 78
    part = BoardPart(id="top", length=900, width=300, strip_min=40, strip_max=100, jointing=3)
    stock = (BoardStock(id="b", length=900, width=78, price=5),)
    layout = solved(BoardDemand(parts=(part,), stock=stock, kerf=3))
    assert layout.outcome.proven
    assert layout.outcome.value == 25


def test_a_line_across_a_board_holds_no_more_than_its_width() -> None:
    # 101 and 55 of 150 leave 49, too little for another 55: by surface two boards would do, by width it takes three
    parts = (BoardPart(id="wide", length=1000, width=101, count=3), BoardPart(id="rail", length=500, width=55, count=2))
    layout = solved(BoardDemand(parts=parts, stock=(BoardStock(id="b", length=2000, width=150, price=1),), kerf=0))
    assert layout.outcome.proven
    assert layout.outcome.value == 2


def test_quantity_to_buy_repeats_and_grows_with_the_chance() -> None:
    demand = BoardDemand(parts=(BoardPart(id="p", length=700, width=90, count=20),), stock=(), kerf=3, edge_trim=5)
    supply = BoardSupply(
        lengths=((1830, 1), (2440, 2)), widths=((120, 1), (200, 1)), defect_chance=0.3, defect_lengths=(20, 200)
    )
    answer = quantity_to_buy(demand, supply, trials=60)
    assert answer == quantity_to_buy(demand, supply, trials=60)
    surfaces = [q.surface for q in answer.quantities]
    assert [q.chance for q in answer.quantities] == [0.80, 0.95, 0.99]
    assert surfaces == sorted(surfaces)
    assert surfaces[0] >= 20 * 700 * 90


def test_quantity_to_buy_without_chance_is_plain_arithmetic() -> None:
    # each board of 2000 × 100 gives two pieces of 900 × 90, whatever is drawn: ten pieces take five boards
    demand = BoardDemand(parts=(BoardPart(id="p", length=900, width=90, count=10),), stock=(), kerf=3)
    answer = quantity_to_buy(demand, BoardSupply(lengths=((2000, 1),), widths=((100, 1),)), trials=5)
    assert {(q.boards, q.surface) for q in answer.quantities} == {(5, 5 * 2000 * 100)}
    tall = replace(demand, parts=(BoardPart(id="p", length=900, width=190),))
    assert quantity_to_buy(tall, BoardSupply(lengths=((2000, 1),), widths=((100, 1),)), trials=5).why


@pytest.mark.parametrize(
    ("part", "reason"),
    [
        (BoardPart(id="x", length=0, width=50), "above 0"),
        (BoardPart(id="x", length=100, width=50, count=-2), "0 or more"),
        (BoardPart(id="x", length=100, width=300, strip_min=90, strip_max=80), "at least 90"),
        (BoardPart(id="x", length=100, width=130, strip_min=80, strip_max=90, jointing=1), "makes a panel 130"),
        (BoardPart(id="x", length=9000, width=50), "no board left"),
        (BoardPart(id="x", length=500, width=200), "no board left"),
        (BoardPart(id="x#1", length=500, width=50), "marks the strips"),
    ],
)
def test_bad_parts_are_named_with_a_reason(part: BoardPart, reason: str) -> None:
    good = BoardPart(id="good", length=500, width=50)
    stock = (BoardStock(id="b", length=2000, width=150, count=3),)
    layout = solve_boards(BoardDemand(parts=(good, part), stock=stock, kerf=3), steps=5)
    assert layout.outcome.status is Status.INFEASIBLE
    assert [u.part for u in layout.unplaced] == [part.id]
    assert reason in layout.unplaced[0].why
    assert any(leaf.part == "good" for p in layout.patterns for leaf in _laid(p.root))


def test_bad_demands_have_a_clear_answer() -> None:
    part = BoardPart(id="a", length=500, width=50)
    stock = (BoardStock(id="b", length=2000, width=150),)
    assert "kerf" in solve_boards(BoardDemand(parts=(part,), stock=stock, kerf=-1)).unplaced[0].why
    assert solve_boards(BoardDemand(parts=(part,), stock=(), kerf=3)).outcome.status is Status.INFEASIBLE
    with pytest.raises(ValueError, match="lengths need sizes"):
        quantity_to_buy(BoardDemand(parts=(part,), stock=(), kerf=3), BoardSupply(lengths=(), widths=((100, 1),)))


ONE = BoardDemand(
    parts=(BoardPart(id="a", length=500, width=50, count=2),),
    stock=(BoardStock(id="b", length=2000, width=150),),
    kerf=3,
)


@pytest.mark.parametrize(
    ("demand", "why"),
    [
        (replace(ONE, parts=ONE.parts * 2), "part 'a' is listed twice"),
        (replace(ONE, stock=ONE.stock * 2), "stock 'b' is listed twice"),
        (replace(ONE, stock=(replace(ONE.stock[0], width=-3),)), "width of -3"),
        (replace(ONE, stock=(replace(ONE.stock[0], length=0),)), "length of 0"),
        (replace(ONE, stock=(replace(ONE.stock[0], defects=((1900, 2100),)),)), "does not lie on it"),
        (replace(ONE, edge_trim=-1), "edge trim is -1"),
        (replace(ONE, end_trim=1000), "no board left"),
        (
            replace(ONE, parts=tuple(BoardPart(id=f"{i}", length=50, width=20) for i in range(30_000))),
            "split the order",
        ),
        (replace(ONE, parts=(BoardPart(id="a", length=500, width=400, count=10**6, strip_min=50),)), "split the order"),
    ],
)
def test_what_is_wrong_with_the_whole_demand_is_said_of_each_part(demand: BoardDemand, why: str) -> None:
    layout = solve_boards(demand)
    assert layout.outcome.status is Status.INFEASIBLE
    assert {u.part for u in layout.unplaced} == {p.id for p in demand.parts}
    assert why in layout.unplaced[0].why


def test_a_kerf_wider_than_the_parts_is_only_wasteful() -> None:
    layout = solved(replace(ONE, kerf=700))
    assert layout.outcome.proven
    assert layout.outcome.value == 2000 * 150  # two of 500 with 700 between them: 1700 of 2000


def test_the_verifier_sees_what_is_wrong() -> None:
    demand = BoardDemand(
        parts=(BoardPart(id="p", length=450, width=60, count=2),),
        stock=(BoardStock(id="b", length=1000, width=70, count=1),),
        kerf=3,
    )
    good = solved(demand)
    assert verify_boards(replace(demand, stock=(replace(demand.stock[0], defects=((100, 101),)),)), good)
    assert verify_boards(replace(demand, kerf=4), good)
    assert verify_boards(replace(demand, end_trim=10), good)
    assert verify_boards(demand, replace(good, patterns=()))
    twice = BoardPattern(stock="b", root=good.patterns[0].root, rip_first=good.patterns[0].rip_first, times=2)
    assert verify_boards(demand, replace(good, patterns=(twice,)))
