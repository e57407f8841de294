"""Left and right: what belongs together in a pair is each other's mirror image, never two of one hand."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.marks import mark_key
from casewright.design.parts import Part, Placed
from casewright.findings import Finding, Severity

SOURCE = "two parts of one hand: one of them has its grooves and holes on the wrong side"


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each pair of drawer sides that are two lefts or two rights, and for a missing half of slides."""
    for placed in subject.piece.placed:
        if not placed.path.endswith(".left"):
            continue
        fellow = subject.by_path.get(placed.path.removesuffix(".left") + ".right")
        if fellow is None:
            if ".slide_" in placed.path or "/slide_" in placed.path:
                yield _finding(subject, placed, "handed.half", "it has no fellow on the right", "add the other one")
        elif _two_of_a_hand(subject, placed, fellow):
            yield _finding(
                subject, fellow, "handed.pair", f"it is of the same hand as {placed.path}, not its mirror image",
                "cut one of the two as the mirror image of the other",
            )  # fmt: skip
    for placed in subject.piece.placed:
        if placed.path.endswith(".right") and "slide_" in placed.path:
            left = placed.path.removesuffix(".right") + ".left"
            if left not in subject.by_path:
                yield _finding(subject, placed, "handed.half", "it has no fellow on the left", "add the other one")


def _two_of_a_hand(subject: Subject, left: Placed, right: Placed) -> bool:
    """True where both parts carry one mark although their mirror image would be another."""
    a, b = left.thing, right.thing
    if not isinstance(a, Part) or not isinstance(b, Part) or not a.features:
        return False
    if ".blocking." in left.path:
        return False  # its screws stand where the wall behind it has room
    if a.blank.size != b.blank.size or len(a.features) != len(b.features):
        return False
    key = subject.cache.made("hand", (a.key, b.key), lambda: (_of_one_hand(a, b),))
    return key[0]


def _of_one_hand(a: Part, b: Part) -> bool:
    return mark_key(a) == mark_key(b) and mark_key(a.mirrored()) != mark_key(a)


def _finding(subject: Subject, placed: Placed, code: str, message: str, remedy: str) -> Finding:
    return subject.finding(
        code=code,
        severity=Severity.STOP,
        path=placed.path,
        message=message,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="handed",
    what="pairs are mirror images of each other, slides come in twos",
    needs=("parts", "marks"),
    source=SOURCE,
    run=run,
)
