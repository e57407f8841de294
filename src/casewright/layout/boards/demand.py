"""What is wrong with a board demand, told part by part instead of raised."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from casewright.layout.bad_input import wrong_with_demand
from casewright.layout.boards.panels import limits, widest_strip
from casewright.layout.model import BoardDemand, BoardPart, Unplaced

MOST_PANELS = 5_000


def unusable(demand: BoardDemand) -> list[Unplaced]:
    """Return the parts that cannot be laid out whatever the boards, with the reason."""
    trims = {"kerf": demand.kerf, "end trim": demand.end_trim, "edge trim": demand.edge_trim}
    general = wrong_with_demand(demand.parts, demand.stock, trims) or _wrong_boards(demand)
    wrong = {p.id: (max(1, p.count), general or _wrong(p)) for p in demand.parts}
    return [Unplaced(part=name, count=count, why=why) for name, (count, why) in wrong.items() if why]


def _wrong_boards(demand: BoardDemand) -> str:
    panels = sum(p.count for p in demand.parts if p.strip_min)
    if panels > MOST_PANELS:
        return f"{panels} glue-ups are more than {MOST_PANELS}; split the order"
    for s in demand.stock:
        if s.width <= 0:
            return f"stock {s.id!r} has a width of {s.width}; it must be above 0"
        if any(not 0 <= low < high <= s.length for low, high in s.defects):
            return f"stock {s.id!r} has an unusable stretch that does not lie on it"
    return ""


def _wrong(part: BoardPart) -> str:
    if "#" in part.id:
        return f"its id {part.id!r} holds '#', which marks the strips of a panel"
    for name, size in (("length", part.length), ("width", part.width)):
        if size <= 0:
            return f"the {name} is {size}; it must be above 0"
    if part.count < 0:
        return f"the count is {part.count}; it must be 0 or more"
    if part.strip_min < 0 or part.jointing < 0 or part.strip_max < 0:
        return "a strip limit or the jointing allowance is negative"
    if not part.strip_min:
        return ""
    if limits(part).least > limits(part).most:
        return f"no strip is at least {part.strip_min} and at most {part.strip_max} wide after jointing"
    if not widest_strip(part, (), part.width + limits(part).most):
        return f"no number of strips of {part.strip_min} to {part.strip_max} makes a panel {part.width} wide"
    return ""


def within_boards(demand: BoardDemand, parts: Iterable[BoardPart]) -> list[BoardPart]:
    """Return `parts` with no strip wider than the widest board gives, so that no panel waits for one that is."""
    across = max((s.width - 2 * (0 if s.offcut else demand.edge_trim) for s in demand.stock), default=0)
    return [_narrowed(p, across - p.jointing) for p in parts]


def _narrowed(part: BoardPart, most: int) -> BoardPart:
    if not part.strip_min or most < part.strip_min or (part.strip_max or part.width) <= most:
        return part
    narrowed = replace(part, strip_max=most)
    return narrowed if not _wrong(narrowed) else part
