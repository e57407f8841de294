"""Random shop jobs for the tests of sheet layouts."""

from __future__ import annotations

import random

from casewright.layout.model import GRID, Axis, Saws, SheetDemand, SheetPart, SheetStock, to_grid_up

MM = GRID
Box = tuple[int, int]


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


def cut_up(rng: random.Random, box: Box, pieces: int, kerf: int) -> list[Box]:
    """Cut a box into so many by lines from edge to edge at random places, the larger side cut."""
    if pieces == 1:
        return [box]
    a = 0 if box[0] >= box[1] else 1
    share = pieces // 2
    at = int(box[a] * share / pieces * rng.uniform(0.8, 1.2))
    near, far = list(box), list(box)
    near[a], far[a] = at, box[a] - at - kerf
    return [
        *cut_up(rng, (near[0], near[1]), share, kerf),
        *cut_up(rng, (far[0], far[1]), pieces - share, kerf),
    ]
