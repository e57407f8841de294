"""Lines and arcs that were drawn one by one, joined end to end into closed loops.

OutlineError  an outline file cannot be used; `remedy` says what to do
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from casewright.stock.loops import Loop, Point2, Side

JOINED = 0.01  # mm: ends this near to each other are one point


class OutlineError(Exception):
    """An outline file cannot be used."""

    def __init__(self, message: str, remedy: str = "") -> None:
        self.message, self.remedy = message, remedy
        super().__init__(message)


def joined(pieces: Sequence[Side]) -> list[Loop]:
    """Return the closed loops that sides form, whichever way each was drawn.

    Raises OutlineError where a loop is open, or three sides meet in a point.
    """
    left = [p for p in pieces if math.dist(p[0], p[1]) > JOINED]
    ends = _Ends(left)
    ends.check()
    loops = []
    used: set[int] = set()
    for first in range(len(left)):
        if first not in used:
            loops.append(_follow(left, first, ends, used))
    return loops


def _follow(pieces: Sequence[Side], first: int, ends: _Ends, used: set[int]) -> Loop:
    loop: list[tuple[float, float, float]] = []
    at, index = pieces[first][0], first
    while index not in used:
        used.add(index)
        a, b, bulge = pieces[index]
        forwards = math.dist(a, at) <= math.dist(b, at)
        loop.append((*at, bulge if forwards else -bulge))
        at = b if forwards else a
        index = ends.other(index, at)
    return tuple(loop)


class _Ends:
    """Where sides end: points, and the sides that meet in each."""

    def __init__(self, pieces: Sequence[Side]) -> None:
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        self._points: list[Point2] = []
        self._meeting: list[list[int]] = []
        for index, (a, b, _) in enumerate(pieces):
            self._meeting[self._number(a)].append(index)
            self._meeting[self._number(b)].append(index)

    def other(self, index: int, at: Point2) -> int:
        """Return the side that goes on from the end of side `index` at a point."""
        meeting = self._meeting[self._number(at)]
        return next((i for i in meeting if i != index), index)

    def check(self) -> None:
        """Raise OutlineError where an end meets none or several others."""
        loose = [p for p, m in zip(self._points, self._meeting, strict=True) if len(m) == 1]
        if loose:
            raise OutlineError(
                f"the outline is open at {_named(loose)}", "join its ends; they must meet within 0.01 mm"
            )
        crowded = [p for p, m in zip(self._points, self._meeting, strict=True) if len(m) > 2]
        if crowded:
            raise OutlineError(
                f"more than two lines meet at {_named(crowded)}", "leave one closed outline; look for lines drawn twice"
            )

    def _number(self, p: Point2) -> int:
        """Return the number of the point at a place, made if it is new."""
        for cell in _cells_around(p):
            for number in self._cells.get(cell, ()):
                if math.dist(self._points[number], p) <= JOINED:
                    return number
        self._points.append(p)
        self._meeting.append([])
        self._cells[_cell(p)].append(len(self._points) - 1)
        return len(self._points) - 1


def _cell(p: Point2) -> tuple[int, int]:
    return (math.floor(p[0] / JOINED), math.floor(p[1] / JOINED))


def _cells_around(p: Point2) -> Iterator[tuple[int, int]]:
    i, j = _cell(p)
    return ((i + di, j + dj) for di in (-1, 0, 1) for dj in (-1, 0, 1))


def _named(points: list[Point2]) -> str:
    shown = " and ".join(f"({x:.3f}, {y:.3f}) mm" for x, y in points[:2])
    return shown + (f" and {len(points) - 2} more places" if len(points) > 2 else "")
