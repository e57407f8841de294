"""The inner loops of hidden lines: plain arithmetic, compiled where a compiler is at hand.

Import this module only when a picture is drawn (`casewright.solids.hide` does): it loads numba. Where numba
is missing the same functions run uncompiled; where its cache cannot be written they are compiled anew
in each process. Nothing here is parallel, so any number of threads may call it.

Key: an edge is p–q with p, q = (x, y, z), x right, y up, z towards the viewer, mm; a triangle is 9 numbers
(three such corners, counter-clockwise); its plane is z = a x + b y + c; t runs 0…1 along an edge.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

F = TypeVar("F", bound=Callable[..., Any])

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def compiled(function: F) -> F:
    """Return the function compiled, with its cache on disk if one can be written; or as it is."""
    try:
        from numba import njit
    except ImportError:
        return function
    try:
        return cast(F, njit(cache=True)(function))
    except RuntimeError:  # no place for the cache
        return cast(F, njit(function))


@compiled
def bin_triangles(tri: Floats, x0: float, y0: float, cell: float, nx: int, ny: int) -> tuple[Ints, Ints]:
    """Return (start, members): the triangles of grid cell k are members[start[k]:start[k + 1]]."""
    m = tri.shape[0]
    span = np.empty((m, 4), np.int64)
    start = np.zeros(nx * ny + 1, np.int64)
    for t in range(m):
        span[t, 0] = max(0, int((min(tri[t, 0], tri[t, 3], tri[t, 6]) - x0) / cell))
        span[t, 1] = min(nx - 1, int((max(tri[t, 0], tri[t, 3], tri[t, 6]) - x0) / cell))
        span[t, 2] = max(0, int((min(tri[t, 1], tri[t, 4], tri[t, 7]) - y0) / cell))
        span[t, 3] = min(ny - 1, int((max(tri[t, 1], tri[t, 4], tri[t, 7]) - y0) / cell))
        for j in range(span[t, 2], span[t, 3] + 1):
            for i in range(span[t, 0], span[t, 1] + 1):
                start[j * nx + i + 1] += 1
    for k in range(nx * ny):
        start[k + 1] += start[k]
    fill = start[:-1].copy()
    members = np.empty(start[-1], np.int64)
    for t in range(m):
        for j in range(span[t, 2], span[t, 3] + 1):
            for i in range(span[t, 0], span[t, 1] + 1):
                members[fill[j * nx + i]] = t
                fill[j * nx + i] += 1
    return start, members


@compiled
def clip_to_box(p: Floats, q: Floats, tri: Floats, eps: float) -> tuple[float, float]:
    """Return the part (t0, t1) of an edge within the box of a triangle; t1 < t0 where it is outside."""
    t0, t1 = 0.0, 1.0
    for i in range(2):
        low = min(tri[i], tri[3 + i], tri[6 + i]) - eps - p[i]
        high = max(tri[i], tri[3 + i], tri[6 + i]) + eps - p[i]
        d = q[i] - p[i]
        if abs(d) > 1e-12:
            t0 = max(t0, min(low / d, high / d))
            t1 = min(t1, max(low / d, high / d))
        elif low > 0.0 or high < 0.0:
            return 1.0, 0.0
    return t0, t1


@compiled
def clip(p: Floats, q: Floats, tri: Floats, plane: Floats, eps_z: float, eps: float) -> tuple[float, float]:
    """Return the part (t0, t1) of an edge that a front triangle hides; t1 ≤ t0 where it hides nothing.

    Sides of the triangle count as inside by `eps`, so that no crack opens between two neighbours. Its box bounds
    the part as well: along a very thin triangle its long sides alone would let it run on past the tip.
    """
    t0, t1 = clip_to_box(p, q, tri, eps)
    if t1 <= t0:
        return 1.0, 0.0
    dx, dy = q[0] - p[0], q[1] - p[1]
    d0 = plane[0] * p[0] + plane[1] * p[1] + plane[2] - p[2]
    d1 = plane[0] * q[0] + plane[1] * q[1] + plane[2] - q[2]
    if d0 <= eps_z and d1 <= eps_z:
        return 1.0, 0.0
    for j in range(3):
        vx, vy = tri[3 * j], tri[3 * j + 1]
        wx, wy = tri[(3 * j + 3) % 9] - vx, tri[(3 * j + 4) % 9] - vy
        length = (wx * wx + wy * wy) ** 0.5
        s0 = (wx * (p[1] - vy) - wy * (p[0] - vx)) / length + eps
        s1 = s0 + (wx * dy - wy * dx) / length
        if s0 < 0.0 and s1 < 0.0:
            return 1.0, 0.0
        if s0 < 0.0:
            t0 = max(t0, s0 / (s0 - s1))
        elif s1 < 0.0:
            t1 = min(t1, s0 / (s0 - s1))
        if t1 <= t0:
            return 1.0, 0.0
    if d0 < eps_z:
        t0 = max(t0, (eps_z - d0) / (d1 - d0))
    elif d1 < eps_z:
        t1 = min(t1, (eps_z - d0) / (d1 - d0))
    return t0, t1


@compiled
def insert(spans: Floats, count: int, t0: float, t1: float) -> int:
    """Add an interval to `count` sorted, disjoint ones and return their new count (room is the caller's care)."""
    first = 0
    while first < count and spans[first, 1] < t0:
        first += 1
    last = first
    while last < count and spans[last, 0] <= t1:
        t0 = min(t0, spans[last, 0])
        t1 = max(t1, spans[last, 1])
        last += 1
    shift = 1 - (last - first)
    if shift > 0:
        for k in range(count - 1, last - 1, -1):
            spans[k + 1] = spans[k]
    elif shift < 0:
        for k in range(last, count):
            spans[k + shift] = spans[k]
    spans[first, 0] = t0
    spans[first, 1] = t1
    return count + shift


@compiled
def rows_passed(
    p: Floats, q: Floats, i: int, x0: float, y0: float, cell: float, ny: int
) -> tuple[int, int]:  # fmt: skip
    """Return the first and last row of cells that an edge passes within column i."""
    ya, yb = p[1], q[1]
    if abs(q[0] - p[0]) > 1e-9:
        ta = min(1.0, max(0.0, (x0 + i * cell - p[0]) / (q[0] - p[0])))
        tb = min(1.0, max(0.0, (x0 + (i + 1) * cell - p[0]) / (q[0] - p[0])))
        ya, yb = p[1] + ta * (q[1] - p[1]), p[1] + tb * (q[1] - p[1])
    return max(0, int((min(ya, yb) - y0 - 1e-6) / cell)), min(ny - 1, int((max(ya, yb) - y0 + 1e-6) / cell))


@compiled
def spans_of_edge(
    e: int, p: Floats, q: Floats, tri: Floats, plane: Floats, start: Ints, members: Ints, seen: Ints, spans: Floats,
    x0: float, y0: float, cell: float, nx: int, ny: int, eps_z: float, eps: float,
) -> tuple[int, Floats]:  # fmt: skip
    """Return (count, spans) of one edge, `spans` grown where it must be; `seen` marks triangles met for this edge."""
    count = 0
    first = max(0, int((min(p[0], q[0]) - x0) / cell))
    last = min(nx - 1, int((max(p[0], q[0]) - x0) / cell))
    for i in range(first, last + 1):
        j0, j1 = rows_passed(p, q, i, x0, y0, cell, ny)
        for k in range(j0 * nx + i, j1 * nx + i + 1, nx):
            for r in range(start[k], start[k + 1]):
                t = members[r]
                if seen[t] == e:
                    continue
                seen[t] = e
                t0, t1 = clip(p, q, tri[t], plane[t], eps_z, eps)
                if t1 <= t0:
                    continue
                if count + 1 >= spans.shape[0]:
                    spans = np.concatenate((spans, np.empty_like(spans)))
                count = insert(spans, count, t0, t1)
                if spans[0, 0] <= 0.0 and spans[0, 1] >= 1.0:
                    return count, spans
    return count, spans


@compiled
def hidden_spans(
    p: Floats, q: Floats, tri: Floats, plane: Floats, start: Ints, members: Ints,
    x0: float, y0: float, cell: float, nx: int, ny: int, eps_z: float, eps: float,
) -> tuple[Ints, Floats]:  # fmt: skip
    """Return (first, spans): edge e is hidden on spans[first[e]:first[e + 1]], sorted and disjoint."""
    n = p.shape[0]
    first = np.zeros(n + 1, np.int64)
    out = np.empty((4 * n + 64, 2), np.float64)
    seen = np.full(tri.shape[0], -1, np.int64)
    spans = np.empty((64, 2), np.float64)
    for e in range(n):
        count, spans = spans_of_edge(
            e, p[e], q[e], tri, plane, start, members, seen, spans, x0, y0, cell, nx, ny, eps_z, eps
        )
        used = first[e]
        while used + count > out.shape[0]:
            out = np.concatenate((out, np.empty_like(out)))
        out[used : used + count] = spans[:count]
        first[e + 1] = used + count
    return first, out[: first[n]]


@compiled
def topmost(
    points: Floats, tri: Floats, plane: Floats, start: Ints, members: Ints,
    x0: float, y0: float, cell: float, nx: int, ny: int,
) -> Ints:  # fmt: skip
    """Return for each (x, y) the front triangle nearest to the viewer there, or −1."""
    found = np.full(points.shape[0], -1, np.int64)
    for k in range(points.shape[0]):
        x, y = points[k, 0], points[k, 1]
        i, j = int((x - x0) / cell), int((y - y0) / cell)
        if x < x0 or y < y0 or i >= nx or j >= ny:
            continue
        best = -1e300
        for r in range(start[j * nx + i], start[j * nx + i + 1]):
            t = members[r]
            z = plane[t, 0] * x + plane[t, 1] * y + plane[t, 2]
            if z > best and covers(tri[t], x, y):
                best = z
                found[k] = t
    return found


@compiled
def covers(tri: Floats, x: float, y: float) -> bool:
    """Return whether a counter-clockwise triangle covers a point, its border included."""
    for j in range(3):
        vx, vy = tri[3 * j], tri[3 * j + 1]
        wx, wy = tri[(3 * j + 3) % 9] - vx, tri[(3 * j + 4) % 9] - vy
        if wx * (y - vy) - wy * (x - vx) < -1e-9:
            return False
    return True
