"""What a case stands on: plinth, bracket feet, sides to the floor; held, clear of the floor, and sound."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.design.harness import CACHE, agrees_with_kernel, bench, box, done, kit_of, sizes, sound

from casewright.design.assembly import JointKind
from casewright.design.blocks.bracket_feet import BracketSpec, bracket_feet
from casewright.design.blocks.corner_posts import post_room
from casewright.design.blocks.floor_sides import SidesSpec, side_gap, sides_to_floor
from casewright.design.blocks.plinth import PlinthSpec, plinth
from casewright.solids.collide import overall_box
from casewright.solids.measure import volume_of
from casewright.stock.model import Leveller

KIT = kit_of()


@pytest.mark.parametrize("mitred", [False, True])
@pytest.mark.parametrize("levelled", [False, True])
@pytest.mark.parametrize(("width", "raised"), [(600.0, 0.0), (1900.0, 0.0), (600.0, 60.0)])
def test_a_plinth_carries_the_case(mitred: bool, levelled: bool, width: float, raised: float) -> None:
    d, body = box(width=width, raised=raised)
    above = d.at("bottom") if not raised else None
    spec = PlinthSpec(set_back=50.0, inset=10.0, behind=15.0, mitred=mitred, levelled=levelled)
    names = plinth(d, KIT, body, spec, above)
    piece = sound(d)
    agrees_with_kernel(piece, 8)
    assert names == (("landing.left", "landing.right", "plinth") if raised else ("plinth",))
    assert len([p for p in piece.placed if "plinth/stretcher" in p.path]) == (2 if width > 1000 else 0)
    held = [j for j in piece.joints if j.id.endswith("~case")]
    assert held
    assert all(j.kind is JointKind.SCREWS and not j.glued for j in held), "it comes off"
    lo, _ = overall_box(piece, CACHE, ())
    assert lo[2] == pytest.approx(0.0, abs=1e-6)


def test_a_levelled_plinth_clears_the_floor_with_the_feet_fully_in() -> None:
    d, body = box()
    plinth(d, KIT, body, PlinthSpec(set_back=50.0, levelled=True), d.at("bottom"))
    leveller = KIT.role("leveller", Leveller)
    assert sizes(done(d))["plinth.gap"] - (leveller.middle - leveller.least) >= 3.0 - 1e-6


def test_a_plinth_too_low_or_too_shallow_is_told() -> None:
    d, body = box(z0=30.0)
    assert plinth(d, KIT, body, PlinthSpec(set_back=50.0)) == ()
    assert [f.code for f in d.findings] == ["plinth.small"]
    d, body = box(z0=60.0)
    plinth(d, KIT, body, PlinthSpec(set_back=50.0, levelled=True), d.at("bottom"))
    assert {f.code for f in d.findings} == {"base.low"}


# --- bracket feet ---

BRACKET = BracketSpec(length=150.0, ankle=45.0, web=35.0, radius=40.0)


@pytest.mark.parametrize(("levelled", "raised"), [(False, 0.0), (True, 0.0), (True, 60.0)])
def test_bracket_feet_carry_the_case(levelled: bool, raised: float) -> None:
    d, body = box(z0=120.0, raised=raised)
    spec = replace(BRACKET, levelled=levelled)
    names = bracket_feet(d, KIT, body, spec, d.at("bottom") if not raised else None)
    piece = sound(d)
    agrees_with_kernel(piece, 10)
    assert len([n for n in names if n.startswith("foot.")]) == 4
    assert sum(j.kind is JointKind.SPLINE_MITRE for j in piece.joints) == 2
    lo, hi = overall_box(piece, CACHE, ())
    assert (lo[2], hi[0] - lo[0]) == pytest.approx((0.0, 600.0), abs=1e-5)


def test_the_outline_of_a_bracket_foot_by_hand() -> None:
    """Taken: rise × (length − ankle), less the corner that the quarter circle leaves: (1 − π/4) r²."""
    d, body = box(z0=120.0)
    bracket_feet(d, KIT, body, BRACKET, d.at("bottom"))
    piece = done(d)
    rise = 120.0 - 35.0
    area = rise * (150.0 - 45.0) - (1 - math.pi / 4) * 40.0**2
    for name in ("foot.rear.left/side", "foot.rear.right/side"):
        part = piece.by_path()[f"bench/{name}"].part
        whole = part.blank.length * part.blank.width * part.blank.thickness
        assert whole - volume_of(part, CACHE) == pytest.approx(area * part.blank.thickness, rel=1e-4)


@pytest.mark.parametrize(
    ("change", "height"), [({"radius": 90.0}, 120.0), ({"length": 90.0}, 120.0), ({"length": 290.0}, 120.0)]
)
def test_outlines_that_do_not_fit_are_told(change: dict[str, float], height: float) -> None:
    d, body = box(z0=height)
    assert bracket_feet(d, KIT, body, replace(BRACKET, **change), d.at("bottom")) == ()
    assert [f.code for f in d.findings] == ["bracket.outline"]


# --- sides to the floor ---

SIDES = SidesSpec(toe_height=100.0, toe_depth=75.0)


@pytest.mark.parametrize(
    "spec",
    [
        SIDES,
        replace(SIDES, skirting_height=90.0, skirting_depth=16.0),
        replace(SIDES, notched=False, levelled=True),
    ],
)
def test_sides_run_to_the_floor(spec: SidesSpec) -> None:
    d, body = box(z0=side_gap(bench(), KIT, spec), raised=100.0)
    names = sides_to_floor(d, KIT, body, spec, d.at("bottom"))
    piece = sound(d)
    assert names[0] == "toe_board"
    side = piece.by_path()["bench/side.left"].part
    taken = side.blank.length * side.blank.width * side.blank.thickness - volume_of(side, CACHE)
    toe = 100.0 * 75.0 * spec.notched
    skirting = spec.skirting_height * spec.skirting_depth
    relief = 6.0 * (400.0 - 75.0 * spec.notched - spec.skirting_depth - 100.0)
    assert taken == pytest.approx((toe + skirting + relief) * side.blank.thickness, rel=1e-6)


def test_notches_that_leave_no_side_are_told() -> None:
    d, body = box(z0=0.0, raised=100.0)
    assert sides_to_floor(d, KIT, body, replace(SIDES, toe_depth=290.0), d.at("bottom")) == ()
    d2, body2 = box(z0=0.0, raised=20.0)
    assert sides_to_floor(d2, KIT, body2, SIDES, d2.at("bottom")) == ()
    assert [f.code for f in d.findings + d2.findings] == ["sides.notch", "sides.notch"]


# --- corner posts ---


def test_posts_need_room_between_them() -> None:
    d = bench()
    assert post_room(d, 51.0, 600.0, 400.0)
    assert not post_room(d, 51.0, 120.0, 400.0)
    assert [f.code for f in d.findings] == ["post.room"]


def test_the_usual_toe_notch() -> None:
    """3 in deep (common practice of kitchen bases); its height is the order's."""
    assert bench().practice["toe.depth"] == pytest.approx(3.0 * 25.4)
