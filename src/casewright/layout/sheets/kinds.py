"""Which kind of sheet: a fresh one for a thing, a cheaper or another one for what lies on a sheet already."""

from __future__ import annotations

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.legal import legal
from casewright.layout.sheets.search import HUGE, Search, best_join, draw, renew, settle
from casewright.layout.sheets.trees import Stockroom, Trees, join, measure, start_sheet
from casewright.layout.sheets.worth import appraise


@lean_kernel
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
        chosen, change = -1, -HUGE
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


@lean_kernel
def is_left(t: Trees, s: Stockroom, kind: int) -> bool:
    """True while there is another sheet of a kind to be had."""
    if s.left[kind] < 0:
        return True
    used = 0
    for b in range(t.sheet.shape[0]):
        if t.sheet[b] == kind:
            used += 1
    return bool(used < s.left[kind])


@lean_kernel
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


@lean_kernel
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


@lean_kernel
def cheapen(f: Search, s: Stockroom) -> None:
    """Lay each changed sheet on the cheapest kind that holds it."""
    for b in range(f.touched.shape[0]):
        if f.touched[b] and f.work.sheet[b] >= 0:
            kind = cheaper(f, s, b, s.price[f.work.sheet[b]])
            if kind >= 0:
                change_kind(f, s, b, kind)


@lean_kernel
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
