"""Geometry of parts in place: boxes, entry points of drills, cuts given in the piece, spots for fasteners.

Everything is in the piece's frame (mm) unless it says blank. Placements may be turned freely; cuts
given as boxes need a blank that stands square to the piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TypeAlias, TypeVar

from casewright.design.blanks import Face
from casewright.design.features.cuts import RectCut
from casewright.design.frames import Frame, Vec, add, cross, dot, scale, sub
from casewright.design.outlines import Point2
from casewright.design.parts import Fastener, Hardware, Placed

Span: TypeAlias = tuple[float, float]
Cut = TypeVar("Cut", bound=RectCut)

DIRECTIONS: dict[str, Vec] = {
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
    "front": (0.0, -1.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "down": (0.0, 0.0, -1.0),
    "up": (0.0, 0.0, 1.0),
}
_AXES = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}


def span(start: float, size: float) -> Span:
    """Return the interval that starts at `start`."""
    return (start, start + size)


def centred(size: float, middle: float = 0.0) -> Span:
    """Return the interval of a size about a middle."""
    return (middle - size / 2, middle + size / 2)


def between(a: float, b: float) -> Span:
    """Return the interval between two places, whichever is the lower."""
    return (min(a, b), max(a, b))


def box_frame(x: Span, y: Span, z: Span, grain: str, thick: str) -> Frame:
    """Return the frame of a blank that fills a box, its grain and thickness along the named axes."""
    lo, hi = (x[0], y[0], z[0]), (x[1], y[1], z[1])
    gx, tz = _AXES[grain], _AXES[thick]
    wy = cross(tz, gx)
    # The width axis may point backwards; the origin then lies at the high side of it.
    backwards = sum(wy) < 0
    w = next(i for i in range(3) if wy[i])
    origin = list(lo)
    if backwards:
        origin[w] = hi[w]
    return Frame(origin=(origin[0], origin[1], origin[2]), x=gx, y=(wy[0] + 0.0, wy[1] + 0.0, wy[2] + 0.0))


def world_box(placed: Placed) -> tuple[Vec, Vec]:
    """Return (lo, hi) of a placed blank's box in the piece. Raises TypeError for hardware."""
    size = placed.part.blank.size
    corners = [placed.frame.point((a, b, c)) for a in (0.0, size[0]) for b in (0.0, size[1]) for c in (0.0, size[2])]
    return bounds(corners)


def bounds(points: Sequence[Vec]) -> tuple[Vec, Vec]:
    """Return (lo, hi) of points."""
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def sink(kind: type[Cut], placed: Placed, opens: Vec, lo: Vec, hi: Vec, joint: str = "") -> Cut:
    """Return the cut that takes the piece's box `lo..hi` out of a blank, open towards `opens`.

    The box is clipped to the blank. Raises ValueError where nothing of it lies inside.
    """
    blank = placed.part.blank
    a, b = placed.frame.local_point(lo), placed.frame.local_point(hi)
    low = [max(0.0, min(a[i], b[i])) for i in range(3)]
    high = [min(blank.size[i], max(a[i], b[i])) for i in range(3)]
    face = placed.face_towards(opens)
    u, v = face.uv_axes
    depth = blank.size[face.axis] - low[face.axis] if face.high else high[face.axis]
    return kind(face=face, u0=low[u], u1=high[u], v0=low[v], v1=high[v], depth=depth, joint=joint)


def entry(placed: Placed, point: Vec, direction: Vec) -> tuple[Face, Point2, Vec]:
    """Return the face by which a line enters a blank, its (u, v) there, and that point in the piece.

    `direction` must be square to the face; `point` is any point of the line.
    """
    blank = placed.part.blank
    face = placed.face_towards(scale(direction, -1.0))
    p = list(placed.frame.local_point(point))
    p[face.axis] = blank.size[face.axis] if face.high else 0.0
    u, v = face.uv_axes
    return face, (p[u], p[v]), placed.frame.point((p[0], p[1], p[2]))


