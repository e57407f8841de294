"""Taking things off: a few subtrees off a few sheets."""

from __future__ import annotations

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.search import Search, draw, renew
from casewright.layout.sheets.trees import Stockroom, prune
from casewright.layout.sheets.worth import appraise


@lean_kernel
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


@lean_kernel
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
