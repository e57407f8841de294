"""Reading lengths: "23 1/2 in", "23-1/2", "23½″", "1' 11 1/2", "600 mm", "60 cm", "0.6 m" → mm.

A length is `[-] number [unit]` or `[-] feet number [inches number]`. A bare number takes the unit of
its file. The arithmetic is exact; only the result is put on the grid.
"""

from __future__ import annotations

import difflib
import math
import re
from fractions import Fraction

from casewright.units.reading import (
    LONGEST_TEXT,
    NUMBER,
    AngleError,
    LengthError,
    UnitsError,
    number,
    on_grid,
    plain,
    quoted,
)

__all__ = ["LONGEST_LENGTH", "UNITS", "AngleError", "LengthError", "UnitsError", "parse_length"]

UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),  # the inch is 25.4 mm exactly (international yard and pound agreement, 1959)
    "ft": Fraction(3048, 10),
}
LONGEST_LENGTH = 1_000_000.0  # mm: one kilometre; a longer text is a slip of the keyboard

_NAMES = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''"), "in"),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), "ft"),
}
_UNIT = re.compile(r"\s*(?P<unit>''|\"|'|[^\W\d_]+\.?)")


def parse_length(value: str | float, default_unit: str = "mm") -> float:
    """Return the length in mm, on the grid. A number without a unit is in `default_unit`.

    Raises LengthError, which says what was read and what would be right; ValueError where
    `default_unit` is not one of UNITS.
    """
    if default_unit not in UNITS:
        raise ValueError(f"the default unit must be one of {', '.join(UNITS)}, got {default_unit!r}")
    exact = _from_text(value, default_unit) if isinstance(value, str) else _from_number(value, default_unit)
    if abs(exact) > LONGEST_LENGTH:
        raise LengthError(f"got {_shown(value)}, which is longer than a kilometre; check the number and its unit")
    return on_grid(exact)


def _from_number(value: object, unit: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise LengthError(f"got {_shown(value)}; expected a length such as {_example(unit)}")
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(f"got {value}; expected a finite length such as {_example(unit)}")
    return Fraction(value if isinstance(value, int) else repr(value)) * UNITS[unit]


def _from_text(text: str, default_unit: str) -> Fraction:
    if len(text) > LONGEST_TEXT:
        raise LengthError(f"got a text of {len(text)} characters; expected a length such as {_example(default_unit)}")
    rest = plain(text)
    sign = -1 if rest.startswith("-") else 1
    rest = rest[1:].lstrip() if sign < 0 else rest
    first, unit, rest = _term(text, rest, default_unit)
    if unit != "ft" or not rest:
        return sign * _all_read(text, first * UNITS[unit or default_unit], rest, default_unit)
    inches, inch_unit, rest = _term(text, rest.lstrip(" -"), default_unit)
    if inch_unit not in (None, "in"):
        raise LengthError(f"got {quoted(text)}: after feet come inches, not {inch_unit}; such as 1' 11 1/2\"")
    return sign * _all_read(text, first * UNITS["ft"] + inches * UNITS["in"], rest, default_unit)


def _term(text: str, rest: str, default_unit: str) -> tuple[Fraction, str | None, str]:
    """Read one number and the unit after it; return both and what is left."""
    found = NUMBER.match(rest)
    if found is None:
        raise LengthError(f"got {quoted(text)}{_no_number(rest)}; expected a length such as {_example(default_unit)}")
    try:
        value = number(found)
    except ValueError as wrong:
        raise LengthError(f"got {quoted(text)}: {wrong}; expected a length such as {_example(default_unit)}") from None
    rest = rest[found.end() :]
    name = _UNIT.match(rest)
    if name is None:
        return value, None, rest.lstrip()
    return value, _unit(text, name["unit"]), rest[name.end() :].lstrip()


def _no_number(rest: str) -> str:
    return f": no number where {quoted(rest)} was read" if rest else ", which holds no number"


def _unit(text: str, name: str) -> str:
    known = _NAMES.get(name.lower())
    if known is None:
        close = difflib.get_close_matches(name.lower(), _NAMES, n=1)
        hint = f"did you mean {_NAMES[close[0]]}?" if close else "expected in, ft, mm, cm or m"
        raise LengthError(f"got {quoted(text)}: {quoted(name)} is not a unit of length; {hint}")
    return known


def _all_read(text: str, value: Fraction, rest: str, default_unit: str) -> Fraction:
    if rest.startswith(","):
        raise LengthError(f"got {quoted(text)}: write decimals with a point and thousands without a comma")
    if rest:
        raise LengthError(
            f"got {quoted(text)}: {quoted(rest)} cannot be read; expected a length such as {_example(default_unit)}"
        )
    return value


def _example(unit: str) -> str:
    return {"in": '"23 1/2 in"', "ft": '"1\' 11 1/2\\""'}.get(unit, '"600 mm"')


def _shown(value: object) -> str:
    if isinstance(value, int) and value.bit_length() > 64:
        return f"a number of {value.bit_length()} bits"
    return quoted(value) if isinstance(value, str) else repr(value)[:LONGEST_TEXT]
