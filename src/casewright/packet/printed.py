"""Sizes as the pages print them: rounded by their role in the shop's style, and what the callipers said.

A part does not say which ledger sizes its own sizes are, so `roles_of` finds them among the sizes of its piece:
equal in value, and nearest in name. Nothing goes *into* a part's outer size, so it is either an insert or free.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.design.ledger import Size
from casewright.design.parts import Placed
from casewright.units import LengthStyle, Role, format_length

Roles = tuple[Role, Role, Role]  # of length, width, thickness
SIXTY_FOURTHS = LengthStyle(system="in", division=64.0)
_WORD = re.compile(r"[a-z0-9_]+")


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


def roles_of(piece: PieceDesign, placed: Placed) -> Roles:
    """Return the roles by which a part's cut sizes are printed."""
    b = placed.part.blank
    length, width, thickness = (_role(piece.sizes, placed.path, v) for v in (b.length, b.width, b.thickness))
    return (length, width, thickness)


def _role(sizes: tuple[Size, ...], path: str, value: float) -> Role:
    words = set(_WORD.findall(path.partition("/")[2]))
    equal = [s for s in sizes if s.value == value]
    if not equal:
        return Role.FREE
    nearest = max(len(words & set(_WORD.findall(s.name))) for s in equal)
    named = {s.role for s in equal if len(words & set(_WORD.findall(s.name))) == nearest}
    return Role.INSERT if Role.INSERT in named else Role.FREE


def decimal(value: float, places: int) -> str:
    """Return a number with at most `places` decimals, zeros at the end left out."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text
