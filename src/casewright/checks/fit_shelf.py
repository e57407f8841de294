"""A loose shelf goes in: tilted through the opening in front of it, then levelled between the walls."""

from __future__ import annotations

import math
from collections.abc import Iterator

from casewright.checks.fit_boxes import Box, box_of, overlap_of
from casewright.checks.model import Check, Subject
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import is_under

SOURCE = "geometry: a board of length L and thickness t is √(L² + t²) from corner to corner while it is levelled"

ON_PIN = 4.0  # mm: less of a pin under a shelf is none


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each loose shelf that cannot be levelled between its walls, or does not pass its opening."""
    for placed in subject.piece.placed:
        if not placed.path.rpartition("/")[0].rpartition("/")[0].rpartition("/")[2].startswith("loose["):
            continue
        if isinstance(placed.thing, Hardware):
            continue
        shelf = box_of(subject, [placed])
        length, thick = float(shelf[1, 0] - shelf[0, 0]), float(shelf[1, 2] - shelf[0, 2])
        walls = [p for p in subject.piece.placed if not _moves(subject, p) and not isinstance(p.thing, Hardware)]
        inside = _clear(subject, walls, shelf, float(shelf[0, 1]), float(shelf[1, 1]))
        diagonal = math.hypot(length, thick)
        if inside is not None and diagonal > inside:
            yield _finding(
                subject, placed, f"tilted in, it is {diagonal:.2f} mm long between walls {inside:.2f} mm apart",
                diagonal, inside,
            )  # fmt: skip
        yield from _on_pins(subject, placed, shelf)
        before = _clear(subject, walls, shelf, float("-inf"), float(shelf[0, 1]) - 0.5)
        if before is None or length <= before:
            continue
        high = _height(subject, walls, shelf)
        needed = _needed(length, thick, before)
        if high is not None and needed > high:
            yield _finding(
                subject, placed,
                f"tilted to pass an opening {before:.0f} mm wide it is {needed:.0f} mm high, the opening {high:.0f} mm",
                needed, high,
            )  # fmt: skip


def _on_pins(subject: Subject, placed: Placed, shelf: Box) -> Iterator[Finding]:
    """Yield a stop for a shelf so short that one of its pins hardly carries it."""
    group = placed.path.rpartition("/")[0]
    pins = [p for p in subject.piece.placed if p.path.startswith(f"{group}/pin")]
    held = [overlap_of(box_of(subject, [p]), shelf, 0) for p in pins]
    if held and min(held) < ON_PIN:
        yield _finding(
            subject, placed, f"it lies {max(0.0, min(held)):.1f} mm on a pin: pushed aside it falls",
            min(held), ON_PIN, "a longer shelf",
        )  # fmt: skip


def _moves(subject: Subject, placed: Placed) -> bool:
    """True for what is opened or pulled out first, and for other loose shelves."""
    if "/loose[" in placed.path:
        return True
    return any(is_under(placed.path, m) for motion in subject.piece.motions for m in motion.members)


def _needed(length: float, thick: float, width: float) -> float:
    """Return how high a board stands that is tilted until it is `width` wide (L cos a + t sin a = width)."""
    angle = math.acos(min(1.0, width / math.hypot(length, thick))) + math.atan2(thick, length)
    return length * math.sin(angle) + thick * math.cos(angle)


def _clear(subject: Subject, walls: list[Placed], shelf: Box, front: float, rear: float) -> float | None:
    """Return the width between what stands to the left and right of a shelf within a depth; None where one is open."""
    middle = float(shelf[0, 0] + shelf[1, 0]) / 2
    left, right = float("-inf"), float("inf")
    for p in walls:
        box = box_of(subject, [p])
        if overlap_of(box, shelf, 2) <= 0 or box[1, 1] <= front or box[0, 1] >= rear:
            continue
        if box[1, 0] <= middle:
            left = max(left, float(box[1, 0]))
        elif box[0, 0] >= middle:
            right = min(right, float(box[0, 0]))
    return right - left if math.isfinite(right - left) else None


def _height(subject: Subject, walls: list[Placed], shelf: Box) -> float | None:
    """Return the height of the opening before a shelf, between what lies below and above it in front of its edge."""
    low, high = float("-inf"), float("inf")
    middle = float(shelf[0, 2] + shelf[1, 2]) / 2
    for p in walls:
        box = box_of(subject, [p])
        if box[0, 1] >= shelf[0, 1] or overlap_of(box, shelf, 0) < 0.5 * (shelf[1, 0] - shelf[0, 0]):
            continue
        if box[1, 2] <= middle:
            low = max(low, float(box[1, 2]))
        elif box[0, 2] >= middle:
            high = min(high, float(box[0, 2]))
    return high - low if math.isfinite(high - low) else None


def _finding(subject: Subject, placed: Placed, message: str, value: float, limit: float, remedy: str = "") -> Finding:
    return subject.finding(
        code="fit.shelf",
        severity=Severity.STOP,
        path=placed.path,
        message=message,
        value=value,
        limit=limit,
        source=SOURCE,
        remedy=remedy or "make the shelf shorter, or the opening wider",
    )


CHECK = Check(
    code="fit.shelf",
    what="loose shelves can be tilted in",
    needs=("boxes of parts", "motions"),
    source=SOURCE,
    run=run,
)
