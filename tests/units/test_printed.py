"""Printing by role and division, and the law that parsing gives the printed size back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright.units import (
    INCHES,
    MILLIMETRES,
    LengthStyle,
    Role,
    format_angle,
    format_length,
    parse_angle,
    parse_length,
    round_length,
)

TENTHS = LengthStyle(system="mm", division=0.1)
FEET = LengthStyle(system="in", division=16, feet=True)
STYLES = (
    INCHES,
    MILLIMETRES,
    TENTHS,
    FEET,
    LengthStyle(system="in", division=64),
    LengthStyle(system="in", division=10),
)
LENGTHS = st.floats(min_value=-7000, max_value=7000, allow_nan=False)


@pytest.mark.parametrize(
    ("mm", "role", "style", "text"),
    [
        (596.9, Role.FREE, INCHES, "23 1/2 in"),
        (598.0, Role.FREE, INCHES, "23 17/32 in"),  # 598 / 25.4 = 23.5433 in = 23 + 17.39/32
        (598.0, Role.HOUSING, INCHES, "23 9/16 in"),  # 18/32
        (598.0, Role.INSERT, INCHES, "23 17/32 in"),
        (12.7, Role.FREE, INCHES, "1/2 in"),
        (0.0, Role.FREE, INCHES, "0 in"),
        (-12.7, Role.FREE, INCHES, "-1/2 in"),
        (596.9, Role.FREE, FEET, "1' 11 1/2\""),
        (290.0, Role.INSERT, FEET, '11 3/8"'),
        (1524.0, Role.FREE, FEET, "5' 0\""),
        (600.3, Role.HOUSING, MILLIMETRES, "600.5 mm"),
        (600.3, Role.INSERT, MILLIMETRES, "600 mm"),
        (600.25, Role.FREE, MILLIMETRES, "600.5 mm"),
        (18.04, Role.HOUSING, TENTHS, "18.1 mm"),
    ],
)
def test_prints_by_role(mm: float, role: Role, style: LengthStyle, text: str) -> None:
    assert format_length(mm, role, style) == text


def test_approximate_marks_only_what_rounding_changed() -> None:
    assert format_length(596.9, Role.FREE, INCHES, approximate=True) == "23 1/2 in"
    assert format_length(598.0, Role.FREE, INCHES, approximate=True) == "≈ 23 17/32 in"


def test_noise_of_sums_does_not_move_a_size_by_a_division() -> None:
    third = parse_length("7 in") / 3
    total = sum((round(third * 1_024_000) / 1_024_000,) * 3)
    for role in Role:
        assert format_length(total, role, INCHES) == "7 in"


def test_the_unit_can_be_left_out_of_a_table() -> None:
    assert format_length(596.9, Role.FREE, INCHES, unit=False) == "23 1/2"
    assert format_length(600, Role.FREE, MILLIMETRES, unit=False) == "600"


@given(LENGTHS, st.sampled_from(Role), st.sampled_from(STYLES))
def test_parse_of_print_is_the_printed_size(mm: float, role: Role, style: LengthStyle) -> None:
    printed = round_length(mm, role, style)
    assert parse_length(format_length(mm, role, style)) == printed
    assert format_length(printed, role, style) == format_length(mm, role, style)


@given(LENGTHS, st.sampled_from(STYLES))
def test_housings_never_shrink_and_inserts_never_grow(mm: float, style: LengthStyle) -> None:
    forgiven = 0.0001001
    step = float(style.step)
    assert mm - forgiven <= round_length(mm, Role.HOUSING, style) < mm + step + forgiven
    assert mm - step - forgiven < round_length(mm, Role.INSERT, style) <= mm + forgiven
    assert abs(round_length(mm, Role.FREE, style) - mm) <= step / 2 + forgiven


@given(st.floats(min_value=-359, max_value=359))
def test_angles_come_back(degrees: float) -> None:
    assert abs(parse_angle(format_angle(degrees)) - degrees) <= 0.005 + 1e-9


@pytest.mark.parametrize("given_style", [("in", 0.0), ("in", 2.5), ("mm", 0.0), ("ell", 1.0)])
def test_a_style_that_prints_nothing_is_refused(given_style: tuple[str, float]) -> None:
    with pytest.raises(ValueError, match=r"division|printed in"):
        LengthStyle(system=given_style[0], division=given_style[1])  # type: ignore[arg-type]
