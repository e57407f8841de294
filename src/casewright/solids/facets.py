"""Arcs as straight facets: how an outline or a circle becomes a polygon.

Chord error at most `CHORD`. A body is inscribed and a cut circumscribed, so that facets never make
two things collide that do not; for volumes each arc is replaced by facets of equal area instead.
"""

from __future__ import annotations

import math
from enum import Enum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from casewright.design.outlines import Outline, arc_circle

CHORD = 0.01  # mm between an arc and its facets, at most
LEAST_TURN = 0.0123  # chord error over radius at 18° a facet: keeps facet lines below the 20° of a drawn edge

Points: TypeAlias = NDArray[np.float64]  # (n, 2), mm, counter-clockwise


class Facets(Enum):
    """On which side of a true arc its facets lie."""

    INSIDE = "inside"  # the polygon lies within the outline: bodies
    OUTSIDE = "outside"  # the polygon holds the outline: cuts
    EQUAL = "equal"  # the polygon has the area of the outline: volumes


def outline_points(outline: Outline, facets: Facets) -> Points:
    """Return an outline as a polygon, (n, 2) in mm; its vertices are kept exactly."""
    radii = [arc_circle(a, b, k)[1] for a, b, k in outline.sides if k]
    if facets is Facets.EQUAL and radii:
        return np.array(_equal_area_points(outline, _chord(min(radii))))
    chord = _chord(min(radii)) if radii else CHORD
    return np.array(outline.points(chord, outside=facets is Facets.OUTSIDE))


def circle_points(radius: float, count: int, facets: Facets) -> Points:
    """Return a regular polygon for a circle about the origin, (count, 2) in mm."""
    step = 2 * math.pi / count
    factor = {
        Facets.INSIDE: 1.0,
        Facets.OUTSIDE: 1 / math.cos(step / 2),
        Facets.EQUAL: math.sqrt(step / math.sin(step)),
    }[facets]
    turn = np.arange(count) * step
    return radius * factor * np.column_stack((np.cos(turn), np.sin(turn)))


def circle_count(radius: float) -> int:
    """Return how many facets a circle gets: a multiple of 4, so that a body keeps its true width."""
    half = math.acos(1 - _chord(radius) / radius)
    return 4 * math.ceil(math.pi / half / 4)


def _chord(radius: float) -> float:
    return min(CHORD, LEAST_TURN * radius)


def _equal_area_points(outline: Outline, chord: float) -> list[tuple[float, float]]:
    out: list[tuple[float, float]] = []
    for a, b, bulge in outline.sides:
        out.append(a)
        if bulge:
            out.extend(_equal_area_arc(a, b, bulge, chord))
    return out


def _equal_area_arc(
    a: tuple[float, float], b: tuple[float, float], bulge: float, chord: float
) -> list[tuple[float, float]]:
    # n points half a step off the ends, at radius s: the fan from the centre has two outer triangles
    # r·s·sin(h)/2 and n − 1 inner ones s²·sin(2h)/2, h half a step. Set equal to the sector r²·θ/2.
    (cx, cy), r = arc_circle(a, b, bulge)
    theta = 4 * math.atan(bulge)
    n = max(2, math.ceil(abs(theta) / (2 * math.acos(1 - chord / r))))
    h = abs(theta) / (2 * n)
    qa, qb, qc = (n - 1) * math.sin(2 * h), 2 * r * math.sin(h), -r * r * abs(theta)
    s = (-qb + math.sqrt(qb * qb - 4 * qa * qc)) / (2 * qa)
    start = math.atan2(a[1] - cy, a[0] - cx)
    turns = [start + theta * (i + 0.5) / n for i in range(n)]
    return [(cx + s * math.cos(t), cy + s * math.sin(t)) for t in turns]
