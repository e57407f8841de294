"""No point comes out of a face: neither where it shows nor where a hand or a drawer passes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.model import Check, Subject
from casewright.checks.standing import standing
from casewright.design.parts import Part
from casewright.findings import Finding, Severity
from casewright.solids.fastened import enters, fastener_boxes
from casewright.stock.model import Dowel

SOURCE = (
    "common practice: at least a millimetre of wood over a point, three where the face shows (fastener.point_cover)"
)
BEYOND = 0.05  # mm: past the face, where what lies against it begins
LEANS = 0.15  # mm: by as much a point may lean against what lies there
THIN = 1.0  # mm: less wood than this over a point breaks out or prints through


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each point that comes out, a warning where next to nothing is left over it."""
    for fastener, held in holds(subject):
        if not held or isinstance(held[-1].item, Dowel) or _bolt(held[-1]):
            continue
        last = held[-1]
        if last.cover >= THIN or (last.cover > -BEYOND - LEANS and _covered(subject, last)):
            continue
        out = last.cover < 0
        shows = last.shows(last.exit)
        what = f"its point comes {-last.cover:.1f} mm out of" if out else f"only {last.cover:.1f} mm is left over it in"
        yield subject.finding(
            code="fastener.point",
            severity=Severity.STOP if out else Severity.WARN,
            path=fastener.path,
            related=(last.placed.path,),
            message=f"{what} {last.placed.path}, {last.exit.value}" + (", which shows" if shows else ""),
            value=last.cover,
            limit=subject.practice["fastener.point_cover"] if shows else THIN,
            source=SOURCE,
            remedy=f"take one at least {THIN - last.cover:.0f} mm shorter, or drive it from the other side",
        )


def _covered(subject: Subject, hold: Hold) -> bool:
    """True where another part lies against the face that the point comes to: nothing comes out into the open there."""
    f = hold.fastener
    face = f.frame.point((0.0, 0.0, hold.leave + BEYOND))
    on = replace(f, frame=replace(f.frame, origin=face), length=THIN, head_radius=0.0, head_height=0.0)
    behind = standing(subject).met_by(fastener_boxes((on,))[0])
    others = (p for p in behind if isinstance(p.thing, Part) and p is not hold.placed)
    return any(enters(on, p, subject.cache) for p in others)


def _bolt(hold: Hold) -> bool:
    """True for a machine screw: it goes right through, into a pull or an insert."""
    return hold.screw is not None and hold.screw.kind.startswith("machine")


CHECK = Check(
    code="fastener.point",
    what="no point of a screw or pin comes out of a face",
    needs=("axes of fasteners", "blanks", "faces that show"),
    source=SOURCE,
    run=run,
)
