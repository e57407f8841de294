"""Board layouts on generated loads against the bound, on tiny cases against an exact model, and quantities to buy.

    python -m benchmarks.boards [--loads N] [--tiny N] [--buy N] [--steps K] [--seconds S] [--seed N]

Every layout is checked by the independent verifier; the exit code is 1 if any check failed.
"""

from __future__ import annotations

import random

from casewright.layout.model import GRID, BoardDemand, BoardPart, BoardStock

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
