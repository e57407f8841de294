"""A whole plan, board after board: which board next, in which direction, in which order of pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from casewright.layout.boards.load import Load, load_board
from casewright.layout.boards.needs import Group, Needs
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

Rank = Callable[[BoardPart], tuple[float, ...]]
Choose = Callable[[Sequence[BoardStock], bool], Sequence[BoardStock]]

RANKS: tuple[Rank, ...] = (
    lambda p: (-p.length, -p.width),
    lambda p: (-p.width, -p.length),
    lambda p: (-p.length * p.width, -p.length),
)


@dataclass(slots=True)
class Plan:
    """Loads in order, what is still needed, and the cost."""

    loads: list[Load]
    needs: Needs
    cost: int

    def worth(self) -> tuple[int, int, int, int]:
        """What to make small: surface missing, grades under show parts, cost, boards."""
        parts = self.needs.parts
        missing = sum(n * parts[k[0]].length * parts[k[0]].width for k, n in self.needs.left.items())
        shown = sum(load.shown * load.fill.source.grade for load in self.loads)
        return missing, shown, self.cost, len(self.loads)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What all plans of one demand share."""

    demand: BoardDemand
    price: dict[str, int]
    needs: Needs
    groups: tuple[Group, ...]


def make_plan(job: Job, choose: Choose, ranks: Sequence[Rank] = RANKS, start: Sequence[Load] = ()) -> Plan:
    """Return a plan that begins with `start`.

    `choose` gives the boards worth trying next, of those on hand; its second argument tells whether a show part is
    still to be cut. Where none of them will do, all are tried.
    """
    loads = list(start)
    used = Counter(load.fill.source.id for load in loads)
    needs, opened = (loads[-1].needs, loads[-1].open) if loads else (job.needs, None)
    while any(needs.left.values()):
        boards = [s for s in job.demand.stock if s.count is None or used[s.id] < s.count]
        chosen = choose(boards, needs.show_left())
        load = _best_load(job, needs, opened, chosen, ranks)
        if load is None and len(chosen) < len(boards):
            load = _best_load(job, needs, opened, boards, ranks)
        if load is None:
            break
        used[load.fill.source.id] += 1
        loads.append(load)
        needs, opened = load.needs, load.open
    return Plan(loads, needs, sum(job.price[load.fill.source.id] for load in loads))


def _best_load(
    job: Job, needs: Needs, opened: Group | None, boards: Sequence[BoardStock], ranks: Sequence[Rank]
) -> Load | None:
    """The load that costs least for what it holds; where one board takes all that is left, the cheapest such board."""
    best: tuple[tuple[float, float], Load] | None = None
    last: tuple[int, Load] | None = None
    show = needs.show_left()
    for rank in ranks:
        order = sorted(needs.left, key=lambda k: (show and not needs.parts[k[0]].show, *rank(needs.parts[k[0]]), k))
        for source in boards:
            for rip_first in (True, False):
                load = load_board(job.demand, source, rip_first, needs, opened, job.groups, order)
                if not load.fill.used or not load.served:
                    continue
                price = job.price[source.id]
                key = price / load.fill.used, source.length * source.width / load.fill.used
                if best is None or key < best[0]:
                    best = key, load
                if not any(load.needs.left.values()) and (last is None or price < last[0]):
                    last = price, load
    if last is not None and best is not None and last[0] <= job.price[best[1].fill.source.id]:
        return last[1]
    return best[1] if best else None
