"""A search under way on slicing trees, and its smallest moves: chance, the best join of a thing to a sheet."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.legal import legal
from casewright.layout.sheets.trees import Floats, Ints, Stockroom, Trees, copy_sheet, join, new_trees
from casewright.layout.sheets.worth import appraise, joined_worth

HUGE = 1e300  # fast arithmetic knows no infinity


class Search(NamedTuple):
    """A search under way: the solution it stands at, the one it works on, and its memory."""

    at: Trees
    work: Trees
    trial: Trees  # one slot, to try joins on where the saws have limits
    at_out: Ints
    out: Ints  # last entry: how many
    spent: Ints  # price of stock at, work; random state; steps, memory, last improvement of a round; versions; memory:
    # the longest of these rounds, that of all rounds (0: they grow)
    touched: Ints
    gone: Ints
    order: Ints
    shelf: Ints
    key: Floats
    history: Floats
    cost: Floats  # at, best of the round
    seen: Ints  # thing, sheet: version of the sheet for which the best join is known
    change: Floats  # thing, sheet: the worth it costs
    option: Ints  # thing, sheet: its node (−1: none), axis, leaf


def new_search(things: int, slots: int, nodes: int, memory: int) -> Search:
    """Make an empty search: everything is out."""
    out = np.zeros(things + 1, np.int64)
    out[:things] = np.arange(things)
    out[things] = things
    return Search(
        at=new_trees(slots, nodes),
        work=new_trees(slots, nodes),
        trial=new_trees(1, nodes),
        at_out=out.copy(),
        out=out,
        spent=np.zeros(9, np.int64),
        touched=np.zeros(slots, np.int64),
        gone=np.zeros(nodes, np.int64),
        order=np.zeros(slots, np.int64),
        shelf=np.zeros((3, nodes), np.int64),
        key=np.zeros(things, np.float64),
        history=np.full(memory, HUGE),
        cost=np.full(2, HUGE),
        seen=np.full((things, slots), -1, np.int64),
        change=np.zeros((things, slots), np.float64),
        option=np.zeros((things, slots, 3), np.int64),
    )


@lean_kernel
def draw(spent: Ints, below: int) -> int:
    """A random number from 0 to below − 1 (a 64-bit linear congruential generator, upper bits)."""
    spent[2] = spent[2] * 6364136223846793005 + 1442695040888963407
    return int((((spent[2] >> 33) & 0x7FFFFFFF) * below) >> 31)


@lean_kernel
def chance(spent: Ints) -> float:
    """A random number from 0 up to 1."""
    return draw(spent, 1 << 30) / float(1 << 30)


@lean_kernel
def best_join(f: Search, s: Stockroom, b: int, thing: int) -> None:
    """Note the best way for a thing to join sheet b: change of worth, node (−1 where there is none), axis, leaf."""
    t = f.work
    best, node, axis, leaf = -HUGE, -1, -1, -1
    limited = s.rules[8] != 0
    fits = t.area[b] + s.area[thing] <= s.inner[t.sheet[b], 0] * s.inner[t.sheet[b], 1]
    for v in range(s.shapes[thing] if fits else 0):
        q0, q1 = s.shape[thing, v, 0], s.shape[thing, v, 1]
        for x in range(t.nodes[b]):
            r0, r1 = t.room[b, x, 0], t.room[b, x, 1]
            if q0 > r0 or q1 > r1:
                continue
            above = -1 if x == 0 else -1 - t.kind[b, t.par[b, x]]
            for a in range(2):
                if a == above or t.size[b, x, a] + (q0 if a == 0 else q1) > (r0 if a == 0 else r1):
                    continue
                change = joined_worth(t, s, b, x, a, q0, q1, t.value[b]) - t.value[b]
                if change > best and (not limited or can_join(f, s, b, x, a, 4 * thing + v)):
                    best, node, axis, leaf = change, x, a, 4 * thing + v
    f.seen[thing, b] = t.version[b]
    f.change[thing, b] = best
    f.option[thing, b, 0] = node
    f.option[thing, b, 1] = axis
    f.option[thing, b, 2] = leaf


@lean_kernel
def can_join(f: Search, s: Stockroom, b: int, x: int, a: int, leaf: int) -> bool:
    """Try a join aside, with all that the saws demand."""
    copy_sheet(f.work, b, f.trial, 0)
    return join(f.trial, s, 0, x, a, leaf) and legal(f.trial, s, 0)


@lean_kernel
def settle(f: Search, s: Stockroom, b: int, thing: int) -> None:
    """Bring a sheet's area and worth up to date after a thing has come onto it."""
    f.work.area[b] += s.area[thing]
    f.work.value[b] = appraise(f.work, s, b)
    renew(f, b)


@lean_kernel
def renew(f: Search, b: int) -> None:
    """Note that a sheet has been changed."""
    f.spent[6] += 1
    f.work.version[b] = f.spent[6]
    f.touched[b] = 1
