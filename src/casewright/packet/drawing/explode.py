"""Taking a piece apart for a picture: every group moves back along the way it arrived, until it is clear.

1. Steps are followed in order; each brings parts or finished groups into a group.
2. What is brought moves back against its last move, just as far as its box needs to leave the boxes of
   all that was in the group before, and `GAP` further.
3. A group that is brought later moves as a whole, already taken apart.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign, Step
from casewright.design.frames import Vec, add, norm, scale, unit
from casewright.solids.collide import is_under, placed_boxes

GAP = 0.07  # of the piece's largest size
SIDE_PLAY = 0.5  # mm: boxes that only touch sideways are not in each other's way

Box = NDArray[np.float64]  # low x y z, high x y z


@dataclass(frozen=True, slots=True)
class Trail:
    """The straight way of a thing to its place, in the exploded picture (piece frame, mm)."""

    path: str
    start: Vec
    end: Vec


@dataclass(frozen=True, slots=True)
class Explosion:
    """Where everything goes: a vector for each path, and the trails."""

    offsets: dict[str, Vec]
    trails: tuple[Trail, ...]


@dataclass(slots=True)
class _Bench:
    """The state while steps are followed: boxes where they stand now, and what each group holds."""

    boxes: dict[str, Box]
    gap: float
    offsets: dict[str, Vec]
    groups: dict[str, list[str]] = field(default_factory=dict)
    trails: list[Trail] = field(default_factory=list)


def explode_offsets(piece: PieceDesign, cache: Cache) -> dict[str, Vec]:
    """Return how far each placed thing stands off its place in the exploded picture, mm, piece frame."""
    return explosion(piece, cache).offsets


def explosion(piece: PieceDesign, cache: Cache) -> Explosion:
    """Return the exploded arrangement of a piece, from the moves of its steps."""
    boxes = placed_boxes(piece.placed, cache)
    largest = float((boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0)).max()) if len(boxes) else 0.0
    paths = [p.path for p in piece.placed]
    bench = _Bench(
        boxes=dict(zip(paths, boxes, strict=True)),
        gap=GAP * largest,
        offsets=dict.fromkeys(paths, (0.0, 0.0, 0.0)),
    )
    for i, step in enumerate(piece.steps):
        later = {b for s in piece.steps[i + 1 :] for b in s.brings}
        _follow(bench, step, [b for b in step.brings if b not in later])
    return Explosion(offsets=bench.offsets, trails=tuple(bench.trails))


def _follow(bench: _Bench, step: Step, brings: list[str]) -> None:
    held = bench.groups.setdefault(step.into, [])
    before = list(held)
    for brought in brings:
        members = [p for p in bench.boxes if is_under(p, brought) and p not in before]
        if step.moves and before and members and norm(step.moves[-1]) > 0:
            _move(bench, members, scale(unit(step.moves[-1]), -1.0), before)
        held.extend(m for m in members if m not in held)


def _move(bench: _Bench, members: list[str], way: Vec, others: list[str]) -> None:
    far = max((_clearing(bench.boxes[m], bench.boxes[o], way) for m in members for o in others), default=0.0)
    by = scale(way, far + bench.gap)
    whole = np.array([bench.boxes[m] for m in members])
    middle = (whole[:, :3].min(axis=0) + whole[:, 3:].max(axis=0)) / 2
    inside = set(members)
    bench.trails = [Trail(t.path, add(t.start, by), add(t.end, by)) if t.path in inside else t for t in bench.trails]
    start = (float(middle[0]), float(middle[1]), float(middle[2]))
    bench.trails.append(Trail(members[0], start, add(start, by)))
    for member in members:
        bench.boxes[member] = bench.boxes[member] + np.array([*by, *by])
        bench.offsets[member] = add(bench.offsets[member], by)


def _clearing(box: Box, other: Box, way: Vec) -> float:
    """Return how far a box must go to be past another one; 0 where it is never in the way."""
    enter, leave = -np.inf, np.inf
    for axis in range(3):
        ahead, behind = other[axis] - box[axis + 3], other[axis + 3] - box[axis]
        if abs(way[axis]) < 1e-9:
            if ahead > -SIDE_PLAY or behind < SIDE_PLAY:
                return 0.0
        else:
            a, b = sorted((ahead / way[axis], behind / way[axis]))
            enter, leave = max(enter, a), min(leave, b)
    return float(leave) if leave > max(enter, 0.0) else 0.0
