"""Which boards to try for the pieces of a few boards: every cheaper set where these are few, else some by chance."""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter
from collections.abc import Iterator, Sequence

from casewright.layout.boards.bound import surface_offered
from casewright.layout.boards.pack import Piece
from casewright.layout.boards.plan import Job
from casewright.layout.model import BoardDemand, BoardStock

DRAWS, DRAWN = 12, 3  # sets drawn, and taken of them
SLACK = 1.06  # of the surface that pieces need, at most, in a set that is drawn
SETS_LISTED = 400  # of so many sets of boards or fewer, each is looked at
SAME_BOARDS = 0.3  # chance that the boards stay and only the pieces change places


def surface_of(demand: BoardDemand, pieces: Sequence[Piece]) -> int:
    """Return the surface of pieces with one kerf at each end and edge."""
    return sum((p.length + demand.kerf) * (p.width + demand.kerf) for p in pieces)


def candidates(
    job: Job, now: Sequence[BoardStock], elsewhere: Counter[str], pieces: Sequence[Piece], chance: random.Random
) -> Iterator[list[BoardStock]]:
    """Return sets of boards for `pieces`, no dearer than the boards `now` that they lie on; `elsewhere` are in use."""
    left = {s.id: len(now) + 1 if s.count is None else s.count - elsewhere[s.id] for s in job.demand.stock}
    kinds = [s for s in job.demand.stock if left[s.id] > 0]
    limit = sum(job.price[b.id] for b in now)
    needed = surface_of(job.demand, pieces)
    shown = surface_of(job.demand, [p for p in pieces if p.show])
    if len(now) > 1 and chance.random() < SAME_BOARDS:
        yield list(now)  # groups may come to lie closer
    most = max((n for n in range(1, len(now) + 2) if math.comb(len(kinds) + n, n) <= SETS_LISTED), default=0)
    if most >= min(2, len(now)):
        sets = _listed(job, kinds, left, needed, limit, most)
    else:
        slack = [round(needed * chance.uniform(1, SLACK)) for _ in range(DRAWS)]
        sets = (_drawn(job, kinds, left, surface, limit - 1, shown, len(now) + 1, chance) for surface in slack)
    fit = (boards for boards in sets if boards and offered(job.demand, best_grade(job.demand, boards)) >= shown)
    yield from itertools.islice(fit, None if most >= min(2, len(now)) else DRAWN)


def best_grade(demand: BoardDemand, boards: Sequence[BoardStock]) -> list[BoardStock]:
    """Return the boards of the best grade on hand."""
    best = min(s.grade for s in demand.stock)
    return [b for b in boards if b.grade == best]


def offered(demand: BoardDemand, boards: Sequence[BoardStock]) -> int:
    """Return the surface that boards offer, in the measure of `surface_of`."""
    return sum(surface_offered(demand, b) for b in boards)


def _listed(
    job: Job, kinds: Sequence[BoardStock], left: dict[str, int], needed: int, limit: int, most: int
) -> Iterator[list[BoardStock]]:
    """Every set of up to `most` boards that is cheaper and offers enough, cheapest first."""
    offers = {s.id: surface_offered(job.demand, s) for s in kinds}
    fit: list[tuple[int, int, list[BoardStock]]] = []
    for n in range(1, most + 1):
        for boards in itertools.combinations_with_replacement(kinds, n):
            cost = sum(job.price[b.id] for b in boards)
            at_hand = all(count <= left[name] for name, count in Counter(b.id for b in boards).items())
            if cost < limit and at_hand and sum(offers[b.id] for b in boards) >= needed:
                fit.append((cost, len(fit), list(boards)))
    yield from (boards for _, _, boards in sorted(fit, key=lambda f: f[:2]))


def _drawn(
    job: Job,
    kinds: Sequence[BoardStock],
    left: dict[str, int],
    needed: int,
    limit: int,
    shown: int,
    most_boards: int,
    chance: random.Random,
) -> list[BoardStock]:
    """Boards drawn at a low price for their surface until they offer enough; empty where the draw costs too much.

    Boards of the best grade come first, until what shows fits on them.
    """
    offers = {s.id: max(1, surface_offered(job.demand, s)) for s in kinds}
    rates = {s.id: job.price[s.id] / offers[s.id] * (1 + 0.6 * chance.random()) for s in kinds}
    boards = [s for s in sorted(kinds, key=lambda s: rates[s.id]) for _ in range(min(left[s.id], most_boards))]
    drawn: list[BoardStock] = []
    for_show = []
    for board in best_grade(job.demand, boards):
        if shown <= 0:
            break
        shown -= offers[board.id]
        for_show.append(board)
    later = list(boards)
    for board in for_show:
        later.remove(board)
    for board in (*for_show, *later):
        if job.price[board.id] <= limit and needed > 0 and len(drawn) < most_boards:
            limit -= job.price[board.id]
            needed -= offers[board.id]
            drawn.append(board)
    return drawn if needed <= 0 else []
