"""A groove or dado leaves wood enough behind it."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.blanks import Face
from casewright.design.features.cuts import Dado, Groove
from casewright.design.parts import Part
from casewright.findings import Finding, Severity

SOURCE = "common practice: a groove goes half of the thickness deep, and never leaves less than 3 mm"
SHARE, LEAST = 0.45, 3.0  # of the thickness, and mm, left behind a groove
EPS = 0.05


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for a groove that nearly cuts a part through, a warning for one deeper than half of it."""
    for placed in subject.piece.placed:
        part = placed.thing
        if not isinstance(part, Part):
            continue
        thick = part.blank.thickness
        depths = [f.depth for f in part.features if isinstance(f, Groove | Dado) and f.face in (Face.FACE0, Face.FACE1)]
        left, limit = thick - max(depths, default=0.0), max(LEAST, SHARE * thick)
        if depths and left < limit - EPS:
            yield subject.finding(
                code="weak.groove",
                severity=Severity.STOP if left < LEAST - EPS else Severity.WARN,
                path=placed.path,
                message=f"{left:.1f} mm of {thick:.1f} are left behind its groove",
                value=left,
                limit=limit,
                source=SOURCE,
                remedy="a shallower groove, or a thicker part",
            )


CHECK = Check(
    code="weak",
    what="grooves leave wood enough behind them",
    needs=("grooves and dadoes of parts",),
    source=SOURCE,
    run=run,
)
