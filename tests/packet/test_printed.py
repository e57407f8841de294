"""Amounts and sentences in the units of the shop, against NIST SP 811, appendix B."""

from __future__ import annotations

import pytest

from casewright.packet.printed import Printer
from casewright.units import INCHES, MILLIMETRES

IN, MM = Printer(INCHES), Printer(MILLIMETRES)


def test_areas_and_volumes_are_in_the_units_of_the_shop() -> None:
    # 1 sq ft = 0.092 903 04 m²; 1 US fl oz = 29.573 53 ml; 1 US qt = 32 fl oz = 946.353 ml.
    assert IN.area(6.18) == "67 sq ft"
    assert MM.area(6.18) == "6.2 m²"
    assert IN.volume(0.67) == "23 fl oz"  # 22.66, rounded up: too little is worse than too much
    assert IN.volume(0.0295735296) == "1 fl oz"
    assert IN.volume(0.946353 * 1.25) == "1.3 qt"
    assert MM.volume(0.671) == "675 ml"
    assert MM.volume(1.21) == "1.3 l"


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("leave 4.25 mm over the recess", "leave 4.25 mm (0.167 in) over the recess"),
        ("hang it 350 mm over the floor", "hang it 350 mm (13 25/32 in) over the floor"),
        ("864 mm high, 18 mm thick", "864 mm (34 in) high, 18 mm (23/32 in) thick"),  # 34 in is 863.6 mm
        ("levelling foot, M8 × 20 mm", "levelling foot, M8 × 20 mm"),
        ("Ø 6 mm, with 5.4 mm (0.213 in)", "Ø 6 mm, with 5.4 mm (0.213 in)"),
        ("load 25 kg at 21 °C", "load 25 kg (55 lb) at 21 °C (70 °F)"),
        ("16.5 kg/m² a shelf", "16.5 kg/m² a shelf"),
    ],
)
def test_sentences_of_an_inch_packet_have_inches_beside_mm(text: str, inches: str) -> None:
    assert IN.in_both(text) == inches
    assert MM.in_both(text) == text


def test_a_pane_is_never_ordered_larger_than_it_is() -> None:
    assert IN.ordered((352.4, 602.1)) == "13 27/32 × 23 11/16 in (352 × 602 mm)"
    assert MM.ordered((352.4, 602.6)) == "352 × 602.5 mm"


def test_what_is_sold_by_the_inch_has_mm_beside_it_on_pages_in_mm() -> None:
    assert MM.sold_as("flat-head wood screw, #8 × 1-3/4 in") == "flat-head wood screw, #8 × 1-3/4 in (44.5 mm)"
    assert MM.sold_as("ball-bearing side-mount slide, 16 in") == "ball-bearing side-mount slide, 16 in (406.4 mm)"
    assert MM.sold_as("machine screw, 1/4-20 × 1 in") == "machine screw, 1/4-20 × 1 in (25.4 mm)"
    assert MM.sold_as("birch plywood, 3/4 in nominal") == "birch plywood, 3/4 in nominal"
    assert IN.sold_as("brad, 18 ga × 5/8 in") == "brad, 18 ga × 5/8 in"
