"""Boxes of placed things in the piece, and the members of drawers and doors by what they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

from casewright.checks.model import Subject
from casewright.checks.standing import standing
from casewright.design.assembly import Motion, MotionKind
from casewright.design.parts import Hardware, Placed
from casewright.solids.collide import is_under_any
from casewright.stock import Item

Box = NDArray[np.float64]  # (2, 3): low and high corner, mm, piece frame


def box_of(subject: Subject, things: Iterable[Placed]) -> Box:
    """Return the box around things that stand at their places in the piece. Raises ValueError where there are none."""
    boxes = standing(subject).of(tuple(things))
    return np.array((boxes[:, :3].min(axis=0), boxes[:, 3:].max(axis=0)))


def motions(subject: Subject, kind: MotionKind) -> Iterator[tuple[Motion, str, list[Placed]]]:
    """Yield each motion of a kind with the path of its group and what moves."""
    for motion in subject.piece.motions:
        if motion.kind is kind and motion.members:
            group = motion.members[0]
            moving = [p for p in subject.piece.placed if is_under_any(p.path, motion.members)]
            if moving:
                yield motion, group, moving


def item_of(subject: Subject, placed: Placed) -> Item | None:
    """Return the stock item of hardware, None for a part or for an item that no role names."""
    return subject.items.get(placed.thing.item) if isinstance(placed.thing, Hardware) else None


def fixed_to(subject: Subject, group: str) -> list[Placed]:
    """Return what belongs to a drawer or door but stays on the case: slides, plates, catches, stops."""
    return [p for p in subject.piece.placed if p.path.startswith(f"{group}.")]


def staying(subject: Subject) -> list[Placed]:
    """Return what stays with drawers taken out, doors open and shelves out."""
    moving = [m for motion in subject.piece.motions for m in motion.members]
    return [p for p in subject.piece.placed if not is_under_any(p.path, moving) and "/loose[" not in p.path]


def overlap_of(a: Box, b: Box, axis: int) -> float:
    """Return by how much two boxes overlap along an axis, mm; below zero they stand apart."""
    return float(min(a[1, axis], b[1, axis]) - max(a[0, axis], b[0, axis]))
