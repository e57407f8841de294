"""What is wrong with a stick demand, told part by part instead of raised."""

from __future__ import annotations

from casewright.layout.bad_input import wrong_with_demand
from casewright.layout.model import StickDemand, StickEnd, StickPart, Unplaced


def unusable(demand: StickDemand) -> list[Unplaced]:
    """Return the parts that cannot be laid out whatever the stock, with the reason."""
    sizes = {"kerf": demand.kerf, "mitre kerf": demand.mitre_kerf, "end trim": demand.end_trim}
    sizes["least length held"] = demand.least_held
    general = wrong_with_demand(demand.parts, demand.stock, sizes)
    wrong = {p.id: (max(1, p.count), general or _wrong(p)) for p in demand.parts}
    return [Unplaced(part=name, count=count, why=why) for name, (count, why) in wrong.items() if why]


def _wrong(part: StickPart) -> str:
    if part.length <= 0:
        return f"the length is {part.length}; it must be above 0"
    if part.count < 0:
        return f"the count is {part.count}; it must be 0 or more"
    ends = (part.left, part.left_run), (part.right, part.right_run)
    if any(run < 0 for _, run in ends):
        return "a mitre's run is negative; it is measured from the long point to the short point"
    for face in (StickEnd.MITRE, StickEnd.MITRE_IN):
        runs = sum(run for end, run in ends if end is face)
        if runs > part.length:
            return f"its mitres run {runs}, longer than the part ({part.length}): they would cross"
    return ""
