"""Sheet layouts against the published field.

    python -m benchmarks.sheets --data DIR [--set bwmv|kp2d|vsbp|shop|growth] [--rotate] [--seconds S] [--seed N]
        [--only-open] [--class PREFIX] [--jobs 2] [--rivals] [--every N] [--from N] [--list]

`--seconds` is processor time for each instance on one core; kernels are compiled before the clock starts. Each layout
is verified, an incomplete one fails; the exit code is 1 if any failed. `--class` takes the classes whose names start
so, `--every N` each N-th instance of those, beginning with that of number `--from`.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from benchmarks import sheets_rivals
from benchmarks.sheets_clock import ProcessorTime
from benchmarks.sheets_data import Instance, bwmv, kp2d, vsbp
from benchmarks.sheets_shop import growth, shop
from casewright.layout.model import SheetLayout, Status, Unplaced
from casewright.layout.sheets import solve_sheets
from casewright.layout.sheets.fill import fill_sheet
from casewright.layout.sheets.goals import answer
from casewright.layout.sheets.improve import warm
from casewright.layout.verify_sheets import verify_sheets


@dataclass(frozen=True, slots=True)
class Result:
    """What one solver reached on one instance; `fault` is empty if the layout is good and complete."""

    instance: Instance
    solver: str
    value: int
    bound: int
    proven: bool
    seconds: float
    area: int
    fault: str


def run(task: tuple[Instance, str, float, int]) -> Result:
    """Solve one instance with one solver, and verify."""
    instance, solver, seconds, seed = task
    if solver == "casewright":
        warm()
    began = time.process_time()
    if solver != "casewright":
        layout = sheets_rivals.solve(solver, instance.demand, seconds)
    elif instance.values:
        return _fill(instance, seconds, seed)
    else:
        layout = solve_sheets(instance.demand, seed=seed, steps=None, stop=ProcessorTime(began + seconds))
    took = time.process_time() - began
    area = sum(part.length * part.width * part.count for part in instance.demand.parts)
    if layout is None:
        return Result(instance, solver, 0, 0, False, took, area, "no complete guillotine layout")
    faults = verify_sheets(instance.demand, layout) or tuple(f"{u.part} unplaced: {u.why}" for u in layout.unplaced)
    outcome = layout.outcome
    fault = faults[0] if faults else ""
    return Result(instance, solver, outcome.value, outcome.bound, outcome.proven, took, area, fault)


def _fill(instance: Instance, seconds: float, seed: int) -> Result:
    began = time.process_time()
    demand = instance.demand
    filled = fill_sheet(demand, instance.values, seed=seed, steps=None, stop=ProcessorTime(began + seconds))
    patterns = (filled.pattern,) if filled.pattern else ()
    laid = _laid(answer(demand, patterns, (), bound=0, status=Status.TIME, seed=0, steps=0, seconds=0.0))
    rest = tuple(
        Unplaced(part=part.id, count=part.count - laid[part.id], why="worth less than what lies there")
        for part in demand.parts
        if part.count > laid[part.id]
    )
    layout = answer(demand, patterns, rest, bound=0, status=Status.TIME, seed=0, steps=0, seconds=0.0)
    faults = verify_sheets(demand, layout)
    value = sum(instance.values[part] * n for part, n in laid.items())
    fault = faults[0] if faults else ("value differs" if value != filled.value else "")
    took = time.process_time() - began
    return Result(instance, "casewright", value, filled.bound, value >= filled.bound, took, 0, fault)


def _laid(layout: SheetLayout) -> dict[str, int]:
    counts: dict[str, int] = defaultdict(int)
    stack = [pattern.root for pattern in layout.patterns]
    while stack:
        piece = stack.pop()
        if hasattr(piece, "pieces"):
            stack += piece.pieces
        elif hasattr(piece, "part"):
            counts[piece.part] += 1
    return counts


def report(results: Iterable[Result], kind: str) -> bool:
    """Print one row a class and solver; True if all are good."""
    rows: dict[tuple[str, str], list[Result]] = defaultdict(list)
    good = True
    for result in results:
        if result.fault:
            good = False
            print(f"FAULT {result.instance.name} {result.solver}: {result.fault}", file=sys.stderr)
        for group in (result.instance.group, "all"):
            rows[result.solver, group].append(result)
    head = "value" if kind != "vsbp" else "use %"
    print(f"{'solver':14}{'class':14}{'n':>5}{head:>12}{'bound':>12}{'known':>12}{'proven':>8}{'at known':>9}{'s':>9}")
    for (solver, group), of in sorted(rows.items()):
        known = [r for r in of if r.instance.known is not None and not r.fault]
        better = max if kind == "kp2d" else min
        at = sum(better(r.value, r.instance.known or 0) == r.value for r in known)
        total = f"{sum(r.value for r in of):12}" if kind != "vsbp" else f"{_use(of):12.2f}"
        print(
            f"{solver:14}{group:14}{len(of):5}{total}{sum(r.bound for r in of):12}"
            f"{sum(r.instance.known or 0 for r in known):12}{sum(r.proven for r in of):8}{at:9}"
            f"{sum(r.seconds for r in of):9.1f}"
        )
    return good


def _use(results: list[Result]) -> float:
    return 100.0 * sum(r.area / r.value for r in results if r.value) / max(1, len(results))


def _each(tasks: list[tuple[Instance, str, float, int]], jobs: int) -> Iterator[Result]:
    if jobs == 1:
        yield from map(run, tasks)
        return
    with ProcessPoolExecutor(jobs) as pool:
        yield from pool.map(run, tasks)


def _line(r: Result) -> None:
    use = f" {100 * r.area / r.value:.2f} %" if r.value else ""
    print(r.instance.name, r.solver, r.value, r.bound, r.instance.known, f"{r.seconds:.2f}{use} {r.fault}", flush=True)


def main() -> int:
    """Read the command line, run, report."""
    parser = argparse.ArgumentParser(prog="benchmarks.sheets", description=__doc__.partition("\n")[0])
    parser.add_argument("--data", type=Path, default=Path())
    parser.add_argument("--set", default="bwmv", choices=("bwmv", "kp2d", "vsbp", "shop", "growth"))
    parser.add_argument("--rotate", action="store_true")
    parser.add_argument("--seconds", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only-open", action="store_true")
    parser.add_argument("--class", dest="group", default="")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--rivals", action="store_true")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--from", dest="first", type=int, default=0)
    parser.add_argument("--list", action="store_true", help="one line for each instance, as it ends")
    args = parser.parse_args()
    if args.set == "shop":
        return 0 if shop(args.seconds, args.seed) else 1
    if args.set == "growth":
        return 0 if growth(args.seconds, args.seed) else 1
    if not args.data.joinpath("bwmv_instances.csv").is_file():
        parser.error(f"--data {args.data}: no bwmv_instances.csv there; give the folder of the instance files")
    sets = {
        "bwmv": lambda: bwmv(args.data, turn=args.rotate, only_open=args.only_open),
        "kp2d": lambda: kp2d(args.data, turn=args.rotate),
        "vsbp": lambda: vsbp(args.data, turn=args.rotate),
    }
    instances = [i for i in sets[args.set]() if i.group.startswith(args.group)][args.first :: args.every]
    solvers = ["casewright"] + (sheets_rivals.available() if args.rivals and args.set != "kp2d" else [])
    tasks = [(i, solver, args.seconds, args.seed) for i in instances for solver in solvers]
    results = []
    for result in _each(tasks, args.jobs):
        results.append(result)
        if args.list:
            _line(result)
    return 0 if report(results, args.set) else 1


if __name__ == "__main__":
    sys.exit(main())
