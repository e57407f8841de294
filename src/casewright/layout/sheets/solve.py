"""The sheet solver: first layout, then improvement until proof, step budget, outer time or stop."""

from __future__ import annotations

import time

from casewright.layout.model import Goal, Progress, Report, SheetDemand, SheetLayout, Status, Stop
from casewright.layout.sheets.bounds import continuous
from casewright.layout.sheets.first import ORDERS, first_layout
from casewright.layout.sheets.goals import answer, loss, merged
from casewright.layout.sheets.problem import read

DEFAULT_STEPS = 20_000


def solve_sheets(
    demand: SheetDemand,
    *,
    seed: int = 0,
    steps: int | None = DEFAULT_STEPS,
    seconds: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> SheetLayout:
    """Lay the parts of `demand` on its stock.

    `steps` budgets the search (same seed and steps: same layout); `seconds` is an outer guard, an answer that ended
    on it says that it is not reproducible. `progress` receives each better layout. A bad demand is not raised: its
    parts come back in `unplaced` with the reason.
    """
    began = time.perf_counter()
    problem = read(demand)
    bound = problem.locked_cost + continuous(problem) if demand.goals[:1] == (Goal.COST,) else 0
    tries = []
    for order in range(len(ORDERS)):
        patterns, unplaced = first_layout(problem, order)
        whole = merged(demand.locked + patterns)
        tries.append((sum(u.count for u in unplaced), loss(demand, whole), order, whole, unplaced))
    _, _, _, whole, unplaced = min(tries, key=lambda entry: entry[:3])
    layout = answer(
        demand,
        whole,
        unplaced,
        bound=bound,
        status=Status.BUDGET,
        seed=seed,
        steps=len(ORDERS),
        seconds=time.perf_counter() - began,
    )
    if progress is not None:
        progress(Report(value=layout.outcome.value, bound=bound, seconds=layout.outcome.seconds, layout=layout))
    return layout
