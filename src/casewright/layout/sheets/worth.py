"""How useful the free rectangles of a sheet are, now or once a thing has joined a node: what the search holds dear."""

from __future__ import annotations

import numpy as np

from casewright.layout.sheets.kernel import lean_kernel
from casewright.layout.sheets.trees import Floats, Ints, Stockroom, Trees

MOST_LENGTHS = 4_000  # of the side of a sheet, for which sums of things' sides are listed
NUDGE = 1e-6  # whole numbers of pitches stay whole


def usable_lengths(shape: Ints, shapes: Ints, inner: Ints) -> tuple[Floats, float]:
    """For each axis and length the greatest sum of sides of things that is no longer: what is beyond it is waste.

    Lengths are counted in what divides all sides; second its inverse. Empty where a side of a sheet has too many of
    them, or where things fill every length from the narrowest on.
    """
    there = np.arange(shape.shape[1])[None, :] < shapes[:, None]
    sides = shape[there]
    pitch = int(np.gcd.reduce(sides.ravel()))
    longest = int(inner.max()) // pitch
    if longest > MOST_LENGTHS:
        return np.zeros((2, 0)), 1.0 / pitch
    lengths = np.arange(longest + 1)
    table = np.zeros((2, longest + 1), np.int64)
    for axis in range(2):
        sums = lengths == 0
        for side in (sides[:, axis] // pitch).tolist():
            if side <= longest:
                sums[side:] |= sums[: longest + 1 - side].copy()
        table[axis] = np.maximum.accumulate(np.where(sums, lengths, 0))
    if bool(np.all((table == lengths) | (lengths < int(sides.min()) // pitch))):
        return np.zeros((2, 0)), 1.0 / pitch
    return (table * pitch).astype(np.float64), 1.0 / pitch


@lean_kernel
def worth(s: Stockroom, a: int, x: int, y: int) -> float:
    """How useful a free rectangle is, x along axis a, y across: its share of a sheet to the power 1.25.

    Nothing below the narrowest thing; of each side only what sides of things can add up to.
    """
    if x < s.least or y < s.least:
        return 0.0
    along, across = float(x), float(y)
    if s.usable.shape[1] > 0:
        along, across = s.usable[a, int(along * s.pitch + NUDGE)], s.usable[1 - a, int(across * s.pitch + NUDGE)]
    share = along * across / s.unit
    return float(share * np.sqrt(np.sqrt(share)))


@lean_kernel
def root_worth(t: Trees, s: Stockroom, b: int, kid: int, along: int, across: int, top: int, high: int) -> float:
    """Worth of what is free around a root of size (top along, high across) and beside its children.

    Child `kid` (−1: none) is taken to be along × across. The better of cutting the row first or the waste beside it.
    """
    k = t.kind[b, 0]
    a = 0 if k >= 0 else -1 - k
    full, wide = s.inner[t.sheet[b], a], s.inner[t.sheet[b], 1 - a]
    row = worth(s, a, full - top, wide)
    trim = worth(s, a, full, wide - high) + worth(s, a, full - top, high)
    if k >= 0:
        row += worth(s, a, top, wide - high)
        return max(row, trim)
    j = 1
    while j < t.end[b, 0]:
        x, y = t.size[b, j, a], t.size[b, j, 1 - a]
        if j == kid:
            x, y = along, across
        row += worth(s, a, x, wide - y)
        trim += worth(s, a, x, high - y)
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
            total += worth(s, a, t.size[b, i, a], t.size[b, p, 1 - a] - t.size[b, i, 1 - a])
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
            change += worth(s, a, x, new - y) - worth(s, a, x, old - y)
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
        inside = worth(s, a, sa, nc - sc) + worth(s, a, qa, nc - qc)
    else:
        inside = worth(s, a, qa, nc - qc)
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
        now += worth(s, ax, new0, npc - new1) - worth(s, ax, old0, pc - old1)
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
    row = worth(s, a, full - na, wide) + worth(s, a, qa, wide - qc)
    trim = worth(s, a, full, wide - nc) + worth(s, a, full - na, nc) + worth(s, a, qa, nc - qc)
    inner = 0.0
    if k == -1 - a:  # one more in the row
        for i in range(1, t.nodes[b]):
            p = t.par[b, i]
            if p > 0:
                ax = -1 - t.kind[b, p]
                inner += worth(s, ax, t.size[b, i, ax], t.size[b, p, 1 - ax] - t.size[b, i, 1 - ax])
            else:
                row += worth(s, a, t.size[b, i, a], wide - t.size[b, i, 1 - a])
                trim += worth(s, a, t.size[b, i, a], nc - t.size[b, i, 1 - a])
        return max(row, trim) + inner
    row += worth(s, a, sa, wide - sc)
    trim += worth(s, a, sa, nc - sc)
    for i in range(1, t.nodes[b]):  # the old root becomes a row of the new one
        p = t.par[b, i]
        ax = -1 - t.kind[b, p]
        inner += worth(s, ax, t.size[b, i, ax], t.size[b, p, 1 - ax] - t.size[b, i, 1 - ax])
    return max(row, trim) + inner
