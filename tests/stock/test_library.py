"""The built-in library: whole, read-only, generic, and shaped as its records promise."""

from __future__ import annotations

import math

import pytest
from shapely import Polygon

from casewright.stock import StockDataError, load_stock
from casewright.stock.loops import loop_box, loop_points, sides
from casewright.stock.model import Bumper, Sheet
from casewright.stock.reading import read_items

STOCK = load_stock()


def test_read_once_and_read_only() -> None:
    assert load_stock() is STOCK
    with pytest.raises(TypeError):
        STOCK.sheets["x"] = STOCK.sheets["mdf-19"]  # type: ignore[index]


def test_every_item_has_a_source_a_basis_and_a_price() -> None:
    assert len(STOCK.items) > 100
    for item_id, item in STOCK.items.items():
        assert item.id == item_id
        assert item.source
        assert item.basis
        assert STOCK.prices[item_id].amount > 0
    assert set(STOCK.prices) == set(STOCK.items)


def test_what_hardware_names_is_in_stock() -> None:
    for board in STOCK.boards.values():
        assert board.species in STOCK.species
    for stick in STOCK.sticks.values():
        assert stick.species in STOCK.species
    named = {s.screw for s in STOCK.slides.values()} | {s.case_screw for s in STOCK.slides.values()}
    named |= {h.screw for h in STOCK.hinges.values()} | {p.screw for p in STOCK.pulls.values()}
    named |= {c.screw for c in STOCK.catches.values()} | {u.case_screw for u in STOCK.under_slides.values()}
    named |= {screw for c in STOCK.cup_hinges.values() for screw in (c.screw, c.plate_screw)}
    for table in (STOCK.knife_hinges, STOCK.lid_stays, STOCK.figure_plates, STOCK.buttons, STOCK.rod_ends):
        named |= {fitting.screw for fitting in table.values()}  # type: ignore[attr-defined]
    named |= {screw for w in STOCK.wall_fixings.values() for screw in (w.case_screw, w.wall_screw)}
    assert named <= set(STOCK.screws)
    woods = {b.species for b in STOCK.bands.values()} | {s.species for s in STOCK.sheets.values()}
    assert woods - {""} <= set(STOCK.species)


def _signed_area(section: tuple[tuple[float, float, float], ...]) -> float:
    """Area of an outline of lines and arcs: shoelace, and for each arc its circular segment r²(θ − sin θ)/2."""
    area = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(section, (*section[1:], section[0]), strict=True):
        area += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x0, y0), (x1, y1)) / 2 / math.sin(abs(angle) / 2)
            area += radius**2 * (angle - math.sin(angle)) / 2
    return area


def test_sections_run_counter_clockwise_with_their_back_on_the_wall() -> None:
    for stick in STOCK.sticks.values():
        x0, y0, x1, y1 = loop_box(stick.section)
        assert (x0, y0) == pytest.approx((0, 0), abs=1e-6)
        assert 0.15 * x1 * y1 < _signed_area(stick.section) <= x1 * y1 + 1e-6
        shape = Polygon(loop_points(stick.section))
        assert shape.is_valid
        assert shape.area == pytest.approx(_signed_area(stick.section), rel=2e-3)
        assert shape.buffer(-1.2).geom_type == "Polygon", "no thin neck where a moulding would break"


def test_profiles_cover_the_trade() -> None:
    uses = {s.use for s in STOCK.sticks.values()}
    wanted = {"crown", "base", "cove", "panel", "bead", "shoe", "cap", "chair rail", "astragal", "light rail", "nosing"}
    assert wanted | {"runner", "cleat", "rod", "square", "edging", "quarter round"} <= uses
    shaped = [s for s in STOCK.sticks.values() if any(v[2] for v in s.section)]
    assert len(shaped) >= 16
    assert len({s.section for s in shaped}) >= 16


def test_crowns_lie_on_their_back_at_their_spring_angle() -> None:
    """A crown's back leans from the wall by its spring angle (trade rule): one side of its section does."""
    for stick in STOCK.sticks.values():
        if stick.spring:
            leans = {
                round(math.degrees(math.atan2(abs(b[0] - a[0]), abs(b[1] - a[1]))), 2)
                for a, b, k in sides(stick.section)
                if not k and abs(a[0] - b[0]) > 5 and abs(a[1] - b[1]) > 5
            }
            assert any(abs(lean - stick.spring) < 0.02 for lean in leans), stick.id


def test_the_crown_is_sprung_at_45_degrees() -> None:
    """Drop = w cos s, projection = w sin s (trade rule); w = 1-5/8 in."""
    crown = STOCK.sticks["crown-cove-41"]
    width = 1.625 * 25.4
    assert max(v[1] for v in crown.section) == pytest.approx(width * math.cos(math.radians(crown.spring)), abs=0.001)
    assert max(v[0] for v in crown.section) == pytest.approx(width * math.sin(math.radians(crown.spring)), abs=0.001)
    on_wall = [v[1] for v in crown.section if v[0] == 0]
    under_top = [v[0] for v in crown.section if v[1] == max(w[1] for w in crown.section)]
    assert max(on_wall) - min(on_wall) >= 10
    assert max(under_top) - min(under_top) >= 10


