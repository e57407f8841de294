"""Closed loops of straight lines and circular arcs, as tuples of (x, y, bulge), in millimetres.

An arc is written as DXF writes it: the bulge of a vertex is tan(θ/4) of the arc to the next vertex,
θ the included angle, positive counter-clockwise; 0 is a straight line. A loop that runs
counter-clockwise has a positive area; there a positive bulge is convex, a negative one hollow.

Key: a, b ends of a side; k its bulge; c the centre of its circle; r the radius; θ the included angle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TypeAlias

Point2: TypeAlias = tuple[float, float]
Vertex: TypeAlias = tuple[float, float, float]
Loop: TypeAlias = tuple[Vertex, ...]
Side: TypeAlias = tuple[Point2, Point2, float]
Box: TypeAlias = tuple[float, float, float, float]


def sides(loop: Loop) -> tuple[Side, ...]:
    """Return every side of a loop as (start, end, bulge)."""
    onward = (*loop[1:], *loop[:1])
    return tuple(((a[0], a[1]), (b[0], b[1]), a[2]) for a, b in zip(loop, onward, strict=True))


def loop_area(loop: Loop) -> float:
    """Return the signed area in mm², arcs exact (triangle fan plus circular segments)."""
    return sum((a[0] * b[1] - b[0] * a[1]) / 2 + segment_area(a, b, k) for a, b, k in sides(loop))


def loop_box(loop: Loop) -> Box:
    """Return (x0, y0, x1, y1), arcs included."""
    xs = [v[0] for v in loop]
    ys = [v[1] for v in loop]
    for a, b, k in sides(loop):
        for x, y in _extremes(a, b, k):
            xs.append(x)
            ys.append(y)
    return (min(xs), min(ys), max(xs), max(ys))


def loop_points(loop: Loop, chord: float = 0.01) -> tuple[Point2, ...]:
    """Return the loop as a polygon with its corners on the loop, sides within `chord` mm of the arcs."""
    out: list[Point2] = []
    for a, b, k in sides(loop):
        out.append(a)
        if k:
            out.extend(arc_points(a, b, k, chord, outside=False))
    return tuple(out)


def backwards(loop: Loop) -> Loop:
    """Return the same loop run the other way about."""
    return tuple((b[0], b[1], -k) for _, b, k in reversed(sides(loop)))


def moved(loop: Loop, dx: float, dy: float) -> Loop:
    """Return the loop shifted."""
    return tuple((x + dx, y + dy, k) for x, y, k in loop)


def arc_circle(a: Point2, b: Point2, bulge: float) -> tuple[Point2, float]:
    """Return the centre and radius of the circle that a bulged side lies on."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    # Signed distance from the chord's middle to the centre, to the left of a→b.
    h = chord * (1 - bulge * bulge) / (4 * bulge)
    return ((a[0] + b[0]) / 2 - dy / chord * h, (a[1] + b[1]) / 2 + dx / chord * h), radius


def segment_area(a: Point2, b: Point2, bulge: float) -> float:
    """Return the signed area between a side and its chord: r² (θ − sin θ) / 2."""
    if not bulge:
        return 0.0
    theta = 4 * math.atan(bulge)
    _, r = arc_circle(a, b, bulge)
    return r * r * (theta - math.sin(theta)) / 2


def on_arc(p: Point2, a: Point2, b: Point2, bulge: float) -> bool:
    """Return whether a point of a side's circle lies on the side."""
    left = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return left < 0 if bulge > 0 else left > 0


def arc_points(a: Point2, b: Point2, bulge: float, chord: float, outside: bool) -> list[Point2]:
    """Return points between a and b whose polygon leaves the arc by at most `chord` mm, inscribed or circumscribed."""
    (cx, cy), r = arc_circle(a, b, bulge)
    theta = 4 * math.atan(bulge)
    half_step = math.acos(max(0.0, 1 - chord / r)) if r > chord else math.pi / 4
    n = max(2, math.ceil(abs(theta) / (2 * half_step)))
    start = math.atan2(a[1] - cy, a[0] - cx)
    if not outside:
        return [
            (cx + r * math.cos(start + theta * i / n), cy + r * math.sin(start + theta * i / n)) for i in range(1, n)
        ]
    far = r / math.cos(theta / (2 * n))
    return [
        (cx + far * math.cos(start + theta * (i + 0.5) / n), cy + far * math.sin(start + theta * (i + 0.5) / n))
        for i in range(n)
    ]


def _extremes(a: Point2, b: Point2, bulge: float) -> Iterator[Point2]:
    """Yield the points of an arc that lie furthest along an axis."""
    if not bulge:
        return
    (cx, cy), r = arc_circle(a, b, bulge)
    for p in ((cx + r, cy), (cx, cy + r), (cx - r, cy), (cx, cy - r)):
        if on_arc(p, a, b, bulge):
            yield p
