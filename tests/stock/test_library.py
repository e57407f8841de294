"""The built-in library: whole, read-only, generic, and shaped as its records promise."""

from __future__ import annotations

import math

import pytest

from casewright.stock import StockDataError, load_stock
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
    named |= {c.screw for c in STOCK.catches.values()}
    assert named <= set(STOCK.screws)


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
        xs, ys = [v[0] for v in stick.section], [v[1] for v in stick.section]
        assert min(xs) == 0
        assert min(ys) == 0
        box = max(xs) * max(ys)
        assert 0.2 * box < _signed_area(stick.section) <= box + 1e-6


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


def test_slides_come_in_every_even_inch() -> None:
    assert sorted(s.length / 25.4 for s in STOCK.slides.values()) == pytest.approx([10, 12, 14, 16, 18, 20, 22])
    for slide in STOCK.slides.values():
        assert slide.clearance == 12.7  # side-mount slides: 1/2 in a side, +1/32 / −0 (common practice)
        assert 0 < slide.case_holes[0] < slide.case_holes[-1] < slide.length
        assert list(slide.case_holes) == sorted(set(slide.case_holes))


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
