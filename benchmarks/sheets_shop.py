"""Generated shop jobs and growth to large orders, for `benchmarks.sheets`."""

from __future__ import annotations

import random
import resource
import statistics
import time

from benchmarks.sheets_clock import ProcessorTime
from casewright.layout.model import GRID, Goal, Report, Saws, SheetDemand, SheetPart, SheetStock, to_grid_up
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.improve import warm
from casewright.layout.verify_sheets import verify_sheets

INCH = 25.4


def job(seed: int, kinds: int, parts: int) -> SheetDemand:
    """A cabinet shop's order: 48 x 96 in and 60 x 60 in sheets, two offcuts, 1/8 in kerf, a third without grain."""
    rng = random.Random(seed)
    made = []
    for number in range(kinds):
        length, width = rng.uniform(3, 40) * INCH, rng.uniform(2, 24) * INCH
        count = max(1, parts // kinds + (number < parts % kinds))
        size = to_grid_up(round(length, 1)), to_grid_up(round(width, 1))
        made.append(SheetPart(id=f"p{number}", length=size[0], width=size[1], count=count, turn=rng.random() < 1 / 3))
    trim = (to_grid_up(3.0),) * 4
    stock = (
        SheetStock(id="48 x 96", length=to_grid_up(96 * INCH), width=to_grid_up(48 * INCH), price=9000, trim=trim),
        SheetStock(id="60 x 60", length=to_grid_up(60 * INCH), width=to_grid_up(60 * INCH), price=7000, trim=trim),
        SheetStock(id="offcut", length=900 * GRID, width=600 * GRID, count=2, offcut=True),
    )
    return SheetDemand(parts=tuple(made), stock=stock, saws=Saws(kerf=to_grid_up(3.2)), goals=(Goal.COST,))


def shop(seconds: float, seed: int) -> bool:
    """Print price against bound, time of the first layout, and time to proof of 50 jobs of 10 to 150 parts."""
    warm()
    gaps, firsts, proofs, price = [], [], [], 0
    good = True
    for number in range(50):
        parts = 10 + number * 140 // 49
        demand = job(1000 * seed + number, max(5, parts // 2), parts)
        reports: list[Report] = []
        began = time.process_time()
        stop = ProcessorTime(began + seconds)
        layout = solve_sheets(demand, seed=seed, steps=None, stop=stop, progress=reports.append)
        took = time.process_time() - began
        good &= not verify_sheets(demand, layout) and not layout.unplaced
        gaps.append(layout.outcome.gap)
        price += layout.outcome.value
        firsts.append(reports[0].seconds)
        if layout.outcome.proven:
            proofs.append(took)
    print(f"50 shop jobs, {seconds} s each: {len(proofs)} proven, median {statistics.median(proofs or [0]):.3f} s")
    print(f"price of all {price}, mean gap {100 * statistics.mean(gaps):.2f} %, greatest {100 * max(gaps):.2f} %")
    print(f"first layout: median {1000 * statistics.median(firsts):.0f} ms, slowest {1000 * max(firsts):.0f} ms")
    return good


def growth(seconds: float, seed: int) -> bool:
    """Print what large orders take: up to 5,000 parts, then 100,000 parts in 300 sizes.

    The budget is by the clock, of which the solver takes shares; printed with the processor time that it came to.
    """
    warm()
    good = True
    print(f"{'parts':>8}{'kinds':>7}{'price':>12}{'bound':>12}{'gap %':>8}{'first s':>9}{'cpu s':>8}{'MB':>7}")
    for parts, kinds in ((100, 50), (500, 100), (1000, 150), (2000, 200), (5000, 300), (100_000, 300)):
        demand = job(seed, kinds, parts)
        firsts: list[float] = []
        began = time.process_time()

        def note(_report: Report, firsts: list[float] = firsts) -> None:
            firsts.append(time.process_time())

        layout = solve_sheets(demand, seed=seed, steps=None, seconds=seconds, progress=note)
        took = time.process_time() - began
        good &= not verify_sheets(demand, layout) and not layout.unplaced
        outcome = layout.outcome
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(
            f"{parts:8}{kinds:7}{outcome.value:12}{outcome.bound:12}{100 * outcome.gap:8.2f}"
            f"{firsts[0] - began:9.2f}{took:8.1f}{memory:7}",
            flush=True,
        )
    return good
