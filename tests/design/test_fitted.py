"""What is cut to fit is what its block says, whatever it is called."""

from __future__ import annotations

import pytest
from tests.design.harness import bench, material
from tests.design.test_cases import SIZE, built, case

from casewright.design.parts import PartKind
from casewright.design.step_runs import step_runs
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


def test_beads_are_cut_to_the_door_that_stands() -> None:
    """A mitred bead is cut to its rabbet, long point to long point, once the door is glued up (common practice)."""
    piece = built(case(SIZE + 'bays = "door"\nfronts = { door = "glass" }\n'))
    line = next(line for line in cut_to_fit(piece) if line.what == "glass beads")
    assert {p.path.rpartition(".")[2] for p in line.placed} == {"bottom", "top", "left", "right"}
    assert all(p.part.allowance.length == pytest.approx(3.0) for p in line.placed)
    glued = next(
        run.number for run in step_runs(piece) if any(b.endswith("stile.right") and "door" in b for b in run.brings)
    )
    assert line.after >= glued


@pytest.mark.parametrize(
    ("text", "parts", "after"),
    [
        ('fronts = { drawer = "panel" }', ("face/stile.left", "face/rail.top", "face/panel", "face/block"), "frame"),
        ('fronts = { door = "slab" }', ("door[c1,r2]/slab",), "frame"),
        ('back = { kind = "framed" }', ("back/stile.left", "back/rail.top", "back[p1]/panel"), "side.right"),
        ('top = { kind = "panelled" }', ("top_frame.front", "top_frame.left", "/top"), "back"),
        ('top = { kind = "breadboard" }', ("/top", "top_end.left"), "back"),
        ('top = { kind = "lid" }\nbays = "closed"', ("lid/panel", "lid_strip"), "back"),
    ],
    ids=lambda p: p.split('"')[1] if isinstance(p, str) and '"' in p else "",
)
def test_every_front_back_and_top_is_cut_once_what_it_covers_stands(
    text: str, parts: tuple[str, ...], after: str
) -> None:
    """Rule of the trade (common practice): fronts, backs and a top's final size are cut to what stands."""
    bays = "" if "bays" in text else 'bays = { rows = ["drawer", "door"] }\n'
    piece = built(case(SIZE.replace("800", "500" if "lid" in text else "800") + bays + text + "\n"))
    lines = cut_to_fit(piece)
    arrives = next(run.number for run in step_runs(piece) if any(after in path for path in run.brings))
    for part in parts:
        own = [line for line in lines if any(p.path.endswith(part) for p in line.placed)]
        assert len(own) == 1, part
        assert arrives <= own[0].after < own[0].before, part
        over = [p.part for p in own[0].placed if p.path.endswith(part)]
        assert all(x.rough[i] - x.blank.size[i] >= 3.0 - 1e-6 for x in over for i in own[0].sizes), "fit.cut_over"
