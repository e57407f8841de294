"""Closed outlines of straight lines and circular arcs, in a plane, in millimetres.

An arc is written as DXF writes it: the bulge of a vertex is tan(θ/4) of the arc to the next vertex,
θ the included angle, positive counter-clockwise; 0 is a straight line. Areas are analytic.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TypeAlias

from casewright.units.grid import record

Point2: TypeAlias = tuple[float, float]
Map2: TypeAlias = Callable[[Point2], Point2]


@record
class Outline:
    """A closed loop; each vertex is (x, y, bulge of the side that starts there). Counter-clockwise."""

    vertices: tuple[tuple[float, float, float], ...]

    def validate(self) -> None:
        """Refuse a loop that encloses nothing or runs clockwise."""
        if len(self.vertices) < 2 or self.area <= 0:
            raise ValueError("an outline must run counter-clockwise around some area")

    @property
    def sides(self) -> tuple[tuple[Point2, Point2, float], ...]:
        """Every side as (start, end, bulge)."""
        v = self.vertices
        return tuple(
            ((v[i][0], v[i][1]), (v[(i + 1) % len(v)][0], v[(i + 1) % len(v)][1]), v[i][2]) for i in range(len(v))
        )

    @property
    def area(self) -> float:
        """Signed area in mm², arcs exact (triangle fan plus circular segments)."""
        return sum((a[0] * b[1] - b[0] * a[1]) / 2 + _segment_area(a, b, k) for a, b, k in self.sides)

    @property
    def centroid(self) -> Point2:
        """Centre of area, arcs exact."""
        total = mx = my = 0.0
        for a, b, k in self.sides:
            t = (a[0] * b[1] - b[0] * a[1]) / 2
            mx += t * (a[0] + b[0]) / 3
            my += t * (a[1] + b[1]) / 3
            total += t
            if k:
                s = _segment_area(a, b, k)
                cx, cy = _segment_centroid(a, b, k)
                mx, my, total = mx + s * cx, my + s * cy, total + s
        return (mx / total, my / total)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """(x0, y0, x1, y1), arcs included."""
        xs = [v[0] for v in self.vertices]
        ys = [v[1] for v in self.vertices]
        for a, b, k in self.sides:
            if k:
                (cx, cy), r = arc_circle(a, b, k)
                for deg in (0, 90, 180, 270):
                    p = (cx + r * math.cos(math.radians(deg)), cy + r * math.sin(math.radians(deg)))
                    if _on_arc(p, a, b, k):
                        xs.append(p[0])
                        ys.append(p[1])
        return (min(xs), min(ys), max(xs), max(ys))

    def mapped(self, move: Map2) -> Outline:
        """Return the outline under an isometry of the plane, turned counter-clockwise again if mirrored."""
        o, e, n = move((0.0, 0.0)), move((1.0, 0.0)), move((0.0, 1.0))
        det = (e[0] - o[0]) * (n[1] - o[1]) - (e[1] - o[1]) * (n[0] - o[0])
        moved = [(*move((x, y)), k) for x, y, k in self.vertices]
        if det > 0:
            return Outline(vertices=tuple(moved))
        # Walking a mirrored loop backwards: side i runs from vertex i+1 to vertex i, its bulge keeps its
        # sign (one flip from the mirror, one from the reversal).
        n_v = len(moved)
        back = [(moved[(i + 1) % n_v][0], moved[(i + 1) % n_v][1], moved[i][2]) for i in reversed(range(n_v))]
        return Outline(vertices=tuple(back))

    def canonical_start(self) -> Outline:
        """Return the same loop starting at its least vertex, so that equal loops are equal records."""
        i = min(range(len(self.vertices)), key=lambda j: self.vertices[j])
        return Outline(vertices=self.vertices[i:] + self.vertices[:i])

    def points(self, chord: float = 0.01, outside: bool = False) -> tuple[Point2, ...]:
        """Return the loop as a polygon whose sides leave the arcs by at most `chord` mm.

        With `outside` the convex arcs (bulge > 0) are circumscribed and the hollow ones inscribed,
        so that the polygon holds the true outline; without, the other way about.
        """
        out: list[Point2] = []
        for a, b, k in self.sides:
            out.append(a)
            if k:
                out.extend(_arc_points(a, b, k, chord, outside == (k > 0)))
        return tuple(out)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    """Return an axis-parallel rectangle."""
    return Outline(vertices=((x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)))


def polygon(points: Iterable[Point2]) -> Outline:
    """Return a straight-sided outline."""
    return Outline(vertices=tuple((x, y, 0.0) for x, y in points))


def circle(x: float, y: float, radius: float) -> Outline:
    """Return a full circle as two half-circle arcs."""
    return Outline(vertices=((x - radius, y, 1.0), (x + radius, y, 1.0)))


def obround(a: Point2, b: Point2, width: float) -> Outline:
    """Return the slot outline around the segment a–b (a circle where they coincide)."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = math.hypot(dx, dy)
    if length < 1e-6:
        return circle(a[0], a[1], width / 2)
    nx, ny = -dy / length * width / 2, dx / length * width / 2
    return Outline(
        vertices=(
            (a[0] - nx, a[1] - ny, 0.0),
            (b[0] - nx, b[1] - ny, 1.0),
            (b[0] + nx, b[1] + ny, 0.0),
            (a[0] + nx, a[1] + ny, 1.0),
        )
    )


def rounded_rectangle(x0: float, y0: float, x1: float, y1: float, radius: float) -> Outline:
    """Return a rectangle with quarter-circle corners."""
    q, r = math.tan(math.pi / 8), radius
    return Outline(
        vertices=(
            (x0 + r, y0, 0.0),
            (x1 - r, y0, q),
            (x1, y0 + r, 0.0),
            (x1, y1 - r, q),
            (x1 - r, y1, 0.0),
            (x0 + r, y1, q),
            (x0, y1 - r, 0.0),
            (x0, y0 + r, q),
        )
    )


def arc_circle(a: Point2, b: Point2, bulge: float) -> tuple[Point2, float]:
    """Return the centre and radius of the circle that a bulged side lies on."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    # Signed distance from the chord's middle to the centre, to the left of a→b.
    h = chord * (1 - bulge * bulge) / (4 * bulge)
    return ((a[0] + b[0]) / 2 - dy / chord * h, (a[1] + b[1]) / 2 + dx / chord * h), radius


def _segment_area(a: Point2, b: Point2, bulge: float) -> float:
    if not bulge:
        return 0.0
    theta = 4 * math.atan(bulge)
    _, r = arc_circle(a, b, bulge)
    return r * r * (theta - math.sin(theta)) / 2


def _segment_centroid(a: Point2, b: Point2, bulge: float) -> Point2:
    (cx, cy), r = arc_circle(a, b, bulge)
    theta = abs(4 * math.atan(bulge))
    d = 4 * r * math.sin(theta / 2) ** 3 / (3 * (theta - math.sin(theta)))
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    side = 1.0 if bulge > 0 else -1.0  # a positive bulge lies to the right of a→b
    return (cx + dy / chord * d * side, cy - dx / chord * d * side)


def _on_arc(p: Point2, a: Point2, b: Point2, bulge: float) -> bool:
    left = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return left < 0 if bulge > 0 else left > 0


def _arc_points(a: Point2, b: Point2, bulge: float, chord: float, outside: bool) -> list[Point2]:
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
