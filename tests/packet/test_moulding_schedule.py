"""Saw settings of mouldings against published tables, and the way the saw swings against the tables of saw manuals."""

from __future__ import annotations

import math

import pytest
from tests.packet import demo
from tests.packet.reading import EXAMPLES, example, written

from casewright.design.frames import Vec
from casewright.packet.hardware_list import hardware_rows
from casewright.packet.moulding_schedule import flat_setting, nested_setting
from casewright.packet.pages.mouldings import mouldings
from casewright.units import parse_length

# Crown, flat on the saw, (spring from the wall, corner): mitre, bevel. mitre = atan(sin s / tan(C/2)), bevel =
# asin(cos s · cos(C/2)), checked against planes and vectors; 31.62/33.86 and 35.26/30 are the usual table's (memory).
FLAT = {
    (38.0, 90.0): (31.62, 33.86),
    (45.0, 90.0): (35.26, 30.00),
    (38.0, 135.0): (14.3, 17.6),
    (45.0, 135.0): (16.3, 15.7),
}
# Outside corner in the tables of saw manuals (from memory): the piece to the left of it, whose right end is cut, and
# the one to the right of it: edge to the fence, swing, part that is kept.
SIDES = {"left of the corner": ("lower edge", "left", "right"), "right of the corner": ("upper edge", "right", "right")}


def outside(spring: float, corner: float, *, right_end: bool) -> Vec:
    """Outward normal of the upright mitre of an outside corner, blank frame: its long point is away from the wall."""
    half, s = math.radians(corner / 2), math.radians(spring)
    along, out = math.sin(half) * (1 if right_end else -1), -math.cos(half)
    return (along, out * math.sin(s), out * math.cos(s))


@pytest.mark.parametrize(("spring", "corner"), FLAT)
def test_crown_angles_are_those_of_the_tables(spring: float, corner: float) -> None:
    for right_end in (True, False):
        found = flat_setting(outside(spring, corner, right_end=right_end))
        assert (found.swing, found.tilt) == pytest.approx(FLAT[spring, corner], abs=0.05)
        assert found.tilt_way == "left"
        nested = nested_setting(outside(spring, corner, right_end=right_end), spring)
        assert nested is not None
        assert nested.swing == pytest.approx(90.0 - corner / 2)
        assert nested.tilt == 0.0


@pytest.mark.parametrize("side", SIDES)
def test_edge_at_the_fence_swing_and_kept_part_are_those_of_the_tables(side: str) -> None:
    found = flat_setting(outside(38.0, 90.0, right_end=side == "left of the corner"))
    assert (found.fence, found.swing_way, found.keep) == SIDES[side]


def test_nested_crown_changes_sides_and_a_base_does_not() -> None:
    # Crown upside down against the fence: the right end lies on the operator's left. A base stands as on the wall.
    crown = nested_setting(outside(45.0, 90.0, right_end=True), 45.0)
    base = nested_setting(outside(0.0, 90.0, right_end=True), 0.0)
    assert crown is not None
    assert base is not None
    assert (crown.swing_way, crown.keep, crown.fence) == ("left", "right", "upside down, upper edge on the table, back")
    assert (base.swing_way, base.keep, base.fence) == ("right", "left", "lower edge on the table, back")


def test_a_mitre_in_the_face_is_cut_flat_alone() -> None:
    # The corner of a frame on a door: the cut stands square to the face, so against the fence it would be a bevel.
    normal = (math.sqrt(0.5), math.sqrt(0.5), 0.0)
    assert nested_setting(normal, 0.0) is None
    assert (flat_setting(normal).swing, flat_setting(normal).tilt) == pytest.approx((45.0, 0.0))


def test_glass_beads_have_words_of_their_own_and_their_square_edge_at_the_fence() -> None:
    """Of an 8 mm quarter round the inner edge is 2 mm thick. Swings and kept sides: saw manuals (from memory)."""
    setting = example(next(path for path in EXAMPLES if path.stem == "wall-cupboard"), "in", "letter")
    page = mouldings(setting)
    assert page.beads
    (profile,) = page.profiles
    assert any("no glue" in note for note in profile.notes)
    for line in profile.lines:
        assert [(end.side, end.flat) for end in line.ends] == [
            ("left", "outer edge to the fence, mitre 45° left, keep the left-hand part"),
            ("right", "outer edge to the fence, mitre 45° right, keep the right-hand part"),
        ]
        long, short = (parse_length(size, "in") for size in (line.long_point, line.case_line))
        assert long - short == pytest.approx(2 * 8.0, abs=25.4 / 32)  # a mitre of 45° takes the bead's width
    others = mouldings(demo.setting())
    assert not others.beads
    assert not any(profile.notes for profile in others.profiles)


def test_a_pane_is_ordered_in_the_units_of_the_page() -> None:
    setting = example(next(path for path in EXAMPLES if path.stem == "wall-cupboard"), "in", "letter")
    (pane,) = (row for row in hardware_rows(setting.project) if row.ordered)
    ((size, count),) = pane.ordered
    assert count == 1
    assert f"glass, {setting.printer.ordered(size)}" in written(setting)
