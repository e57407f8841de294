"""No head is seen in the finished piece: a clear finish cannot hide it, under paint it is sunk and filled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from casewright.checks.fastener_holds import holds
from casewright.checks.model import Check, Subject
from casewright.checks.standing import standing
from casewright.design.frames import scale
from casewright.design.parts import Fastener
from casewright.findings import Finding, Severity
from casewright.solids.fastened import enters, fastener_boxes
from casewright.stock.model import Screw

SOURCE = "common practice: heads in a face that shows lie under a moulding, a frame or a top, or are filled under paint"
PROBE = 40.0  # mm in front of the head: a crown covers what lies in the hollow behind it
SUNK = 1.0  # mm of filler over a head that must not show through paint


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each screw head that shows, one for each joint."""
    told: set[str] = set()
    for fastener, held in holds(subject):
        if not held or not isinstance(held[0].item, Screw) or fastener.joint in told:
            continue
        first = held[0]
        if first.enter > fastener.head_height + 0.5 or not first.shows(first.entry) or _covered(subject, fastener):
            continue
        clear = any(u.face is first.entry and u.clear for u in first.part.faces)
        sunk = -first.enter
        if not clear and sunk >= SUNK:
            continue
        told.add(fastener.joint)
        yield subject.finding(
            code="visible.fastener",
            severity=Severity.WARN,
            path=fastener.path,
            related=(first.placed.path,),
            message=f"its head shows on {first.placed.path}" + (" under clear finish" if clear else ", flush with it"),
            value=None if clear else max(sunk, 0.0),
            limit=None if clear else SUNK,
            source=SOURCE,
            remedy="use pocket screws from a hidden face, dowels or a dado"
            if clear
            else "sink it and fill it before the paint, or use pocket screws from a hidden face",
        )


def _covered(subject: Subject, fastener: Fastener) -> bool:
    """True where something else of the piece lies right over the head."""
    out = scale(fastener.frame.z, -PROBE)
    probe = replace(
        fastener,
        frame=fastener.frame.moved(out),
        length=PROBE,
        shank_radius=max(fastener.head_radius / 2, 1.0),
        head_radius=0.0,
        head_height=0.0,
    )
    box = fastener_boxes((probe,))[0]
    near = standing(subject).met_by(box)
    return any(p.path not in fastener.parts and enters(probe, p, subject.cache) for p in near)


CHECK = Check(
    code="visible",
    what="no head of a screw shows in the finished piece",
    needs=("axes of fasteners", "faces that show and their finish", "solids of parts"),
    source=SOURCE,
    run=run,
)
