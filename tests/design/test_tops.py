"""Tops of every kind on a plain box: sizes, movement, and that they lie, hold and move as they should."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.design.harness import CACHE, WET, agrees_with_kernel, box, done, glue, kit_of, put, sizes, sound

from casewright.design.assembly import JointKind
from casewright.design.blocks.top import TopSpec
from casewright.design.blocks.top_fixing import Way, fix_made
from casewright.design.blocks.top_kinds import MadeTop, make_top
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.features.openings import Slot
from casewright.design.kit import KitError
from casewright.design.parts import Placed
from casewright.solids.collide import overall_box

SOLID = kit_of()
SHEET = kit_of((("top", "birch-plywood-18"),))
KITS = {"solid": SOLID, "banded": SHEET, "edged": SHEET, "panelled": SOLID, "breadboard": SOLID}


def over(kind: str, back: float = 0.0) -> tuple[Draft, MadeTop]:
    """A top of a kind on a box 600 × 400, held to the front stretcher for the checks."""
    d, body = box()
    kit = KITS[kind]
    thick = kit.sheet("top").thickness if kit is SHEET else 25.0
    for name in ("overhang_front", "overhang_side", "overhang_back", "to_wall", "thickness"):
        d.let(f"top.{name}", {"overhang_back": back, "to_wall": 5.0, "thickness": thick}.get(name, 20.0), rule="test")
    spec = TopSpec(thickness=thick, overhang_front=20.0, overhang_side=20.0, overhang_back=back, to_wall=5.0)
    made = make_top(d, kit, body, spec, kind, WET)
    d.joint("held", JointKind.SCREWS, d.at("stretcher.front"), made.front, (0.0, 0.0, body.z1))
    return d, made


@pytest.mark.parametrize("kind", list(KITS))
def test_every_top_is_sound_and_as_large_as_it_should_be(kind: str) -> None:
    d, _ = over(kind)
    piece = sound(d)
    agrees_with_kernel(piece, 5)
    only = [p for p in piece.placed if p.path.startswith("bench/top")]
    lo, hi = overall_box(_of(piece, only), CACHE, ())
    assert hi[0] - lo[0] == pytest.approx(640.0, abs=1e-4)
    assert hi[1] - lo[1] == pytest.approx(415.0, abs=1e-4)
    assert lo[1] == pytest.approx(-20.0, abs=1e-4)


def _of(piece, placed: list[Placed]):
    return replace(piece, placed=tuple(placed))


def test_bands_count_in_the_finished_size() -> None:
    d, made = over("banded", back=10.0)
    part = done(d).by_path()["bench/top"].part
    assert len(part.bands) == 4
    thick = part.bands[0].thickness
    assert part.finished == pytest.approx((640.0, 425.0, part.blank.thickness), abs=1e-5)
    assert (part.blank.length, part.blank.width) == pytest.approx((640.0 - 2 * thick, 425.0 - 2 * thick), abs=1e-5)
    assert made.moves(0.0, 400.0) == 0.0


def test_edging_is_mitred_in_front() -> None:
    d, _ = over("edged")
    piece = done(d)
    assert {j.id for j in piece.joints if j.kind is JointKind.MITRE} == {
        "bench/top_edging.front~left",
        "bench/top_edging.front~right",
    }
    assert piece.by_path()["bench/top_edging.front"].part.blank.length == pytest.approx(640.0)


def test_a_breadboard_end_lets_the_top_move() -> None:
    """Cherry, C_T 0.00248 (Wood Handbook 2010, table 13-5): 415 mm × 5 % × C / 2 either way from the middle peg."""
    d, made = over("breadboard")
    piece = sound(d)
    move = 0.00248 * (WET.damp - WET.dry) * 415.0 / 2
    assert sizes(piece)["top.end_movement"] == pytest.approx(move, abs=1e-4)
    panel, end = piece.by_path()["bench/top"].part, piece.by_path()["bench/top_end.left"].part
    slots = [f for f in panel.features if isinstance(f, Slot)]
    diameter = 2 * piece.fasteners[0].shank_radius
    assert slots
    for slot in slots:
        x0, y0, x1, y1 = slot.outline.box
        assert max(x1 - x0, y1 - y0) >= 2 * move + diameter
    tenons = [f for f in panel.features if isinstance(f, Tenon)]
    groove = next(f for f in end.features if isinstance(f, Groove))
    thick = tenons[0].v1 - tenons[0].v0
    assert len(tenons) == 2
    assert thick == pytest.approx(25.0 / 3, abs=1e-4), "a third of the thickness (fact book section 7)"
    assert (groove.u1 - groove.u0) - (tenons[0].u1 - tenons[0].u0) >= 2 * move
    tight = [f for f in panel.features if type(f).__name__ == "Hole"]
    assert len(tight) == 2, "one fixed peg an end"
    assert not [j for j in piece.joints if j.kind is JointKind.TONGUE and j.glued]
    assert made.moves(0.0, 100.0) == pytest.approx(100.0)


def test_a_panelled_top_moves_in_its_long_members_only() -> None:
    d, made = over("panelled")
    wide = sizes(done(d))["top.member_width"]
    assert made.moves(-20.0, 395.0) == pytest.approx(2 * wide, abs=1e-4)


@pytest.mark.parametrize(
    ("kind", "kit"), [("solid", SHEET), ("banded", SOLID), ("panelled", SHEET), ("edged", SOLID), ("breadboard", SHEET)]
)
def test_the_wrong_stock_is_told(kind: str, kit) -> None:
    d, body = box()
    spec = TopSpec(thickness=18.0, overhang_front=0.0, overhang_side=0.0, overhang_back=0.0, to_wall=0.0)
    with pytest.raises(KitError, match="role top"):
        make_top(d, kit, body, spec, kind, WET)
    with pytest.raises(ValueError, match="a top is solid"):
        make_top(d, kit, body, spec, "marble", WET)


# --- how they are fixed ---


def fixed(kind: str, way: Way = Way.AUTO, supports: tuple[str, ...] = ("stretcher.front", "stretcher.rear")):
    d, body = box(stretchers="stretcher.front" in supports)
    kit = KITS[kind]
    thick = kit.sheet("top").thickness if kit is SHEET else 25.0
    for name in ("overhang_front", "overhang_side", "overhang_back", "to_wall", "thickness"):
        d.let(f"top.{name}", {"to_wall": 5.0, "thickness": thick, "overhang_back": 0.0}.get(name, 20.0), rule="test")
    spec = TopSpec(thickness=thick, overhang_front=20.0, overhang_side=20.0, overhang_back=0.0, to_wall=5.0)
    made = make_top(d, kit, body, spec, kind, WET)
    names = fix_made(d, kit, body, made, WET, [d.at(s) for s in supports], way)
    return d, names


@pytest.mark.parametrize("kind", list(KITS))
def test_every_top_is_screwed_to_the_stretchers(kind: str) -> None:
    d, _ = fixed(kind)
    piece = sound(d)
    kinds = {j.id: j.kind for j in piece.joints if j.id.startswith("bench/top~")}
    moves = kind in ("solid", "breadboard", "panelled")
    assert kinds == {
        "bench/top~stretcher.front": JointKind.SCREWS,
        "bench/top~stretcher.rear": JointKind.SLOTTED_SCREWS if moves else JointKind.SCREWS,
    }


def test_a_slot_is_as_long_as_the_top_moves_the_shank_and_the_spare() -> None:
    """C × (moisture range) × distance from the fixed line + shank + 3 mm (common practice; C: Wood Handbook 13-5)."""
    d, _ = fixed("solid")
    at = sizes(done(d))
    distance = at["top.fixed_to_slot"]
    assert at["top.slot"] == pytest.approx(0.00248 * 5.0 * distance + 0.164 * 25.4 + 3.0, abs=1e-3)


def test_plates_on_the_sides_and_buttons_behind() -> None:
    d, names = fixed("solid", supports=("side.left", "side.right"))
    assert len(names) == 6, "one every 250 mm or less along 400 mm"
    agrees_with_kernel(sound(d), 6)


def rails(way: Way) -> list[str]:
    """A top on an upright rail in front and one behind."""
    d, body = box(stretchers=False)
    body_x = (-body.inside / 2, body.inside / 2)
    for name, y in (("front", (0.0, 20.0)), ("rear", (body.inner_back - 20.0, body.inner_back))):
        put(d, f"rail.{name}", "face_frame", body_x, y, (620.0, 700.0), "x", "y")
        for hand in ("left", "right"):
            glue(d, f"rail.{name}~side.{hand}", d.at(f"side.{hand}"), d.at(f"rail.{name}"))
    for name in ("overhang_front", "overhang_side", "overhang_back", "to_wall", "thickness"):
        d.let(f"top.{name}", {"to_wall": 5.0, "thickness": 25.0, "overhang_back": 0.0}.get(name, 20.0), rule="test")
    spec = TopSpec(thickness=25.0, overhang_front=20.0, overhang_side=20.0, overhang_back=0.0, to_wall=5.0)
    made = make_top(d, SOLID, body, spec, "solid", WET)
    names = fix_made(d, SOLID, body, made, WET, [d.at("rail.front"), d.at("rail.rear")], way)
    agrees_with_kernel(sound(d), 6)
    return list(names)


def test_upright_rails_take_plates_in_front_and_buttons_behind() -> None:
    names = rails(Way.AUTO)
    assert {n.split("[")[0] for n in names} == {"plate.rail.front", "button.rail.rear"}
    assert {n.split(".")[0] for n in rails(Way.BUTTONS)} == {"button"}


@pytest.mark.parametrize(
    ("way", "support", "code"), [(Way.PLATES, "side.left", "plate.swing"), (Way.BUTTONS, "rail.rear", "button.short")]
)
def test_fixings_that_cannot_follow_the_top_are_told(way: Way, support: str, code: str) -> None:
    """700 mm from the fixed line, C 0.00248: 8 % of moisture move it 13.9 mm."""
    d, body = box(depth=900.0)
    for name in ("overhang_front", "overhang_side", "overhang_back", "to_wall", "thickness"):
        d.let(f"top.{name}", {"thickness": 25.0}.get(name, 0.0), rule="test")
    spec = TopSpec(thickness=25.0, overhang_front=0.0, overhang_side=0.0, overhang_back=0.0, to_wall=0.0)
    made = make_top(d, SOLID, body, spec, "solid", WET)
    put(d, "rail.rear", "face_frame", (-280.0, 280.0), (700.0, 720.0), (620.0, 700.0), "x", "y")
    wet = replace(WET, dry=4.0, damp=16.0)
    fix_made(d, SOLID, body, made, wet, [d.at("stretcher.front"), d.at(support)], way)
    (finding,) = d.findings
    assert finding.code == code
    assert finding.value is not None
    if code == "plate.swing":
        assert finding.value == pytest.approx(0.00248 * 8.0 * 880.0, abs=0.2)
