"""Straight lines of a view: taken together where they overlap, cleared where others cover them, chained into runs."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from casewright.solids.mesh import Floats, Indices

SHORTEST = 0.02  # mm: shorter stretches of an edge are not drawn
STEP = 1e-3  # mm: ends this close are one point
BEND = 0.85  # cosine (32°): runs go on through smaller bends, as along an arc

Run: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Straight pieces of edges: (k, 4) x0 y0 x1 y1; (k,) the owner node of each; (k,) its edge in the projection."""

    ends: Floats
    owner: Indices
    edge: Indices


@dataclass(frozen=True, slots=True, eq=False)
class _Along:
    """Lines by the infinite line that each lies on: its direction and offset, a key, and where it starts and stops."""

    way: Floats
    off: Floats
    key: Indices  # (k, 3)
    start: Floats
    stop: Floats


def merged(lines: Lines) -> Lines:
    """Return the lines with overlaps and joints along one straight line taken together.

    Dashes look wrong where two lines lie on each other, and every backend draws fewer of them faster.
    """
    if not len(lines.ends):
        return lines
    along = _along(lines.ends)
    _, group = np.unique(along.key, axis=0, return_inverse=True)
    order = np.lexsort((along.stop, along.start, group))
    keep = _chains(group[order], along.start[order], along.stop[order])
    heads = order[keep[:, 0]]
    stop = np.array([along.stop[order[i:j]].max() for i, j in keep])
    ends = _ends(along.way[heads], along.off[heads], along.start[heads], stop)
    return Lines(ends=ends, owner=lines.owner[heads], edge=lines.edge[heads])


def uncovered(lines: Lines, over: Lines) -> Lines:
    """Return the lines less what lies under others on the same straight line; both merged before."""
    if not len(lines.ends) or not len(over.ends):
        return lines
    along, above = _along(lines.ends), _along(over.ends)
    cover: dict[tuple[int, ...], list[tuple[float, float]]] = defaultdict(list)
    for key, start, stop in zip(above.key.tolist(), above.start.tolist(), above.stop.tolist(), strict=True):
        cover[tuple(key)].append((start, stop))
    which, spans = [], []
    for i, key in enumerate(along.key.tolist()):
        for span in _less((float(along.start[i]), float(along.stop[i])), sorted(cover[tuple(key)])):
            which.append(i)
            spans.append(span)
    kept = np.array(which, np.int64)
    start, stop = np.array(spans).reshape(-1, 2).T
    return Lines(
        ends=_ends(along.way[kept], along.off[kept], start, stop), owner=lines.owner[kept], edge=lines.edge[kept]
    )


def runs(ends: Floats) -> tuple[Run, ...]:
    """Return lines (k, 4) chained into runs where two and only two meet with a small bend.

    So a circle is one run, with dashes of its own, and not as many short lines.
    """
    at: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    points = ends.reshape(-1, 2, 2)
    place = np.round(points / STEP).astype(np.int64).tolist()
    for i, (p, q) in enumerate(place):
        at[p[0], p[1]].append((i, 0))
        at[q[0], q[1]].append((i, 1))
    follower = {}
    for met in at.values():
        if len(met) == 2 and _smooth(points, *met):
            follower[met[0]], follower[met[1]] = met[1], met[0]
    used = [False] * len(points)
    whole = points.tolist()
    # Open runs first, from their free ends; what is left over are closed ones.
    starts = [(i, e) for i in range(len(points)) for e in (0, 1) if (i, e) not in follower]
    found = [_walk(whole, follower, used, s) for s in [*starts, *((i, 0) for i in range(len(points)))]]
    return tuple(run for run in found if run)


def _along(ends: Floats) -> _Along:
    start, end = ends[:, :2], ends[:, 2:]
    way = end - start
    way = way / np.linalg.norm(way, axis=1, keepdims=True)
    flip = (way[:, 0] < -1e-9) | ((np.abs(way[:, 0]) <= 1e-9) & (way[:, 1] < 0))
    way[flip] *= -1
    off = way[:, 0] * start[:, 1] - way[:, 1] * start[:, 0]
    # Odd fractions keep sizes that a design uses off the rounding edges.
    key = np.floor(np.column_stack((way * 2e4, off * 50)) + 0.3719).astype(np.int64)
    s, e = (way * start).sum(axis=1), (way * end).sum(axis=1)
    return _Along(way=way, off=off, key=key, start=np.minimum(s, e), stop=np.maximum(s, e))


def _ends(way: Floats, off: Floats, start: Floats, stop: Floats) -> Floats:
    foot = np.column_stack((-way[:, 1], way[:, 0])) * off[:, None]
    ends: Floats = np.concatenate((foot + way * start[:, None], foot + way * stop[:, None]), axis=1)
    return ends


def _chains(group: Indices, start: Floats, stop: Floats) -> NDArray[np.int64]:
    """Return (first, past the last) of each series of sorted intervals that overlap or meet."""
    cuts = [0]
    reach = stop[0]
    for i in range(1, len(start)):
        if group[i] != group[i - 1] or start[i] > reach + SHORTEST:
            cuts.append(i)
            reach = stop[i]
        else:
            reach = max(reach, stop[i])
    return np.column_stack((cuts, [*cuts[1:], len(start)]))


def _less(span: tuple[float, float], covers: list[tuple[float, float]]) -> list[tuple[float, float]]:
    left, stop = span
    out = []
    for a, b in covers:
        if a - left > SHORTEST:
            out.append((left, min(a, stop)))
        left = max(left, b)
        if left >= stop:
            break
    if stop - left > SHORTEST:
        out.append((left, stop))
    return [s for s in out if s[1] - s[0] > SHORTEST]


def _smooth(points: Floats, one: tuple[int, int], two: tuple[int, int]) -> bool:
    if one[0] == two[0]:
        return False
    away = [points[i, 1 - e] - points[i, e] for i, e in (one, two)]
    size = float(np.linalg.norm(away[0]) * np.linalg.norm(away[1]))
    return size > 0 and float(away[0] @ away[1]) < -BEND * size


def _walk(
    points: list[list[list[float]]],
    follower: dict[tuple[int, int], tuple[int, int]],
    used: list[bool],
    first: tuple[int, int],
) -> Run:
    run: list[tuple[float, float]] = []
    here: tuple[int, int] | None = first
    while here is not None and not used[here[0]]:
        i, e = here
        used[i] = True
        if not run:
            run.append((points[i][e][0], points[i][e][1]))
        run.append((points[i][1 - e][0], points[i][1 - e][1]))
        here = follower.get((i, 1 - e))
    return tuple(run)
