"""Random cases from the whole grammar: how many are buildable, why the rest is not, and whether every law holds.

Each order is tried as it is, and with what it asks for by name (joints, fixings, hinges) left to the design.

    python -m benchmarks.cases [--orders 2000] [--seed 0]

Exit 1 if a buildable order breaks a law or an order ends in an error.
"""

from __future__ import annotations

import argparse
import collections
import random
import sys
import time

from tests.laws.case_orders import left_to_itself, random_case
from tests.laws.orders import project_of, random_shop
from tests.laws.test_cases import pieces_hold

from casewright.findings import Finding
from casewright.project import Project


def _stops(project: Project) -> list[Finding]:
    return [f for piece in project.assembly.pieces for f in piece.findings if f.stops]


def main() -> int:
    """Run the orders one by one and print what became of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--orders", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    reasons: collections.Counter[str] = collections.Counter()
    example: dict[str, str] = {}
    built = broken = auto_built = 0
    start = time.process_time()
    for seed in range(options.seed, options.seed + options.orders):
        rng = random.Random(seed)
        order, shop = random_case(rng), random_shop(rng)
        try:
            project = project_of(order, shop)
            stops = _stops(project)
            if stops:
                reasons[stops[0].code] += 1
                example.setdefault(stops[0].code, f"seed {seed}: {stops[0].path}: {stops[0].message}")
                project = project_of(left_to_itself(order), shop)
                if _stops(project):
                    continue
            else:
                built += 1
            auto_built += 1
            pieces_hold(project)
        except Exception as law:  # noqa: BLE001 (an order that ends in an error is what this run looks for)
            broken += 1
            print(f"seed {seed} breaks a law: {type(law).__name__} {str(law)[:400]}", flush=True)
    took = time.process_time() - start
    as_named, by_itself = (f"{n} ({n / options.orders:.0%})" for n in (built, auto_built))
    print(
        f"{options.orders} orders, {as_named} buildable as named, {by_itself} as named or left to the design, {broken} "
        f"break a law, {took:.0f} s CPU; refused as named:"
    )
    for code, count in reasons.most_common():
        print(f"  {count:5d}  {code:24s} {example[code]}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
