"""Goal-driven ruin and recreate on slicing trees (after Gardeyn and Wauters 2022, with rooms instead of leftovers).

The price of stock is held under a goal; what does not go in is left out, and the weight of what is left out is
driven to nothing. Each step takes some subtrees off a few sheets and lets each thing that is out join, one after
another, where the worth of the free rectangles falls least. Late acceptance decides (Burke and Bykov 2017).

Words: a `leaf` is 4 × thing + shape; `out` lists the things left out, its last entry says how many.
"""

from __future__ import annotations

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.kinds import cheapen, enlarge, open_sheet
from casewright.layout.sheets.ruin import ruin
from casewright.layout.sheets.search import HUGE, Search, best_join, chance, draw, settle
from casewright.layout.sheets.trees import Stockroom, copy_sheet, join

OPEN = 1e100  # anything that is a cost at all
SHORTEST = 50  # memory of the first round
LONG = 800  # memory of the last round before the shortest comes again, at first
PATIENCE = 20  # memories without a better cost, after which a round ends


@lean_kernel
def place(f: Search, s: Stockroom, thing: int, goal: int, blink: float) -> bool:
    """Put a thing where it costs least worth, or on a fresh sheet; False if it has to stay out."""
    t = f.work
    best, sheet = -HUGE, -1
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] < 0 or (blink > 0.0 and chance(f.spent) < blink):
            continue
        if t.area[b] + s.area[thing] > s.inner[t.sheet[b], 0] * s.inner[t.sheet[b], 1]:
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


@lean_kernel
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


@lean_kernel
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


@lean_kernel
def free_worth(f: Search, s: Stockroom, goal: int) -> float:
    """Worth of all that is free, sheets not yet bought too."""
    t = f.work
    total = 0.0
    for b in range(t.nodes.shape[0]):
        if t.sheet[b] >= 0:
            total += t.value[b]
    return total


@lean_kernel
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


@lean_kernel
def new_round(f: Search) -> None:
    """Start a round: a longer memory than the last (or the shortest again), all of it open, so that it is shaken.

    Each time that the shortest comes again, the longest to come is four times as long: a long search cools slowly.
    Where `spent[8]` is set, all rounds have this memory.
    """
    if f.spent[8] > 0:
        f.spent[4] = f.spent[8]
    elif f.spent[4] == 0:
        f.spent[4], f.spent[7] = SHORTEST, LONG
    elif 4 * f.spent[4] <= f.spent[7]:
        f.spent[4] *= 4
    else:
        f.spent[4], f.spent[7] = SHORTEST, 4 * f.spent[7]
    f.spent[7] = min(f.spent[7], f.history.shape[0])
    f.spent[4] = min(f.spent[4], f.history.shape[0])
    f.history[: f.spent[4]] = f.cost[0]
    f.history[: min(SHORTEST, f.spent[4])] = OPEN
    f.cost[1] = HUGE
    f.spent[3] = 0
    f.spent[5] = 0


@lean_kernel
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


@lean_kernel
def step(f: Search, s: Stockroom, goal: int, most: int, spice: float, blink: float) -> float:
    """One ruin and recreate; returns the weight left out."""
    ruin(f, s, most)
    weight = recreate(f, s, goal, blink)
    cost = weight - spice * free_worth(f, s, goal)
    accept(f, cost)
    return weight


@lean_kernel
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
