"""Lines that matching pieces share: what a case follows so that the eye runs along a row of them without a step."""

from __future__ import annotations

from casewright.units.grid import record

Edges = tuple[float, float]


@record
class RowLine:
    """A row of a matching piece: the lower and upper edge of its front, what it holds, and its pull's height, mm.

    `holds` is "drawer" or "door"; heights are over the floor.
    """

    low: float
    high: float
    holds: str
    pull: float


@record
class Lines:
    """Heights over the floor that a case is brought to, mm; empty where there is nothing to follow.

    `rails`: upper edges of rails. `rows`: rows with their pulls. `base`, `crown`: both edges of the mouldings.
    """

    rails: tuple[float, ...] = ()
    rows: tuple[RowLine, ...] = ()
    base: Edges | None = None
    crown: Edges | None = None
