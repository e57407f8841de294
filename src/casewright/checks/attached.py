"""Every part is held: joined to the rest of the piece, and really touching what it is joined to."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.assembly import Joint, JointKind, PieceDesign
from casewright.findings import Finding, Severity
from casewright.solids.touch import TOUCH_LIMIT, touches

SOURCE = "a part that nothing holds falls off; glue bridges no gap (touching: 0.01 mm)"
# Held by play, thread or pin: these members need not touch over an area.
LOOSE = {JointKind.HARDWARE, JointKind.THREAD, JointKind.HELD}


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each part outside the one connected whole, and for each joint whose members do not touch."""
    piece = subject.piece
    for path in _apart(piece):
        yield subject.finding(
            code="attached.loose",
            severity=Severity.STOP,
            path=path,
            source=SOURCE,
            message="no joint holds it to the rest of the piece",
            remedy="give it a joint",
        )
    for joint in piece.joints:
        if joint.kind not in LOOSE and not _touching(subject, joint):
            yield subject.finding(
                code="attached.gap",
                severity=Severity.STOP,
                path=joint.id,
                related=(joint.a, joint.b),
                message=f"{joint.kind.value}: its parts do not touch",
                limit=TOUCH_LIMIT,
                source=SOURCE,
                remedy="close the gap between them",
            )


def _touching(subject: Subject, joint: Joint) -> bool:
    a, b = (subject.by_path[path] for path in (joint.a, joint.b))
    return touches(a.thing, b.thing, a.frame.relative(b.frame), subject.cache)


def _apart(piece: PieceDesign) -> list[str]:
    """Return the paths that are not connected to the piece's first part through joints."""
    near: dict[str, list[str]] = {p.path: [] for p in piece.placed}
    for joint in piece.joints:
        if joint.a in near and joint.b in near:
            near[joint.a].append(joint.b)
            near[joint.b].append(joint.a)
    if not near:
        return []
    reached = {piece.placed[0].path}
    queue = [piece.placed[0].path]
    while queue:
        for other in near[queue.pop()]:
            if other not in reached:
                reached.add(other)
                queue.append(other)
    return [p.path for p in piece.placed if p.path not in reached]


CHECK = Check(
    code="attached",
    what="every part is joined to the piece and touches what it is joined to",
    needs=("joints", "contacts of solids"),
    source=SOURCE,
    run=run,
)