def depth_along(placed: Placed, direction: Vec) -> float:
    """Return how thick a blank is along a direction square to its faces."""
    return placed.part.blank.size[placed.face_towards(direction).axis]


def fastener_box(fastener: Fastener, margin: float = 0.0) -> tuple[Vec, Vec]:
    """Return the box around a fastener, head included."""
    r = max(fastener.shank_radius, fastener.head_radius) + margin
    return box_around((fastener.frame.origin, fastener.tip), r)


def box_around(points: Sequence[Vec], margin: float) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) around points, with a margin on all sides."""
    lo, hi = bounds(points)
    return sub(lo, (margin, margin, margin)), add(hi, (margin, margin, margin))


def blocked(
    start: Vec, way: Vec, drive: Vec, reach: float, radius: float, boxes: Iterable[tuple[Vec, Vec]]
) -> list[Span]:
    """Return the stretches of a line of fasteners on which one would enter one of the boxes.

    The line runs from `start` along unit `way`; a fastener at s reaches from start + s·way
    by `reach` along `drive`, `radius` thick.
    """
    # Extent of a fastener along axis i at s: start_i + s·way_i + [low_i, high_i].
    low = [min(0.0, drive[i] * reach) - radius for i in range(3)]
    high = [max(0.0, drive[i] * reach) + radius for i in range(3)]
    still = [(i, start[i] + low[i], start[i] + high[i]) for i in range(3) if abs(way[i]) < 1e-9]
    moving = [i for i in range(3) if abs(way[i]) >= 1e-9]
    out: list[Span] = []
    for lo, hi in boxes:
        if any(top <= lo[i] or bottom >= hi[i] for i, bottom, top in still):
            continue
        first, last = -math.inf, math.inf
        for i in moving:
            s0, s1 = (lo[i] - high[i] - start[i]) / way[i], (hi[i] - low[i] - start[i]) / way[i]
            first, last = max(first, min(s0, s1)), min(last, max(s0, s1))
        if last > first:
            out.append((first, last))
    return out


def spots(length: float, count: int, ends: float, apart: float, taken: Sequence[Span]) -> tuple[float, ...] | None:
    """Return `count` places on a line, as even as the blocked stretches allow, or None if there is no room.

    `ends` is the least distance from both ends of the line, `apart` the least distance between two.
    """
    free = _free(ends, length - ends, taken)
    if count == 1:
        wanted = [length / 2]
    else:
        wanted = [ends + i * (length - 2 * ends) / (count - 1) for i in range(count)]
    chosen: list[float] = []
    for i, w in enumerate(wanted):
        lowest = chosen[-1] + apart if chosen else -1e9
        highest = (length - ends) - (count - 1 - i) * apart
        spot = _nearest(w, [(max(a, lowest), min(b, highest)) for a, b in free])
        if spot is None:
            return None
        chosen.append(spot)
    return tuple(chosen)


def _free(a: float, b: float, taken: Sequence[Span]) -> list[Span]:
    free: list[Span] = [(a, b)]
    for lo, hi in sorted(taken):
        free = [piece for f in free for piece in ((f[0], min(f[1], lo)), (max(f[0], hi), f[1])) if piece[1] >= piece[0]]
    return free


def _nearest(wanted: float, free: Sequence[Span]) -> float | None:
    fits = [min(max(wanted, a), b) for a, b in free if b >= a]
    return min(fits, key=lambda s: (abs(s - wanted), s), default=None)


def middle(lo: Vec, hi: Vec) -> Vec:
    """Return the centre of a box."""
    return scale(add(lo, hi), 0.5)


def is_hardware(placed: Placed) -> bool:
    """True for hardware."""
    return isinstance(placed.thing, Hardware)


def along(a: Vec, b: Vec) -> tuple[Vec, float]:
    """Return the unit direction and length of a segment. Raises ValueError where it has none."""
    d = sub(b, a)
    length = dot(d, d) ** 0.5
    if length < 1e-9:
        raise ValueError("a line of fasteners needs a length")
    return scale(d, 1.0 / length), length
