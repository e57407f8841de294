"""Reading lengths and angles: known conversions, typography, and messages that say what is right."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright.units import AngleError, LengthError, parse_angle, parse_length


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # 1 in = 25.4 mm and 1 ft = 304.8 mm exactly (international yard and pound agreement, 1959)
        ("1 in", 25.4),
        ("1 ft", 304.8),
        ("1 m", 1000.0),
        ("1 cm", 10.0),
        # trade equivalents (fact book §8): 1/2 in = 12.7, 3/4 in = 19.05, 32 mm and 37 mm stay
        ("1/2 in", 12.7),
        ("3/4 in", 19.05),
        ("32 mm", 32.0),
        ("23 1/2 in", 596.9),
        ("23-1/2", 596.9),
        ("23 - 1/2 in", 596.9),
        ("23½″", 596.9),
        ("23 ½ in", 596.9),
        ("23 1⁄2 in", 596.9),
        ("1' 11 1/2\"", 596.9),
        ("1′ 11½″", 596.9),
        ("1'-11 1/2\"", 596.9),
        ("1 ft 11.5 in", 596.9),
        ("1 foot 11 1/2 inches", 596.9),
        ("6'", 1828.8),
        ("⅛ in", 3.175),
        ("1/8192 in", 25.4 / 8192),
        ("600 mm", 600.0),
        ("60cm", 600.0),
        (".6 m", 600.0),
        ("-1/2 in", -12.7),
        ("−3 mm", -3.0),
        (" 12.7 mm ", 12.7),
        ("23 in.", 584.2),
    ],
)
def test_reads_what_a_maker_writes(text: str, mm: float) -> None:
    assert parse_length(text, "in") == mm


def test_a_bare_number_takes_the_unit_of_its_file() -> None:
    assert parse_length("20", "in") == 508.0
    assert parse_length("20", "mm") == 20.0
    assert parse_length(20, "cm") == 200.0
    assert parse_length(0.1, "in") == 2.54


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2x in", '"x" is not a unit of length'),
        ("23 inchs", "did you mean in?"),
        ("", "holds no number"),
        ("in", 'no number where "in"'),
        ("1,5 mm", "decimals with a point"),
        ("1/0 in", "zero below its line"),
        ("5 7/4 in", "must be less than one"),
        ("5' 3 mm", "after feet come inches"),
        ("3 m 2", '"2" cannot be read'),
        ("1e400 mm", "not a unit"),
        ("9999 km", "not a unit"),
        ("2000 m", "longer than a kilometre"),
        ("3" * 65, "65 characters"),
        ("१ mm", "no number"),
    ],
)
def test_a_wrong_text_says_what_was_read_and_what_is_right(text: str, says: str) -> None:
    with pytest.raises(LengthError, match="got") as caught:
        parse_length(text, "in")
    assert says in str(caught.value)


@pytest.mark.parametrize("value", [True, None, [], float("nan"), float("inf"), 10**400, -(10**400)])
def test_what_is_no_number_is_refused(value: object) -> None:
    with pytest.raises(LengthError):
        parse_length(value)  # type: ignore[arg-type]


def test_an_unknown_default_unit_is_the_callers_error() -> None:
    with pytest.raises(ValueError, match="default unit"):
        parse_length("1", "yd")


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    for parse, error in ((parse_length, LengthError), (parse_angle, AngleError)):
        with contextlib.suppress(error):
            assert math.isfinite(parse(text))


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("45", 45.0), ("45°", 45.0), ("31.62 deg", 31.62), ("22 1/2°", 22.5), ("31° 37' 12\"", 31.62), ("-5°", -5.0)],
)
def test_reads_angles(text: str, degrees: float) -> None:
    assert parse_angle(text) == degrees


@pytest.mark.parametrize("value", ["45 grad", "5' 3°", "", 400, "400", True, float("nan"), 10**400])
def test_a_wrong_angle_is_refused(value: str | float) -> None:
    with pytest.raises(AngleError, match=r"^got "):
        parse_angle(value)
