"""The finished piece comes through the door of its room and up the stair."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.findings import Finding, Severity
from casewright.solids.collide import overall_box

SOURCE = "[room] door_width, stair_width; common practice: 20 mm of room for hands and blankets"
HANDS = 20.0  # mm


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop where the smallest side of the piece is wider than a door or stair, a warning where it grazes."""
    if not subject.piece.placed:
        return
    low, high = overall_box(subject.piece, subject.cache)
    least = min(high[i] - low[i] for i in range(3))
    for name, width in (("door", subject.room.door_width), ("stair", subject.room.stair_width)):
        if width is None or least + HANDS <= width:
            continue
        yield subject.finding(
            code=f"fit.{name}way",
            severity=Severity.STOP if least > width else Severity.WARN,
            path=subject.piece.path,
            message=f"whichever way it is turned it is {least:.0f} mm wide, the {name} {width:.0f} mm",
            value=least,
            limit=width,
            source=SOURCE,
            remedy="make it shallower, make it in two parts, or assemble it in the room",
        )


CHECK = Check(
    code="fit.room",
    what="the piece comes through door and stair",
    needs=("overall size", "room: door_width, stair_width"),
    source=SOURCE,
    run=run,
)
