"""An arch in the bottom rail of a face frame."""

from __future__ import annotations

import math

import pytest
from tests.design.harness import CACHE, agrees_with_kernel
from tests.design.test_case_backs import loud
from tests.design.test_cases import box, built, case

from casewright.design.features.openings import ShapedEdge
from casewright.solids.measure import volume_of

CASE = 'width = 900\ndepth = 400\nheight = 800\nbottom_rail_visible = 90\nbays = { rows = ["drawer", "drawer"] }\n'
STANDS = {"posts": 'kind = "posts"', "feet": 'kind = "feet"', "wall": 'kind = "wall", height = 1300'}


@pytest.mark.parametrize("stand", STANDS)
def test_the_rail_loses_a_segment_of_a_circle_and_still_covers_the_bottom(stand: str) -> None:
    """By hand: r = (s²/4 + h²) / 2h; the segment's area is r² · (θ − sin θ) / 2 with θ = 2 · asin(s / 2r)."""
    project = case(f"{CASE}arch = 40\nstand = {{ {STANDS[stand]} }}\n")
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 8)
    rail = piece.by_path()["case/frame/rail.bottom"]
    (cut,) = (f for f in rail.part.features if isinstance(f, ShapedEdge))
    span = next(s.value for s in piece.sizes if s.name == "arch.span")
    radius = (span**2 / 4 + 40.0**2) / 80.0
    angle = 2 * math.asin(span / 2 / radius)
    straight = built(case(f"{CASE}stand = {{ {STANDS[stand]} }}\n")).by_path()["case/frame/rail.bottom"]
    lost = volume_of(straight.part, CACHE) - volume_of(rail.part, CACHE)
    segment = radius**2 * (angle - math.sin(angle)) / 2
    assert lost == pytest.approx(segment * rail.part.blank.thickness, rel=2e-3)
    assert cut.depth == rail.part.blank.thickness
    low, bottom = box(piece, "frame/rail.bottom")[0][2], box(piece, "bottom")[0][2]
    assert low + 40.0 < bottom, "the bottom's edge stays behind the rail"
    blocks = [p for p in piece.placed if "/block.front." in p.path or "/foot.front." in p.path]
    assert not blocks or span / 2 < min(abs(c[0]) for c in (box(piece, "block.front.right")[0],))
    saw = next(s for s in piece.steps if s.text.startswith("Saw the arch"))
    assert "before" not in saw.text
    assert saw.cautions
    frame = next(i for i, s in enumerate(piece.steps) if s.text == "Lay the left stile face down")
    assert piece.steps.index(saw) < frame, "the rail is still loose"


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ("arch = 90", "below the bottom and its joints"),
        ('arch = 30\nstand = { kind = "plinth" }', "its base"),
        ('arch = 30\nfront = "frameless"', "no face frame"),
        ("arch = 30\nbase = true", "base moulding"),
    ],
)
def test_an_arch_that_cannot_be_is_found_at_its_key(rows: str, message: str) -> None:
    stand = "" if "stand" in rows else 'stand = { kind = "feet" }\n'
    stops = [f for f in case(f"{CASE}{stand}{rows}\n").assembly.pieces[0].findings if f.stops]
    assert [(f.code, f.path) for f in stops] == [("frame.arch", "case/arch")]
    assert message in stops[0].message


def test_screws_of_a_centre_stile_stay_in_the_wood_over_the_arch() -> None:
    text = CASE.replace('rows = ["drawer", "drawer"]', 'columns = ["drawer", "drawer"]').replace("= 90", "= 110")
    text += 'centre_stile = 32\nstand = { kind = "feet" }\n'
    stops = [f for f in case(f"{text}arch = 80\n").assembly.pieces[0].findings if f.stops]
    assert [f.code for f in stops] == ["frame.arch"]
    piece = built(case(f"{text}arch = {stops[0].limit - 0.5}\n"))
    low = box(piece, "frame/rail.bottom")[0][2] + stops[0].limit
    held = [f for f in piece.fasteners if "case/frame/rail.bottom" in f.parts and "stile[u1]" in f.path]
    assert len(held) == 2, "a screw and a dowel"
    assert all(min(f.tip[2], f.frame.origin[2]) > low + 2.0 for f in held)
