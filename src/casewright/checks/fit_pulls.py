"""Pulls stand within the field of their front, with room around their base."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.fit_boxes import box_of, item_of
from casewright.checks.model import Check, Subject
from casewright.findings import Finding, Severity
from casewright.stock.model import Pull

SOURCE = "practice pull.field_room: what a field is higher than the base of its pull, half on each side"


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each pull too near a moulding around its field, a stop where its base lies on one."""
    room = subject.practice["pull.field_room"] / 2  # on each side
    for placed in subject.piece.placed:
        pull = item_of(subject, placed)
        if not isinstance(pull, Pull):
            continue
        group = placed.path.rpartition("/")[0]
        middle = box_of(subject, [placed]).mean(axis=0)
        half = (pull.base_width / 2, pull.base_height / 2)
        for other in subject.piece.placed:
            if not other.path.startswith(f"{group}/applied"):
                continue
            box = box_of(subject, [other])
            aside = max(box[0, 0] - middle[0] - half[0], middle[0] - half[0] - box[1, 0])
            above = max(box[0, 2] - middle[2] - half[1], middle[2] - half[1] - box[1, 2])
            apart = float(max(aside, above))
            if apart < room - 1e-6:
                yield subject.finding(
                    code="fit.pull",
                    severity=Severity.STOP if apart < 0 else Severity.WARN,
                    path=placed.path,
                    related=(other.path,),
                    message=f"its base stands {apart:.1f} mm from {other.path}"
                    if apart >= 0
                    else f"its base lies {-apart:.1f} mm over {other.path}",
                    value=apart,
                    limit=room,
                    source=SOURCE,
                    remedy="take a smaller pull, or a narrower moulding",
                )


CHECK = Check(
    code="fit.pull",
    what="the base of each pull has room within its field",
    needs=("boxes of parts", "pulls of the stock", "practice pull.field_room"),
    source=SOURCE,
    run=run,
)
