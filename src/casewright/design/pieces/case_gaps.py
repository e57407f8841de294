"""The gaps around the fronts of a case: what the eye sees, the paint on both faces, and what solid wood needs to swell.

Common practice. All fronts of one sort have the same gap, that of the one which moves most; the swelling to the damp
end is shared by the two gaps across the grain.
"""

from __future__ import annotations

from collections.abc import Sequence

from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.front_place import let_gap
from casewright.design.blocks.grid import Cell
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.order.pieces.case import CaseOrder


def let_gaps(s: Shell, spec: CaseOrder, cells: Sequence[Cell], wet: Moisture) -> dict[str, float]:
    """Return the gap around the wood of drawer fronts and of doors, mm: finished gap, paint film and swelling."""
    d = s.d
    gap = let_gap(d, spec.gap)
    door = _door_swelling(s, spec, cells, wet)
    door = d.let("gap.swelling", door, rule="the door's solid wood, fitting day to damp end, shared by two gaps")
    front = _front_swelling(s, spec, cells, wet)
    front = d.let("gap.front_swelling", front, rule="solid fronts, fitting day to damp end, shared by two gaps")
    return {"drawer": gap + front, "door": gap + door}


def member_width(d: Draft, spec: CaseOrder) -> float:
    """Return the width of stiles and rails of doors and framed fronts, mm."""
    given = spec.fronts.stile_width
    return d.practice["door.stile_width"] if given is None else given


def _door_swelling(s: Shell, spec: CaseOrder, cells: Sequence[Cell], wet: Moisture) -> float:
    """Return half of what the widest door grows across: its two stiles, or all of a slab."""
    doors = [(c, 2 if c.bay.holds == "pair" else 1) for c in cells if c.bay.holds in ("door", "pair")]
    if spec.fronts.door != "slab":
        return wood_of(s.kit, "door_frame").swells(wet, 2 * member_width(s.d, spec)) / 2 if doors else 0.0
    widest = max(((c.region.x[1] - c.region.x[0]) / n for c, n in doors), default=0.0)
    return wood_of(s.kit, "door_slab").swells(wet, widest) / 2 if doors else 0.0


def _front_swelling(s: Shell, spec: CaseOrder, cells: Sequence[Cell], wet: Moisture) -> float:
    """Return half of what the highest drawer front grows up and down: its two rails, or all of a slab."""
    heights = [c.region.z[1] - c.region.z[0] for c in cells if c.bay.holds == "drawer"]
    if not heights:
        return 0.0
    if spec.fronts.drawer == "panel":
        return wood_of(s.kit, "door_frame").swells(wet, 2 * member_width(s.d, spec)) / 2
    return wood_of(s.kit, "drawer_front").swells(wet, max(heights)) / 2
