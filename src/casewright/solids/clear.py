"""What plainly cannot collide: a thing that stands in one cut made for it, or behind one plane of the other.

Nearly everything that reaches into another thing's box is a tongue in its groove, an insert in its bore, or the fellow
of a mitre. Points and planes tell that without a boolean; what they cannot tell is not decided here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from casewright.design.frames import Frame
from casewright.design.outlines import Outline, arc_circle
from casewright.design.volumes import Cone, HalfSpace, Lowered, Prism, Volume
from casewright.solids.reach import Box, reach

Points = NDArray[np.float64]  # (n, 3), mm
ROUND = 64  # corners of the polygon that holds a round body: 0.12 % wider than its circle


def stands_in_a_cut(
    cuts: Iterable[Volume], other: Lowered, vertices: Points, at: Frame, room: Box, slack: float
) -> bool:
    """True where everything of `other` within `room` lies in one of the cuts, each `slack` mm larger.

    `other` is seen at a frame of the thing that has the cuts, `vertices` are its solid's in its own frame, `room` is
    the common box of the two in the frame of the cuts.
    """
    cuts = tuple(cuts)
    axes, origin = np.array((at.x, at.y, at.z)), np.array(at.origin)
    planes = [c for c in cuts if isinstance(c, HalfSpace)]
    if planes and any(_holds(p, vertices @ axes + origin, slack) for p in planes):
        return True
    inner = np.array((room[0] + slack, room[1] - slack))
    for body in (*other.base, *other.additions):
        points = _points(body, axes, origin, inner)
        if points is not None and not any(_holds(c, points, slack) for c in cuts):
            return False
    return True


def _points(body: Volume, axes: Points, origin: Points, room: Box) -> Points | None:
    """Return points around all of a body that lies in the room, None where nothing does."""
    low, high = _moved_box(reach(body), axes, origin)
    low, high = np.maximum(low, room[0]), np.minimum(high, room[1])
    if (low >= high).any():
        return None
    along = np.array(body.frame.z) @ axes
    if not isinstance(body, Cone) or np.abs(along).max() < 1 - 1e-9:
        return np.array([(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])])
    axis = int(np.abs(along).argmax())
    middle = np.array(body.frame.origin) @ axes + origin
    turn = np.arange(ROUND) * (2 * math.pi / ROUND)
    radius = max(body.r0, body.r1) / math.cos(math.pi / ROUND)
    ring = np.zeros((2, ROUND, 3))
    u, v = (axis + 1) % 3, (axis + 2) % 3
    ring[:, :, u] = middle[u] + radius * np.cos(turn)
    ring[:, :, v] = middle[v] + radius * np.sin(turn)
    ring[0, :, axis], ring[1, :, axis] = low[axis], high[axis]
    return ring.reshape(-1, 3)


def _moved_box(box: Box, axes: Points, origin: Points) -> tuple[Points, Points]:
    middle, half = (box[0] + box[1]) / 2 @ axes + origin, (box[1] - box[0]) / 2 @ np.abs(axes)
    return middle - half, middle + half


def _holds(cut: Volume, points: Points, slack: float) -> bool:
    """True where a convex cut, `slack` mm larger, holds all points; False for a cut of another shape."""
    frame = cut.frame
    local = (points - np.array(frame.origin)) @ np.array((frame.x, frame.y, frame.z)).T
    x, y, z = local.T
    if isinstance(cut, HalfSpace):
        return bool((z >= -slack).all())
    if (z < -slack).any() or (z > cut.height + slack).any():
        return False
    if isinstance(cut, Cone):
        share = np.clip(z / cut.height, 0.0, 1.0)
        return bool((np.hypot(x, y) <= cut.r0 + (cut.r1 - cut.r0) * share + slack).all())
    return isinstance(cut, Prism) and _outline_holds(cut.outline, x, y, slack)


def _outline_holds(outline: Outline, x: Points, y: Points, slack: float) -> bool:
    sides = outline.sides
    if all(k for _, _, k in sides):
        circles = [arc_circle(a, b, k) for a, b, k in sides]
        (cx, cy), r = circles[0]
        one = all(math.dist(c, (cx, cy)) < 1e-6 and abs(s - r) < 1e-6 for c, s in circles)
        return one and bool((np.hypot(x - cx, y - cy) <= r + slack).all())
    if any(k for _, _, k in sides):
        return False
    # The half-planes of all sides hold no point outside a convex outline, and too few of a hollow one: never too many.
    return all(
        bool((((bx - ax) * (y - ay) - (by - ay) * (x - ax)) >= -slack * math.hypot(bx - ax, by - ay)).all())
        for (ax, ay), (bx, by), _ in sides
    )
