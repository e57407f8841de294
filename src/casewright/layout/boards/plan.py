"""A whole plan, board after board: which board next, in which direction, in which order of pieces.

Of many pieces, a board that was chosen is cut alike again while what is needed lasts, so that a plan takes as many
choices as it has kinds of board.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from casewright.layout.boards.load import Load, load_board
from casewright.layout.boards.needs import Group, Key, Needs
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

MANY = 120  # pieces
BOARDS_COMPARED = 60
PLAN_WORK = 150_000  # beyond it a plan compares few boards, in one order
FEW_BOARDS = 3

Rank = Callable[[BoardPart], tuple[float, ...]]
Choose = Callable[[Sequence[BoardStock], bool], Sequence[BoardStock]]

RANKS: tuple[Rank, ...] = (
    lambda p: (-p.length, -p.width),
    lambda p: (-p.width, -p.length),
    lambda p: (-p.length * p.width, -p.length),
)


@dataclass(slots=True)
class Plan:
    """Loads in order, what is still needed, the cost, and the work of making the plan (see `Load`)."""

    loads: list[Load]
    needs: Needs
    cost: int
    work: int

    def worth(self) -> tuple[int, int, int, int]:
        """What to make small: surface missing, grades under show parts, cost, boards."""
        parts = self.needs.parts
        missing = sum(n * parts[k[0]].length * parts[k[0]].width for k, n in self.needs.left.items())
        shown = sum(load.shown * load.fill.source.grade * load.times for load in self.loads)
        return missing, shown, self.cost, sum(load.times for load in self.loads)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What all plans of one demand share."""

    demand: BoardDemand
    price: dict[str, int]
    needs: Needs
    groups: tuple[Group, ...]


@dataclass(slots=True)
class Choice:
    """How a board was filled: what to fill alike, and how much it held."""

    source: BoardStock
    rip_first: bool
    order: list[Key]
    used: int


State = tuple[bool, frozenset[str], tuple[int, ...]]


def make_plan(job: Job, choose: Choose, ranks: Sequence[Rank] = RANKS, start: Sequence[Load] = ()) -> Plan:
    """Return a plan that begins with `start`.

    `choose` gives the boards worth trying next, of those on hand; its second argument tells whether a show part is
    still to be cut. Where none of them will do, all are tried.
    """
    loads = list(start)
    used: Counter[str] = Counter()
    for kept in loads:
        used[kept.fill.source.id] += kept.times
    needs, opened = (loads[-1].needs, loads[-1].open) if loads else (job.needs, None)
    many = sum(n for n in job.needs.left.values() if n) > MANY
    before: dict[State, Choice] = {}
    work = 0
    while any(needs.left.values()):
        boards = [s for s in job.demand.stock if s.count is None or used[s.id] < s.count]
        state = _state(needs, opened)
        load = _again(job, needs, opened, before.get(state), boards) if many else None
        if load is None:
            choice, load, tried = _chosen(job, needs, opened, boards, choose, ranks, hasty=work > PLAN_WORK)
            work += tried
            if load is None or choice is None:
                break
            before[state] = choice
        work += load.work
        if many:
            load = _repeated(load, needs, None if load.fill.source.count is None else used)
        used[load.fill.source.id] += load.times
        loads.append(load)
        needs, opened = load.needs, load.open
    return Plan(loads, needs, sum(job.price[load.fill.source.id] * load.times for load in loads), work)


def _state(needs: Needs, opened: Group | None) -> State:
    """What a choice depends on besides how much is left: whether show parts are, the open group, its open panel."""
    begun = next((needs.sawn[k] for k in opened.keys if needs.begun(k)), ()) if opened else ()
    return needs.show_left(), frozenset(k[0] for k in opened.keys) if opened else frozenset(), begun


def _again(
    job: Job, needs: Needs, opened: Group | None, choice: Choice | None, boards: Sequence[BoardStock]
) -> Load | None:
    """A board filled as one was before in this state, if it holds as much again."""
    if choice is None or choice.source not in boards:
        return None
    load = load_board(job.demand, choice.source, choice.rip_first, needs, opened, job.groups, choice.order)
    return load if load.fill.used == choice.used and load.served else None


def _repeated(load: Load, before: Needs, used: Counter[str] | None) -> Load:
    """Return `load` as often as what was needed before it lasts, where it holds solid pieces alone."""
    pieces = Counter(p.name for lane in load.fill.lanes for p in lane.pieces)
    if any("#" in name for name in pieces) or not pieces:
        return load
    times = min(before.left[name, 0] // n for name, n in pieces.items())
    if used is not None and load.fill.source.count is not None:
        times = min(times, load.fill.source.count - used[load.fill.source.id])
    needs = load.needs.copy()
    for name, n in pieces.items():
        needs.left[name, 0] -= n * (times - 1)
    still = load.open if load.open is not None and not needs.done(load.open.keys) else None
    return replace(load, needs=needs, open=still, times=times)


def _chosen(
    job: Job,
    needs: Needs,
    opened: Group | None,
    boards: Sequence[BoardStock],
    choose: Choose,
    ranks: Sequence[Rank],
    hasty: bool,
) -> tuple[Choice | None, Load | None, int]:
    """The best load of the boards worth trying, else of all; how it was filled, and the work of trying."""
    chosen = _sample(choose(boards, needs.show_left()), FEW_BOARDS if hasty else BOARDS_COMPARED)
    ranks = ranks[:1] if hasty else ranks
    best = _best_load(job, needs, opened, chosen, ranks)
    if best[1] is None and len(chosen) < len(boards):
        more = _best_load(job, needs, opened, boards, ranks)
        return more[0], more[1], more[2] + best[2]
    return best


def _sample(boards: Sequence[BoardStock], most: int) -> Sequence[BoardStock]:
    """At most `most` boards, spread over all by width and length."""
    if len(boards) <= most:
        return boards
    by_size = sorted(boards, key=lambda s: (s.width, s.length, s.id))
    return [by_size[(2 * i + 1) * len(boards) // (2 * most)] for i in range(most)]


def _best_load(
    job: Job, needs: Needs, opened: Group | None, boards: Sequence[BoardStock], ranks: Sequence[Rank]
) -> tuple[Choice | None, Load | None, int]:
    """The load that costs least for what it holds; where one board takes all that is left, the cheapest such board."""
    best: tuple[tuple[float, float], Load, Choice] | None = None
    last: tuple[int, Load, Choice] | None = None
    work = 0
    for order in _orders(needs, ranks):
        for source in boards:
            for rip_first in (True, False):
                load = load_board(job.demand, source, rip_first, needs, opened, job.groups, order)
                work += load.work
                if not load.fill.used or not load.served:
                    continue
                choice = Choice(source, rip_first, order, load.fill.used)
                price = job.price[source.id]
                key = price / load.fill.used, source.length * source.width / load.fill.used
                if best is None or key < best[0]:
                    best = key, load, choice
                if not any(load.needs.left.values()) and (last is None or price < last[0]):
                    last = price, load, choice
    if last is not None and best is not None and last[0] <= job.price[best[1].fill.source.id]:
        return last[2], last[1], work
    return (best[2], best[1], work) if best else (None, None, work)


def _orders(needs: Needs, ranks: Sequence[Rank]) -> Iterator[list[Key]]:
    """The keys still wanted in the order of each rank, show parts first while there are any."""
    show = needs.show_left()
    for rank in ranks:
        places = {i: (show and not p.show, *rank(p)) for i, p in needs.parts.items()}
        yield sorted((k for k, n in needs.left.items() if n), key=lambda k: (places[k[0]], k))
