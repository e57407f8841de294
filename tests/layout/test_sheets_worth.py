"""The worth of free rectangles: only lengths that things can fill count, and a join is foreseen as it turns out."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from casewright.layout.model import Goal, Saws, SheetDemand, SheetPart, SheetStock
from casewright.layout.sheets.engine import build, new_engine
from casewright.layout.sheets.problem import read
from casewright.layout.sheets.ruin import strip
from casewright.layout.sheets.search import Search
from casewright.layout.sheets.trees import Stockroom, copy_sheet, join
from casewright.layout.sheets.worth import appraise, joined_worth, usable_lengths, worth


def _demand(seed: int, *, turn: bool, scale: int = 1, parts: int = 9) -> SheetDemand:
    rng = random.Random(seed)
    sides = (3, 6, 9, 13, 16)
    pieces = tuple(
        SheetPart(id=str(i), length=scale * rng.choice(sides), width=scale * rng.choice(sides), turn=turn)
        for i in range(parts)
    )
    stock = (SheetStock(id="s", length=40 * scale, width=30 * scale, price=1),)
    return SheetDemand(parts=pieces, stock=stock, saws=Saws(kerf=0), goals=(Goal.COST,))


@pytest.mark.parametrize(("seed", "scale"), [(0, 1), (1, 1), (2, 16_000), (3, 7)])
def test_usable_lengths_are_the_greatest_sums_of_sides(seed: int, scale: int) -> None:
    """By enumeration of all subsets."""
    demand = _demand(seed, turn=False, scale=scale)
    room = new_engine(read(demand), 0, 2).room
    usable, inverse = usable_lengths(room.shape, room.shapes, room.inner)
    pitch = round(1 / inverse)
    for axis, sides in enumerate(([p.length for p in demand.parts], [p.width for p in demand.parts])):
        every = {sum(some) for n in range(len(sides) + 1) for some in itertools.combinations(sides, n)}
        for at, most in enumerate(usable[axis].tolist()):
            assert most == max(total for total in every if total <= at * pitch)


def test_no_list_where_every_length_can_be_filled_or_there_are_too_many() -> None:
    one = np.array([[[2, 2]], [[3, 3]], [[4, 4]], [[5, 5]]], np.int64)
    shapes = np.ones(4, np.int64)
    assert usable_lengths(one, shapes, np.array([[10, 10]]))[0].size == 0
    assert usable_lengths(one, shapes, np.array([[100_000, 100]]))[0].size == 0
    assert usable_lengths(one[1:], shapes[1:], np.array([[10, 10]]))[0].size > 0


def test_a_rectangle_that_nothing_fills_is_worth_what_can_be_filled() -> None:
    demand = _demand(4, turn=False, scale=10)
    room = new_engine(read(demand), 0, 2).room
    assert 0 < worth(room, 0, 250, 190) == worth(room, 0, 259, 199)
    assert worth(room, 0, 290, 29) == worth(room, 1, 29, 290) == 0


@pytest.mark.parametrize("turn", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_the_worth_foreseen_for_a_join_is_the_worth_after_it(seed: int, turn: bool) -> None:
    engine = new_engine(read(_demand(seed, turn=turn, parts=14)), seed, 3)
    f, s = engine.search, engine.room
    build(engine, goal=1)
    tried = 0
    for _ in range(4):
        strip(f, s, 0, 1)
        if f.work.sheet[0] < 0:
            break
        for thing in f.out[: f.out[-1]].tolist():
            tried += _joins(f, s, thing)
    assert tried > 0


def _joins(f: Search, s: Stockroom, thing: int) -> int:
    """Try every join of a thing to the first sheet; returns how many there are."""
    t, tried = f.work, 0
    for shape, node, axis in itertools.product(range(s.shapes[thing]), range(t.nodes[0]), range(2)):
        q = s.shape[thing, shape].tolist()
        above = -1 if node == 0 else -1 - t.kind[0, t.par[0, node]]
        size, room = t.size[0, node], t.room[0, node]
        if axis == above or size[axis] + q[axis] > room[axis] or q[1 - axis] > room[1 - axis]:
            continue
        foreseen = joined_worth(t, s, 0, node, axis, q[0], q[1], t.value[0])
        copy_sheet(t, 0, f.trial, 0)
        assert join(f.trial, s, 0, node, axis, 4 * thing + shape)
        assert foreseen == pytest.approx(appraise(f.trial, s, 0), abs=1e-12)
        tried += 1
    return tried
