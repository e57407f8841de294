"""Sets of sheets that could hold everything, where there are several kinds of sheet.

A set is a count for each kind. It passes if, for each row, its sheets together have the room that the things need:
areas, and areas of those things that only some kinds can hold. Free sheets (offcuts on hand) are in every set.
"""

from __future__ import annotations

import math
import random
from collections.abc import Container, Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sheets.problem import Problem

Counts = tuple[int, ...]
Rooms = NDArray[np.float64]
MOST_NODES = 3_000
MOST_SETS = 200
EDGE = 0.1  # of a strip along the edges of a sheet, as wide as a part of mean area, that counts as lost
TRIES = 12  # the best of so many drawn


class Row(NamedTuple):
    """What all things need, and what one sheet of each kind has of it."""

    need: float
    room: tuple[float, ...]


def rows_of(problem: Problem) -> list[Row]:
    """Area, kerf included: of all things, and of those that fit no kinds but some."""
    kerf = min(problem.rules.kerf, problem.rules.rough)
    room = [float((x + kerf) * (y + kerf)) for x, y in problem.inner]
    needs: dict[tuple[bool, ...], float] = {}
    for thing in problem.things:
        fits = tuple(any(shape.size[0] <= x and shape.size[1] <= y for shape in thing.shapes) for x, y in problem.inner)
        area = sum((p.length + kerf) * (p.width + kerf) for p in thing.members) * thing.count
        needs[fits] = needs.get(fits, 0.0) + area
    rows = [Row(sum(needs.values()), tuple(room))]
    for fits in needs:
        if not all(fits):
            need = sum(
                area for other, area in needs.items() if all(f or not o for f, o in zip(fits, other, strict=True))
            )
            rows.append(Row(need, tuple(r if f else 0.0 for r, f in zip(room, fits, strict=True))))
    return rows


class StockSets:
    """Draws sets of sheets between two prices."""

    def __init__(self, problem: Problem, rows: list[Row], seed: int) -> None:
        self.seed, self.rng = seed, random.Random(seed)
        self.prices = [sheet.price for sheet in problem.sheets]
        self.step = math.gcd(*self.prices) or 1
        pieces = sum(thing.count for thing in problem.things)
        self.most = [pieces if n is None else min(n, pieces) for n in problem.left]
        self.paid = sorted((k for k, p in enumerate(self.prices) if p > 0), key=lambda k: (-self.prices[k], k))
        free = [n if p == 0 else 0 for n, p in zip(self.most, self.prices, strict=True)]
        self.free = free
        table = np.array([row.room for row in rows], np.float64).reshape(len(rows), len(self.prices))
        self.need = np.array([row.need for row in rows]) * (1 - 1e-12) - table @ np.array(free, np.float64)
        self.room = table
        self.all_need = rows[0].need * (1 + 1e-9)  # of the first row, with the free sheets
        rate = np.zeros((len(self.paid) + 1, len(rows)))
        for place in range(len(self.paid) - 1, -1, -1):
            kind = self.paid[place]
            rate[place] = np.maximum(rate[place + 1], table[:, kind] / self.prices[kind])
        self.rate = rate
        area = sum(thing.area * thing.count for thing in problem.things)
        side = math.sqrt(area / max(1, pieces))
        self.edge = [EDGE * side * (x + y) for x, y in problem.inner]
        self.nodes = 0

    @property
    def all_seen(self) -> bool:
        """True where the last look missed no set: what it did not find does not exist."""
        return self.nodes <= MOST_NODES

    def price(self, counts: Counts) -> int:
        """Price of a set."""
        return sum(n * p for n, p in zip(counts, self.prices, strict=True))

    def between(self, low: int, high: int) -> list[Counts]:
        """Some sets that cost from `low` to `high`, all of them where there are few; none free of charge alone."""
        self.nodes = 0
        found: list[Counts] = []
        for counts in self._complete(0, 0, np.zeros(len(self.need)), low, high, list(self.free)):
            found.append(counts)
            if len(found) >= MOST_SETS:
                break
        return found

    def least(self, low: int, high: int) -> int:
        """A price from `low` to `high` below which there is no set, as far as few looks can tell."""
        while low < high:
            middle = low + (high - low) // 2
            self.nodes = 0
            found = next(self._complete(0, 0, np.zeros(len(self.need)), low, middle, list(self.free)), None)
            if found is not None:
                high = self.price(found)
            elif self.all_seen:
                low = middle + 1
            else:
                break
        return low

    def _complete(self, place: int, cost: int, have: Rooms, low: int, high: int, counts: list[int]) -> Iterator[Counts]:
        self.nodes += 1
        if self.nodes > MOST_NODES or bool(np.any(have + (high - cost) * self.rate[place] < self.need)):
            return
        if place == len(self.paid):
            if cost >= low:
                yield tuple(counts)
            return
        kind = self.paid[place]
        price = self.prices[kind]
        most = min(self.most[kind], (high - cost) // price)
        least = 0 if place < len(self.paid) - 1 else max(0, -((cost - low) // price))
        for n in self.rng.sample(range(least, most + 1), most + 1 - least) if most >= least else ():
            counts[kind] = n
            yield from self._complete(place + 1, cost + n * price, have + n * self.room[:, kind], low, high, counts)
        counts[kind] = 0

    def spare(self, counts: Counts) -> float:
        """Area that no thing needs, kerfs counted."""
        return float(np.dot(self.room[0], counts)) - self.all_need

    def promise(self, counts: Counts) -> float:
        """Free area, less what edges take: large where everything is likely to go in."""
        free = float(np.dot(self.room[0], counts))
        return free - sum(n * edge for n, edge in zip(counts, self.edge, strict=True))

    def draw(self, low: int, high: int, but: Container[Counts]) -> Counts | None:
        """The most promising of some sets between two prices, drawn at random; None where there is none but `but`."""
        found = [counts for counts in self.between(low, high) if counts not in but]
        if not found:
            return None
        tries = self.rng.sample(found, min(len(found), TRIES))
        return max(tries, key=lambda counts: (self.promise(counts), counts))
