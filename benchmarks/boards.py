"""Board layouts on generated loads against the bound, on tiny cases against an exact model, and quantities to buy.

    python -m benchmarks.boards [--loads N] [--tiny N] [--buy N] [--steps K] [--seconds S] [--seed N]

Every layout is checked by the independent verifier; the exit code is 1 if any check failed.
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
import time
from collections.abc import Iterable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from casewright.layout.boards import solve_boards
from casewright.layout.boards.buy import BoardSupply, quantity_to_buy
from casewright.layout.model import GRID, BoardDemand, BoardLayout, BoardPart, BoardStock
from casewright.layout.verify_boards import verify_boards

INCH = round(25.4 * GRID)


def mm(value: float) -> int:
    """Return `value` mm on the grid."""
    return round(value * GRID)


def load_demand(seed: int) -> BoardDemand:
    """Return a load: 10 to 45 boards of 6 to 12 ft and 4 to 10 in, three grades, a third with a defect; 8 to 25 parts.

    A third of the parts are glue-ups of 250 to 500 mm in strips of 50 to 120 mm; some parts show, some match.
    """
    chance = random.Random(seed)
    parts: list[BoardPart] = []
    for i in range(chance.randint(6, 16)):
        size = mm(chance.randint(150, 1400)), mm(chance.randint(30, 120))
        match = chance.choice(["", "", "", "doors"])
        parts.append(
            BoardPart(
                id=f"p{i}",
                length=size[0],
                width=size[1],
                count=chance.randint(1, 8),
                show=chance.random() < 0.3,
                match=match,
            )
        )
    for i in range(chance.randint(2, 6)):
        parts.append(
            BoardPart(
                id=f"panel{i}",
                length=mm(chance.randint(350, 1000)),
                width=mm(chance.randint(250, 500)),
                count=chance.randint(1, 3),
                strip_min=mm(50),
                strip_max=mm(120),
                jointing=mm(1.5),
                show=chance.random() < 0.5,
            )
        )
    needed = sum(p.length * p.width * p.count for p in parts)
    stock: list[BoardStock] = []
    offered = 0
    while offered < 2.2 * needed or len(stock) < 8:
        stock.append(_board(chance, len(stock)))
        offered += stock[-1].length * stock[-1].width
    return BoardDemand(
        parts=tuple(parts),
        stock=tuple(stock),
        kerf=mm(3.2),
        end_trim=mm(25),
        edge_trim=mm(5),
        keep_length=mm(300),
        keep_width=mm(50),
    )


def _board(chance: random.Random, number: int) -> BoardStock:
    length, width = mm(304.8 * chance.uniform(6, 12)), mm(25.4 * chance.uniform(4, 10))
    grade = chance.choice([0, 0, 1, 1, 2])
    defects: tuple[tuple[int, int], ...] = ()
    if chance.random() < 0.34:
        at = chance.randint(0, length - mm(200))
        defects = ((at, at + mm(chance.randint(20, 200))),)
    price = round(length * width / (INCH * INCH * 144) * (9, 7, 5)[grade] * 100)
    return BoardStock(id=f"b{number}", length=length, width=width, count=1, price=price, defects=defects, grade=grade)


def tiny_demand(seed: int) -> BoardDemand:
    """Return 4 to 8 solid pieces and 3 to 4 boards in whole cm, so that an exact model can answer."""
    chance = random.Random(seed)
    parts = tuple(
        BoardPart(
            id=f"p{i}",
            length=mm(10 * chance.randint(20, 70)),
            width=mm(10 * chance.randint(4, 9)),
            count=chance.randint(1, 2),
        )
        for i in range(chance.randint(3, 5))
    )
    stock = []
    for i in range(chance.randint(3, 4)):
        length, width = chance.randint(90, 160), chance.randint(10, 20)
        at = chance.randint(0, length - 10)
        defects = ((mm(10 * at), mm(10 * at + 60)),) if chance.random() < 0.4 else ()
        price = length * width * chance.randint(8, 12)
        stock.append(
            BoardStock(id=f"b{i}", length=mm(10 * length), width=mm(10 * width), count=1, price=price, defects=defects)
        )
    return BoardDemand(parts=parts, stock=tuple(stock), kerf=mm(5))


def exact_cost(demand: BoardDemand, seconds: float = 60.0) -> int | None:
    """Return the least cost of a `tiny_demand` by CP-SAT, None where it cannot be cut or was not settled.

    The model lets pieces lie anywhere on a board without overlap, saw lines or none, so that it is a bound on what
    can be sawn: an equal cost of ours is optimal.
    """
    model = cp_model.CpModel()
    unit = mm(5)
    kerf = demand.kerf // unit
    pieces = [(p.length // unit, p.width // unit) for p in demand.parts for _ in range(p.count)]
    used = [model.new_bool_var(s.id) for s in demand.stock]
    on = [[model.new_bool_var(f"{k} on {s.id}") for s in demand.stock] for k in range(len(pieces))]
    for k in range(len(pieces)):
        model.add_exactly_one(on[k])
    for j, source in enumerate(demand.stock):
        across, along = [], []
        for k, (length, width) in enumerate(pieces):
            model.add_implication(on[k][j], used[j])
            room = source.length // unit - length, source.width // unit - width
            if min(room) < 0:
                model.add(on[k][j] == 0)
                continue
            x, y = model.new_int_var(0, room[0], f"x{k},{j}"), model.new_int_var(0, room[1], f"y{k},{j}")
            along.append(model.new_optional_fixed_size_interval_var(x, length + kerf, on[k][j], f"a{k},{j}"))
            across.append(model.new_optional_fixed_size_interval_var(y, width + kerf, on[k][j], f"w{k},{j}"))
            for low, high in source.defects:
                before = model.new_bool_var(f"before {k},{j}")
                model.add(x + length <= low // unit).only_enforce_if(before, on[k][j])
                model.add(x >= -(-high // unit)).only_enforce_if(before.negated(), on[k][j])
        model.add_no_overlap_2d(along, across)
    model.minimize(sum(source.price * used[j] for j, source in enumerate(demand.stock)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    return round(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


@dataclass(slots=True)
class Tally:
    """What the loads have come to so far; yields are surface of parts over surface of boards."""

    failures: int = 0
    yields: list[float] = field(default_factory=list)
    at_bound: list[float] = field(default_factory=list)  # the yield that would meet the bound on the surface
    gaps: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)


def check(name: str, demand: BoardDemand, layout: BoardLayout) -> int:
    """Verify a layout; print and count what is wrong."""
    wrong = verify_boards(demand, layout)
    for text in wrong:
        print(f"  FAILED {name}: {text}")
    return bool(wrong)


def _surface(demand: BoardDemand) -> int:
    return sum(p.length * p.width * p.count for p in demand.parts)


def run_loads(demands: Iterable[BoardDemand], args: argparse.Namespace) -> int:
    """Solve generated loads and print their yield beside the one that would meet the bound."""
    tally = Tally()
    for number, demand in enumerate(demands):
        by_surface = BoardDemand(
            **{name: getattr(demand, name) for name in ("parts", "kerf", "end_trim", "edge_trim")},
            stock=tuple(
                BoardStock(id=s.id, length=s.length, width=s.width, count=s.count, defects=s.defects)
                for s in demand.stock
            ),
        )
        began = time.process_time()
        layout = solve_boards(demand, seed=args.seed, steps=args.steps, seconds=args.seconds)
        tally.seconds.append(time.process_time() - began)
        tally.failures += check(f"load {number}", demand, layout)
        plain = solve_boards(by_surface, seed=args.seed, steps=args.steps, seconds=args.seconds)
        tally.failures += check(f"load {number} by surface", by_surface, plain)
        tally.gaps.append(layout.outcome.gap)
        tally.yields.append(_surface(demand) / plain.outcome.value)
        tally.at_bound.append(_surface(demand) / plain.outcome.bound)
        value, bound = layout.outcome.value, layout.outcome.bound
        print(
            f"  load {number:3d}: {len(layout.patterns)} boards, cost {value}, bound {bound};"
            f" by surface: yield {tally.yields[-1]:.3f}, at the bound {tally.at_bound[-1]:.3f}",
            flush=True,
        )
    mean = statistics.mean
    print(
        f"loads {len(tally.gaps)}: gap of cost {mean(tally.gaps):.3f}, yield {mean(tally.yields):.3f}"
        f" (at the bound {mean(tally.at_bound):.3f}), {mean(tally.seconds):.2f} s processor, failed {tally.failures}"
    )
    return tally.failures


def run_tiny(demands: Iterable[BoardDemand], args: argparse.Namespace) -> int:
    """Compare tiny cases with the exact model."""
    equal = compared = failures = 0
    over: list[float] = []
    for number, demand in enumerate(demands):
        layout = solve_boards(demand, seed=args.seed, steps=args.steps, seconds=args.seconds)
        failures += check(f"tiny {number}", demand, layout)
        exact = exact_cost(demand)
        if exact is None:
            continue
        compared += 1
        equal += not layout.unplaced and layout.outcome.value == exact
        over.append(layout.outcome.value / exact - 1 if not layout.unplaced else 1.0)
        if layout.outcome.bound > exact or (not layout.unplaced and layout.outcome.value < exact):
            failures += 1
            print(f"  FAILED tiny {number}: {layout.outcome.value}, bound {layout.outcome.bound}, exact {exact}")
    print(f"tiny {compared}: {equal} equal the exact model, mean {statistics.mean(over):.3%} above, failed {failures}")
    return failures


def run_buy(demands: Iterable[BoardDemand], args: argparse.Namespace) -> None:
    """Print quantities to buy for generated loads, nothing on hand."""
    supply = BoardSupply(
        lengths=tuple((mm(304.8 * feet), 1.0) for feet in (6, 8, 10, 12)),
        widths=tuple((mm(25.4 * inches), 1.0) for inches in (5, 6, 7, 8, 9)),
        defect_chance=0.3,
        defect_lengths=(mm(20), mm(200)),
    )
    foot = (12 * INCH) ** 2
    for number, demand in enumerate(demands):
        began = time.process_time()
        bare = BoardDemand(parts=demand.parts, stock=(), kerf=demand.kerf, end_trim=mm(25), edge_trim=mm(5))
        answer = quantity_to_buy(bare, supply, seed=args.seed)
        texts = [f"{q.chance:.0%}: {q.surface / foot:.0f}" for q in answer.quantities]
        spent = time.process_time() - began
        print(f"  buy {number}: parts {_surface(demand) / foot:.0f} sq ft; {', '.join(texts)} sq ft ({spent:.1f} s)")


def main() -> int:
    """Read the command line, run, print one row a group."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--loads", type=int, default=0, help="number of generated loads")
    parser.add_argument("--tiny", type=int, default=0, help="number of tiny cases to compare with the exact model")
    parser.add_argument("--buy", type=int, default=0, help="number of loads to simulate buying for")
    parser.add_argument("--steps", type=int, default=None)
    parser.add_argument("--seconds", type=float, default=None)
    parser.add_argument("--seed", type=int, default=0)
    args = parser.parse_args()
    failures = run_loads((load_demand(n) for n in range(args.loads)), args) if args.loads else 0
    failures += run_tiny((tiny_demand(n) for n in range(args.tiny)), args) if args.tiny else 0
    run_buy((load_demand(n) for n in range(args.buy)), args)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
