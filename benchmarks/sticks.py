"""Stick layouts against public one-dimensional sets, generated shop jobs, and a large job.

    python -m benchmarks.sticks --data bpp1d.csv [--set NAME ...] [--seconds S] [--every K] [--seed N]
    python -m benchmarks.sticks --shop 200 [--seconds S]
    python -m benchmarks.sticks --mitred 200
    python -m benchmarks.sticks --large

The data file has the columns instance, set, capacity, best_lb, best_ub, items ("LENGTHxDEMAND ..."). Every plan is
checked by the independent verifier and against the published bounds; the exit code is 1 if any check failed.
"""

from __future__ import annotations

import argparse
import csv
import random
import statistics
import sys
import time
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from casewright.layout.model import GRID, StickDemand, StickEnd, StickLayout, StickPart, StickStock
from casewright.layout.sticks import solve_sticks
from casewright.layout.verify_sticks import verify_sticks

INCH = round(25.4 * GRID)


@dataclass(slots=True)
class Tally:
    """What a set has come to so far."""

    instances: int = 0
    proven: int = 0
    at_best: int = 0
    failures: int = 0
    seconds: list[float] = field(default_factory=list)
    processor: list[float] = field(default_factory=list)

    def line(self, name: str) -> str:
        """One row of the table."""
        worst, median = max(self.seconds), statistics.median(self.seconds)
        counts = f"{self.instances:5d} {self.proven:7d} {self.at_best:8d} {self.failures:7d}"
        busy = f"{statistics.median(self.processor):9.3f} {max(self.processor):8.2f}"
        return f"{name:14s} {counts} {median:9.3f} {worst:8.2f} {busy}"


COLUMNS = ("plans", 5), ("proven", 7), ("at best", 8), ("failed", 7)
TIMES = ("median s", 9), ("max s", 8), ("cpu med", 9), ("cpu max", 8)
HEADER = " ".join([f"{'set':14s}", *(f"{name:>{width}s}" for name, width in (*COLUMNS, *TIMES))])


def public_demand(row: dict[str, str]) -> StickDemand:
    """Return the demand of one row of the data file: one stick length at a price of 1."""
    items = [text.split("x") for text in row["items"].split()]
    parts = tuple(StickPart(id=f"{i}", length=int(size), count=int(n)) for i, (size, n) in enumerate(items))
    return StickDemand(parts=parts, stock=(StickStock(id="bin", length=int(row["capacity"]), price=1),), kerf=0)


