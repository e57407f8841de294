"""What needs service can be reached in the finished piece: the screws of a top, a module and its keeper, the feet."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.assembly_tools import DRIVERS, TIGHT, reaches
from casewright.checks.fit_boxes import staying
from casewright.checks.model import Check, Subject
from casewright.design.assembly import Joint, JointKind
from casewright.design.parts import Fastener, Placed
from casewright.findings import Finding, Severity

SOURCE = "common practice: a top comes off again for moving and repair, a module is replaced when it fails"
LOOSE = {JointKind.SCREWS, JointKind.SLOTTED_SCREWS, JointKind.FIGURE_PLATES, JointKind.BUTTONS}


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a note for a top that cannot be taken off, a warning for a module that cannot be replaced with it."""
    joints = {j.id: j for j in subject.piece.joints}
    standing = staying(subject)
    fixings = [f for f in subject.piece.fasteners if f.joint in joints and _of_the_top(joints[f.joint])]
    reached = {f.path: _reached(subject, f, standing) for f in fixings}
    liftable = all(reached.values())
    told: set[str] = set()
    for fastener in subject.piece.fasteners:
        joint = joints.get(fastener.joint)
        if joint is None or joint.id in told:
            continue
        module = "device" in fastener.joint.rpartition("/")[2]
        if not module and not _of_the_top(joint):
            continue
        if not reached.get(fastener.path, module and _reached(subject, fastener, standing)):
            told.add(joint.id)
            yield subject.finding(
                code="reach.module" if module else "reach.top",
                severity=Severity.WARN if module and not liftable else Severity.NOTE,
                path=fastener.path,
                related=(joint.a, joint.b),
                message="no driver reaches it in the finished piece, with drawers out and doors open"
                + (": the top must come off first" if module and liftable else ""),
                source=SOURCE,
                remedy="hold the module where an open door or drawer gives access"
                if module
                else "say so to the client, or fix the top where it can be reached",
            )


def _of_the_top(joint: Joint) -> bool:
    """True for what holds a top that comes off: slots, plates and buttons, and plain screws along its fixed line."""
    top = any(path.rpartition("/")[2].startswith("top") for path in (joint.a, joint.b))
    return top and not joint.glued and joint.kind in LOOSE


def _reached(subject: Subject, fastener: Fastener, standing: list[Placed]) -> bool:
    return reaches((*DRIVERS, *TIGHT), fastener, standing, subject)


CHECK = Check(
    code="reach",
    what="the screws of tops and modules can be reached in the finished piece",
    needs=("axes of fasteners", "motions", "solids of parts and hardware"),
    source=SOURCE,
    run=run,
)
