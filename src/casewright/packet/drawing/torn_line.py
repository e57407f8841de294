"""The thin free-hand line at which a partial view ends (ISO 128 and ASME Y14.3, from memory)."""

from __future__ import annotations

import numpy as np

from casewright.packet.drawing.primitives import XY

TORN, WAVE = 0.7, 9.0  # mm on paper: depth and length of its waves


def torn_side(start: XY, end: XY, k: float = 1.0) -> list[XY]:
    """Return points of a wavy line, its waves to the left of the way from `start` to `end`, the end left out.

    Places are mm in a view at scale `k`.
    """
    (ax, ay), (bx, by) = start, end
    length = float(np.hypot(bx - ax, by - ay))
    way = ((bx - ax) / length, (by - ay) / length)
    waves = max(1, round(length * k / WAVE))
    points = []
    for t in np.linspace(0.0, 1.0, 8 * waves, endpoint=False).tolist():
        deep = TORN / k * (1.0 - float(np.cos(2 * np.pi * waves * t))) / 2
        points.append((ax + way[0] * t * length - way[1] * deep, ay + way[1] * t * length + way[0] * deep))
    return points
