"""Arcs as straight facets: how an outline or a circle becomes a polygon.

Chord error at most `CHORD`. Solids as they are get facets of the arcs' own area, with a vertex wherever an arc
is widest, so that volumes and boxes are those of the arcs. Solids for collisions get facets inside
bodies and outside cuts, so that facets never make two things collide that do not.
"""

from __future__ import annotations

import math
from enum import Enum
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from casewright.design.outlines import Outline, Point2, arc_circle

CHORD = 0.01  # mm between an arc and its facets, at most
LEAST_TURN = 0.0123  # chord error over radius at 18° a facet: keeps facet lines below the 20° of a drawn edge
SMALL = 5.0  # mm: holes up to this radius take screws, pins and inserts, and get 24 facets

Points: TypeAlias = NDArray[np.float64]  # (n, 2), mm, counter-clockwise


class Facets(Enum):
    """On which side of a true arc its facets lie."""

    INSIDE = "inside"  # the polygon lies within the outline: bodies
    OUTSIDE = "outside"  # the polygon holds the outline: cuts
    EQUAL = "equal"  # the polygon has the area of the outline and its box


def outline_points(outline: Outline, facets: Facets) -> Points:
    """Return an outline as a polygon, (n, 2) in mm; its vertices are kept exactly."""
    radii = [arc_circle(a, b, k)[1] for a, b, k in outline.sides if k]
    if not radii:
        return np.array([(x, y) for x, y, _ in outline.vertices])
    chord = _chord(min(radii))
    if facets is Facets.EQUAL:
        return np.array(_equal_area_points(outline, chord))
    return np.array(outline.points(chord, outside=facets is Facets.OUTSIDE))


def circle_points(radius: float, count: int, facets: Facets) -> Points:
    """Return a polygon of `count` vertices (a multiple of 4) for a circle about the origin, (count, 2) in mm."""
    turn = np.arange(count) * (2 * math.pi / count)
    if facets is Facets.EQUAL:
        quarter = _arc((0.0, 0.0), radius, 0.0, math.pi / 2, count // 4 - 1)
        points = np.array([(radius, 0.0), *quarter])
        return np.concatenate([points @ _quarter_turn(k) for k in range(4)])
    reach = radius / math.cos(math.pi / count) if facets is Facets.OUTSIDE else radius
    return reach * np.column_stack((np.cos(turn), np.sin(turn)))


def circle_count(radius: float) -> int:
    """Return how many vertices a circle gets: a multiple of 4, so that its quarters are alike."""
    half = math.acos(1 - CHORD / radius) if radius > SMALL else math.radians(9.0)
    # A quarter of n full facets and two halves has n + 1 vertices.
    return 4 * (math.ceil(math.pi / 4 / half) + 1)


def _quarter_turn(times: int) -> Points:
    c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[times]
    return np.array(((c, s), (-s, c)))


def _chord(radius: float) -> float:
    return min(CHORD, LEAST_TURN * radius)


def _equal_area_points(outline: Outline, chord: float) -> list[Point2]:
    out: list[Point2] = []
    for a, b, bulge in outline.sides:
        out.append(a)
        if bulge:
            out.extend(_equal_area_side(a, b, bulge, chord))
    return out


def _equal_area_side(a: Point2, b: Point2, bulge: float, chord: float) -> list[Point2]:
    centre, r = arc_circle(a, b, bulge)
    theta = 4 * math.atan(bulge)
    start = math.atan2(a[1] - centre[1], a[0] - centre[0])
    stops = [start, *_widest(start, theta), start + theta]
    out: list[Point2] = []
    for i, (t0, t1) in enumerate(pairwise(stops)):
        if i:
            out.append((centre[0] + r * math.cos(t0), centre[1] + r * math.sin(t0)))
        steps = max(2, math.ceil(abs(t1 - t0) / (2 * math.acos(1 - chord / r))))
        out.extend(_arc(centre, r, t0, t1, steps))
    return out


def _widest(start: float, theta: float) -> list[float]:
    """Return the angles strictly within an arc at which it runs along an axis."""
    quarter = math.pi / 2
    low, high = sorted((start, start + theta))
    inside = [k * quarter for k in range(math.ceil(low / quarter), math.floor(high / quarter) + 1)]
    inside = [t for t in inside if low + 1e-9 < t < high - 1e-9]
    return inside if theta > 0 else inside[::-1]


def _arc(centre: Point2, r: float, t0: float, t1: float, n: int) -> list[Point2]:
    """Return n points between the ends of an arc that give the polygon through its ends the arc's area."""
    # They stand half a step off the ends at radius s: the fan from the centre has two outer triangles
    # r·s·sin(h)/2 and n − 1 inner ones s²·sin(2h)/2, h half a step. Set equal to the sector r²·θ/2.
    h = abs(t1 - t0) / (2 * n)
    qa, qb, qc = (n - 1) * math.sin(2 * h), 2 * r * math.sin(h), -r * r * abs(t1 - t0)
    s = -qc / qb if n == 1 else (-qb + math.sqrt(qb * qb - 4 * qa * qc)) / (2 * qa)
    turns = [t0 + (t1 - t0) * (i + 0.5) / n for i in range(n)]
    return [(centre[0] + s * math.cos(t), centre[1] + s * math.sin(t)) for t in turns]
