"""What lengths and angles share when they are read: typography, numbers, and the errors.

UnitsError            a text or number that is no quantity; the message says what was read and what is right
├── LengthError
└── AngleError
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from casewright.units.grid import STEPS_PER_MM

LONGEST_TEXT = 64

_PLAIN = str.maketrans(
    {
        "⁄": "/",  # fraction slash
        "∕": "/",  # division slash
        "″": '"',
        "“": '"',
        "”": '"',
        "′": "'",
        "’": "'",
        "‘": "'",
        "−": "-",  # minus sign
        "‑": "-",  # non-breaking hyphen
        "–": "-",
    }
)

WHOLE = r"\d+"
NUMBER = re.compile(
    rf"""(?: (?P<whole>{WHOLE}) (?:\s*-\s*|\s+) (?P<mixed_top>{WHOLE})\s*/\s*(?P<mixed_bottom>{WHOLE})
          | (?P<top>{WHOLE})\s*/\s*(?P<bottom>{WHOLE})
          | (?P<decimal>\d+\.\d+|\d+\.?|\.\d+) )""",
    re.VERBOSE | re.ASCII,
)


class UnitsError(ValueError):
    """A text or number that is no quantity of the kind wanted."""


class LengthError(UnitsError):
    """A text or number that is no length."""


class AngleError(UnitsError):
    """A text or number that is no angle."""


def quoted(text: str) -> str:
    """Return `text` in quotes as a message shows it, what cannot be printed replaced."""
    shown = "".join(c if c.isprintable() else "�" for c in text)
    shown = shown if len(shown) <= LONGEST_TEXT else shown[: LONGEST_TEXT - 1] + "…"
    return f"'{shown}'" if '"' in shown else f'"{shown}"'


def plain(text: str) -> str:
    """Return `text` in plain typography: ½ as " 1/2", primes as quotes, one kind of space, dash and slash."""
    out: list[str] = []
    for char in text:
        parts = unicodedata.normalize("NFKD", char) if unicodedata.category(char) == "No" else char
        if "⁄" in parts:  # a vulgar fraction such as ½, glued to its whole number
            out.append(f" {parts} " if out else parts)
        elif unicodedata.category(char) == "Zs":
            out.append(" ")
        else:
            out.append(char)
    return re.sub(r"\s+", " ", "".join(out).translate(_PLAIN)).strip()


def number(match: re.Match[str]) -> Fraction:
    """Return the exact value of a NUMBER match.

    Raises ValueError with the reason where a fraction has a zero below its line, or follows a whole
    number without being less than one.
    """
    groups = match.groupdict()
    if groups["decimal"] is not None:
        return Fraction(groups["decimal"].rstrip("."))
    whole = int(groups["whole"] or 0)
    top = int(groups["mixed_top"] or groups["top"] or 0)
    bottom = int(groups["mixed_bottom"] or groups["bottom"] or 0)
    if bottom == 0:
        raise ValueError(f"the fraction {top}/{bottom} has zero below its line")
    if groups["whole"] is not None and top >= bottom:
        raise ValueError(f"the fraction {top}/{bottom} after a whole number must be less than one")
    return whole + Fraction(top, bottom)


def on_grid(value: Fraction) -> float:
    """Return an exact mm or degree value on the grid of stored numbers, as float."""
    return round(value * STEPS_PER_MM) / STEPS_PER_MM + 0.0
