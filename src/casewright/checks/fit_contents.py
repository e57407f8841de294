"""What the piece is to keep goes in: openings high, wide and deep enough; a hanging rod with room for what hangs there.

Room is looked for from the middle of what carries the contents: up, down, to both sides and back, to the nearest part.
A rail or stile in front of it takes of the opening as a wall does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.fit_boxes import Box, box_of
from casewright.checks.model import Check, Subject
from casewright.checks.strength_sag import DRAWER_BOTTOM, SHELF
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.order.contents import CONTENTS, Content
from casewright.solids.collide import is_under_any

SOURCE = "sizes of contents: order/contents.py, from memory and common practice"
DROP, REACH = 760.0, 2100.0  # mm: folded trousers on a hanger; as high as a hand comes with a hanger in it
PROBE = 60.0  # mm above a board: over edgings, below what stands on it


@dataclass(frozen=True, slots=True)
class _Room:
    """A place for contents and its width, height and depth, mm."""

    path: str
    size: tuple[float, float, float]


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for contents that fit nowhere, and for a rod that hangs too low or too high."""
    yield from _rods(subject)
    wanted = [c for c in CONTENTS if c.name in subject.around.contents]
    places = {keeps: list(_places(subject, keeps)) for keeps in {c.on for c in wanted}}
    for content in wanted:
        needs = (content.width, content.height, content.depth)
        rooms = places[content.on]
        if not rooms:
            yield _none(subject, content)
            continue
        best = max(rooms, key=lambda r: min(h / n for h, n in zip(r.size, needs, strict=True)))
        lacking = min(range(3), key=lambda i: best.size[i] / needs[i])
        if best.size[lacking] < needs[lacking]:
            yield _lacks(subject, content, best, lacking, needs[lacking])


def _places(subject: Subject, keeps: str) -> Iterator[_Room]:
    if keeps == "rod":
        for rod in _all_rods(subject):
            yield _Room(rod.path, _under_rod(subject, rod))
        return
    for placed in subject.piece.placed:
        if isinstance(placed.thing, Hardware):
            continue
        shelf = SHELF.fullmatch(placed.path) or placed.path == f"{subject.piece.path}/bottom"
        if keeps == "shelf" and shelf:
            yield _Room(placed.path, _over(subject, placed, _standing(subject)))
        elif keeps == "drawer" and DRAWER_BOTTOM.fullmatch(placed.path):
            box = placed.path.rpartition("/")[0]
            own = [p for p in subject.piece.placed if p.path.startswith(f"{box}/")]
            width, _, depth = _over(subject, placed, own)
            yield _Room(box, (width, _over(subject, placed, _standing(subject))[1], depth))


def _standing(subject: Subject) -> list[Placed]:
    moving = [m for motion in subject.piece.motions for m in motion.members]
    return [p for p in subject.piece.placed if not isinstance(p.thing, Hardware) and not is_under_any(p.path, moving)]


def _over(subject: Subject, board: Placed, walls: list[Placed]) -> tuple[float, float, float]:
    """Return (width, height, depth) of the room over a level board."""
    own = box_of(subject, [board])
    boxes = [box_of(subject, [p]) for p in walls if p.path != board.path]
    x, y, floor = (own[0, 0] + own[1, 0]) / 2, float(own[0, 1]), float(own[1, 2])
    above = [float(b[0, 2]) for b in boxes if _between(x, b, 0) and b[0, 2] > floor - 1.0 and b[0, 1] < own[1, 1]]
    height = min(above, default=float("inf")) - floor
    z = floor + min(PROBE, height / 2)
    level = [b for b in boxes if _between(z, b, 2)]
    left = max((float(b[1, 0]) for b in level if b[1, 0] <= x), default=float(own[0, 0]))
    right = min((float(b[0, 0]) for b in level if b[0, 0] >= x), default=float(own[1, 0]))
    middle = (y + float(own[1, 1])) / 2
    back = min((float(b[0, 1]) for b in level if _between(x, b, 0) and b[0, 1] > middle), default=float(own[1, 1]))
    front = max((float(b[1, 1]) for b in level if _between(x, b, 0) and b[1, 1] < middle), default=y)
    return right - left, height, back - max(front, y)


def _between(value: float, box: Box, axis: int) -> bool:
    return bool(box[0, axis] < value < box[1, axis])


# --- rods ---


def _all_rods(subject: Subject) -> list[Placed]:
    return [p for p in subject.piece.placed if p.path.endswith("/rod") and "/hang[" in p.path]


def _under_rod(subject: Subject, rod: Placed) -> tuple[float, float, float]:
    """Return the rod's length, what may hang below it, and twice the way to the nearer of front and back."""
    own = box_of(subject, [rod])
    x, y, z = ((own[0] + own[1]) / 2).tolist()
    boxes = [box_of(subject, [p]) for p in subject.piece.placed if p.path != rod.path and _solid(p)]
    column = [b for b in boxes if _between(x, b, 0) and b[0, 1] < y < b[1, 1] and b[1, 2] < z]
    level = [b for b in boxes if _between(x + 20.0, b, 0) and _between(z - 150.0, b, 2)]
    back = min((float(b[0, 1]) for b in level if b[0, 1] > y), default=float("inf"))
    front = max((float(b[1, 1]) for b in level if b[1, 1] < y), default=float("-inf"))
    drop = float(own[0, 2]) - max((float(b[1, 2]) for b in column), default=0.0)
    return float(own[1, 0] - own[0, 0]), drop, 2 * min(back - y, y - front)


def _solid(placed: Placed) -> bool:
    return not isinstance(placed.thing, Hardware)


def _rods(subject: Subject) -> Iterator[Finding]:
    for rod in _all_rods(subject):
        drop, height = _under_rod(subject, rod)[1], float(box_of(subject, [rod])[1, 2]) + subject.around.hung
        if drop < DROP:
            text, remedy = f"{drop:.0f} mm hang below it", "a higher bay, or shelves in place of the rod"
            yield subject.warned("contents.rod", rod.path, text, drop, DROP, source=SOURCE, remedy=remedy)
        if height > REACH:
            text, remedy = f"it hangs {height:.0f} mm above the floor", "a lower rod, or one that swings down"
            yield subject.warned("contents.rod", rod.path, text, height, REACH, source=SOURCE, remedy=remedy)


# --- findings ---


def _lacks(subject: Subject, content: Content, best: _Room, lacking: int, needed: float) -> Finding:
    what = ("wide", "high", "deep")[lacking]
    text = f"no opening takes {content.name}: the best one is {best.size[lacking]:.0f} mm {what}"
    return subject.warned(
        "contents.room",
        best.path,
        text,
        best.size[lacking],
        needed,
        source=SOURCE,
        remedy=f"an opening {needed:.0f} mm {what}",
    )


def _none(subject: Subject, content: Content) -> Finding:
    text = f"it has no {content.on} for {content.name}"
    return subject.finding(
        code="contents.room",
        severity=Severity.WARN,
        path=subject.piece.path,
        message=text,
        source=f"{content.source}; [piece] contents",
        remedy=f"a bay with a {content.on}",
    )


CHECK = Check(
    code="contents",
    what="what the piece is to keep goes in, clothes hang free",
    needs=("boxes of parts", "[piece] contents"),
    source=SOURCE,
    run=run,
)
