"""The search where there are several kinds of sheet: which set of sheets to try, from the dear ones downward.

The price is bisected between what has been reached and what has failed; each try gives the search of `recreate` one
set of sheets, for a number of steps that grows with the tries that fail. A try is a search on all sheets, going on from
where the last one stood, or one on what shelves without waste leave open (`shelf_search`); that which leaves out less
is taken oftener.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from casewright.layout.sheets.engine import Engine, adopt, seek_least
from casewright.layout.sheets.shelf_search import ShelfSearch
from casewright.layout.sheets.stock_sets import Counts, StockSets

FIRST_TRY = 1_000  # steps
A_PIECE = 4  # more, for each piece
GROWTH = 1.5
TRIES_AT_ONE_PRICE = 10  # longer ones once there have been so many in vain
LOWER = 0.4  # of what is open, that the next new set is to cost less than the best
TRIES = 3  # new sets of about one price, before the price counts as too low
FADE = 0.75  # what the tries before still count, at each try
LEAN = 4  # for each doubling of the area left out
MOST_LEAN = 4
MOST_BARE = 6  # fillings on end with too few shelves, before they are done without
TIGHT = 40  # pieces from which on a set without any area to spare is not tried while there are others
WEARY = 0.35  # how much less a set is thought of for each try


@dataclass(slots=True)
class Tried:
    """What has come of a set of sheets: the least area that was left out, how often it was tried."""

    out: float = math.inf
    times: int = 0


class Rungs:
    """Tries sets of sheets below a price; `failed` is the greatest price that counts as too low for new sets."""

    def __init__(self, engine: Engine, sets: StockSets, floor: int) -> None:
        self.engine, self.sets = engine, sets
        self.failed = self.floor = floor
        self.steps = FIRST_TRY + A_PIECE * len(engine.owner)
        self.since = engine.steps  # when everything went in last
        self.tries = 0
        self.again = False
        self.tried: dict[Counts, Tried] = {}
        self.left = engine.room.left.copy()
        self.shelves = ShelfSearch(engine, self.sets.seed) if ShelfSearch.suits(engine.problem) else None
        self.turn = self.bare = 0
        self.piece = float(engine.room.area.mean())
        self.left_out = [-1.0, -1.0]  # by search alone and with shelves: the logarithm, smoothed; below 0: no try yet
        self.lean = 0  # the way that does better is taken 2^|lean| times for each time of the other: shelves where > 0

    def _new(self, best: int) -> Counts | None:
        """A set not tried yet, somewhat below the best price; None where there is none.

        Sets without any area to spare are only noted: they are left to the joining, and to when nothing else is open.
        """
        while (counts := self._drawn(best)) is not None:
            if len(self.engine.owner) <= TIGHT or self.sets.spare(counts) > 0:
                break
            self.tried[counts] = Tried()
        return counts

    def _drawn(self, best: int) -> Counts | None:
        top = best - self.sets.step
        middle = top - int(LOWER * (top - self.failed))
        counts = self.sets.draw(self.failed, middle, self.tried) or self.sets.draw(middle + 1, top, self.tried)
        if counts is None:
            self.failed = self.floor
            counts = self.sets.draw(self.floor, top, self.tried)
        return counts

    def _known(self, best: int) -> Counts | None:
        """The set below the best price in which least was left out, those often tried in vain thought less of."""
        below = [counts for counts in self.tried if self.sets.price(counts) < best]
        return min(below, key=lambda c: (self.tried[c].out * (1 + WEARY * self.tried[c].times), c), default=None)

    def _seek(self, counts: Counts, record: Tried, steps: int, left: int, go_on: Callable[[], bool]) -> bool:
        """Try one set, with shelves where they are found, else by search alone."""
        self.turn += 1
        end = self.engine.steps + left
        rare = self.turn % (2 ** abs(self.lean) + 1) == 0
        result = None
        if self.shelves is not None and rare == (self.lean < 0):
            result = self.shelves.seek(counts, min(steps, left), left, go_on)
            self._bare(result is None)
        way = int(result is not None)
        if result is None:
            until = min(end, self.engine.steps + steps)
            adopt(self.engine, counts, until - self.engine.steps)
            result = seek_least(self.engine, self.sets.price(counts), until, go_on)
            self.engine.room.left[:] = self.left
        found, out = result
        self._judge(way, 0.0 if found else out)
        record.out = min(record.out, out)
        return found

    def _judge(self, way: int, out: float) -> None:
        """Lean towards the way that leaves out less, recent tries counting most."""
        if math.isfinite(out):
            left = math.log2(1.0 + out / self.piece)
            self.left_out[way] = left if self.left_out[way] < 0 else FADE * self.left_out[way] + (1 - FADE) * left
        if min(self.left_out) >= 0:
            ahead = LEAN * (self.left_out[0] - self.left_out[1])
            self.lean = max(-MOST_LEAN, min(MOST_LEAN, round(ahead)))

    def _bare(self, bare: bool) -> None:
        """Do without shelves once they were looked for in vain several times on end."""
        self.bare = self.bare + 1 if bare else 0
        if self.bare == MOST_BARE:
            self.shelves = None

    def below(self, best: int, budget: int, go_on: Callable[[], bool]) -> bool | None:
        """Try one set that costs less than the best; True if everything went in, None if there is no such set."""
        counts = self._known(best) if self.again else None
        counts = counts or self._new(best) or self._known(best)
        if counts is None:
            return None
        self.again = not self.again
        fresh = counts not in self.tried
        record = self.tried.setdefault(counts, Tried())
        price = self.sets.price(counts)
        least = max(self.steps, (self.engine.steps - self.since) // TRIES_AT_ONE_PRICE)
        steps = int(least * GROWTH**record.times)
        found = self._seek(counts, record, steps, budget - self.engine.steps, go_on)
        record.times += 1
        if found:
            self.since = self.engine.steps
        if fresh:
            self.tries = 0 if found else self.tries + 1
        if self.tries >= TRIES:
            self.failed, self.tries = max(self.failed, price + 1), 0
        return found
