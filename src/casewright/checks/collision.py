"""Nothing may stand where something else stands: parts, hardware, fasteners, keepouts."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.findings import Finding, Severity
from casewright.solids.collide import DEPTH_LIMIT, collisions
from casewright.solids.fastened import crossed_fasteners, fastener_overlaps, keepout_overlaps

SOURCE = "two solid things cannot share a place; less than 0.02 mm is below what a shop can measure"


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for every pair that penetrates."""
    piece = subject.piece
    for hit in collisions(piece, subject.cache):
        yield subject.finding(
            code="collision.parts",
            severity=Severity.STOP,
            path=hit.a,
            related=(hit.b,),
            message=f"runs {hit.depth:.2f} mm into {hit.b}",
            value=hit.depth,
            limit=DEPTH_LIMIT,
            source=SOURCE,
            remedy="change the size that brings the two together",
        )
    met = (
        ("fastener", "enters {}, which its joint does not name", fastener_overlaps(piece, subject.cache)),
        ("keepout", "enters the room kept free for {}", keepout_overlaps(piece)),
        ("crossing", "runs into {}", crossed_fasteners(piece)),
    )
    for kind, text, overlaps in met:
        for met_one in overlaps:
            yield subject.finding(
                code=f"collision.{kind}",
                severity=Severity.STOP,
                path=met_one.fastener,
                related=(met_one.other,),
                message=text.format(met_one.other),
                source=SOURCE,
                remedy="move the fastener, or use a shorter one",
            )


CHECK = Check(
    code="collision",
    what="parts, hardware and fasteners stand clear of each other",
    needs=("solids of parts and hardware", "axes of fasteners", "keepouts"),
    source=SOURCE,
    run=run,
)
