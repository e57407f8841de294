"""Pieces of one order stand beside each other: what they have in common is level, or plainly is not.

Compared are the upper sides of the pieces, and of pieces of one height the upper edges of their rails.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from casewright.checks.fit_boxes import box_of
from casewright.checks.looks_heights import MEANT, NEARLY, SOURCE, frame_rails
from casewright.checks.model import OrderCheck, Subject
from casewright.findings import Finding, Severity


@dataclass(frozen=True, slots=True, order=True)
class _Line:
    """A height over the floor, mm, and what lies there."""

    height: float
    path: str
    piece: int


def run(subjects: Sequence[Subject]) -> Iterator[Finding]:
    """Yield a warning for each two lines, next to each other in height, of two pieces that nearly match."""
    standing = [s for s in subjects if s.piece.placed]
    tops = sorted(_Line(s.piece.height, s.piece.path, i) for i, s in enumerate(standing))
    yield from _near(standing, tops, "upper side")
    for group in _of_one_height(tops):
        rails = sorted(line for top in group for line in _rails(standing, top))
        yield from _near(standing, rails, "rail")


def _of_one_height(tops: list[_Line]) -> Iterator[list[_Line]]:
    group: list[_Line] = []
    for top in tops:
        if group and top.height - group[-1].height > MEANT:
            yield group
            group = []
        group.append(top)
    yield group


def _rails(standing: Sequence[Subject], top: _Line) -> list[_Line]:
    subject = standing[top.piece]
    return [_Line(float(box_of(subject, [p])[1, 2]), p.path, top.piece) for p in frame_rails(subject)]


def _near(standing: Sequence[Subject], lines: list[_Line], what: str) -> Iterator[Finding]:
    """Heights come in their order: lines that nearly match stand next to each other, or behind their equals."""
    for a, b in pairwise(_apart(lines)):
        if a.piece != b.piece and NEARLY < b.height - a.height < MEANT:
            off = b.height - a.height
            yield standing[b.piece].finding(
                code="looks.across",
                severity=Severity.WARN,
                path=b.path,
                related=(a.path,),
                message=f"its {what} stands {off:.1f} mm above that of {a.path}: side by side they nearly match"
                if what != "rail"
                else f"it stands {off:.1f} mm above {a.path}: side by side they nearly match",
                value=off,
                limit=NEARLY,
                source=SOURCE,
                remedy="give both one height ([style] line_up does it for rails), or make the step plain",
            )


def _apart(lines: list[_Line]) -> list[_Line]:
    """Return the lines without those at a height that is there already."""
    kept: list[_Line] = []
    for line in lines:
        if not kept or line.height - kept[-1].height > NEARLY:
            kept.append(line)
    return kept


CHECK = OrderCheck(
    code="looks.across",
    what="pieces of an order, and the rails of those of one height, are level with each other or plainly are not",
    needs=("overall heights", "boxes of rails of all pieces"),
    source=SOURCE,
    run=run,
)
