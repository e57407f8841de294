"""Better plans: keep the first boards of a plan, cut the rest anew in another order from other boards.

Late acceptance (Burke and Bykov 2017): a new plan goes on where it is no worse than the one some steps before.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from casewright.layout.boards.load import Load
from casewright.layout.boards.plan import RANKS, Choose, Job, Plan, Rank, make_plan
from casewright.layout.budget import Budget
from casewright.layout.model import BoardPart, BoardStock

DEFAULT_STEPS = 400
HISTORY = 12
BOARDS_TRIED = 5


def search(job: Job, bound: int, budget: Budget, seed: int) -> Plan:
    """Return the best plan found (one step is one plan). Ends at the bound, at the budget, or after the default steps."""
    chance = random.Random(seed)
    best = current = make_plan(job, best_grade_for_show)
    budget.step()
    budget.tell(best.cost, bound, "first plan")
    history = [current.worth()] * HISTORY
    limit = DEFAULT_STEPS if budget.limit is None else budget.limit
    while budget.steps < limit and not budget.over():
        missing = bool(best.worth()[0])
        if not missing and best.cost <= bound:
            break
        plan = make_plan(job, _some_boards(chance), [_rank(chance)], _kept(current, chance))
        place = budget.steps % HISTORY
        budget.step()
        if plan.worth() <= max(history[place], current.worth()):
            current = plan
        history[place] = current.worth()
        if plan.worth() < best.worth():
            best = plan
            budget.tell(best.cost, bound)
    return best


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
