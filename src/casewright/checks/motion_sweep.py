"""Things that travel past others: first where their boxes meet on the way, then the solids at places along it.

A straight way is a translation, so the stretch in which two boxes meet is exact. A turn is looked at in the cylinder
about its axis: heights, radii and angles that two things sweep, then turned places. Solids are tested in the middle
of even shares of what is left, so the end of the way, where things may touch, is left to the check of collisions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

import numpy as np

from casewright.cache import Cache
from casewright.design.frames import Frame, Vec, add, cross, norm, rotation_about, scale, sub, unit
from casewright.design.parts import Fastener, Placed
from casewright.solids.collide import DEPTH_LIMIT, Boxes, overlap, placed_boxes, vertices
from casewright.solids.evaluate import placed_points
from casewright.solids.fastened import enters
from casewright.units.grid import record

T = TypeVar("T")

PITCH = 40.0  # mm of way for one more place to look at
MOST_PLACES = 6
# Degrees: close together where a door leaves its opening, for there its corner comes nearest to the frame.
ANGLES = (0.75, 1.5, 3.0, 5.0, 8.0, 12.0, 18.0, 25.0, 35.0, 45.0, 60.0, 75.0, 90.0, 105.0, 120.0, 150.0, 180.0)


@record
class Met:
    """Two paths that meet on the way: how far along (mm, or degrees), and how deep (mm; 0 for a fastener)."""

    mover: str
    other: str
    at: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A straight way: offsets from the place of what moves, mm, piece frame."""

    start: Vec
    end: Vec

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return norm(sub(self.end, self.start))

    def at(self, share: float) -> Vec:
        """Return the offset at a share of the way."""
        return add(self.start, scale(sub(self.end, self.start), share))


@dataclass(frozen=True, slots=True, eq=False)
class Boxed(Generic[T]):
    """Things and their boxes, (n, 6) in mm, piece frame."""

    things: Sequence[T]
    boxes: Boxes


@dataclass(frozen=True, slots=True)
class _Window:
    """The shares of a way, `t0` to `t1`, in which the boxes of mover `i` and other `j` meet."""

    i: int
    j: int
    t0: float
    t1: float


def met_on_way(
    movers: Boxed[Placed], others: Boxed[Placed], way: Way, cache: Cache, least: float = DEPTH_LIMIT
) -> Iterator[Met]:
    """Yield each pair of mover and other that penetrates by more than `least` mm somewhere on a straight way."""
    for w in _windows(movers.boxes, others.boxes, way, least):
        a, b = movers.things[w.i], others.things[w.j]
        for share in _shares(w, way.length):
            hit = overlap(b.thing, a.thing, b.frame.relative(a.frame.moved(way.at(share))), cache, least)
            if hit is not None:
                yield Met(mover=a.path, other=b.path, at=share * way.length, depth=hit.depth)
                break


def fasteners_on_way(movers: Boxed[Placed], fixed: Boxed[Fastener], way: Way, cache: Cache) -> Iterator[Met]:
    """Yield each pair of mover and fastener that meets somewhere on a straight way."""
    for w in _windows(movers.boxes, fixed.boxes, way):
        a, f = movers.things[w.i], fixed.things[w.j]
        for share in _shares(w, way.length):
            if enters(f, replace(a, frame=a.frame.moved(way.at(share))), cache):
                yield Met(mover=a.path, other=f.path, at=share * way.length, depth=0.0)
                break


def _windows(a: Boxes, b: Boxes, way: Way, least: float = DEPTH_LIMIT) -> list[_Window]:
    """Return where along a way boxes `a` meet boxes `b` by more than `least` mm in each direction."""
    if not len(a) or not len(b):
        return []
    t0, t1 = np.zeros((len(a), len(b))), np.ones((len(a), len(b)))
    for k in range(3):
        start, step = way.start[k], way.end[k] - way.start[k]
        first = b[None, :, k] + least - a[:, None, 3 + k] - start  # the mover's high side reaches the low one
        last = b[None, :, 3 + k] - least - a[:, None, k] - start
        if abs(step) < 1e-9:
            t1 = np.where((first < 0) & (last > 0), t1, -1.0)
        else:
            one, two = first / step, last / step
            # A box thinner than that leaves nothing between the two.
            t1 = np.where(first < last, t1, -1.0)
            t0, t1 = np.maximum(t0, np.minimum(one, two)), np.minimum(t1, np.maximum(one, two))
    i, j = np.nonzero(t1 - t0 > 1e-6)
    return [
        _Window(i=int(p), j=int(q), t0=float(t0[p, q]), t1=float(t1[p, q]))
        for p, q in zip(i.tolist(), j.tolist(), strict=True)
    ]