def shop_demand(seed: int) -> StickDemand:
    """Return a shop job: 15 to 60 lengths, 1 to 8 of each, 1 to 10 stock lengths of 72 to 204 in, 0 to 12 offcuts.

    1/8 in kerf. Every fourth job is on 0.1 mm, the others on 1/16 in; every second is priced by the stick (9 to 11
    an inch), the others count the length bought; every third trims 1/2 in off new sticks.
    """
    chance = random.Random(seed)
    unit = round(GRID / 10) if seed % 4 == 3 else INCH // 16
    wanted = chance.randint(15, 60)
    stocked = sorted(chance.sample(range(72, 205, 6), chance.randint(1, 10)))
    longest = min(stocked[-1] * 0.7, 70)
    lengths = sorted({round(chance.uniform(3, longest) * INCH / unit) * unit for _ in range(wanted)})
    parts = tuple(StickPart(id=f"p{i}", length=size, count=chance.randint(1, 8)) for i, size in enumerate(lengths))
    prices = [round(x * chance.uniform(9, 11)) if seed % 2 else 0 for x in stocked]
    stock = [StickStock(id=f"s{x}", length=x * INCH, price=p) for x, p in zip(stocked, prices, strict=True)]
    for k in range(chance.randint(0, 12)):
        length = round(chance.uniform(12, 60) * INCH / unit) * unit
        stock.append(StickStock(id=f"offcut{k}", length=length, count=chance.randint(1, 3), offcut=True))
    return StickDemand(parts=parts, stock=tuple(stock), kerf=INCH // 8, end_trim=0 if seed % 3 else INCH // 2)


def mitred_demand(seed: int) -> StickDemand:
    """Return a moulding job: 2 to 8 lengths, 1 to 5 of each, ends square or mitred by chance; three stock lengths.

    Four of five jobs share mitres; all must hold 8 in at the saw; half have an offcut.
    """
    chance = random.Random(seed)
    run = round(chance.choice((12.7, 19.1, 37.2, 64, 88)) * GRID)
    ends = {"M": StickEnd.MITRE, "S": StickEnd.SQUARE, "I": StickEnd.MITRE_IN}
    parts = []
    for i in range(chance.randint(2, 8)):
        left, right = (ends[end] for end in chance.choice(("MM", "MS", "SM", "SS", "MI", "II")))
        short = run < 60 * GRID and chance.random() < 0.33
        length = chance.uniform(2 * run / GRID + 5, 180) if short else chance.uniform(200, 1200)
        runs = [0 if end is StickEnd.SQUARE else run for end in (left, right)]
        count, size = chance.randint(1, 5), round(length * GRID)
        parts.append(
            StickPart(id=f"p{i}", length=size, count=count, left=left, right=right, left_run=runs[0], right_run=runs[1])
        )
    stock = [StickStock(id=f"{x}", length=12 * x * INCH, price=x * 53) for x in (8, 12, 16)]
    if chance.random() < 0.5:
        stock.append(StickStock(id="offcut", length=chance.randint(20, 60) * INCH, count=1, offcut=True))
    return StickDemand(
        parts=tuple(parts),
        stock=tuple(stock),
        kerf=round(2.4 * GRID),
        mitre_kerf=chance.choice((0, round(3.4 * GRID))),
        end_trim=6 * GRID,
        least_held=8 * INCH,
        share_mitres=chance.random() < 0.8,
    )


def large_demand() -> StickDemand:
    """Return 20,000 pieces in 200 lengths, four stock lengths, twenty kinds of offcut."""
    chance = random.Random(5)
    lengths = chance.sample(range(48, 16 * 70), 200)
    counts = [1] * 200
    for _ in range(19_800):
        counts[chance.randrange(200)] += 1
    parts = [
        StickPart(id=f"p{i}", length=x * INCH // 16, count=n)
        for i, (x, n) in enumerate(zip(lengths, counts, strict=True))
    ]
    stock = [StickStock(id=f"{x}", length=x * INCH, price=x * 10 + chance.randint(0, 60)) for x in (96, 120, 144, 192)]
    for k in range(20):
        stock.append(StickStock(id=f"offcut{k}", length=chance.randint(20, 60) * INCH, count=2, offcut=True))
    return StickDemand(parts=tuple(parts), stock=tuple(stock), kerf=INCH // 8)


def run(name: str, demand: StickDemand, tally: Tally, args: argparse.Namespace) -> StickLayout:
    """Solve and verify one demand and count it."""
    began, busy = time.perf_counter(), time.process_time()
    layout = solve_sticks(demand, seed=args.seed, seconds=args.seconds)
    tally.seconds.append(time.perf_counter() - began)
    tally.processor.append(time.process_time() - busy)
    wrong = verify_sticks(demand, layout)
    if layout.unplaced:
        wrong = (*wrong, f"{len(layout.unplaced)} parts are not placed")
    tally.instances += 1
    tally.proven += layout.outcome.proven
    tally.failures += bool(wrong)
    for text in wrong:
        print(f"  FAILED {name}: {text}")
    if not layout.outcome.proven:
        o = layout.outcome
        print(f"  open   {name}: value {o.value}, bound {o.bound}, {tally.seconds[-1]:.1f} s", flush=True)
    return layout


def run_public(args: argparse.Namespace) -> list[Tally]:
    """Run the public sets of the data file."""
    csv.field_size_limit(1 << 30)
    with Path(args.data).open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if not args.set or row["set"] in args.set]
    by_set: dict[str, list[dict[str, str]]] = defaultdict(list)
    for row in rows:
        by_set[row["set"]].append(row)
    tallies = []
    for name, members in by_set.items():
        tally = Tally()
        for row in members[:: args.every]:
            layout = run(row["instance"], public_demand(row), tally, args)
            low, high = int(row["best_lb"]), int(row["best_ub"])
            tally.at_best += layout.outcome.value <= high
            if layout.outcome.value < low or layout.outcome.bound > high:
                tally.failures += 1
                print(f"  FAILED {row['instance']}: against the published {low} to {high}")
        print(tally.line(name), flush=True)
        tallies.append(tally)
    return tallies


def run_generated(name: str, demands: Iterable[StickDemand], args: argparse.Namespace) -> Tally:
    """Run generated jobs."""
    tally = Tally()
    for number, demand in enumerate(demands):
        run(f"{name} {number}", demand, tally, args)
    print(tally.line(name), flush=True)
    return tally


def main() -> int:
    """Read the command line, run, print one row a set."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--data", help="CSV file of public instances")
    parser.add_argument("--set", action="append", help="only this set (may be repeated)")
    parser.add_argument("--every", type=int, default=1, help="only every K-th instance")
    parser.add_argument("--shop", type=int, default=0, help="number of generated shop jobs")
    parser.add_argument("--mitred", type=int, default=0, help="number of generated moulding jobs with mitred ends")
    parser.add_argument("--large", action="store_true", help="20,000 pieces in 200 lengths")
    parser.add_argument("--seconds", type=float, default=10.0, help="outer limit for each plan")
    parser.add_argument("--seed", type=int, default=0)
    args = parser.parse_args()
    solve_sticks(shop_demand(1), seconds=60)  # compile first
    print(HEADER)
    tallies = run_public(args) if args.data else []
    if args.shop:
        tallies.append(run_generated("shop", (shop_demand(n) for n in range(args.shop)), args))
    if args.mitred:
        tallies.append(run_generated("mitred", (mitred_demand(n) for n in range(args.mitred)), args))
    if args.large:
        tallies.append(run_generated("large", [large_demand()], args))
    return 1 if any(t.failures for t in tallies) else 0


if __name__ == "__main__":
    sys.exit(main())
