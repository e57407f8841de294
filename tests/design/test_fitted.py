"""What is cut to fit is what its block says, whatever it is called."""

from __future__ import annotations

import pytest
from tests.design.harness import bench, material

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
    assert sizes_held_back([piece]) == {"test/board": (0, 1)}
