"""Sizes as the pages print them: rounded by their role in the shop's style, and what the callipers said."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.printed_sizes import Printed
from casewright.units import LengthStyle, Role, format_length

SIXTY_FOURTHS = LengthStyle(system="in", division=64.0)


@dataclass(frozen=True, slots=True)
class Printer:
    """Prints lengths (mm) in a shop's style."""

    style: LengthStyle

    def size(self, mm: float, role: Role = Role.FREE) -> str:
        """Return a length without its unit, for a table that names it once."""
        return format_length(mm, role, self.style, unit=False)

    def length(self, mm: float, role: Role = Role.FREE) -> str:
        """Return a length with its unit."""
        return format_length(mm, role, self.style)

    def printed(self, size: Printed) -> str:
        """Return a size that was chosen so that its fits hold, without its unit; its own division may be finer."""
        return format_length(size.value, Role.FREE, size.style, unit=False)

    def sheet_thickness(self, mm: float) -> str:
        """Return a measured thickness: to 0.01 mm, or as the nearest part of an inch with "≈" where that is not it."""
        if self.style.system == "mm":
            return decimal(mm, 2)
        return format_length(mm, Role.FREE, self.style, unit=False, approximate=True)

    def sizes(self, values: Iterable[float]) -> str:
        """Return lengths as "a × b × c", the unit once."""
        return " × ".join(self.size(v) for v in values) + f" {self.unit}"

    def measured(self, mm: float) -> str:
        """Return a value as it is reckoned with, not rounded to the division.

        It is given in mm, and in inches too where the shop prints them; a whole number of 1/64 in comes as that
        fraction first, since that is how it was meant.
        """
        metric = f"{decimal(mm, 3)} mm"
        if self.style.system == "mm":
            return metric
        if abs(mm / 25.4 * 64 - round(mm / 25.4 * 64)) < 1e-6:
            return f"{format_length(mm, Role.FREE, SIXTY_FOURTHS)} ({metric})"
        return f"{metric} ({mm / 25.4:.3f} in)"

    @property
    def unit(self) -> str:
        """The unit's name for the head of a table: "in" or "mm"."""
        return self.style.system

    @property
    def division(self) -> str:
        """How finely sizes are printed, for the foot of a page."""
        if self.style.system == "in":
            return f"inches, to 1/{int(self.style.division)}"
        return f"mm, to {self.style.division:g}"


def decimal(value: float, places: int) -> str:
    """Return a number with at most `places` decimals, zeros at the end left out."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text
