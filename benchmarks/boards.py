"""Board layouts on generated loads against the bound, on tiny cases against an exact model, and quantities to buy.

    python -m benchmarks.boards [--loads N] [--tiny N] [--buy N] [--large] [--steps K] [--seconds S] [--seed N]

Every layout is checked by the independent verifier; the exit code is 1 if any check failed.
"""

from __future__ import annotations

import argparse
import itertools
import random
import statistics
import sys
import time
from collections.abc import Iterable
from dataclasses import dataclass, field

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


def exact_cost(demand: BoardDemand) -> int | None:
    """Return the least cost of a `tiny_demand`, None where it cannot be cut: all edge-to-edge cuts tried.

    The smallest boxes from which each set of pieces can be sawn come from the boxes of its parts, side by side or end
    to end; a board takes the sets that fit its clear stretches together. Knows no code of the solver.
    """
    pieces = [(p.length, p.width) for p in demand.parts for _ in range(p.count)]
    boxes = _boxes(pieces, demand.kerf)
    everything = len(boxes) - 1
    least = {0: 0}
    for source in demand.stock:
        held = _sets_on(source, boxes, demand)
        before = dict(least)
        for done, cost in before.items():
            for bits in held:
                if not done & bits and cost + source.price < least.get(done | bits, 1 << 60):
                    least[done | bits] = cost + source.price
    return least.get(everything)


def _boxes(pieces: list[tuple[int, int]], kerf: int) -> list[set[tuple[int, int]]]:
    """The smallest (length, width) from which each set of pieces (as bits) can be sawn."""
    boxes: list[set[tuple[int, int]]] = [set() for _ in range(1 << len(pieces))]
    for bits in range(1, len(boxes)):
        found = {pieces[bits.bit_length() - 1]} if bits & (bits - 1) == 0 else set()
        part = (bits - 1) & bits
        while part > bits ^ part:
            for (a, b), (c, d) in itertools.product(boxes[part], boxes[bits ^ part]):
                found |= {(a + kerf + c, max(b, d)), (max(a, c), b + kerf + d)}
            part = (part - 1) & bits
        boxes[bits] = {(a, b) for a, b in found if not any((c, d) != (a, b) and c <= a and d <= b for c, d in found)}
    return boxes


def _sets_on(source: BoardStock, boxes: list[set[tuple[int, int]]], demand: BoardDemand) -> set[int]:
    """The sets of pieces that can be sawn from one board, its unusable stretches left out."""
    held = {0}
    at = 0
    for low, high in (*sorted(source.defects), (source.length, source.length)):
        fits = {k for k, sizes in enumerate(boxes) if any(a <= low - at and b <= source.width for a, b in sizes)}
        held |= {a | b for a in held for b in fits if not a & b}
        at = max(high, low + 2 * demand.kerf)
    return held - {0}


def large_demand(count: int, *, glue_ups: bool) -> BoardDemand:
    """Return `count` of each of two glue-ups, each in a match, or of each of 18 solid parts; twelve boards to buy."""
    chance = random.Random(7)
    if glue_ups:
        parts = [
            BoardPart(
                id=f"top{i}",
                length=mm(chance.randint(500, 1000)),
                width=mm(chance.randint(350, 500)),
                count=count,
                strip_min=mm(40),
                strip_max=mm(120),
                jointing=mm(1.5),
                match=f"set{i}",
            )
            for i in range(2)
        ]
    else:
        parts = [
            BoardPart(id=f"p{i}", length=mm(chance.randint(200, 1200)), width=mm(chance.randint(30, 110)), count=count)
            for i in range(18)
        ]
    stock = [
        BoardStock(id=f"{feet}x{inches}", length=12 * feet * INCH, width=inches * INCH, price=feet * inches * 54)
        for feet in (8, 10, 12)
        for inches in (5, 6, 7, 8)
    ]
    return BoardDemand(parts=tuple(parts), stock=tuple(stock), kerf=mm(3.2), end_trim=mm(25), edge_trim=mm(3))


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
            failures += not layout.unplaced
            continue
        compared += 1
        equal += not layout.unplaced and layout.outcome.value == exact
        over.append(layout.outcome.value / exact - 1 if not layout.unplaced else 1.0)
        if layout.outcome.bound > exact or (not layout.unplaced and layout.outcome.value < exact):
            failures += 1
            print(f"  FAILED tiny {number}: {layout.outcome.value}, bound {layout.outcome.bound}, exact {exact}")
    print(f"tiny {compared}: {equal} equal the exact model, mean {statistics.mean(over):.3%} above, failed {failures}")
    return failures


def run_large(args: argparse.Namespace) -> int:
    """Solve large orders and print value, gap and processor time."""
    failures = 0
    for count in (100, 1000):
        for glue_ups in (True, False):
            demand = large_demand(count, glue_ups=glue_ups)
            began = time.process_time()
            layout = solve_boards(demand, seed=args.seed, steps=args.steps, seconds=args.seconds)
            spent = time.process_time() - began
            name = f"{sum(p.count for p in demand.parts)} {'glue-ups' if glue_ups else 'solid parts'}"
            failures += check(name, demand, layout) + bool(layout.unplaced)
            boards = sum(p.times for p in layout.patterns)
            print(f"  {name}: {boards} boards, gap {layout.outcome.gap:.3f}, {spent:.1f} s processor", flush=True)
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
    parser.add_argument("--large", action="store_true", help="200 and 2,000 glue-ups, 1,800 and 18,000 solid parts")
    parser.add_argument("--steps", type=int, default=None)
    parser.add_argument("--seconds", type=float, default=None)
    parser.add_argument("--seed", type=int, default=0)
    args = parser.parse_args()
    failures = run_loads((load_demand(n) for n in range(args.loads)), args) if args.loads else 0
    failures += run_tiny((tiny_demand(n) for n in range(args.tiny)), args) if args.tiny else 0
    failures += run_large(args) if args.large else 0
    run_buy((load_demand(n) for n in range(args.buy)), args)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
