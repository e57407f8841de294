"""Goal-driven ruin and recreate on slicing trees (after Gardeyn and Wauters 2022, with rooms instead of leftovers).

The price of stock is held under a goal; what does not go in is left out, and the weight of what is left out is
driven to nothing. Each step takes some subtrees off a few sheets and lets each thing that is out join, one after
another, where the worth of the free rectangles falls least. Late acceptance decides (Burke and Bykov 2017).

Words: a `leaf` is 4 × thing + shape; `out` lists the things left out, its last entry says how many.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from casewright.layout.sheets.kernel import kernel
from casewright.layout.sheets.legal import legal
from casewright.layout.sheets.trees import (
    Floats,
    Ints,
    Stockroom,
    Trees,
    appraise,
    copy_sheet,
    join,
    joined_worth,
    measure,
    new_trees,
    prune,
    start_sheet,
)

HUGE = 1e300  # fast arithmetic knows no infinity
OPEN = 1e100  # anything that is a cost at all
SHORTEST = 50  # memory of the first round
PATIENCE = 20  # memories without a better cost, after which a round ends


class Search(NamedTuple):
    """A search under way: the solution it stands at, the one it works on, and its memory."""

    at: Trees
    work: Trees
    trial: Trees  # one slot, to try joins on where the saws have limits
    at_out: Ints
    out: Ints  # last entry: how many
    spent: Ints  # price of stock at, work; random state; of a round: steps, memory, last improvement; versions
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
        spent=np.zeros(7, np.int64),
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


@kernel
def draw(spent: Ints, below: int) -> int:
    """A random number from 0 to below − 1 (a 64-bit linear congruential generator, upper bits)."""
    spent[2] = spent[2] * 6364136223846793005 + 1442695040888963407
    return int((((spent[2] >> 33) & 0x7FFFFFFF) * below) >> 31)


@kernel
def chance(spent: Ints) -> float:
    """A random number from 0 up to 1."""
    return draw(spent, 1 << 30) / float(1 << 30)


@kernel
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


@kernel
def can_join(f: Search, s: Stockroom, b: int, x: int, a: int, leaf: int) -> bool:
    """Try a join aside, with all that the saws demand."""
    copy_sheet(f.work, b, f.trial, 0)
    return join(f.trial, s, 0, x, a, leaf) and legal(f.trial, s, 0)


@kernel
def settle(f: Search, s: Stockroom, b: int, thing: int) -> None:
    """Bring a sheet's area and worth up to date after a thing has come onto it."""
    f.work.area[b] += s.area[thing]
    f.work.value[b] = appraise(f.work, s, b)
    renew(f, b)


@kernel
def renew(f: Search, b: int) -> None:
    """Note that a sheet has been changed."""
    f.spent[6] += 1
    f.work.version[b] = f.spent[6]
    f.touched[b] = 1


@kernel
def open_sheet(f: Search, s: Stockroom, thing: int, goal: int) -> bool:
    """Take one more sheet within the goal for a thing; which kind is drawn at random among those that would do."""
    t = f.work
    slot = -1
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] < 0:
            slot = b
            break
    if slot < 0:
        return False
    kinds = s.price.shape[0]
    start = draw(f.spent, kinds) if kinds > 1 else 0
    for turn in range(kinds):
        kind = (start + turn) % kinds
        if f.spent[1] + s.price[kind] > goal or not is_left(t, s, kind):
            continue
        chosen, change = -1, -1e300
        for v in range(s.shapes[thing]):
            if s.shape[thing, v, 0] <= s.inner[kind, 0] and s.shape[thing, v, 1] <= s.inner[kind, 1]:
                if not (start_sheet(t, s, slot, kind, 4 * thing + v) and (s.rules[8] == 0 or legal(t, s, slot))):
                    continue
                value = appraise(t, s, slot)
                if value > change:
                    chosen, change = v, value
        if chosen >= 0:
            start_sheet(t, s, slot, kind, 4 * thing + chosen)
            t.area[slot] = 0
            f.spent[1] += s.price[kind]
            settle(f, s, slot, thing)
            return True
        t.sheet[slot] = -1
        t.nodes[slot] = 0
    return False


@kernel
def is_left(t: Trees, s: Stockroom, kind: int) -> bool:
    """True while there is another sheet of a kind to be had."""
    if s.left[kind] < 0:
        return True
    used = 0
    for b in range(t.sheet.shape[0]):
        if t.sheet[b] == kind:
            used += 1
    return bool(used < s.left[kind])


@kernel
def change_kind(f: Search, s: Stockroom, b: int, kind: int) -> bool:
    """Lay what is on a sheet on one of another kind; False, nothing changed, where it does not fit or cannot be cut."""
    t = f.work
    old = t.sheet[b]
    if kind == old or t.size[b, 0, 0] > s.inner[kind, 0] or t.size[b, 0, 1] > s.inner[kind, 1]:
        return False
    if not is_left(t, s, kind):
        return False
    t.sheet[b] = kind
    if not measure(t, s, b) or (s.rules[8] != 0 and not legal(t, s, b)):
        t.sheet[b] = old
        measure(t, s, b)
        return False
    f.spent[1] += s.price[kind] - s.price[old]
    t.value[b] = appraise(t, s, b)
    renew(f, b)
    return True


