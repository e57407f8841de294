"""Bounds where there are several kinds of sheet: sizes are exaggerated, and each kind gets its own capacity.

Any two functions f of widths and g of heights, none below 0, give every thing a value f(w) g(h) (a thing that may turn
the smaller of its two). If no widths that fit side by side in kind k come to more than F(k) after f, and no heights to
more than G(k) after g, no sheet of kind k holds more than F(k) G(k), so that the sheets of any layout must come to
Σ f(w) g(h): a row of `stock_sets` as the plain areas are. The functions are the dual-feasible ones of each kind's own
sides (`dual_feasible`); for the other kinds F and G are found by a recursion over lengths (a knapsack with counts).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sheets.dual_feasible import Shares, Sizes, functions, shares
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.stock_sets import Row, StockSets, rows_of

THRESHOLDS = 8  # of each family of functions, for each side of each kind
LENGTHS = 1_000  # steps of the recursion over lengths: sizes are rounded down, which keeps it a bound
MOST_KINDS = 6
MOST_PARTS = 400  # different ones
BEST = 12  # rows that ask most, for the money, kept
SAFE = 1 - 1e-9


def all_rows(problem: Problem) -> list[Row]:
    """What sets of sheets must have room for: areas (`rows_of`), then exaggerated ones."""
    return rows_of(problem) + exaggerated(problem)


def least_price(problem: Problem, low: int, high: int) -> int:
    """A price from `low` to `high` below which no set of sheets has room for everything."""
    return StockSets(problem, all_rows(problem), 0).least(low, high)


def exaggerated(problem: Problem) -> list[Row]:
    """Rows that ask more of sets of sheets than plain area does; none with groups or one kind of sheet."""
    kinds, things = problem.inner, problem.things
    if not 1 < len(kinds) <= MOST_KINDS or len(things) > MOST_PARTS or any(len(t.members) > 1 for t in things):
        return []
    kerf = min(problem.rules.kerf, problem.rules.rough)
    full = np.array(kinds, np.int64) + kerf
    lying = np.array([thing.shapes[0].size for thing in things], np.int64).reshape(-1, 2) + kerf
    count = np.array([thing.count for thing in things], np.int64)
    turns = np.array([len(thing.shapes) > 1 for thing in things], np.bool_)
    straight = np.all(lying[None] <= full[:, None], axis=2)  # kind, thing
    turned = np.all(lying[None, :, ::-1] <= full[:, None], axis=2) & turns
    value, value_turned, room = [], [], []
    for a in (0, 1):
        listed = [(f, int(side)) for side in np.unique(full[:, a]) for f in functions(int(side), lying, THRESHOLDS)]
        value.append(np.array([shares(f, lying[:, a], side) for f, side in listed]))
        value_turned.append(np.array([shares(f, lying[:, 1 - a], side) for f, side in listed]))
        rooms = []
        for k, side in enumerate(full[:, a].tolist()):
            s, t = straight[k], turned[k]
            values = np.concatenate([value[a][:, s], value_turned[a][:, t]], axis=1)
            sizes = np.concatenate([lying[s, a], lying[t, 1 - a]])
            rooms.append(room_along(side, sizes, np.concatenate([count[s], count[t]]), values))
        room.append(np.array(rooms))
    need = _needs(value, value_turned, count, straight.any(axis=0), turned.any(axis=0))
    return _best(problem, SAFE * need, room[0], room[1])


def room_along(full: int, sizes: Sizes, count: Sizes, value: Shares) -> Shares:
    """The most that sizes side by side in `full` come to, for each row of values."""
    unit = max(1, full // LENGTHS)
    most = np.zeros((len(value), full // unit + 1))
    for i in np.argsort(-sizes, kind="stable"):
        left = min(int(count[i]), full // int(sizes[i]))
        some = 1
        while left > 0:  # so many at once: 1, 2, 4, …, the rest
            some = min(some, left)
            step = some * (int(sizes[i]) // unit)
            if step == 0:
                most += some * value[:, i : i + 1]
            elif step < most.shape[1]:
                np.maximum(most[:, step:], most[:, :-step] + some * value[:, i : i + 1], out=most[:, step:])
            left -= some
            some *= 2
    return most[:, -1]


def _needs(
    value: list[Shares], turned: list[Shares], count: Sizes, fits: NDArray[np.bool_], fits_turned: NDArray[np.bool_]
) -> Shares:
    """What all things come to, for each pair of functions."""
    need = np.zeros((len(value[0]), len(value[1])))
    for f in range(len(need)):
        upright, lying = value[1] * value[0][f], turned[1] * turned[0][f]
        least = np.where(fits, np.where(fits_turned, np.minimum(upright, lying), upright), lying)
        need[f] = least @ count
    return need


def _best(problem: Problem, need: Shares, wide: Shares, high: Shares) -> list[Row]:
    """The rows for which sheets that could be bought in parts cost most, at most one for each function of widths."""
    room = wide[:, :, None] * high[:, None, :]
    prices = np.array([sheet.price for sheet in problem.sheets], np.float64)
    free = np.array([n or 0 if sheet.price == 0 else 0 for n, sheet in zip(problem.left, problem.sheets, strict=True)])
    open_ = need - np.tensordot(free, room, 1)
    rate = (room[prices > 0] / prices[prices > 0][:, None, None]).max(axis=0)
    cost = np.where(rate > 0, open_ / np.maximum(rate, 1e-12), 0.0)
    rows = []
    for f in np.argsort(-cost.max(axis=1))[:BEST]:
        g = int(np.argmax(cost[f]))
        rows.append(Row(float(need[f, g]), tuple(room[:, f, g].tolist())))
    return rows