def _shares(window: _Window, length: float) -> list[float]:
    span = window.t1 - window.t0
    count = min(MOST_PLACES, max(2, math.ceil(span * length / PITCH)))
    return [window.t0 + span * (k + 0.5) / count for k in range(count)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """A turn about a line (origin, direction; right-handed) by as many degrees."""

    origin: Vec
    axis: Vec
    degrees: float

    def frame(self, angle: float) -> Frame:
        """Return the frame that carries what stands in the piece to where it is at an angle."""
        turn = rotation_about(self.axis, angle)
        return Frame(origin=sub(self.origin, turn.point(self.origin)), x=turn.x, y=turn.y)

    def angles(self) -> list[float]:
        """Return the angles to look at, the last one included."""
        return [a for a in ANGLES if a < self.degrees - 1e-6] + [self.degrees]


def turned(placed: Placed, turning: Turning, angle: float) -> Placed:
    """Return a placed thing where it is at an angle of a turn."""
    return replace(placed, frame=turning.frame(angle).then(placed.frame))


def met_in_turn(movers: Sequence[Placed], others: Sequence[Placed], turning: Turning, cache: Cache) -> Iterator[Met]:
    """Yield each pair of mover and other that penetrates at a place of a turn, at the first such angle."""
    own = [_Ring.of(p, turning, cache) for p in movers]
    near = [_Ring.of(p, turning, cache) for p in others]
    for a, ring in zip(movers, own, strict=True):
        for b, other in zip(others, near, strict=True):
            if not ring.sweeps(other, turning.degrees):
                continue
            met = _first_in_turn(a, b, turning, cache)
            if met is not None:
                yield met


def _first_in_turn(a: Placed, b: Placed, turning: Turning, cache: Cache) -> Met | None:
    fixed = placed_boxes((b,), cache)[0]
    for angle in turning.angles():
        there = turned(a, turning, angle)
        box = placed_boxes((there,), cache)[0]
        if (box[:3] > fixed[3:] - DEPTH_LIMIT).any() or (box[3:] < fixed[:3] + DEPTH_LIMIT).any():
            continue
        hit = overlap(b.thing, a.thing, b.frame.relative(there.frame), cache)
        if hit is not None:
            return Met(mover=a.path, other=b.path, at=angle, depth=hit.depth)
    return None


@dataclass(frozen=True, slots=True)
class _Ring:
    """What a thing takes of the cylinder about an axis: heights, radii (mm), and angles (degrees, from `first` on)."""

    low: float
    high: float
    inner: float
    outer: float
    first: float
    span: float

    @classmethod
    def of(cls, placed: Placed, turning: Turning, cache: Cache) -> _Ring:
        axis = unit(turning.axis)
        x = unit(cross(axis, (1.0, 0.0, 0.0) if abs(axis[0]) < 0.9 else (0.0, 1.0, 0.0)))
        about = Frame(origin=turning.origin, x=x, y=unit(cross(axis, x)))
        points = placed_points(vertices(placed.thing, cache), about.relative(placed.frame))
        (x0, y0, z0), (x1, y1, z1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        inner = math.hypot(max(x0, -x1, 0.0), max(y0, -y1, 0.0))
        outer = float(np.hypot(points[:, 0], points[:, 1]).max())
        if inner <= 0.0:
            return cls(z0, z1, 0.0, outer, 0.0, 360.0)
        first, span = _spread([math.degrees(math.atan2(y, x)) for x in (x0, x1) for y in (y0, y1)])
        return cls(z0, z1, inner, outer, first, span)

    def sweeps(self, other: _Ring, degrees: float) -> bool:
        """True where it may meet another on a turn of so many degrees."""
        if self.low > other.high - DEPTH_LIMIT or self.high < other.low + DEPTH_LIMIT:
            return False
        if self.inner > other.outer or self.outer < other.inner:
            return False
        ahead = (other.first - self.first) % 360.0
        return ahead <= self.span + degrees or ahead + other.span >= 360.0


def _spread(angles: list[float]) -> tuple[float, float]:
    """Return where the narrowest sector that holds all angles starts, and its span, degrees."""
    ordered = sorted(a % 360.0 for a in angles)
    gaps = [(b - a) % 360.0 for a, b in zip(ordered, ordered[1:] + ordered[:1], strict=True)]
    if max(gaps) == 0.0:
        return ordered[0], 0.0
    widest = gaps.index(max(gaps))
    return ordered[(widest + 1) % len(ordered)], 360.0 - gaps[widest]
