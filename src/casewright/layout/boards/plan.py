"""A whole plan, board after board: which board next, in which direction, in which order of pieces."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from casewright.layout.boards.load import Load, load_board
from casewright.layout.boards.needs import Group, Needs
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

Rank = Callable[[BoardPart], tuple[int, ...]]

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


def make_plan(
    demand: BoardDemand,
    price: dict[str, int],
    needs: Needs,
    groups: Sequence[Group],
    choose: Callable[[Sequence[BoardStock], bool], Sequence[BoardStock]],
    ranks: Sequence[Rank] = RANKS,
) -> Plan:
    """Return a plan.

    `choose` gives the boards worth trying next, of those on hand; its second argument tells whether a show part is
    still to be cut.
    """
    on_hand: dict[str, int | None] = {s.id: s.count for s in demand.stock}
    opened: Group | None = None
    loads: list[Load] = []
    while any(needs.left.values()):
        boards = [s for s in demand.stock if on_hand[s.id] is None or (on_hand[s.id] or 0) > 0]
        load = _best_load(demand, price, needs, groups, opened, choose(boards, _show_left(needs)), ranks)
        if load is None:
            load = _best_load(demand, price, needs, groups, opened, boards, ranks)
        if load is None:
            break
        left = on_hand[load.fill.source.id]
        on_hand[load.fill.source.id] = None if left is None else left - 1
        loads.append(load)
        needs, opened = load.needs, load.open
    return Plan(loads, needs, sum(price[load.fill.source.id] for load in loads))


def _show_left(needs: Needs) -> bool:
    return any(n and needs.parts[k[0]].show for k, n in needs.left.items())


def _best_load(
    demand: BoardDemand,
    price: dict[str, int],
    needs: Needs,
    groups: Sequence[Group],
    opened: Group | None,
    boards: Sequence[BoardStock],
    ranks: Sequence[Rank],
) -> Load | None:
    best: tuple[float, float, Load] | None = None
    for source in boards:
        for rank in ranks:
            show = _show_left(needs)
            order = sorted(needs.left, key=lambda k: (show and not needs.parts[k[0]].show, *rank(needs.parts[k[0]]), k))
            for rip_first in (True, False):
                load = load_board(demand, source, rip_first, needs, opened, groups, order)
                if not load.fill.used or not load.served:
                    continue
                key = price[source.id] / load.fill.used, source.length * source.width / load.fill.used
                if best is None or key < best[:2]:
                    best = *key, load
    return best[2] if best else None
