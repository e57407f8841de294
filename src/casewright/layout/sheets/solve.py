"""The sheet solver: first layout, then improvement until proof, step budget, outer time or stop."""

from __future__ import annotations

import threading
import time

from casewright.layout.model import (
    Goal,
    Progress,
    SheetDemand,
    SheetLayout,
    Stop,
)
from casewright.layout.sheets.bounds import lower_bound
from casewright.layout.sheets.first import first_layout, orders_for
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.run import Run

DEFAULT_STEPS = 20_000
UNPROVEN = -(1 << 62)  # bound of a first goal for which no bound is known


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
    problem = read(demand)
    began = time.perf_counter()
    bound = lower_bound(problem)
    run = Run(problem, bound, seed, began, seconds, stop, progress)
    for order in orders_for(problem):
        run.offer(*first_layout(problem, order), "first layout")
        if order and not run.go_on():
            break
    if problem.things and (steps is None or steps > 0) and _tighten(run) and _compiled(run):
        from casewright.layout.sheets.improve import improve  # numba comes with it

        improve(run, steps)
    return run.finish()


def _tighten(run: Run) -> bool:
    """Raise the bound by exaggerated sizes (numpy comes with them); False if that is the proof."""
    from casewright.layout.sheets.dual_feasible import fewest_sheets
    from casewright.layout.sheets.scales import least_price

    problem, best = run.problem, run.best
    if problem.demand.goals[:1] != (Goal.COST,) or not problem.sheets:
        return True
    locked = problem.locked_cost
    if len(problem.sheets) == 1:
        run.bound = max(run.bound, locked + fewest_sheets(problem) * problem.sheets[0].price)
    elif best is not None and not best.unplaced and best.outcome.value > run.bound:
        run.bound = max(run.bound, locked + least_price(problem, run.bound - locked, best.outcome.value - locked))
    return not run.proven or len(problem.demand.goals) > 1


def _compiled(run: Run) -> bool:
    """True once the kernels are there; with a guard on time, the compiler is given no longer than that."""
    if run.seconds is None:
        return True
    worker = threading.Thread(target=_warm, daemon=True)
    worker.start()
    while worker.is_alive() and run.go_on():
        worker.join(0.02)
    return not worker.is_alive()


def _warm() -> None:
    from casewright.layout.sheets.improve import warm

    warm()
