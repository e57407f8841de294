"""Collisions: which two things of a piece penetrate each other by more than 0.02 mm.

Depth is the diameter of the largest ball inside both. A point is its centre for 0.02 mm if it lies
at least 0.01 mm deep in each, so two things collide exactly if their solids made 0.01 mm smaller all
round still meet. Things that merely touch are 0.02 mm apart in that test: it never meets coincident
faces. Depths of real collisions are found by bisection of the same test.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Hardware, Part, Placed
from casewright.solids.clear import stands_in_a_cut
from casewright.solids.evaluate import Solid, matrix, placed_points, shrunk, solid, solid_mesh, solid_of
from casewright.solids.reach import Box, Near, moved, near
from casewright.units.grid import record

DEPTH_LIMIT = 0.02  # mm
BISECTIONS = 7  # between two slacks of which one is twice the other: depths are reported to 1 %
DEEPEST = 50.0  # mm of slack: far deeper than any stock is thick

Thing = Part | Hardware
Boxes = NDArray[np.float64]  # (n, 6): low x y z, high x y z, piece frame


@record
class Overlap:
    """Where two things penetrate, in the frame of the first: depth in mm, box of the common part."""

    depth: float
    low: Vec
    high: Vec


@record
class Collision:
    """Two placed things (paths, in the order of the piece) that penetrate by `depth` mm about `at` (piece frame)."""

    a: str
    b: str
    depth: float
    at: Vec


def collisions(piece: PieceDesign, cache: Cache) -> tuple[Collision, ...]:
    """Return every pair of placed parts and hardware that penetrates by more than 0.02 mm.

    In the order of the piece. Fasteners are not looked at here: see `casewright.solids.fastened`.
    """
    found = []
    for a, b in near_pairs(piece, cache, -DEPTH_LIMIT):
        hit = overlap(a.thing, b.thing, a.frame.relative(b.frame), cache)
        if hit is not None:
            middle = tuple((hit.low[i] + hit.high[i]) / 2 for i in range(3))
            at = a.frame.point((middle[0], middle[1], middle[2]))
            found.append(Collision(a=a.path, b=b.path, depth=hit.depth, at=at))
    return tuple(found)


def overlap(a: Thing, b: Thing, at: Frame, cache: Cache, least: float = DEPTH_LIMIT) -> Overlap | None:
    """Return how `b`, placed at a frame seen from `a`, penetrates it; None up to `least` mm (0.02 or more)."""
    kept = cache.made("overlap", (a.key, b.key, at, least), lambda: (_overlap(a, b, at, cache, least),))
    return kept[0]


def near_pairs(piece: PieceDesign, cache: Cache, reach: float) -> Iterator[tuple[Placed, Placed]]:
    """Yield the pairs whose boxes come within `reach` mm of each other (negative: overlap by more)."""
    boxes = placed_boxes(piece.placed, cache)
    for i, j in _box_pairs(boxes, reach):
        yield piece.placed[i], piece.placed[j]


def placed_boxes(placed: Sequence[Placed], cache: Cache) -> Boxes:
    """Return the boxes of placed things in the piece, (n, 6) in mm, from their vertices."""
    return np.array([_box(p, cache) for p in placed]).reshape(-1, 6)


def overall_box(piece: PieceDesign, cache: Cache, exclude: tuple[str, ...] | None = None) -> tuple[Vec, Vec]:
    """Return (low, high) of all placed parts and hardware but those at or under the paths `exclude`.

    By default the piece's own `excluded`. Raises ValueError where nothing is left.
    """
    left_out = piece.excluded if exclude is None else exclude
    counted = tuple(p for p in piece.placed if not is_under_any(p.path, left_out))
    if not counted:
        raise ValueError(f"{piece.path} has nothing to measure")
    boxes = placed_boxes(counted, cache)
    low, high = boxes[:, :3].min(axis=0), boxes[:, 3:].max(axis=0)
    return (float(low[0]), float(low[1]), float(low[2])), (float(high[0]), float(high[1]), float(high[2]))


def is_under(path: str, group: str) -> bool:
    """True where a path is the group's own or a member's: `p/drawer` holds `p/drawer/front`."""
    return path == group or path.startswith(group + "/")


def is_under_any(path: str, groups: Iterable[str]) -> bool:
    """True where a path is one of the groups' own or a member's."""
    return not _over(path).isdisjoint(groups)


@lru_cache(maxsize=1 << 14)
def _over(path: str) -> frozenset[str]:
    """Return a path and every group that it lies under."""
    parts = path.split("/")
    return frozenset("/".join(parts[:i]) for i in range(1, len(parts) + 1))


def vertices(thing: Thing, cache: Cache) -> NDArray[np.float64]:
    """Return the vertices of a thing's solid, (n, 3) in its own frame."""
    return solid_mesh(thing, cache)[0]


