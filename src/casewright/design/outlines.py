"""Closed outlines of straight lines and circular arcs, in a plane, in millimetres.

An arc is written as DXF writes it: the bulge of a vertex is tan(θ/4) of the arc to the next vertex,
θ the included angle, positive counter-clockwise; 0 is a straight line. Areas are analytic.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TypeAlias

from casewright.stock.loops import Point2, arc_circle, arc_points, loop_area, loop_box, segment_area, sides
from casewright.units.grid import record

__all__ = [
    "Map2",
    "Outline",
    "Point2",
    "arc_circle",
    "circle",
    "obround",
    "placed",
    "polygon",
    "rectangle",
    "rounded_rectangle",
]

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
        return sides(self.vertices)

    @property
    def area(self) -> float:
        """Signed area in mm², arcs exact (triangle fan plus circular segments)."""
        return loop_area(self.vertices)

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
                s = segment_area(a, b, k)
                cx, cy = _segment_centroid(a, b, k)
                mx, my, total = mx + s * cx, my + s * cy, total + s
        return (mx / total, my / total)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """(x0, y0, x1, y1), arcs included."""
        return loop_box(self.vertices)

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
                out.extend(arc_points(a, b, k, chord, outside == (k > 0)))
        return tuple(out)


def placed(outline: Outline, at: Point2, angle: float = 0.0) -> Outline:
    """Return the outline with its origin at `at`, turned by `angle` degrees counter-clockwise."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return outline.mapped(lambda p: (at[0] + c * p[0] - s * p[1], at[1] + s * p[0] + c * p[1]))


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


def _segment_centroid(a: Point2, b: Point2, bulge: float) -> Point2:
    (cx, cy), r = arc_circle(a, b, bulge)
    theta = abs(4 * math.atan(bulge))
    d = 4 * r * math.sin(theta / 2) ** 3 / (3 * (theta - math.sin(theta)))
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    side = 1.0 if bulge > 0 else -1.0  # a positive bulge lies to the right of a→b
    return (cx + dy / chord * d * side, cy - dx / chord * d * side)
