"""Glue-ups: which widths of strip can still finish a panel.

n strips are sawn to widths that add up to panel width + 2 (n − 1) × jointing, because each of the
n − 1 glue lines takes the jointing off two edges. A strip's width when glued stays within the
shop's limits whichever place it takes, so a sawn strip lies in [strip_min + 2 jointing, strip_max + jointing].
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.layout.model import BoardPart, Strip


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Least and greatest sawn width of a strip in a panel of two strips or more."""

    least: int
    most: int


def limits(part: BoardPart) -> Limits:
    """Return the sawn limits of a panel's strips; `strip_max` 0 is no limit."""
    most = part.strip_max or part.width
    return Limits(least=part.strip_min + 2 * part.jointing, most=most + part.jointing)


def widest_strip(part: BoardPart, sawn: tuple[int, ...], limit: int) -> int:
    """Return the widest next strip, no wider than `limit`, after which the panel can be finished; 0 if there is none.

    `sawn` are the widths of the strips cut so far. A strip that finishes the panel is preferred.
    """
    bounds = limits(part)
    if not sawn and part.width <= min(limit, part.strip_max or part.width) and part.width >= part.strip_min:
        return part.width
    wanted = part.width + 2 * len(sawn) * part.jointing - sum(sawn)
    if sawn and bounds.least <= wanted <= min(limit, bounds.most):
        return wanted
    best = 0
    for more in range(1, wanted // max(1, bounds.least - 2 * part.jointing) + 2):
        after = wanted + 2 * more * part.jointing  # to be sawn in this strip and `more` others
        high = min(limit, bounds.most, after - more * bounds.least)
        if high >= max(bounds.least, after - more * bounds.most):
            best = max(best, high)
    return best


def finished(part: BoardPart, sawn: tuple[int, ...]) -> bool:
    """True where the strips make the panel."""
    return bool(sawn) and sum(sawn) == part.width + 2 * (len(sawn) - 1) * part.jointing


def glued(part: BoardPart, copy: int, sawn: tuple[int, ...]) -> tuple[Strip, ...]:
    """Return the strips of a finished panel in the order sawn, with their widths when glued."""
    last = len(sawn)
    return tuple(
        Strip(part=part.id, copy=copy, place=i, width=width - part.jointing * ((i > 1) + (i < last)))
        for i, width in enumerate(sawn, 1)
    )


def fewest_strips(part: BoardPart) -> int:
    """Return the least number of strips that make the panel."""
    widest = part.strip_max or part.width
    return 1 if part.width <= widest else -(-part.width // widest)


def even_strips(part: BoardPart, count: int) -> tuple[int, ...] | None:
    """Return the sawn widths of `count` strips as even as can be, None where the limits do not allow so many."""
    if count < 1:
        return None
    total = part.width + 2 * (count - 1) * part.jointing
    bounds = limits(part)
    widths = tuple((total + i) // count for i in range(count))
    if count == 1:
        return widths if part.strip_min <= part.width <= (part.strip_max or part.width) else None
    return widths if bounds.least <= widths[0] and widths[-1] <= bounds.most else None
