"""Fasteners stay away from edges and ends, so that nothing splits: limits for solid wood and for sheets apart."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.model import Check, Subject
from casewright.design.assembly import Joint, JointKind
from casewright.findings import Finding, Severity
from casewright.stock.model import Dowel

SOURCE = (
    "NDS commentary C12.1.5.7, bored: 2.5 diameters to an edge of what bears a load; glued furniture joints: 1.7; "
    "sheets, and under faces: half a diameter of wood beside the shank (common practice)"
)
LOADED, GLUED, SHEET, BREAKS = 2.5, 1.7, 1.0, 0.6  # diameters from the axis
HARDWARE_EDGE = 1.0  # the maker of a hinge or slide has set its holes


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each fastener too near an edge, a stop where it breaks out."""
    joints = {j.id: j for j in subject.piece.joints}
    for _fastener, held in holds(subject):
        for hold in held:
            if isinstance(hold.item, Dowel):
                continue
            yield from _near_edge(subject, hold, joints.get(hold.fastener.joint))


def _near_edge(subject: Subject, hold: Hold, joint: Joint | None) -> Iterator[Finding]:
    least = float("inf")
    worst: tuple[float, float, str] | None = None
    size = hold.part.blank.size
    for axis, name in enumerate(("end", "edge", "face")):
        if abs(hold.way[axis]) > 0.5:
            continue  # it runs that way: there is no side of it
        limit = _limit(hold, axis, joint) * hold.diameter
        for s in (max(hold.enter, 0.0), min(hold.leave, hold.fastener.length)):
            at = hold.at(s)[axis]
            distance = min(at, size[axis] - at)
            if distance - limit < least:
                least, worst = distance - limit, (distance, limit, name)
    if worst is None or worst[0] >= worst[1] - 0.05:
        return
    distance, limit, name = worst
    yield subject.finding(
        code="fastener.edge",
        severity=Severity.STOP if distance < BREAKS * hold.diameter else Severity.WARN,
        path=hold.fastener.path,
        related=(hold.placed.path,),
        message=f"stands {distance:.1f} mm from an {name} of {hold.placed.path}"
        if name != "face"
        else f"stands {distance:.1f} mm under a face of {hold.placed.path}",
        value=distance,
        limit=limit,
        source=SOURCE,
        remedy="move it inwards, take a thinner one, or bore a pilot and glue",
    )


def _limit(hold: Hold, axis: int, joint: Joint | None) -> float:
    """Return how many diameters the axis must stay from the faces on an axis of the blank."""
    if joint is not None and joint.kind is JointKind.HARDWARE:
        return HARDWARE_EDGE
    if axis == 2 or not hold.solid:
        return SHEET
    return GLUED if joint is not None and joint.glued else LOADED


CHECK = Check(
    code="fastener.edge",
    what="screws and pins keep from edges and ends",
    needs=("axes of fasteners", "blanks", "kinds of joint"),
    source=SOURCE,
    run=run,
)