@kernel
def cheaper(f: Search, s: Stockroom, b: int, price: int) -> int:
    """The cheapest kind below a price that holds what is on a sheet; −1 where there is none."""
    t = f.work
    best = -1
    for kind in range(s.price.shape[0]):
        if s.price[kind] >= price or (best >= 0 and s.price[kind] >= s.price[best]) or not is_left(t, s, kind):
            continue
        if t.size[b, 0, 0] <= s.inner[kind, 0] and t.size[b, 0, 1] <= s.inner[kind, 1]:
            best = kind
    return best


@kernel
def cheapen(f: Search, s: Stockroom) -> None:
    """Lay each changed sheet on the cheapest kind that holds it."""
    for b in range(f.touched.shape[0]):
        if f.touched[b] and f.work.sheet[b] >= 0:
            kind = cheaper(f, s, b, s.price[f.work.sheet[b]])
            if kind >= 0:
                change_kind(f, s, b, kind)


@kernel
def enlarge(f: Search, s: Stockroom, thing: int, goal: int) -> bool:
    """Lay a sheet on another kind, within the goal, so that a thing can join it."""
    t = f.work
    slots, kinds = t.nodes.shape[0], s.price.shape[0]
    first = draw(f.spent, slots)
    for turn in range(slots):
        b = (first + turn) % slots
        if t.sheet[b] < 0:
            continue
        old = t.sheet[b]
        start = draw(f.spent, kinds)
        for other in range(kinds):
            kind = (start + other) % kinds
            if kind == old or f.spent[1] + s.price[kind] - s.price[old] > goal:
                continue
            if t.area[b] + s.area[thing] > s.inner[kind, 0] * s.inner[kind, 1] or not change_kind(f, s, b, kind):
                continue
            best_join(f, s, b, thing)
            if f.option[thing, b, 0] >= 0:
                join(t, s, b, f.option[thing, b, 0], f.option[thing, b, 1], f.option[thing, b, 2])
                settle(f, s, b, thing)
                return True
            change_kind(f, s, b, old)
    return False


@kernel
def place(f: Search, s: Stockroom, thing: int, goal: int, blink: float) -> bool:
    """Put a thing where it costs least worth, or on a fresh sheet; False if it has to stay out."""
    t = f.work
    best, sheet = -HUGE, -1
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] < 0 or (blink > 0.0 and chance(f.spent) < blink):
            continue
        if f.seen[thing, b] != t.version[b]:
            best_join(f, s, b, thing)
        if f.change[thing, b] > best:
            best, sheet = f.change[thing, b], b
    if sheet < 0:
        if open_sheet(f, s, thing, goal):
            return True
        return bool(s.price.shape[0] > 1 and draw(f.spent, 4) == 0 and enlarge(f, s, thing, goal))
    x, a, leaf = f.option[thing, sheet, 0], f.option[thing, sheet, 1], f.option[thing, sheet, 2]
    if not join(t, s, sheet, x, a, leaf):
        return False  # never: either rooms say it all, or can_join has tried it
    settle(f, s, sheet, thing)
    return True


