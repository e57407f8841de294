"""What a case stands on: where its body begins and its bottom lies, and the parts under it."""

from __future__ import annotations

from casewright.design.blocks.body import Body
from casewright.design.blocks.feet import FeetSpec, feet
from casewright.design.blocks.grid import Grid
from casewright.design.blocks.shell import Shell
from casewright.design.draft import Draft
from casewright.design.sections import blank_section
from casewright.findings import Severity
from casewright.order.pieces.case import CaseOrder


def underside(d: Draft, spec: CaseOrder) -> float:
    """Return the height of the body's underside above the floor, mm; 0 where its sides run to the floor."""
    return spec.stand.height if spec.stand.kind in ("feet", "bracket feet", "plinth") else 0.0


def floor_of(d: Draft, spec: CaseOrder, body: Body) -> float:
    """Return the height of the bottom's upper face, mm: at the bottom rail's edge, or the bottom's own thickness up."""
    kick = spec.stand.height if spec.stand.kind == "sides" else 0.0
    if not spec.framed:
        return body.z0 + kick + body.side
    visible = spec.bottom_rail_visible + d.led["base.height"]
    return body.z0 + max(kick, visible) - d.practice["case.bottom_step"]


def stand(s: Shell, spec: CaseOrder, grid: Grid) -> None:
    """Place what is under the body."""
    if spec.stand.kind == "feet":
        _feet(s, spec)


def _feet(s: Shell, spec: CaseOrder) -> None:
    d = s.d
    if not d.has("base_rail"):
        d.find(
            "feet.no_room",
            Severity.STOP,
            "stand.kind",
            "corner blocks that hold feet have no room under the bottom",
            value=s.floor - s.thick - s.body.z0,
            limit=d.practice["base_rail.least"],
            source="common practice",
            remedy="a face frame with a wider bottom rail, bracket feet, or a plinth",
        )
        return
    stick = s.kit.stick("foot")
    _, section, _ = blank_section(stick)
    given = spec.stand
    feet(
        d,
        s.kit,
        s.body,
        FeetSpec(
            inset=given.inset,
            taper=(section - given.tip) / (2 if given.tapered == 4 else 1),
            square=given.square,
            cove_radius=given.cove,
            cove_depth=given.cove * d.practice["foot.cove_share"],
            inner_only=given.tapered != 4,
        ),
    )
