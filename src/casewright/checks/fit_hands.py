"""What a hand opens can be reached and is not too wide; what hangs on a wall hangs from above its middle."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.fit_boxes import box_of, item_of, motions
from casewright.checks.masses import masses, total
from casewright.checks.model import Check, Subject
from casewright.design.assembly import MotionKind
from casewright.findings import Finding, Severity
from casewright.stock.model import Pull

SOURCE = (
    "shelf guideline page: standing, hands reach 72 to 78 in (1.98 m) up; common practice: doors are up to 24 in wide"
)
WALL_SOURCE = "statics: a rail under the middle of the mass lets the upper edge lean off the wall"
REACH, WIDE = 2000.0, 650.0  # mm
UPRIGHT = 0.7


def run(subject: Subject) -> Iterator[Finding]:
    """Yield warnings for pulls out of reach and doors too wide, and a stop for a rail too low to hang from."""
    for placed in subject.piece.placed:
        if isinstance(item_of(subject, placed), Pull):
            high = float(box_of(subject, [placed])[:, 2].mean()) + subject.around.hung
            if high > REACH:
                text = f"it stands {high:.0f} mm above the floor: few hands reach it"
                yield subject.warned(
                    "reach.pull", placed.path, text, high, REACH, source=SOURCE, remedy="a lower pull, or a lower case"
                )
    for motion, group, moving in motions(subject, MotionKind.SWING):
        wood = [p for p in moving if item_of(subject, p) is None]
        if abs(motion.direction[2]) < UPRIGHT or not wood:
            continue
        box = box_of(subject, wood)
        wide = float(box[1, 0] - box[0, 0])
        if wide > WIDE:
            text = f"the door is {wide:.0f} mm wide: it drops on its hinges and sweeps as much of the room"
            yield subject.warned("fit.door_width", group, text, wide, WIDE, source=SOURCE, remedy="a pair of doors")
    yield from _hung(subject)


def _hung(subject: Subject) -> Iterator[Finding]:
    rail = subject.by_path.get(f"{subject.piece.path}/fixing_rail")
    if rail is None:
        return
    middle = total(masses(subject.piece, subject.cache).values()).centre[2]
    high = float(box_of(subject, [rail])[:, 2].mean())
    if high < middle:
        yield subject.finding(
            code="wall.rail_low",
            severity=Severity.STOP,
            path=rail.path,
            message=f"it lies {middle - high:.0f} mm below the middle of the case's mass",
            value=high,
            limit=middle,
            source=WALL_SOURCE,
            remedy="set the rail under the top of the case",
        )


CHECK = Check(
    code="fit.hands",
    what="pulls are in reach, doors no wider than their hinges like, a hung case hangs from above its middle",
    needs=("boxes of parts and pulls", "motions", "masses"),
    source=SOURCE,
    run=run,
)
