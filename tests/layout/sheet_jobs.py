"""Random shop jobs for the tests of sheet layouts."""

from __future__ import annotations

import random

from casewright.layout.model import GRID, Axis, Saws, SheetDemand, SheetPart, SheetStock, to_grid_up

MM = GRID


def parts_of(rng: random.Random, kinds: int) -> tuple[SheetPart, ...]:
    """Parts of a cabinet, some with grain, three of them perhaps a matched group."""
    matched = rng.random() < 0.5
    return tuple(
        SheetPart(
            id=f"p{i}",
            length=to_grid_up(rng.uniform(60, 900)),
            width=to_grid_up(rng.uniform(40, 600)),
            count=rng.randint(1, 3),
            turn=rng.random() < 0.4,
            group="fronts" if matched and i in (3, 4, 5) else "",
            sequence=i,
        )
        for i in range(kinds)
    )


def shop_job(seed: int) -> SheetDemand:
    """A job with any mixture of the limits that a shop can have."""
    rng = random.Random(seed)
    stock = (
        SheetStock(id="full", length=2440 * MM, width=1220 * MM, price=9000, trim=(5 * MM,) * 4),
        SheetStock(id="square", length=1525 * MM, width=1525 * MM, price=7000),
        SheetStock(id="offcut", length=1000 * MM, width=700 * MM, count=2, offcut=True),
    )
    saws = Saws(
        kerf=to_grid_up(3.2),
        breakdown_kerf=to_grid_up(2.5),
        breakdown_allowance=rng.choice([0, 3 * MM]),
        lift_length=rng.choice([None, 1600 * MM]),
        lift_width=rng.choice([None, 1300 * MM]),
        longest_rip=rng.choice([None, 1300 * MM, 2500 * MM]),
        widest_crosscut=rng.choice([None, 1230 * MM]),
    )
    return SheetDemand(
        parts=parts_of(rng, rng.randint(1, 20)),
        stock=stock,
        saws=saws,
        first=rng.choice([None, None, Axis.RIP, Axis.CROSSCUT]),
        stages=rng.choice([None, None, 3, 4]),
        keep_length=300 * MM,
        keep_width=200 * MM,
    )
