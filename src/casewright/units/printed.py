"""How a size is printed: rounded by its role to the division of the page, here and nowhere else.

What is rounded here is never fed back into a design. What something goes into (`housing`) is rounded
up and what goes into something (`insert`) down, so that a piece made from printed sizes still fits.
"""

from __future__ import annotations

import math
from enum import Enum
from fractions import Fraction
from typing import Literal

from casewright.units.grid import STEPS_PER_MM, record
from casewright.units.lengths import UNITS
from casewright.units.reading import on_grid

System = Literal["in", "mm"]

# Sums of sizes on the grid may be a few steps off a division that they mean; 0.1 µm is no size in wood.
FORGIVEN = Fraction(1, 10_000)


class Role(Enum):
    """How a size is rounded when it is printed."""

    HOUSING = "housing"  # something goes into it: rounded up
    INSERT = "insert"  # it goes into something: rounded down
    FREE = "free"  # to the nearest division


@record
class LengthStyle:
    """How lengths are printed.

    `division`: in inches, the parts of an inch (32 is 1/32 in); in mm, the step (0.5 is half a mm).
    `feet` prints lengths of a foot and more as feet and inches.
    """

    system: System
    division: float
    feet: bool = False

    def validate(self) -> None:
        """Refuse an unknown system, a division that is not above zero, or parts of an inch that are not whole."""
        if self.system not in ("in", "mm"):
            raise ValueError(f"lengths are printed in in or mm, got {self.system!r}")
        if not self.division > 0 or (self.system == "in" and self.division != int(self.division)):
            raise ValueError(f"a division must be above zero (and whole parts of an inch), got {self.division!r}")

    @property
    def step(self) -> Fraction:
        """The smallest printed length, in mm, exact."""
        if self.system == "in":
            return UNITS["in"] / int(self.division)
        return Fraction(repr(self.division))


INCHES = LengthStyle(system="in", division=32.0)
MILLIMETRES = LengthStyle(system="mm", division=0.5)


def round_length(mm: float, role: Role, style: LengthStyle) -> float:
    """Return the length in mm that `format_length` prints, on the grid."""
    return on_grid(_count(mm, role, style.step) * style.step)


def format_length(mm: float, role: Role, style: LengthStyle, *, unit: bool = True, approximate: bool = False) -> str:
    """Return the length as text, rounded by its role.

    `unit=False` leaves the unit out (for a table that names it once; feet and inches keep theirs).
    `approximate=True` puts "≈ " in front where rounding changed the length.
    """
    count = _count(mm, role, style.step)
    changed = approximate and abs(count * style.step - _exact(mm)) > FORGIVEN
    sign = "-" if count < 0 else ""
    value = abs(count) * style.step
    return ("≈ " if changed else "") + sign + _text(value, style, unit)


def _exact(mm: float) -> Fraction:
    return Fraction(round(mm * STEPS_PER_MM), STEPS_PER_MM)


def _count(mm: float, role: Role, step: Fraction) -> int:
    if role is Role.HOUSING:
        return math.ceil((_exact(mm) - FORGIVEN) / step)
    if role is Role.INSERT:
        return math.floor((_exact(mm) + FORGIVEN) / step)
    return math.floor(_exact(mm) / step + Fraction(1, 2))


def _text(value: Fraction, style: LengthStyle, unit: bool) -> str:
    if style.system == "mm":
        return _decimal(value) + (" mm" if unit else "")
    inches = value / UNITS["in"]
    if not style.feet or inches < 12:
        return _mixed(inches) + (('"' if style.feet else " in") if unit or style.feet else "")
    feet = int(inches // 12)
    return f"{feet}' {_mixed(inches - 12 * feet)}\""


def _decimal(value: Fraction) -> str:
    text = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return text or "0"


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{whole} {fraction}" if whole else fraction
