"""Edges cut to a curve: arched rails, bracket feet, any curve of lines and arcs.

A curve is told from the edge: x from end0, d how deep it lies below the edge, each vertex (x, d, bulge of the side that
starts there) from low to high x; a positive bulge bends it deeper into the wood.
"""

from __future__ import annotations

from casewright.design.blanks import Blank, Face
from casewright.design.features.cuts import PROUD
from casewright.design.features.openings import ShapedEdge
from casewright.design.outlines import Outline

Curve = tuple[tuple[float, float, float], ...]


def shaped_edge(blank: Blank, edge: Face, curve: Curve, joint: str = "") -> ShapedEdge:
    """Return the cut that leaves `edge` shaped to a curve, right through the thickness.

    A curve that starts or ends below the edge is cut straight out to it; at an end of the blank the cut runs out
    past it. Raises ValueError where `edge` is none, or the curve goes backwards.
    """
    if edge.axis != 1:
        raise ValueError(f"a curved edge is cut in edge0 or edge1, got {edge.value}")
    (x0, d0, _), (x1, d1, _) = curve[0], curve[-1]
    if x1 <= x0:
        raise ValueError(f"a curve runs from low to high x, got {x0} to {x1}")
    out0 = x0 - PROUD if x0 <= 1e-6 else x0
    out1 = x1 + PROUD if x1 >= blank.length - 1e-6 else x1
    # Counter-clockwise with d upwards: out along the edge from low to high x, and back along the curve.
    back = [
        (x, d, k) for (x, d, _), k in zip(reversed(curve), [k for *_, k in reversed(curve[:-1])] + [0.0], strict=True)
    ]
    corners = [(out0, -PROUD, 0.0), (out1, -PROUD, 0.0)]
    start = [(out1, d1, 0.0)] if out1 != x1 else []
    end = [(out0, d0, 0.0)] if out0 != x0 else []
    outline = Outline(vertices=tuple(_distinct([*corners, *start, *back, *end])))
    if edge.high:
        outline = outline.mapped(lambda p: (p[0], blank.width - p[1]))
    return ShapedEdge(face=Face.FACE0, outline=outline, depth=blank.thickness, joint=joint)


def arch(blank: Blank, edge: Face, x: tuple[float, float], rise: float, joint: str = "") -> ShapedEdge:
    """Return an arch over the span `x` of an edge, `rise` deep in its middle: an arc of a circle.

    Raises ValueError where it rises to more than half its span.
    """
    span = x[1] - x[0]
    if not 0 < rise <= span / 2:
        raise ValueError(f"an arch rises by at most half its span of {span}, got {rise}")
    return shaped_edge(blank, edge, ((x[0], 0.0, 2 * rise / span), (x[1], 0.0, 0.0)), joint)


def bracket(blank: Blank, edge: Face, ankle: float, rise: float, radius: float, joint: str = "") -> ShapedEdge:
    """Return the cut of a bracket foot whose foot stands at end0: it is `ankle` wide on the floor (`edge`).

    From there the edge rises, with a quarter circle of `radius`, to the level part, which lies `rise` up and runs
    out at end1. Raises ValueError where the radius is larger than the rise, or reaches past end1.
    """
    if not 0 < radius <= rise or ankle + radius >= blank.length:
        raise ValueError(f"a bracket foot needs a radius up to its rise of {rise}, within its length, got {radius}")
    quarter = 0.41421356237309503  # tan(90°/4)
    level = (blank.length, rise, 0.0)
    curve = ((ankle, 0.0, 0.0), (ankle, rise - radius, quarter), (ankle + radius, rise, 0.0), level)
    return shaped_edge(blank, edge, curve, joint)


def _distinct(points: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """Leave out a point that repeats the one before it."""
    kept: list[tuple[float, float, float]] = []
    for p in points:
        if kept and abs(p[0] - kept[-1][0]) < 1e-9 and abs(p[1] - kept[-1][1]) < 1e-9:
            kept[-1] = p
        else:
            kept.append(p)
    return kept