def _box(placed: Placed, cache: Cache) -> list[float]:
    thing, frame = placed.thing, placed.frame
    low, high = cache.made("turned box", (thing.key, frame.x, frame.y), lambda: _turned_box(thing, frame, cache))
    x, y, z = frame.origin
    return [low[0] + x, low[1] + y, low[2] + z, high[0] + x, high[1] + y, high[2] + z]


def _turned_box(thing: Thing, frame: Frame, cache: Cache) -> tuple[list[float], list[float]]:
    """Return the box of a thing turned as it stands in a frame, about its own origin."""
    points = placed_points(vertices(thing, cache), Frame(x=frame.x, y=frame.y))
    return points.min(axis=0).tolist(), points.max(axis=0).tolist()


def _box_pairs(boxes: Boxes, reach: float) -> list[tuple[int, int]]:
    low, high = boxes[:, None, :3], boxes[:, None, 3:]
    near = ((low - reach) <= boxes[None, :, 3:]) & (boxes[None, :, :3] <= (high + reach))
    i, j = np.nonzero(np.triu(near.all(axis=2), k=1))
    return list(zip(i.tolist(), j.tolist(), strict=True))


def _overlap(a: Thing, b: Thing, at: Frame, cache: Cache, least: float) -> Overlap | None:
    # Only cuts and additions that come near the common box matter.
    slack = least / 2
    back = at.inverse()
    room = _common_box(a, b, at, cache)
    of_b = moved(room, back)
    near_a, near_b = near(a, room, 2 * slack, cache), near(b, of_b, 2 * slack, cache)
    if stands_in_a_cut(near_a.volumes.removals, near_b.volumes, vertices(b, cache), at, room, slack):
        return None
    if stands_in_a_cut(near_b.volumes.removals, near_a.volumes, vertices(a, cache), back, of_b, slack):
        return None
    common = _common(_near_solid(near_a, slack, cache), _near_solid(near_b, slack, cache), at)
    if common is None:
        return None
    low, high = common
    depth = 2 * _deepest_slack(a, b, at, slack, cache)
    return Overlap(depth=depth, low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2]))


def _near_solid(of: Near, slack: float, cache: Cache) -> Solid:
    return cache.made("near solid", (of.key, slack), lambda: solid_of(of.volumes, slack))


def _common_box(a: Thing, b: Thing, at: Frame, cache: Cache) -> Box:
    """Return the box in which two things may meet, in the frame of the first; inside out where they cannot."""
    sa, sb = solid(a, cache), solid(b, cache)
    of_b = moved(np.array((sb.low, sb.high)), at)
    return np.array((np.maximum(sa.low, of_b[0]), np.minimum(sa.high, of_b[1])))


def _common(a: Solid, b: Solid, at: Frame) -> tuple[list[float], list[float]] | None:
    if a.empty or b.empty:
        return None
    both = a.body ^ b.body.transform(matrix(at))
    if both.is_empty():
        return None
    box = both.bounding_box()
    return list(box[:3]), list(box[3:])


def _deepest_slack(a: Thing, b: Thing, at: Frame, sound: float, cache: Cache) -> float:
    def meet(slack: float) -> bool:
        return _common(shrunk(a, slack, cache), shrunk(b, slack, cache), at) is not None

    gone = 2 * sound
    while gone <= DEEPEST and meet(gone):
        sound, gone = gone, 2 * gone
    for _ in range(BISECTIONS):
        middle = (sound + gone) / 2
        sound, gone = (middle, gone) if meet(middle) else (sound, middle)
    return sound
