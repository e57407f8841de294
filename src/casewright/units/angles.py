"""Reading and printing angles: "45", "45°", "31.62 deg", "22 1/2°", degrees with minutes and seconds → degrees."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from casewright.units.reading import LONGEST_TEXT, NUMBER, AngleError, number, on_grid, plain, quoted

_UNITS = {
    **dict.fromkeys(("°", "deg", "degree", "degrees"), Fraction(1)),
    **dict.fromkeys(("'", "min"), Fraction(1, 60)),
    **dict.fromkeys(('"', "''", "sec"), Fraction(1, 3600)),
}
_UNIT = re.compile(r"\s*(?P<unit>''|°|\"|'|[^\W\d_]+)")
_EXAMPLE = '"45°" or "31.62 deg"'
WIDEST = 360


def parse_angle(value: str | float) -> float:
    """Return the angle in degrees, on the grid, −360 to 360. Raises AngleError, which says what would be right."""
    exact = _from_text(value) if isinstance(value, str) else _from_number(value)
    if abs(exact) > WIDEST:
        raise AngleError(f"got {str(value)[:LONGEST_TEXT]}, which is more than a full turn; expected {_EXAMPLE}")
    return on_grid(exact)


def format_angle(degrees: float, decimals: int = 2) -> str:
    """Return the angle as text, for example "31.62°"; zeros at the end are left out."""
    text = f"{degrees:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return ("0" if text == "-0" else text) + "°"


def _from_number(value: object) -> Fraction:
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > 2**53:
        raise AngleError(f"got a number beyond a full turn; expected an angle such as {_EXAMPLE}")
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise AngleError(f"got {str(value)[:LONGEST_TEXT]}; expected an angle such as {_EXAMPLE}")
    return Fraction(value if isinstance(value, int) else repr(value))


def _from_text(text: str) -> Fraction:
    if len(text) > LONGEST_TEXT:
        raise AngleError(f"got a text of {len(text)} characters; expected an angle such as {_EXAMPLE}")
    rest = plain(text)
    sign = -1 if rest.startswith("-") else 1
    rest = rest[1:].lstrip() if sign < 0 else rest
    total, smallest = Fraction(0), Fraction(2)
    while True:
        value, unit, rest = _term(text, rest)
        if unit >= smallest:
            raise AngleError(
                f"got {quoted(text)}: degrees come before minutes, minutes before seconds; such as {_EXAMPLE}"
            )
        total, smallest = total + value * unit, unit
        if not rest:
            return sign * total


def _term(text: str, rest: str) -> tuple[Fraction, Fraction, str]:
    found = NUMBER.match(rest)
    if found is None:
        raise AngleError(
            f"got {quoted(text)}: no number where {quoted(rest)} was read; expected an angle such as {_EXAMPLE}"
        )
    try:
        value = number(found)
    except ValueError as wrong:
        raise AngleError(f"got {quoted(text)}: {wrong}; expected an angle such as {_EXAMPLE}") from None
    rest = rest[found.end() :]
    name = _UNIT.match(rest)
    if name is None:
        return value, Fraction(1), rest.lstrip()
    if name["unit"].lower() not in _UNITS:
        raise AngleError(f"got {quoted(text)}: {quoted(name['unit'])} is not a unit of angle; expected {_EXAMPLE}")
    return value, _UNITS[name["unit"].lower()], rest[name.end() :].lstrip()
