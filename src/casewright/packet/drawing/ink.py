"""The inner loops of the raster: marking cells, finding free boxes, walking leaders; compiled where that is possible.

Import this module only when something is drawn: like `casewright.solids.kernel` it loads numba.

Key: a mask is (rows, columns) of cells; places are (x, y) in cells, y upwards; ends are (x, y, x, y) in cells; n and m
count steps along the sides of a box.
"""

from __future__ import annotations

import math

import numpy as np

from casewright.solids.kernel import Floats, Ints, compiled

STEP = 0.4  # cells from mark to mark of a line: no cell that it passes is left out
SIDE_STEP = 0.7  # cells from mark to mark in a box
WALK = 0.8  # cells from look to look along a leader
SHOULDER_LOOKS = 6  # along the level piece of a leader
NEAR_END = 3.2  # cells: leaders of one feature may end side by side, but never touch on the way

Mask = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


@compiled
def mark_runs(mask: Mask, ends: Floats) -> None:
    """Mark the cells that straight lines pass; what lies off the sheet is left out."""
    rows, columns = mask.shape
    for k in range(ends.shape[0]):
        x, y = ends[k, 0], ends[k, 1]
        dx, dy = ends[k, 2] - x, ends[k, 3] - y
        n = int(math.sqrt(dx * dx + dy * dy) / STEP) + 1
        for i in range(n + 1):
            c, r = math.floor(x + dx * i / n), math.floor(y + dy * i / n)
            if 0 <= c < columns and 0 <= r < rows:
                mask[r, c] = True


@compiled
def mark_box(mask: Mask, x: float, y: float, ux: float, uy: float, vx: float, vy: float) -> None:
    """Mark the cells under the box with a corner at (x, y) and the sides u and v."""
    rows, columns = mask.shape
    n = int(math.sqrt(ux * ux + uy * uy) / SIDE_STEP) + 1
    m = int(math.sqrt(vx * vx + vy * vy) / SIDE_STEP) + 1
    for i in range(n + 1):
        for j in range(m + 1):
            c = math.floor(x + ux * i / n + vx * j / m)
            r = math.floor(y + uy * i / n + vy * j / m)
            if 0 <= c < columns and 0 <= r < rows:
                mask[r, c] = True


@compiled
def free_boxes(lines: Mask, texts: Mask, leaders: Mask, solid: Mask, wide: int, high: int) -> Mask:
    """Return for each cell whether the box of wide × high cells with its lower left there holds no ink."""
    rows, columns = lines.shape
    sums = np.zeros((rows + 1, columns + 1), np.int32)  # an integral image
    for r in range(rows):
        along = 0
        for c in range(columns):
            if lines[r, c] or texts[r, c] or leaders[r, c] or solid[r, c]:
                along += 1
            sums[r + 1, c + 1] = sums[r, c + 1] + along
    m, n = max(0, rows - high - 1), max(0, columns - wide - 1)
    free = np.zeros((m, n), np.bool_)
    for r in range(m):
        for c in range(n):
            free[r, c] = sums[r + high, c + wide] - sums[r, c + wide] - sums[r + high, c] + sums[r, c] == 0
    return free


@compiled
def nearest_target(
    left: Floats, first: Floats, targets: Floats, measures: tuple[float, float, float], width: float, ring: float
) -> tuple[Floats, Ints]:
    """Return for each place of a note (mm) how far its nearest target is, and which that is.

    `measures` are the gap beside the note, the length of the level piece, and what doubling back costs; a note with a
    `ring` has neither gap nor level piece.
    """
    away, shoulder, backwards = measures
    reach, which = np.full(left.shape[0], np.inf), np.zeros(left.shape[0], np.int64)
    for k in range(left.shape[0]):
        for t in range(targets.shape[0]):
            x, y = targets[t, 0], targets[t, 1]
            if ring > 0.0:
                far = math.sqrt((left[k] + ring - x) ** 2 + (first[k] - y) ** 2)
                back = far < ring + 1.5
            else:
                side = 1.0 if x > left[k] + width / 2 else -1.0
                start = left[k] + width + away if side > 0.0 else left[k] - away
                far = math.sqrt((start + side * shoulder - x) ** 2 + (first[k] - y) ** 2)
                back = (x - start) * side < shoulder * 0.4  # as good as no leader
            if back:
                far += backwards
            if far < reach[k]:
                reach[k], which[k] = far, t
    return reach, which


@compiled
def touches(mask: Mask, r: int, c: int) -> bool:
    """Return whether a cell or one of its neighbours is marked; the cell does not lie on the border."""
    for i in range(r - 1, r + 2):
        for j in range(c - 1, c + 2):
            if mask[i, j]:
                return True
    return False


@compiled
def walked(lines: Mask, texts: Mask, leaders: Mask, way: Floats) -> float:
    """Return how many cells of line a leader (start, elbow, end: 6 numbers) crosses; -1 where it is barred.

    It is barred by a text, by another leader except where both end, and by the border of the sheet.
    """
    rows, columns = lines.shape
    far = math.sqrt((way[4] - way[2]) ** 2 + (way[5] - way[3]) ** 2)
    n = int(far / WALK) + 1
    crossed = 0
    for i in range(SHOULDER_LOOKS + n + 1):
        if i < SHOULDER_LOOKS:
            t = i / SHOULDER_LOOKS
            x, y = way[0] + (way[2] - way[0]) * t, way[1] + (way[3] - way[1]) * t
        else:
            t = (i - SHOULDER_LOOKS) / n
            x, y = way[2] + (way[4] - way[2]) * t, way[3] + (way[5] - way[3]) * t
        c, r = math.floor(x), math.floor(y)
        if c < 1 or r < 1 or c >= columns - 1 or r >= rows - 1 or touches(texts, r, c):
            return -1.0
        apart = (x - way[4]) ** 2 + (y - way[5]) ** 2 > NEAR_END * NEAR_END
        if apart and touches(leaders, r, c):
            return -1.0
        if lines[r, c]:
            crossed += 1
    return crossed * far / (n + 1)


@compiled
def crosses(ax: float, ay: float, bx: float, by: float, other: Floats) -> bool:
    """Return whether the line a–b crosses another (4 numbers); lines that only end on each other do not."""
    cx, cy, dx, dy = other[0], other[1], other[2], other[3]
    c = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    d = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
    a = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)
    b = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
    met: bool = c * d < 0.0 and a * b < 0.0
    return met


@compiled
def cheapest_way(
    lines: Mask, texts: Mask, leaders: Mask, others: Floats, ways: Floats, base: Floats, order: Ints, crossing: float
) -> tuple[int, float]:
    """Return which of some leaders costs least, and its cost; -1 where all are barred.

    A leader costs its base and `crossing` for each cell of line. They are tried by rising base (`order`), so that the
    search ends where the base alone is more than the best. `others` are the lines of leaders that stand.
    """
    best, least = -1, np.inf
    for o in range(order.shape[0]):
        k = order[o]
        if base[k] >= least:
            break
        crossed = walked(lines, texts, leaders, ways[k])
        way = ways[k]
        for m in range(others.shape[0]):
            if crossed >= 0.0 and (
                crosses(way[0], way[1], way[2], way[3], others[m]) or crosses(way[2], way[3], way[4], way[5], others[m])
            ):
                crossed = -1.0
        if crossed >= 0.0 and base[k] + crossing * crossed < least:
            best, least = k, base[k] + crossing * crossed
    return best, least
