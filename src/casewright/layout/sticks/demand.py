"""What is wrong with a stick demand, told part by part instead of raised."""

from __future__ import annotations

from collections import Counter

from casewright.layout.model import StickDemand, StickPart, Unplaced


def refuse(demand: StickDemand) -> None:
    """Raise ValueError where two parts or two sticks have one id: no answer could be read."""
    for what, ids in (("parts", [p.id for p in demand.parts]), ("sticks", [s.id for s in demand.stock])):
        twice = sorted(i for i, n in Counter(ids).items() if n > 1)
        if twice:
            raise ValueError(f"stick demand: two {what} are called {twice[0]!r}; give each an id of its own")


def unusable(demand: StickDemand) -> list[Unplaced]:
    """Return the parts that cannot be laid out whatever the stock, with the reason."""
    general = _general(demand)
    found = [(p, general or _wrong(p)) for p in demand.parts]
    return [Unplaced(part=p.id, count=max(1, p.count), why=why) for p, why in found if why]


def _general(demand: StickDemand) -> str:
    sizes = {"kerf": demand.kerf, "mitre kerf": demand.mitre_kerf, "end trim": demand.end_trim}
    sizes["least length held"] = demand.least_held
    for name, size in sizes.items():
        if size < 0:
            return f"the {name} is {size}; it must be 0 or more"
    return ""


def _wrong(part: StickPart) -> str:
    if part.length <= 0:
        return f"the length is {part.length}; it must be above 0"
    if part.count < 0:
        return f"the count is {part.count}; it must be 0 or more"
    if part.left_run < 0 or part.right_run < 0:
        return "a mitre's run is negative; it is measured from the long point to the short point"
    if max(part.left_run, part.right_run) > part.length:
        return f"a mitre's run is longer than the part ({part.length})"
    return ""
