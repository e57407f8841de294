"""Bad demands get a reason for each part, never an exception; the verifier finds what is wrong in a layout."""

from __future__ import annotations

from dataclasses import replace

import pytest

from casewright.layout.model import Cut, Laid, Rest, Saws, SheetDemand, SheetLayout, SheetPart, SheetStock, Status
from casewright.layout.sheets import solve_sheets
from casewright.layout.verify_sheets import verify_sheets

SHEET = SheetStock(id="sheet", length=1000, width=500, price=10)
PART = SheetPart(id="side", length=300, width=200, count=2)
GOOD = SheetDemand(parts=(PART,), stock=(SHEET,), saws=Saws(kerf=3))


@pytest.mark.parametrize(
    ("demand", "why"),
    [
        (replace(GOOD, parts=(replace(PART, length=-3),)), "more than 0"),
        (replace(GOOD, parts=(replace(PART, width=0),)), "more than 0"),
        (replace(GOOD, parts=(replace(PART, length=1001),)), "larger than every sheet"),
        (replace(GOOD, parts=(replace(PART, length=200, width=900),)), "as its grain must lie"),
        (replace(GOOD, parts=(PART, PART)), "listed twice"),
        (replace(GOOD, saws=Saws(kerf=-1)), "must not be negative"),
        (replace(GOOD, stock=()), "no sheet"),
        (replace(GOOD, stock=(replace(SHEET, trim=(500, 500, 0, 0)),)), "no sheet"),
        (replace(GOOD, stock=(replace(SHEET, price=-1),)), "negative trim or price"),
        (replace(GOOD, stages=0), "stages"),
        (replace(GOOD, saws=Saws(kerf=3, longest_rip=100, widest_crosscut=100)), "saws cannot cut it out"),
        (replace(GOOD, parts=(replace(PART, count=500),), stock=(replace(SHEET, count=2),)), "does not suffice"),
    ],
)
def test_what_cannot_be_placed_is_named_with_the_reason(demand: SheetDemand, why: str) -> None:
    layout = solve_sheets(demand, steps=50)
    assert layout.outcome.status is Status.INFEASIBLE
    assert why in layout.unplaced[0].why
    assert layout.unplaced[0].part == "side"


def test_nothing_wanted_is_proven_at_once() -> None:
    layout = solve_sheets(replace(GOOD, parts=()))
    assert (layout.patterns, layout.outcome.value, layout.outcome.status) == ((), 0, Status.PROVEN)


def test_kerf_wider_than_the_parts_is_only_wasteful() -> None:
    demand = replace(GOOD, saws=Saws(kerf=250))
    layout = solve_sheets(demand, steps=50)
    assert verify_sheets(demand, layout) == ()
    assert layout.outcome.value == 10  # two of 300 with a line of 250 between them: 850 of 1000


def test_a_million_parts() -> None:
    """A million of one kind is a count; a million kinds is refused."""
    demand = replace(GOOD, parts=(replace(PART, count=1_000_000),))
    layout = solve_sheets(demand, steps=20)
    assert verify_sheets(demand, layout) == ()
    assert not layout.unplaced
    kinds = tuple(replace(PART, id=str(i)) for i in range(30_000))
    refused = solve_sheets(replace(GOOD, parts=kinds))
    assert refused.outcome.status is Status.INFEASIBLE
    assert "split the order" in refused.unplaced[0].why


def _with_root(layout: SheetLayout, root: Cut | Laid | Rest) -> SheetLayout:
    return replace(layout, patterns=(replace(layout.patterns[0], root=root), *layout.patterns[1:]))


def test_the_verifier_finds_faults() -> None:
    layout = solve_sheets(GOOD, steps=0)
    assert verify_sheets(GOOD, layout) == ()
    root = layout.patterns[0].root
    assert isinstance(root, Cut)
    moved = replace(root, lines=(root.lines[0] + 1, *root.lines[1:]))
    assert "should be" in verify_sheets(GOOD, _with_root(layout, moved))[0]
    assert "takes 2" in " ".join(verify_sheets(GOOD, _with_root(layout, replace(root, kerf=2))))
    assert "rough but liftable" in " ".join(verify_sheets(GOOD, _with_root(layout, replace(root, rough=True))))
    rest = Rest(x=0, y=0, length=1000, width=500, keep=False)
    assert "0 laid" in verify_sheets(GOOD, _with_root(layout, rest))[0]
    wrong = replace(layout, outcome=replace(layout.outcome, value=9, status=Status.PROVEN))
    assert verify_sheets(GOOD, wrong)
    short = replace(GOOD, saws=Saws(kerf=3, widest_crosscut=1, longest_rip=1))
    assert "longer than 1" in verify_sheets(short, layout)[0]
    assert "of sheet used" in " ".join(verify_sheets(replace(GOOD, stock=(replace(SHEET, count=0),)), layout))
