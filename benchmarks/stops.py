"""Every stop on random orders, written down one by one so that each can be read and judged.

    python -m benchmarks.stops FILE.csv [--orders 1000] [--seed 0]

Even seeds are cases from the whole grammar, odd seeds bedside cabinets; designs and all checks run on each. A stop of a
pair is written once for each hand. Rows are added to FILE.csv order by order, so that a long run can be made in slices.
What the readings came to: docs/reading-of-stops.md.
"""

from __future__ import annotations

import argparse
import collections
import csv
import random
import time
from collections.abc import Callable
from pathlib import Path

from tests.laws.case_orders import random_case
from tests.laws.orders import project_of, random_order, random_shop

from casewright import Project
from casewright.accepting import accepted
from casewright.findings import Finding

KINDS: tuple[tuple[str, Callable[[random.Random], str]], ...] = (("case", random_case), ("bedside", random_order))
HEAD = ("seed", "kind", "stage", "code", "path", "message", "value", "limit", "unit", "source")


def project_after(seed: int) -> tuple[str, Project]:
    """Return the kind of order that a seed gives, and its project."""
    rng = random.Random(seed)
    kind, order_text = KINDS[seed % len(KINDS)]
    order = order_text(rng)
    return kind, project_of(order, random_shop(rng))


def stops_of(project: Project) -> list[tuple[str, Finding]]:
    """Return each stop that the order does not accept, with what found it: `design` or `check`."""
    designed = {f for piece in project.assembly.pieces for f in piece.findings}
    found = accepted(project.piece_findings, project.order.accepted)
    return [("design" if f in designed else "check", f) for f in found if f.stops]


def row(seed: int, kind: str, stage: str, stop: Finding) -> list[str]:
    """Return one line of the file, in the order of `HEAD`; numbers to a thousandth."""
    value, limit = ("" if v is None else f"{v:.3f}" for v in (stop.value, stop.limit))
    return [str(seed), kind, stage, stop.code, stop.path, stop.message, value, limit, stop.unit, stop.source]


def became(stages: set[str]) -> str:
    """Return what became of an order whose stops come from these stages."""
    if "design" in stages:
        return "refused by the design"
    return "stopped by a check" if stages else "quiet"


def main() -> int:
    """Run the orders, add their stops to the file, print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--orders", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    fresh = not options.file.exists()
    start = time.process_time()
    codes: collections.Counter[tuple[str, str]] = collections.Counter()
    orders: collections.Counter[str] = collections.Counter()
    with options.file.open("a", encoding="utf-8", newline="") as out:
        rows = csv.writer(out)
        if fresh:
            rows.writerow(HEAD)
        for seed in range(options.seed, options.seed + options.orders):
            kind, project = project_after(seed)
            stops = stops_of(project)
            orders[f"{kind}: {became({stage for stage, _ in stops})}"] += 1
            codes.update({(stage, stop.code) for stage, stop in stops})
            rows.writerows(row(seed, kind, stage, stop) for stage, stop in stops)
            out.flush()
    print(f"{options.orders} orders from seed {options.seed}, {time.process_time() - start:.0f} s CPU")
    for what, count in sorted(orders.items()):
        print(f"  {count:5d}  {what}")
    print("orders with at least one stop of a code:")
    for (stage, code), count in sorted(codes.items()):
        print(f"  {count:5d}  {stage:6s}  {code}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
