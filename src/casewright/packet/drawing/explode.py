"""Taking a piece apart for a picture: every group moves back along the way it arrived, until it is clear.

1. Steps are followed in order; each brings parts or finished groups, as one set, into a group.
2. The set moves back against its last move, just as far as its boxes need to leave the boxes of all
   that was in the group before, and `GAP` further.
3. A group that is brought later moves as a whole, already taken apart.

One group may be taken apart alone (`into`), everything else staying together: the whole piece at once is
soon more than a page can show. The whole is shown in *units* (`unit_explosion`): what is built apart, and the body,
which is all that comes singly; each moves as it stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign, Step, StepKind
from casewright.design.frames import Vec, add, norm, scale, unit
from casewright.solids.collide import is_under, is_under_any, placed_boxes

GAP = 0.07  # of the piece's largest size
MOST_TRAILS = 4  # things of one step that get a trail each; more share one
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


def groups_of(piece: PieceDesign) -> tuple[str, ...]:
    """Return the groups that steps build out of two things or more, the piece itself last."""
    held: dict[str, set[str]] = {}
    for step in piece.steps:
        held.setdefault(step.into, set()).update(step.brings)
    return (*(g for g, brings in held.items() if len(brings) > 1 and g != piece.path), piece.path)


def members_of(piece: PieceDesign, group: str) -> tuple[str, ...]:
    """Return the paths of placed things that steps bring into a group, in the order of the piece."""
    brought = [b for step in piece.steps if step.into == group for b in step.brings]
    return tuple(p.path for p in piece.placed if is_under_any(p.path, brought))


def explode_offsets(piece: PieceDesign, cache: Cache, into: str | None = None) -> dict[str, Vec]:
    """Return how far each placed thing stands off its place in the exploded picture, mm, piece frame."""
    return explosion(piece, cache, into).offsets


def explosion(
    piece: PieceDesign, cache: Cache, into: str | None = None, only: Sequence[str] | None = None
) -> Explosion:
    """Return the exploded arrangement from the moves of the steps: of all groups, or of the group `into` alone.

    `only` leaves out what is brought into it besides these paths.
    """
    kept = frozenset(p.path for p in piece.placed) if into is None else frozenset(members_of(piece, into))
    bench = _bench(piece, cache, kept if only is None else kept & frozenset(only))
    for i, step in enumerate(piece.steps):
        again = {b for s in piece.steps[i + 1 :] if s.into == step.into for b in s.brings}
        _follow(bench, step, [b for b in step.brings if b not in again], moving=into in (None, step.into))
    return Explosion(offsets=bench.offsets, trails=tuple(bench.trails))


def unit_explosion(piece: PieceDesign, cache: Cache, units: Sequence[tuple[str, ...]]) -> Explosion:
    """Return the arrangement of units (paths that stay together), the first of which stays where it is.

    A unit moves as the last step does that brings most of it to the piece, and out of what surrounds it altogether.
    """
    bench = _bench(piece, cache, frozenset(p.path for p in piece.placed))
    held = [list(units[0])]
    arrivals = [(_arrival(piece, paths), list(paths)) for paths in units[1:]]
    for step, paths in sorted(((s, u) for s, u in arrivals if s is not None), key=lambda a: piece.steps.index(a[0])):
        if step.moves and norm(step.moves[-1]) > 0:
            way = scale(unit(step.moves[-1]), -1.0)
            by = _move(bench, paths, way, [p for other in held for p in other], _out_of(bench, paths, held, way))
            if norm(by) > 1.5 * bench.gap:
                _draw_trail(bench, paths, by)
        held.append(paths)
    return Explosion(offsets=bench.offsets, trails=tuple(bench.trails))


def _out_of(bench: _Bench, paths: list[str], held: list[list[str]], way: Vec) -> float:
    """Return how far some things must go to be past every set that surrounds them, as seen along their way."""
    own = _around([bench.boxes[p] for p in paths])
    far = 0.0
    for other in held:
        box = _around([bench.boxes[p] for p in other])
        across = [i for i in range(3) if abs(way[i]) < 0.5]
        if all(box[i] - SIDE_PLAY <= own[i] and own[i + 3] <= box[i + 3] + SIDE_PLAY for i in across):
            far = max(far, _clearing(own, box, way))
    return far


def _around(boxes: list[Box]) -> Box:
    all_of = np.array(boxes)
    return np.concatenate((all_of[:, :3].min(axis=0), all_of[:, 3:].max(axis=0)))


def _arrival(piece: PieceDesign, paths: tuple[str, ...]) -> Step | None:
    """Return the last of the steps that bring most of some paths to the piece."""
    counted = [
        (sum(is_under_any(p, step.brings) for p in paths), i)
        for i, step in enumerate(piece.steps)
        if step.into == piece.path and step.kind is StepKind.BRING
    ]
    most = max(counted, default=(0, 0))
    return piece.steps[most[1]] if most[0] else None


def _bench(piece: PieceDesign, cache: Cache, paths: frozenset[str]) -> _Bench:
    shown = tuple(p for p in piece.placed if p.path in paths)
    boxes = placed_boxes(shown, cache)
    largest = float((boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0)).max()) if len(boxes) else 0.0
    return _Bench(
        boxes={p.path: box for p, box in zip(shown, boxes, strict=True)},
        gap=GAP * largest,
        offsets={p.path: (0.0, 0.0, 0.0) for p in piece.placed},
    )


def _follow(bench: _Bench, step: Step, brings: list[str], *, moving: bool) -> None:
    held = bench.groups.setdefault(step.into, [])
    members = [p for p in bench.boxes if is_under_any(p, brings) and p not in held]
    if moving and step.moves and held and members and norm(step.moves[-1]) > 0:
        by = _move(bench, members, scale(unit(step.moves[-1]), -1.0), held)
        for one in (
            [[m for m in members if is_under(m, b)] for b in brings] if len(brings) <= MOST_TRAILS else [members]
        ):
            _draw_trail(bench, one, by)
    held.extend(members)


def _move(bench: _Bench, members: list[str], way: Vec, others: list[str], least: float = 0.0) -> Vec:
    """Move a set until it is clear of the others, with the trails inside it; return by how much."""
    far = max((_clearing(bench.boxes[m], bench.boxes[o], way) for m in members for o in others), default=0.0)
    far = max(far, least)
    by = scale(way, far + bench.gap)
    inside = set(members)
    bench.trails = [Trail(t.path, add(t.start, by), add(t.end, by)) if t.path in inside else t for t in bench.trails]
    for member in members:
        bench.boxes[member] = bench.boxes[member] + np.array([*by, *by])
        bench.offsets[member] = add(bench.offsets[member], by)
    return by


def _draw_trail(bench: _Bench, members: list[str], by: Vec) -> None:
    if not members:
        return
    whole = np.array([bench.boxes[m] for m in members])
    x, y, z = ((whole[:, :3].min(axis=0) + whole[:, 3:].max(axis=0)) / 2).tolist()
    bench.trails.append(Trail(members[0], add((x, y, z), scale(by, -1.0)), (x, y, z)))


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
