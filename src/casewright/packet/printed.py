"""Sizes as the pages print them: rounded by their role in the shop's style, and what the callipers said."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.printed_sizes import Printed
from casewright.units import MILLIMETRES, LengthStyle, Role, format_length, parse_length

# NIST SP 811, appendix B: US units.
SQUARE_FOOT = 0.09290304  # m²
FLUID_OUNCE = 0.0295735296  # l
OUNCES_OF_QUART = 32
POUND = 0.45359237  # kg
MM_OF_INCH = 25.4
SMALL = 6.0  # mm: what is smaller is given in thousandths of an inch
SLACK = 1e-6
HALVINGS = (1, 2, 4, 8, 16, 32, 64)  # parts of an inch, the plain ones first
BARE_MM = re.compile(r"(?<![×#Ø\d.] )(?<![\d.])(\d+(?:\.\d+)?) mm\b(?! ?\(| [a-z]*ply| round| ×)")
BARE_INCHES = re.compile(r"(?<![\d/.#-])(?:\d+-\d+/\d+|\d+/\d+|\d+) in\b(?! nominal)")
BARE_KG = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?) kg\b(?! ?\(|/)")
BARE_CELSIUS = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?) °C\b(?! ?\()")
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

    def ordered(self, size: tuple[float, float]) -> str:
        """Return width and height of what somebody else cuts, never above what they are, in mm beside inches too."""
        own = " × ".join(self.size(v, Role.INSERT) for v in size) + f" {self.unit}"
        metric = " × ".join(format_length(v, Role.INSERT, MILLIMETRES, unit=False) for v in size) + " mm"
        return own if self.style.system == "mm" else f"{own} ({metric})"

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

    def area(self, square_metres: float) -> str:
        """Return an area in square feet or square metres."""
        if self.style.system == "mm":
            return f"{decimal(square_metres, 1 if square_metres >= 1 else 2)} m²"
        feet = square_metres / SQUARE_FOOT
        return f"{decimal(feet, 0 if feet >= 10 else 1)} sq ft"

    def run(self, mm: float) -> str:
        """Return how much is needed of what comes in lengths or on rolls, rounded up: in feet, or in half metres."""
        if self.style.system == "mm":
            return f"{decimal(math.ceil(mm / 500 - SLACK) / 2, 1)} m"
        return f"{math.ceil(mm / MM_OF_INCH / 12 - SLACK)} ft"

    def volume(self, litres: float) -> str:
        """Return how much of a liquid is needed, rounded up: in fluid ounces or quarts, or in ml or litres."""
        if self.style.system == "mm":
            ml = litres * 1000
            return (
                f"{math.ceil(ml / 5 - SLACK) * 5} ml"
                if ml < 1000
                else f"{decimal(math.ceil(litres * 10 - SLACK) / 10, 1)} l"
            )
        ounces = litres / FLUID_OUNCE
        if ounces < OUNCES_OF_QUART:
            return f"{math.ceil(ounces - SLACK)} fl oz"
        return f"{decimal(math.ceil(ounces / OUNCES_OF_QUART * 10 - SLACK) / 10, 1)} qt"

    def in_both(self, text: str) -> str:
        """Return a sentence with inches after each bare size in mm, where the shop prints inches; pounds after kg.

        Sizes of bought things ("M8 × 20 mm", "Ø 6 mm", "12 mm plywood" in a name) are named as they are sold.
        """
        if self.style.system == "mm":
            return text
        text = BARE_MM.sub(lambda m: f"{m[0]} ({self.inches_of(m[1])})", text)
        text = BARE_KG.sub(lambda m: f"{m[0]} ({decimal(float(m[1]) / POUND, 0)} lb)", text)
        return BARE_CELSIUS.sub(lambda m: f"{m[0]} ({decimal(float(m[1]) * 1.8 + 32, 0)} °F)", text)

    def sold_as(self, name: str) -> str:
        """Return the name of something bought, with mm after each size in inches where the shop prints mm.

        What is nominal ("3/4 in nominal") is no size.
        """
        if self.style.system != "mm":
            return name
        return BARE_INCHES.sub(lambda m: f"{m[0]} ({decimal(parse_length(m[0].replace('-', ' ')), 1)} mm)", name)

    def inches(self, mm: float) -> str:
        """Return a small size in decimal inches, and one that a tape shows to the nearest 1/32."""
        if mm < SMALL:
            return f"{mm / MM_OF_INCH:.3f} in"
        return format_length(mm, Role.FREE, self.style)

    def inches_of(self, mm: str) -> str:
        """Return a size that was written in mm in inches: of those that round to it, the plainest that a tape shows.

        34 in is written "864 mm", and "864 mm" is 34 in again, not 34 1/32 in.
        """
        value, places = float(mm), len(mm.partition(".")[2])
        for division in HALVINGS:
            inches = round(value / MM_OF_INCH * division) / division
            if value >= SMALL and division <= self.style.division and f"{inches * MM_OF_INCH:.{places}f}" == mm:
                return format_length(inches * MM_OF_INCH, Role.FREE, self.style)
        return self.inches(value)

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
