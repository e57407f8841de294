"""Pulls stand on their front and within its field, with room around their base."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from casewright.checks.fit_boxes import box_of, item_of
from casewright.checks.model import Check, Subject
from casewright.design.parts import Part, Placed
from casewright.findings import Finding, Severity
from casewright.stock.model import Pull

Extent = NDArray[np.float64]
SOURCE = "practice pull.field_room: what a field is higher than the base of its pull, half on each side"


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each pull too near what frames its field, a stop where its base is on that or off it all."""
    room = subject.practice["pull.field_room"] / 2  # on each side
    for placed in subject.piece.placed:
        pull = item_of(subject, placed)
        if not isinstance(pull, Pull):
            continue
        group = placed.path.rpartition("/")[0]
        base = _base(placed, pull)
        front = [p for p in subject.piece.placed if p.path.startswith(f"{group}/") and isinstance(p.thing, Part)]
        yield from _off_front(subject, placed, base, front)
        for other in (p for p in front if _frames(p.path.removeprefix(f"{group}/"), group)):
            box = box_of(subject, [other])
            apart = float(max(*(box[0, ::2] - base[1]), *(base[0] - box[1, ::2])))
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
                    remedy="take a smaller pull, or a narrower frame around its field",
                )


def _base(placed: Placed, pull: Pull) -> Extent:
    """Return what the base of a pull covers, (2, 2): low and high corner, x and z, mm."""
    size = pull.base
    across, up = placed.frame.x, placed.frame.y
    half = np.array([(size[0] * abs(across[i]) + size[1] * abs(up[i])) / 2 for i in (0, 2)])
    middle = np.array([placed.frame.origin[i] for i in (0, 2)])
    return np.array((middle - half, middle + half))


def _frames(name: str, group: str) -> bool:
    """True for what frames the field of a pull: an applied moulding, the members of a framed drawer front."""
    return name.startswith("applied") or (group.endswith("/face") and name.startswith(("stile.", "rail.")))


def _off_front(subject: Subject, placed: Placed, base: Extent, front: list[Placed]) -> Iterator[Finding]:
    """Yield a stop where a base stands over an edge of its front or door."""
    if not front:
        return
    whole = box_of(subject, front)[:, ::2]
    over = float(max(*(whole[0] - base[0]), *(base[1] - whole[1])))
    if over > 1e-6:
        yield subject.finding(
            code="fit.pull",
            severity=Severity.STOP,
            path=placed.path,
            message=f"its base stands {over:.1f} mm over an edge of what it is bolted to",
            value=over,
            limit=0.0,
            source="common practice",
            remedy="take a smaller pull, or another place for it",
        )


CHECK = Check(
    code="fit.pull",
    what="the base of each pull lies on its front, with room within its field",
    needs=("boxes of parts", "pulls of the stock", "practice pull.field_room"),
    source=SOURCE,
    run=run,
)