def test_slides_come_in_every_usual_length() -> None:
    """10 to 28 in by 2 in, 250 to 700 mm by 50 mm (common practice)."""
    inches = [s.length / 25.4 for s in STOCK.slides.values() if not s.id.endswith("mm")]
    metric = [s.length for s in STOCK.slides.values() if s.id.endswith("mm")]
    assert sorted(inches) == pytest.approx(range(10, 29, 2))
    assert sorted(metric) == list(range(250, 701, 50))
    for slide in STOCK.slides.values():
        assert slide.clearance == 12.7  # side-mount slides: 1/2 in a side, +1/32 / −0 (common practice)
        for holes in (slide.case_holes, slide.drawer_holes):
            assert 0 < holes[0] < holes[-1] < slide.length
            assert list(holes) == sorted(set(holes))


def test_under_mount_slides_fit_sides_of_16_mm() -> None:
    """Inside width = opening − 42 mm, so a box of 16 mm sides leaves 5 mm each side (common practice)."""
    for slide in STOCK.under_slides.values():
        assert (slide.inside_less - 2 * slide.side_most) / 2 == 5.0
        assert slide.depth_least > slide.length
        assert list(slide.case_holes) == sorted(set(slide.case_holes))


def test_numbers_of_the_32_mm_system() -> None:
    """5 mm holes, 32 mm apart, first row 37 mm back; 8 mm dowels; 35 mm cups, screws 45 × 9.5 mm (common practice)."""
    for hinge in STOCK.cup_hinges.values():
        assert hinge.cup_diameter == 35.0
        assert (hinge.screw_spacing, hinge.screw_offset) == (45.0, 9.5)
        assert hinge.plate_spacing == 32.0
        assert hinge.bore_from_edge_least <= hinge.bore_from_edge <= hinge.bore_from_edge_most
        assert (hinge.overlay < 0) == (hinge.mount == "inset")
        assert hinge.cup_depth + 2 < hinge.door_least
    assert STOCK.cup_hinges["cup-full-110"].plate_line == 37.0
    assert {p.hole for p in STOCK.shelf_pins.values()} == {5.0, 6.35}
    metric = [p.centres for p in STOCK.pulls.values() if p.centres and not p.id.endswith("in")]
    assert {64.0, 320.0} < set(metric)
    assert all(c % 32 == 0 for c in metric)
    assert {8.0} < {d.diameter for d in STOCK.dowels.values()}


def test_hinges_are_drawn_within_their_leaves() -> None:
    heights = sorted(h.height / 25.4 for h in STOCK.hinges.values())
    assert heights == pytest.approx([1.5, 2, 2.5, 3])
    for hinge in STOCK.hinges.values():
        assert hinge.closed >= 2 * hinge.leaf_thickness
        assert all(0 < along < hinge.height and 0 < out < hinge.leaf_width for along, out in hinge.holes)
        screw = STOCK.screws[hinge.screw]
        assert screw.head_diameter / 2 <= min(out for _, out in hinge.holes)
    for knife in STOCK.knife_hinges.values():
        assert all(knife.pin_diameter < at < knife.leaf_length for at in knife.holes)
    hands = {k.id.removesuffix(k.hand): set() for k in STOCK.knife_hinges.values() if k.hand}
    for knife in STOCK.knife_hinges.values():
        if knife.hand:
            hands[knife.id.removesuffix(knife.hand)].add(knife.hand)
    assert all(found == {"left", "right"} for found in hands.values())


def test_sheets_come_in_inches_and_millimetres() -> None:
    for material in ("plywood", "mdf", "particleboard", "melamine", "hardboard", "solid"):
        sheets = [s for s in STOCK.sheets.values() if s.material == material]
        whole_mm = [s for s in sheets if s.nominal == int(s.nominal) and s.length == int(s.length)]
        assert whole_mm, material
        assert len(whole_mm) < len(sheets), material
    for sheet in STOCK.sheets.values():
        assert sheet.length >= sheet.width
        assert bool(sheet.species) == (sheet.material == "solid")


def test_a_solid_panel_weighs_what_its_wood_weighs() -> None:
    for sheet in STOCK.sheets.values():
        if sheet.species:
            density = STOCK.species[sheet.species].density
            assert density is not None
            assert sheet.density == pytest.approx(density, rel=0.01)


def test_levelling_feet_and_inserts_go_together() -> None:
    for leveller in STOCK.levellers.values():
        assert leveller.pad_height < leveller.least < leveller.middle < leveller.most
        assert leveller.most - leveller.pad_height < leveller.stem_length
    for insert in STOCK.inserts.values():
        assert insert.hole < insert.outside


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"name": "x", "diametr": "8 mm", "thickness": 1, "source": "s", "basis": "b", "price": 1}, "diametr"),
        ({"name": "x", "diameter": "8x", "thickness": 1, "source": "s", "basis": "b", "price": 1}, "not a unit"),
    ],
)
def test_a_wrong_data_file_says_which_item_and_key(row: dict[str, object], says: str) -> None:
    with pytest.raises(StockDataError, match="bump") as caught:
        read_items(Bumper, {"items": {"bump": row}}, "items", "each", {})
    assert says in str(caught.value)


def test_a_repeated_id_is_refused() -> None:
    prices = dict(STOCK.prices)
    row = {"name": "x", "diameter": 8, "thickness": 1, "source": "s", "basis": "b", "price": 1}
    with pytest.raises(StockDataError, match="given twice"):
        read_items(Bumper, {"items": {"mdf-19": row}}, "items", "each", prices)


def test_a_sheet_is_as_thick_as_it_was_measured() -> None:
    sheet: Sheet = STOCK.sheets["birch-plywood-18"]
    assert sheet.thickness == sheet.nominal == 19.05
