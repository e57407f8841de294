"""Better plans: keep the first boards of a plan and cut the rest anew, or draw cheaper boards and cut from those.

Late acceptance (Burke and Bykov 2017): a new plan goes on where it is no worse than the one some steps before.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from casewright.layout.boards.bound import surface_needed, surface_offered
from casewright.layout.boards.load import Load
from casewright.layout.boards.plan import RANKS, Choose, Job, Plan, Rank, make_plan
from casewright.layout.budget import Budget
from casewright.layout.model import BoardPart, BoardStock

DEFAULT_STEPS = 60
STEPS_A_BOARD = 20
DEFAULT_WORK, LARGE_WORK = 300_000, 800_000  # see `Load`; more where boards are cut alike
HISTORY = 12
BOARDS_TRIED = 2
RANKS_TRIED = 2
COPIES = 50
SHOW_MARGIN = 1.15


def search(job: Job, bound: int, budget: Budget, seed: int) -> Plan:
    """Return the best plan found; one step is one plan. Ends at the bound, the budget, or after the default steps."""
    chance = random.Random(seed)
    best = current = make_plan(job, best_grade_for_show)
    budget.step()
    budget.tell(best.cost, bound, "first plan")
    history = [current.worth()] * HISTORY
    large = any(load.times > 1 for load in best.loads)
    work, most_work = best.work, math.inf if budget.limit is not None else LARGE_WORK if large else DEFAULT_WORK
    while budget.steps < _most_steps(best, budget) and work < most_work and not budget.over():
        missing = bool(best.worth()[0])
        if not missing and best.cost <= bound:
            break
        cheaper = _cheaper_boards(job, best.cost, chance) if budget.steps % 2 and not missing else None
        if cheaper is not None:
            plan = _cut_from(job, cheaper, chance)
        else:
            plan = make_plan(job, _some_boards(chance), [_rank(chance)], _kept(current, chance))
        place = budget.steps % HISTORY
        work += plan.work
        budget.step()
        if plan.worth() <= max(history[place], current.worth()):
            current = plan
        history[place] = current.worth()
        if plan.worth() < best.worth():
            best = plan
            budget.tell(best.cost, bound)
    return best


def _most_steps(best: Plan, budget: Budget) -> int:
    """Half the steps asked for (the rest is for `repack`), else so many a board: of few boards there are few plans."""
    few = min(DEFAULT_STEPS, STEPS_A_BOARD * max(1, len(best.loads)))
    return few if budget.limit is None else (budget.limit + 1) // 2


def _cheaper_boards(job: Job, cost: int, chance: random.Random) -> list[BoardStock] | None:
    """Draw boards that cost less than `cost` together and offer enough surface; None where the draw has none.

    Enough of the best grade for the show parts comes first, then what is cheap for its surface.
    """
    stock = job.demand.stock
    boards = [s for s in stock for _ in range(COPIES if s.count is None else min(s.count, COPIES))]
    offers = {s.id: surface_offered(job.demand, s) for s in stock}
    rates = [job.price[s.id] / max(1, offers[s.id]) * (1 + 0.5 * chance.random()) for s in boards]
    order = sorted(range(len(boards)), key=rates.__getitem__)
    best = min((s.grade for s in boards), default=0)
    parts = list(job.needs.parts.values())
    shown = SHOW_MARGIN * surface_needed(job.demand, [p for p in parts if p.show])
    wanted, left = surface_needed(job.demand, parts), cost - 1
    for_show: list[int] = []
    for k in order:
        if boards[k].grade == best and sum(offers[boards[i].id] for i in for_show) < shown:
            for_show.append(k)
    drawn: list[BoardStock] = []
    for k in dict.fromkeys([*for_show, *order]):
        if job.price[boards[k].id] <= left:
            left -= job.price[boards[k].id]
            wanted -= offers[boards[k].id]
            drawn.append(boards[k])
    return drawn if wanted <= 0 else None


def _cut_from(job: Job, boards: Sequence[BoardStock], chance: random.Random) -> Plan:
    """Return a plan that uses only `boards`, filling each as well as it can whatever it costs."""
    counts = Counter(s.id for s in boards)
    stock = tuple(replace(s, count=counts[s.id]) for s in job.demand.stock if s.id in counts)
    demand = replace(job.demand, stock=stock)
    surface = {s.id: s.length * s.width for s in stock}
    ranks = [_rank(chance) for _ in range(RANKS_TRIED)]
    plan = make_plan(replace(job, demand=demand, price=surface), _some_boards(chance), ranks)
    return replace(plan, cost=sum(job.price[load.fill.source.id] * load.times for load in plan.loads))


def best_grade_for_show(boards: Sequence[BoardStock], show: bool) -> Sequence[BoardStock]:
    """Return only the best grade on hand while show parts are left, all boards after."""
    best = min((s.grade for s in boards), default=0)
    return [s for s in boards if s.grade == best] if show else boards


def _some_boards(chance: random.Random) -> Choose:
    def choose(boards: Sequence[BoardStock], show: bool) -> Sequence[BoardStock]:
        fit = list(best_grade_for_show(boards, show))
        return chance.sample(fit, min(BOARDS_TRIED, len(fit)))

    return choose


def _kept(plan: Plan, chance: random.Random) -> Sequence[Load]:
    """The first boards of a plan; more often most of them than few."""
    return plan.loads[: int(len(plan.loads) * chance.random() ** 0.6)]


def _rank(chance: random.Random) -> Rank:
    """One of the ranks with noise, so that near equals change places."""
    base = chance.choice(RANKS)
    noise = chance.choice((0.0, 0.15, 0.5))
    drawn: dict[str, float] = {}

    def rank(part: BoardPart) -> tuple[float, ...]:
        factor = drawn.setdefault(part.id, 1 + noise * chance.uniform(-1, 1))
        return tuple(x * factor for x in base(part))

    return rank
