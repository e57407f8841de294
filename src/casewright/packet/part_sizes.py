"""The cut sizes of parts as they are printed: by the ledger sizes that each part names, so that fits hold.

1. A part's length, width and thickness name the ledger sizes that they are (`Placed.sizes`); those are printed as
   `design.printed_sizes` chose them, on a finer division where a fit asks for one.
2. Of a part with bands it is the finished size that the ledger has; the cut one is that as printed less the bands.
3. A size that the ledger does not have (a bought section, an unnamed allowance) is rounded to the nearest division.
4. One mark may stand in several pieces whose fits ask for different roundings: the finest is printed, and of two
   equally fine ones the smaller, since what goes into something must not grow.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Placed
from casewright.design.printed_sizes import Printed, divided, printed_sizes
from casewright.units import LengthStyle, Role, round_length

SAME = 1e-4  # mm: noise of the grid
Triple = tuple[Printed, Printed, Printed]
ByName = Mapping[str, Printed]


def printed_of(pieces: Iterable[PieceDesign], style: LengthStyle) -> dict[str, dict[str, Printed]]:
    """Return every ledger size as printed, by piece path and name."""
    return {piece.path: printed_sizes(piece, style) for piece in pieces}


def cut_sizes(placed: Placed, piece: PieceDesign, printed: ByName, style: LengthStyle) -> Triple:
    """Return the cut length, width and thickness of a part as printed."""
    values = {s.name: s.value for s in piece.sizes}

    def of(name: str, cut: float, finished: float) -> Printed:
        ledger = values.get(name, -1.0)
        if abs(ledger - cut) < SAME:
            return printed[name]
        if abs(ledger - finished) < SAME:  # no division is as thick as a band: half of one is near enough
            return nearest(printed[name].value - (finished - cut), divided(printed[name].style, 2))
        return nearest(cut, style)

    length, width, thickness = map(of, placed.sizes, placed.part.blank.size, placed.part.finished)
    return (length, width, thickness)


def finished_sizes(placed: Placed, piece: PieceDesign, printed: ByName, style: LengthStyle) -> Triple:
    """Return the finished length, width and thickness of a part as printed.

    One that no ledger names is the cut one, or with bands rounded down, since the part goes where it must fit.
    """
    values = {s.name: s.value for s in piece.sizes}
    cut = cut_sizes(placed, piece, printed, style)

    def of(name: str, finished: float, bare: float, cut: Printed) -> Printed:
        if abs(finished - bare) < SAME:
            return cut
        named = abs(values.get(name, -1.0) - finished) < SAME
        return printed[name] if named else nearest(finished, style, Role.INSERT)

    length, width, thickness = map(of, placed.sizes, placed.part.finished, placed.part.blank.size, cut)
    return (length, width, thickness)


def nearest(mm: float, style: LengthStyle, role: Role = Role.FREE) -> Printed:
    """Return a size that no ledger names, rounded by a role."""
    return Printed(name="", value=round_length(mm, role, style), style=style)


def tighter(a: Triple, b: Triple) -> Triple:
    """Return, for each size of one mark in two places, the one that both can be made from."""
    length, width, thickness = (min((p, q), key=_fineness) for p, q in zip(a, b, strict=True))
    return (length, width, thickness)


def _fineness(printed: Printed) -> tuple[float, float]:
    return (float(printed.style.step), printed.value)