@kernel
def ruin(f: Search, s: Stockroom, most: int) -> None:
    """Take up to `most` subtrees off a few sheets."""
    t = f.work
    slots = t.nodes.shape[0]
    used = 0
    for b in range(slots):
        if t.sheet[b] >= 0:
            f.order[used] = b
            used += 1
    if used == 0:
        return
    picks = 1 + draw(f.spent, most)
    sheets = 1 + draw(f.spent, min(used, 4))
    for turn in range(sheets):
        other = turn + draw(f.spent, used - turn)
        b = f.order[other]
        f.order[other] = f.order[turn]
        f.order[turn] = b
    for turn in range(sheets):
        strip(f, s, f.order[turn], max(1, (picks + sheets - 1 - turn) // sheets))


@kernel
def strip(f: Search, s: Stockroom, b: int, picks: int) -> None:
    """Take `picks` subtrees (or all) off one sheet."""
    t = f.work
    n = t.nodes[b]
    for i in range(n):
        f.gone[i] = 0
    for _ in range(picks):
        x = draw(f.spent, n)
        for i in range(x, t.end[b, x]):
            f.gone[i] = 1
    m = f.out[-1]
    for i in range(n):
        if f.gone[i] and t.kind[b, i] >= 0:
            thing = t.kind[b, i] >> 2
            f.out[m] = thing
            m += 1
            t.area[b] -= s.area[thing]
    f.out[-1] = m
    kind = t.sheet[b]
    prune(t, s, b, f.gone, f.shelf)
    if t.sheet[b] < 0:
        f.spent[1] -= s.price[kind]
        t.area[b] = 0
    t.value[b] = appraise(t, s, b)
    renew(f, b)


@kernel
def arrange(f: Search, s: Stockroom) -> None:
    """Put the things that are out into an order drawn at random: by area, weight, longest side, one side, chance."""
    m = f.out[-1]
    rule = draw(f.spent, 10)
    for i in range(m):
        thing = f.out[i]
        q0, q1 = float(s.shape[thing, 0, 0]), float(s.shape[thing, 0, 1])
        if rule < 3:
            key = q0 * q1
        elif rule == 3:
            key = s.weight[thing]
        elif rule < 7:
            key = max(q0, q1)
        elif rule == 7:
            key = q0
        elif rule == 8:
            key = q1
        else:
            key = chance(f.spent)
        f.key[i] = -key
    for i in range(1, m):  # insertion: the list is short but for the first time
        k, thing = f.key[i], f.out[i]
        j = i - 1
        while j >= 0 and f.key[j] > k:
            f.key[j + 1] = f.key[j]
            f.out[j + 1] = f.out[j]
            j -= 1
        f.key[j + 1] = k
        f.out[j + 1] = thing


@kernel
def recreate(f: Search, s: Stockroom, goal: int, blink: float) -> float:
    """Place what is out; return the cost: weight left out, less a little for the worth of what is free."""
    arrange(f, s)
    several = s.price.shape[0] > 1
    if several and draw(f.spent, 2) == 0:
        cheapen(f, s)
    kept = 0
    weight = 0.0
    for i in range(f.out[-1]):
        thing = f.out[i]
        if not place(f, s, thing, goal, blink):
            f.out[kept] = thing
            kept += 1
            weight += s.weight[thing]
    f.out[-1] = kept
    if several:
        cheapen(f, s)
    return weight


@kernel
def free_worth(f: Search, s: Stockroom, goal: int) -> float:
    """Worth of all that is free, sheets not yet bought too."""
    t = f.work
    total = 0.0
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] >= 0:
            total += t.value[b]
    return total


@kernel
def keep_or_return(f: Search, keep: bool) -> None:
    """Make the two solutions equal again: take over the changed sheets, or take them back."""
    for b in range(f.touched.shape[0]):
        if f.touched[b]:
            f.touched[b] = 0
            if keep:
                copy_sheet(f.work, b, f.at, b)
            else:
                copy_sheet(f.at, b, f.work, b)
    if keep:
        f.spent[0] = f.spent[1]
        for i in range(f.out[-1]):
            f.at_out[i] = f.out[i]
        f.at_out[-1] = f.out[-1]
    else:
        f.spent[1] = f.spent[0]
        for i in range(f.at_out[-1]):
            f.out[i] = f.at_out[i]
        f.out[-1] = f.at_out[-1]


@kernel
def new_round(f: Search) -> None:
    """Start a round: a longer memory than the last (or the shortest again), all of it open, so that it is shaken."""
    longest = f.history.shape[0]
    f.spent[4] = f.spent[4] * 4
    if f.spent[4] < SHORTEST or f.spent[4] > longest:
        f.spent[4] = min(SHORTEST, longest)
    f.history[: f.spent[4]] = f.cost[0]
    f.history[: min(SHORTEST, f.spent[4])] = OPEN
    f.cost[1] = HUGE
    f.spent[3] = 0
    f.spent[5] = 0


@kernel
def run(f: Search, s: Stockroom, goal: int, steps: int, most: int, spice: float, blink: float) -> int:
    """Search for `steps` steps; ends early once nothing is out. Returns the steps taken."""
    if f.spent[4] == 0:  # a fresh search remembers where it stands
        weight = 0.0
        for i in range(f.out[-1]):
            weight += s.weight[f.out[i]]
        f.cost[0] = weight - spice * free_worth(f, s, goal)
        new_round(f)
    for done in range(1, steps + 1):
        step(f, s, goal, most, spice, blink)
        if f.at_out[-1] == 0:
            return done
    return steps


@kernel
def step(f: Search, s: Stockroom, goal: int, most: int, spice: float, blink: float) -> float:
    """One ruin and recreate; returns the weight left out."""
    ruin(f, s, most)
    weight = recreate(f, s, goal, blink)
    cost = weight - spice * free_worth(f, s, goal)
    accept(f, cost)
    return weight


@kernel
def accept(f: Search, cost: float) -> bool:
    """Keep the solution worked on if it is no worse than now, or than the cost remembered from a memory ago."""
    at = f.spent[3] % f.spent[4]
    f.spent[3] += 1
    keep = cost <= f.cost[0] or cost <= f.history[at]
    if keep:
        f.cost[0] = cost
    keep_or_return(f, keep)
    if f.cost[0] < f.history[at]:
        f.history[at] = f.cost[0]
    if f.cost[0] < f.cost[1] - 1e-12:
        f.cost[1] = f.cost[0]
        f.spent[5] = f.spent[3]
    elif f.spent[3] - f.spent[5] > PATIENCE * f.spent[4] + 1000:
        new_round(f)
    return bool(keep)
