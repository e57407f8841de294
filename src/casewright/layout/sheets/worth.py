"""How useful the free rectangles of a sheet are, now or once a thing has joined a node: what the search holds dear."""

from __future__ import annotations

import numpy as np

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.trees import Stockroom, Trees


@lean_kernel
def worth(s: Stockroom, x: int, y: int) -> float:
    """How useful a free rectangle is: its share of a sheet to the power 1.25, nothing below the narrowest thing."""
    if x < s.least or y < s.least:
        return 0.0
    share = float(x) * float(y) / s.unit
    return float(share * np.sqrt(np.sqrt(share)))


@lean_kernel
def root_worth(t: Trees, s: Stockroom, b: int, kid: int, along: int, across: int, top: int, high: int) -> float:
    """Worth of what is free around a root of size (top along, high across) and beside its children.

    Child `kid` (−1: none) is taken to be along × across. The better of cutting the row first or the waste beside it.
    """
    k = t.kind[b, 0]
    a = 0 if k >= 0 else -1 - k
    full, wide = s.inner[t.sheet[b], a], s.inner[t.sheet[b], 1 - a]
    row = worth(s, full - top, wide)
    trim = worth(s, full, wide - high) + worth(s, full - top, high)
    if k >= 0:
        row += worth(s, top, wide - high)
        return max(row, trim)
    j = 1
    while j < t.end[b, 0]:
        x, y = t.size[b, j, a], t.size[b, j, 1 - a]
        if j == kid:
            x, y = along, across
        row += worth(s, x, wide - y)
        trim += worth(s, x, high - y)
        j = t.end[b, j]
    return max(row, trim)


@lean_kernel
def appraise(t: Trees, s: Stockroom, b: int) -> float:
    """Worth of all that is free on a sheet."""
    if t.nodes[b] == 0:
        return 0.0
    k = t.kind[b, 0]
    a = 0 if k >= 0 else -1 - k
    total = root_worth(t, s, b, -1, 0, 0, t.size[b, 0, a], t.size[b, 0, 1 - a])
    for i in range(1, t.nodes[b]):
        p = t.par[b, i]
        if p > 0:
            a = -1 - t.kind[b, p]
            total += worth(s, t.size[b, i, a], t.size[b, p, 1 - a] - t.size[b, i, 1 - a])
    return total


@lean_kernel
def row_change(t: Trees, s: Stockroom, b: int, i: int, kid: int, old: int, new: int) -> float:
    """Change of worth beside the children of row i, but for `kid`, when the row's width goes from old to new."""
    a = -1 - t.kind[b, i]
    change = 0.0
    j = i + 1
    while j < t.end[b, i]:
        if j != kid:
            x, y = t.size[b, j, a], t.size[b, j, 1 - a]
            change += worth(s, x, new - y) - worth(s, x, old - y)
        j = t.end[b, j]
    return change


@lean_kernel
def joined_worth(t: Trees, s: Stockroom, b: int, x: int, a: int, q0: int, q1: int, before: float) -> float:
    """Worth of the sheet once a q0 × q1 thing has joined node x along axis a."""
    qa, qc = (q0, q1) if a == 0 else (q1, q0)
    sa, sc = t.size[b, x, a], t.size[b, x, 1 - a]
    na, nc = sa + qa, max(sc, qc)
    if x == 0:
        return root_joined(t, s, b, a, qa, qc)
    if t.kind[b, x] >= 0:
        inside = worth(s, sa, nc - sc) + worth(s, qa, nc - qc)
    else:
        inside = worth(s, qa, nc - qc)
        if nc > sc:
            inside += row_change(t, s, b, x, -1, sc, nc)
    now = before + inside
    # from here `along` is the axis of the parent's row: what was across is along
    i = x
    old0, old1, new0, new1 = sc, sa, nc, na  # along, across the parent's row
    while True:
        p = t.par[b, i]
        ax = -1 - t.kind[b, p]
        pa, pc = t.size[b, p, ax], t.size[b, p, 1 - ax]
        npa, npc = pa + new0 - old0, max(pc, new1)
        if p == 0:
            return now + root_worth(t, s, b, i, new0, new1, npa, npc) - root_worth(t, s, b, -1, 0, 0, pa, pc)
        now += worth(s, new0, npc - new1) - worth(s, old0, pc - old1)
        if npc > pc:
            now += row_change(t, s, b, p, i, pc, npc)
        if npa == pa and npc == pc:
            return now
        i = p
        old0, old1, new0, new1 = pc, pa, npc, npa


@lean_kernel
def root_joined(t: Trees, s: Stockroom, b: int, a: int, qa: int, qc: int) -> float:
    """Worth of the sheet once a thing has joined its root along axis a."""
    k = t.kind[b, 0]
    full, wide = s.inner[t.sheet[b], a], s.inner[t.sheet[b], 1 - a]
    sa, sc = t.size[b, 0, a], t.size[b, 0, 1 - a]
    na, nc = sa + qa, max(sc, qc)
    row = worth(s, full - na, wide) + worth(s, qa, wide - qc)
    trim = worth(s, full, wide - nc) + worth(s, full - na, nc) + worth(s, qa, nc - qc)
    inner = 0.0
    if k == -1 - a:  # one more in the row
        for i in range(1, t.nodes[b]):
            p = t.par[b, i]
            if p > 0:
                ax = -1 - t.kind[b, p]
                inner += worth(s, t.size[b, i, ax], t.size[b, p, 1 - ax] - t.size[b, i, 1 - ax])
            else:
                row += worth(s, t.size[b, i, a], wide - t.size[b, i, 1 - a])
                trim += worth(s, t.size[b, i, a], nc - t.size[b, i, 1 - a])
        return max(row, trim) + inner
    row += worth(s, sa, wide - sc)
    trim += worth(s, sa, nc - sc)
    for i in range(1, t.nodes[b]):  # the old root becomes a row of the new one
        p = t.par[b, i]
        ax = -1 - t.kind[b, p]
        inner += worth(s, t.size[b, i, ax], t.size[b, p, 1 - ax] - t.size[b, i, 1 - ax])
    return max(row, trim) + inner
