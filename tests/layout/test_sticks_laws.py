"""Laws of stick layouts, mitres, runs, holding, locked sticks and bad input."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from casewright.layout.model import (
    Goal,
    Status,
    StickDemand,
    StickEnd,
    StickLayout,
    StickPart,
    StickPattern,
    StickPiece,
    StickStock,
)
from casewright.layout.sticks import solve_sticks
from casewright.layout.verify_sticks import verify_sticks

STOCK = (
    StickStock(id="8 ft", length=2438, price=120),
    StickStock(id="12 ft", length=3657, price=170),
    StickStock(id="offcut", length=900, count=2, offcut=True),
)


@st.composite
def demands(draw: st.DrawFn) -> StickDemand:
    """Stick jobs with square and mitred ends, perhaps shared, perhaps with short pieces to be held."""
    ends = st.sampled_from(list(StickEnd))
    parts = []
    for i in range(draw(st.integers(1, 6))):
        left, right = draw(ends), draw(ends)
        run = draw(st.sampled_from((30, 50)))
        parts.append(
            StickPart(
                id=f"p{i}",
                length=draw(st.integers(100, 1500)),
                count=draw(st.integers(1, 4)),
                left=left,
                right=right,
                left_run=run if left is not StickEnd.SQUARE else 0,
                right_run=run if right is not StickEnd.SQUARE else 0,
            )
        )
    return StickDemand(
        parts=tuple(parts),
        stock=STOCK,
        kerf=3,
        mitre_kerf=draw(st.sampled_from((0, 5))),
        end_trim=draw(st.sampled_from((0, 12))),
        least_held=draw(st.sampled_from((0, 150))),
        share_mitres=draw(st.booleans()),
    )


def solved(demand: StickDemand, seed: int = 0) -> StickLayout:
    layout = solve_sticks(demand, seed=seed, steps=150)
    assert verify_sticks(demand, layout) == ()
    return layout


@given(demands())
@settings(max_examples=40)
def test_every_answer_verifies_and_repeats(demand: StickDemand) -> None:
    first, second = solved(demand), solved(demand)
    assert first.patterns == second.patterns
    assert first.outcome.bound == second.outcome.bound


@given(demands())
@settings(max_examples=25)
def test_more_stock_no_kerf_and_shared_mitres_never_cost_more_at_proof(demand: StickDemand) -> None:
    base = solved(demand)
    more = replace(demand, stock=(*STOCK, StickStock(id="extra", length=1000, count=1, offcut=True)))
    for easier in (more, replace(demand, kerf=0, mitre_kerf=0), replace(demand, share_mitres=True)):
        layout = solved(easier)
        if base.outcome.proven and layout.outcome.proven:
            assert layout.outcome.value <= base.outcome.value


def test_answer_does_not_depend_on_the_order_of_parts() -> None:
    parts = tuple(StickPart(id=f"p{i}", length=300 + 70 * i, count=3) for i in range(6))
    demand = StickDemand(parts=parts, stock=STOCK, kerf=3)
    turned = replace(demand, parts=parts[::-1])
    assert solved(demand).outcome.value == solved(turned).outcome.value


def mitred(count: int, *, share: bool) -> StickDemand:
    part = StickPart(
        id="rail", length=500, count=count, left=StickEnd.MITRE, right=StickEnd.MITRE, left_run=100, right_run=100
    )
    # four rails nested: 4 × 500 − 3 × 100 + 3 × 3 = 1709; four apart: 4 × 500 + 3 × 3 = 2009
    stock = (StickStock(id="short", length=1709, price=1), StickStock(id="long", length=2009, price=2))
    return StickDemand(parts=(part,), stock=stock, kerf=3, share_mitres=share)


def test_shared_mitres_save_their_run_at_each_joint() -> None:
    shared, apart = solved(mitred(4, share=True)), solved(mitred(4, share=False))
    assert (shared.outcome.value, apart.outcome.value) == (1, 2)
    assert [p.flipped for p in shared.patterns[0].pieces] == [False, True, False, True]


def test_a_run_in_sequence_stays_together_and_in_order() -> None:
    run = [
        StickPart(id=n, length=size, count=2, run="front", sequence=i, in_sequence=True)
        for i, (n, size) in enumerate((("left", 400), ("middle", 700), ("right", 400)))
    ]
    other = StickPart(id="other", length=610, count=3)
    layout = solved(StickDemand(parts=(other, *reversed(run)), stock=STOCK, kerf=3))
    for pattern in layout.patterns:
        names = [p.part for p in pattern.pieces if p.part != "other"]
        assert names == ["left", "middle", "right"] * (len(names) // 3)


def test_a_run_longer_than_any_stick_is_named() -> None:
    run = [StickPart(id=f"r{i}", length=1500, run="r", sequence=i, in_sequence=True) for i in range(3)]
    layout = solved(StickDemand(parts=tuple(run), stock=STOCK, kerf=3))
    assert layout.outcome.status is Status.INFEASIBLE
    assert {u.part for u in layout.unplaced} == {"r0", "r1", "r2"}
    assert "run r" in layout.unplaced[0].why


def test_short_pieces_leave_something_to_hold() -> None:
    demand = StickDemand(
        parts=(StickPart(id="block", length=50, count=10),),
        stock=(StickStock(id="offcut", length=530, count=1, offcut=True), StickStock(id="new", length=700, price=5)),
        kerf=3,
        least_held=150,
    )
    layout = solved(demand)  # ten blocks would just fit the offcut, but the last could not be held
    for pattern in layout.patterns:
        end = pattern.pieces[-1].start + 50
        length = {s.id: s.length for s in demand.stock}[pattern.stock]
        assert length - end >= 150


def test_short_pieces_alone_are_proven_with_what_must_be_held() -> None:
    # each stick of 1000 loses 10 at one end and the 300 held at the other: three pieces of 200, not four
    part = StickPart(id="foot", length=200, count=7)
    stock = (StickStock(id="s", length=1000, price=5),)
    layout = solved(StickDemand(parts=(part,), stock=stock, kerf=3, end_trim=10, least_held=300))
    assert layout.outcome.proven
    assert layout.outcome.value == 15


def test_a_run_that_ends_in_a_short_piece_is_held_too() -> None:
    run = [
        StickPart(id=n, length=size, count=3, run="r", sequence=i, in_sequence=True)
        for i, (n, size) in enumerate((("long", 717), ("short", 80)))
    ]
    # three sets are 3 × 797 + 5 × 3 = 2,406 with kerfs: they fit the 2,438, but the last 80 could not be held
    layout = solved(StickDemand(parts=tuple(run), stock=STOCK[:2], kerf=3, least_held=150))
    assert layout.outcome.status is not Status.INFEASIBLE


def test_locked_sticks_are_kept_and_count() -> None:
    done = StickPattern(stock="8 ft", pieces=(StickPiece(part="a", start=0, length=800),), rest=1600, locked=True)
    demand = StickDemand(parts=(StickPart(id="a", length=800, count=3),), stock=STOCK, kerf=3, locked=(done,))
    layout = solved(demand)
    assert done in layout.patterns
    assert dict(layout.outcome.goals)[Goal.COST] == 120 + 0 + 0  # the other two come from the two offcuts


@pytest.mark.parametrize(
    ("part", "reason"),
    [
        (StickPart(id="x", length=-5), "above 0"),
        (StickPart(id="x", length=100, count=-1), "0 or more"),
        (StickPart(id="x", length=100, left=StickEnd.MITRE, left_run=200), "longer than the part"),
        (
            StickPart(id="x", length=100, left=StickEnd.MITRE, right=StickEnd.MITRE, left_run=60, right_run=60),
            "would cross",
        ),
        (StickPart(id="x", length=9000), "longer than the usable length"),
    ],
)
def test_bad_parts_are_named_with_a_reason(part: StickPart, reason: str) -> None:
    good = StickPart(id="good", length=500)
    layout = solve_sticks(StickDemand(parts=(good, part), stock=STOCK, kerf=3))
    assert layout.outcome.status is Status.INFEASIBLE
    assert [u.part for u in layout.unplaced] == ["x"]
    assert reason in layout.unplaced[0].why
    assert any(p.part == "good" for s in layout.patterns for p in s.pieces)


def test_bad_demands_have_a_clear_answer() -> None:
    part = StickPart(id="a", length=500, count=2)
    assert "kerf" in solve_sticks(StickDemand(parts=(part,), stock=STOCK, kerf=-1)).unplaced[0].why
    assert solve_sticks(StickDemand(parts=(part,), stock=(), kerf=3)).outcome.status is Status.INFEASIBLE
    assert solve_sticks(StickDemand(parts=(), stock=STOCK, kerf=3)).outcome.proven


ONE = StickDemand(parts=(StickPart(id="a", length=500, count=2),), stock=STOCK, kerf=3)


@pytest.mark.parametrize(
    ("demand", "why"),
    [
        (replace(ONE, parts=ONE.parts * 2), "part 'a' is listed twice"),
        (replace(ONE, stock=STOCK * 2), "stock '12 ft' is listed twice"),
        (replace(ONE, stock=(StickStock(id="s", length=-3),)), "length of -3"),
        (replace(ONE, stock=(StickStock(id="s", length=900, price=-1),)), "price of -1"),
        (replace(ONE, stock=(StickStock(id="s", length=900, count=-1),)), "count of -1"),
        (replace(ONE, stock=STOCK[:2], end_trim=2000), "longer than the usable length"),
        (replace(ONE, parts=tuple(StickPart(id=f"{i}", length=50) for i in range(30_000))), "split the order"),
    ],
)
def test_what_is_wrong_with_the_whole_demand_is_said_of_each_part(demand: StickDemand, why: str) -> None:
    layout = solve_sticks(demand)
    assert layout.outcome.status is Status.INFEASIBLE
    assert {u.part for u in layout.unplaced} == {p.id for p in demand.parts}
    assert why in layout.unplaced[0].why


def test_a_kerf_wider_than_the_parts_is_only_wasteful() -> None:
    # 2438 takes four of 60 with three kerfs of 700 (2340), 900 takes two: six pieces from one stick and one offcut
    demand = StickDemand(parts=(StickPart(id="a", length=60, count=6),), stock=(STOCK[0], STOCK[2]), kerf=700)
    layout = solved(demand)
    assert layout.outcome.proven
    assert layout.outcome.value == 0 + 120


def test_finite_sticks_that_just_suffice_are_found() -> None:
    # longest first fills 44 + 36 and leaves 26 over; 44 + 30 + 26 and 36 + 34 + 30 take both sticks of 100 whole
    parts = tuple(StickPart(id=f"p{i}", length=size) for i, size in enumerate((44, 30, 26, 36, 34, 30)))
    demand = StickDemand(parts=parts, stock=(StickStock(id="s", length=100, count=2, price=3),), kerf=0)
    layout = solved(demand)
    assert layout.outcome.proven
    assert layout.outcome.value == 6
    short = solved(replace(demand, parts=(*parts, StickPart(id="more", length=1))))
    assert sum(u.count for u in short.unplaced) == 1  # 201 in all


def test_a_million_pieces_and_too_little_stock_are_answered() -> None:
    many = StickDemand(parts=(StickPart(id="a", length=500, count=1_000_000),), stock=STOCK, kerf=3)
    assert solved(many).outcome.proven
    few = replace(many, stock=(replace(STOCK[0], count=2),))
    layout = solved(few)
    assert layout.unplaced[0].count == 1_000_000 - 8


def test_the_verifier_sees_what_is_wrong() -> None:
    demand = mitred(4, share=True)
    good = solved(demand)
    stick = good.patterns[0]
    shifted = replace(stick, pieces=(stick.pieces[0], replace(stick.pieces[1], start=300), *stick.pieces[2:]))
    assert verify_sticks(demand, replace(good, patterns=(shifted,)))
    assert verify_sticks(demand, replace(good, patterns=()))
    assert verify_sticks(demand, replace(good, outcome=replace(good.outcome, value=0)))
    assert verify_sticks(replace(demand, share_mitres=False), good)
