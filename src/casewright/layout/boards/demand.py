"""What is wrong with a board demand, told part by part instead of raised."""

from __future__ import annotations

from collections import Counter

from casewright.layout.boards.panels import limits, widest_strip
from casewright.layout.model import BoardDemand, BoardPart, Unplaced


def refuse(demand: BoardDemand) -> None:
    """Raise ValueError where two parts or two boards have one id: no answer could be read."""
    for what, ids in (("parts", [p.id for p in demand.parts]), ("boards", [s.id for s in demand.stock])):
        twice = sorted(i for i, n in Counter(ids).items() if n > 1)
        if twice:
            raise ValueError(f"board demand: two {what} are called {twice[0]!r}; give each an id of its own")
    marked = sorted(p.id for p in demand.parts if "#" in p.id)
    if marked:
        raise ValueError(f"board demand: part id {marked[0]!r} holds '#', which marks the strips of a panel")


def unusable(demand: BoardDemand) -> list[Unplaced]:
    """Return the parts that cannot be laid out whatever the boards, with the reason."""
    general = _general(demand)
    found = [(p, general or _wrong(p)) for p in demand.parts]
    return [Unplaced(part=p.id, count=max(1, p.count), why=why) for p, why in found if why]


def _general(demand: BoardDemand) -> str:
    for name, size in (("kerf", demand.kerf), ("end trim", demand.end_trim), ("edge trim", demand.edge_trim)):
        if size < 0:
            return f"the {name} is {size}; it must be 0 or more"
    return ""


def _wrong(part: BoardPart) -> str:
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
