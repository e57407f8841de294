"""Screws hold badly in end grain and in the edges of sheets: there a joint is glued, or the screw is long."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.model import Check, Subject
from casewright.design.parts import Fastener, Hardware
from casewright.findings import Finding, Severity
from casewright.stock.fittings import KnifeHinge
from casewright.stock.model import Screw, Sheet

END_SOURCE = "Wood Handbook ch. 8: in end grain about 75 % of side grain, and erratic; NDS 12.2 counts on none"
EDGE_SOURCE = "common practice: avoid screws in a sheet's edge; if there, glued, with pilot, 38 mm (1-1/2 in) long"
LONG = 38.0  # mm
CRUMBLES = ("mdf", "particleboard", "melamine", "hardboard")


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each screw that relies on end grain, or on a sheet's edge."""
    glued = {j.id for j in subject.piece.joints if j.glued}
    # A joint that another one of the same two parts glues holds as well.
    pairs = {frozenset((j.a, j.b)) for j in subject.piece.joints if j.glued}
    for fastener, held in holds(subject):
        screw = held[-1].screw if held else None
        if screw is None or screw.kind.startswith("machine"):
            continue
        last = held[-1]
        safe = fastener.joint in glued or frozenset(fastener.parts) in pairs or _let_in(subject, fastener)
        if last.solid and last.along_grain and not safe:
            yield _finding(
                subject, last, "fastener.end_grain", "is driven into end grain without glue", END_SOURCE, None
            )
        elif not last.solid and last.into_edge:
            yield from _edge(subject, last, screw, safe)


def _let_in(subject: Subject, fastener: Fastener) -> bool:
    """True for a knife hinge's screws: its leaf bears in its bed, and they only keep it there (common practice)."""
    things = (subject.by_path[path].thing for path in fastener.parts if path in subject.by_path)
    return any(isinstance(t, Hardware) and isinstance(subject.items.get(t.item), KnifeHinge) for t in things)


def _edge(subject: Subject, last: Hold, screw: Screw, safe: bool) -> Iterator[Finding]:
    sheet = subject.items.get(last.part.stock)
    material = sheet.material if isinstance(sheet, Sheet) else ""
    code = "fastener.sheet_edge"
    if material in CRUMBLES and not safe:
        yield _finding(subject, last, code, f"is driven into the edge of {material} without glue", EDGE_SOURCE, None)
    elif not safe:
        yield _finding(subject, last, code, "is driven into a sheet's edge without glue", EDGE_SOURCE, None)
    elif screw.length < LONG - 0.5:
        yield _finding(subject, last, code, "is short for a sheet's edge", EDGE_SOURCE, screw.length)


def _finding(subject: Subject, last: Hold, code: str, message: str, source: str, length: float | None) -> Finding:
    return subject.finding(
        code=code,
        severity=Severity.WARN,
        path=last.fastener.path,
        related=(last.placed.path,),
        message=f"{message}: {last.placed.path}",
        value=length,
        limit=LONG if length is not None else None,
        source=source,
        remedy="glue the joint, use dowels or a longer screw, or drive it into a face",
    )


CHECK = Check(
    code="fastener.grain",
    what="no screw relies on end grain or on the edge of a sheet",
    needs=("axes of fasteners", "grain of the parts", "joints that are glued"),
    source=END_SOURCE,
    run=run,
)
