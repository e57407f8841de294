"""What should be level is level: rails, fronts and pulls of columns match, or differ enough to be meant."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from casewright.checks.fit_boxes import Box, box_of, item_of, overlap_of
from casewright.checks.model import Check, Subject
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import is_under_any
from casewright.stock.model import Pull

SOURCE = "common practice: the eye sees a step of 1 mm beside a line, and takes one of more than 3 mm as meant"
NEARLY, MEANT = 0.8, 3.2  # mm


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each two of a kind, side by side, whose heights nearly match.

    Pulls of fronts of one size match, or they are wrong.
    """
    for kind, things in _kinds(subject).items():
        lines = [(p, box_of(subject, [p])) for p in things]
        for (a, box_a), (b, box_b) in combinations(lines, 2):
            if overlap_of(box_a, box_b, 0) > 0:
                continue  # one above the other
            pulls = kind == "pulls"
            most = float("inf") if pulls and _alike(subject, a, b) else MEANT
            off = _nearly(box_a, box_b, middle=pulls, most=most)
            if off is not None:
                yield subject.finding(
                    code="looks.level",
                    severity=Severity.WARN,
                    path=b.path,
                    related=(a.path,),
                    message=f"it is {off:.1f} mm off the level of {a.path}: {kind} side by side nearly match",
                    value=off,
                    limit=NEARLY,
                    source=SOURCE,
                    remedy="bring the two level, or make the step plain",
                )


def _kinds(subject: Subject) -> dict[str, list[Placed]]:
    rails = frame_rails(subject)
    fronts = [p for p in subject.piece.placed if p.path.endswith("/face/front")]
    pulls = [p for p in subject.piece.placed if isinstance(item_of(subject, p), Pull)]
    return {"rails": rails, "fronts": fronts, "pulls": pulls}


def frame_rails(subject: Subject) -> list[Placed]:
    """Return the rails of the face frame."""
    rails = [p for p in subject.piece.placed if "/frame/rail" in p.path and not isinstance(p.thing, Hardware)]
    moving = [m for motion in subject.piece.motions for m in motion.members]
    return [p for p in rails if not is_under_any(p.path, moving)]


def _alike(subject: Subject, a: Placed, b: Placed) -> bool:
    """True for pulls of two fronts of one size and level: whatever their step is, it is not meant."""
    fronts = [subject.by_path.get(f"{p.path.rpartition('/')[0]}/front") for p in (a, b)]
    if fronts[0] is None or fronts[1] is None:
        return False
    one, two = (box_of(subject, [f]) for f in fronts if f is not None)
    return bool(abs(one[:, 2] - two[:, 2]).max() <= NEARLY)


def _nearly(a: Box, b: Box, *, middle: bool, most: float) -> float | None:
    """Return by how much two heights nearly match: the middles, or the upper or lower edges."""
    if middle:
        steps = [abs(float(a[:, 2].sum() - b[:, 2].sum())) / 2]
    else:
        steps = [abs(float(a[i, 2] - b[i, 2])) for i in (0, 1)]
    return next((s for s in steps if NEARLY < s < most), None)


CHECK = Check(
    code="looks.level",
    what="rails, fronts and pulls side by side are level, or plainly are not",
    needs=("boxes of parts", "pulls"),
    source=SOURCE,
    run=run,
)
