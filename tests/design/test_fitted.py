"""What is cut to fit is what its block says, whatever it is called."""

from __future__ import annotations

import pytest
from tests.design.harness import bench, material
from tests.design.test_cases import SIZE, built, case

from casewright.design.parts import PartKind
from casewright.packet.cut_to_fit import cut_to_fit, sizes_held_back


def test_a_part_says_itself_that_it_is_cut_to_fit_and_from_what() -> None:
    d = bench()
    for name, kind, x in (
        ("cheek", PartKind.CASE, 0.0),
        ("board", PartKind.TOP, 50.0),
        ("top", PartKind.OTHER, 100.0),
    ):
        d.box_part(
            name, name, material("case"), (x, x + 18.0), (0.0, 300.0), (0.0, 400.0), grain="z", thick="x", kind=kind
        )
    piece = d.finish(kind="test", title="test", width=1.0, depth=1.0, height=1.0)
    over = {p.name: (p.part.allowance.length, p.part.allowance.width) for p in piece.placed}
    assert over["board"] == pytest.approx((3.0, 3.0)), "practice fit.cut_over"
    assert over["top"] == over["cheek"] == (0.0, 0.0), "a name alone decides nothing"
    assert [line.what for line in cut_to_fit(piece)] == ["top"]
    assert sizes_held_back([piece]) == {"bench/board": (0, 1)}


def test_leaves_of_a_pair_and_pieces_of_a_split_back_are_cut_to_fit_too() -> None:
    high = SIZE.replace("900", "1500").replace("800", "1300")
    piece = built(case(high + 'bays = { columns = ["pair", "open"] }\ntop = { kind = "between" }\n'))
    over = {p.path.removeprefix("case/"): p.part.allowance for p in piece.placed if hasattr(p.thing, "allowance")}
    leaves = ("door[c1,r1].left/stile.left", "door[c1,r1].right/rail.top", "back[b1]", "back[b2]")
    assert all(over[name].length == pytest.approx(3.0) for name in leaves), "practice fit.cut_over"
    assert over["door[c1,r1].left/panel"].width == pytest.approx(3.0)
