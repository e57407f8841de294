"""Sheets as slicing trees in flat int64 arrays, and the operations of the search on them.

A sheet b is its tree in preorder: node i has `kind` (a leaf: 4 × item + shape; a row along x: −1, along y: −2),
`end` (one past its subtree), `par` (its parent). Directions alternate from level to level. `size` is the least box of
a node: along its row the sum, across it the greatest. Sizes hold one kerf at the far end, sheets one kerf more, so
that kerfs vanish from the arithmetic. `room` is the largest box that the node could grow to while all else stays:
the slack of every row above it is still free. So a thing can join node X along axis a exactly if
size[X, a] + thing[a] ≤ room[X, a] and thing[1−a] ≤ room[X, 1−a]; nothing is fixed before it must be.

On sheets too large to lift, `measure` adds what breakdown lines take beyond a kerf (`extra`).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sheets.kernel import lean_kernel

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


class Trees(NamedTuple):
    """All sheets of a solution; first index the sheet's slot. `sheet` is −1 for a slot that is not in use."""

    kind: Ints
    end: Ints
    par: Ints
    size: Ints
    room: Ints
    nodes: Ints
    sheet: Ints
    area: Ints
    version: Ints  # another number for every content
    value: Floats


class Stockroom(NamedTuple):
    """What does not change in a search: shapes of the things, kinds of sheet, the saws' rules."""

    shape: Ints  # thing, shape, axis: with kerf
    shapes: Ints  # how many shapes a thing has
    area: Ints  # of a thing, with kerf
    weight: Floats  # what leaving it out costs
    inner: Ints  # kind of sheet, axis: with kerf
    price: Ints
    left: Ints
    unit: float  # area of the largest sheet
    least: int  # narrowest side of any thing
    usable: Floats  # axis, length in pitches: the greatest sum of things' sides that is no longer; empty: not known
    pitch: float  # what divides all sides of things, as its inverse
    rules: Ints  # kerf, extra of a rough line, lift greater, lift smaller, longest crosscut, longest rip, first, stages


def new_trees(slots: int, nodes: int) -> Trees:
    """Make room for `slots` sheets of at most `nodes` nodes."""
    return Trees(
        kind=np.zeros((slots, nodes), np.int64),
        end=np.zeros((slots, nodes), np.int64),
        par=np.zeros((slots, nodes), np.int64),
        size=np.zeros((slots, nodes, 2), np.int64),
        room=np.zeros((slots, nodes, 2), np.int64),
        nodes=np.zeros(slots, np.int64),
        sheet=np.full(slots, -1, np.int64),
        area=np.zeros(slots, np.int64),
        version=np.zeros(slots, np.int64),
        value=np.zeros(slots, np.float64),
    )


@lean_kernel
def copy_sheet(a: Trees, i: int, b: Trees, j: int) -> None:
    """Copy sheet i of `a` onto sheet j of `b`."""
    n = a.nodes[i]
    for k in range(n):
        b.kind[j, k] = a.kind[i, k]
        b.end[j, k] = a.end[i, k]
        b.par[j, k] = a.par[i, k]
        b.size[j, k, 0] = a.size[i, k, 0]
        b.size[j, k, 1] = a.size[i, k, 1]
        b.room[j, k, 0] = a.room[i, k, 0]
        b.room[j, k, 1] = a.room[i, k, 1]
    b.nodes[j] = n
    b.sheet[j] = a.sheet[i]
    b.area[j] = a.area[i]
    b.version[j] = a.version[i]
    b.value[j] = a.value[i]


@lean_kernel
def liftable(rules: Ints, x: int, y: int) -> bool:
    """True where a box (with kerf) is small enough for one person."""
    big, small = (x, y) if x >= y else (y, x)
    return bool(rules[2] < 0 or (big - rules[0] <= rules[2] and small - rules[0] <= rules[3]))


@lean_kernel
def breakdown(t: Trees, s: Stockroom, b: int, i: int, a: int, along: int, across: int) -> int:
    """What rough lines between the children of node i take beyond a kerf each: as few as make liftable pieces."""
    if liftable(s.rules, along if a == 0 else across, across if a == 0 else along):
        return 0
    lines = 0
    run = 0
    j = i + 1
    while j < t.end[b, i]:
        longer = run + t.size[b, j, a]
        if run > 0 and not liftable(s.rules, longer if a == 0 else across, across if a == 0 else longer):
            lines += 1
            run = t.size[b, j, a]
        else:
            run = longer
        j = t.end[b, j]
    return int(lines * s.rules[1])


@lean_kernel
def measure(t: Trees, s: Stockroom, b: int) -> bool:
    """Compute sizes, parents and rooms of a sheet from its shape; False if it does not fit."""
    n = t.nodes[b]
    for i in range(n - 1, -1, -1):
        k = t.kind[b, i]
        if k >= 0:
            t.size[b, i, 0] = s.shape[k >> 2, k & 3, 0]
            t.size[b, i, 1] = s.shape[k >> 2, k & 3, 1]
            continue
        a = -1 - k
        along = 0
        across = 0
        j = i + 1
        while j < t.end[b, i]:
            along += t.size[b, j, a]
            if t.size[b, j, 1 - a] > across:
                across = t.size[b, j, 1 - a]
            t.par[b, j] = i
            j = t.end[b, j]
        if s.rules[2] >= 0:
            along += breakdown(t, s, b, i, a, along, across)
        t.size[b, i, a] = along
        t.size[b, i, 1 - a] = across
    t.par[b, 0] = -1
    kind = t.sheet[b]
    t.room[b, 0, 0] = s.inner[kind, 0]
    t.room[b, 0, 1] = s.inner[kind, 1]
    if t.size[b, 0, 0] > t.room[b, 0, 0] or t.size[b, 0, 1] > t.room[b, 0, 1]:
        return False
    for i in range(1, n):
        p = t.par[b, i]
        a = -1 - t.kind[b, p]
        t.room[b, i, a] = t.size[b, i, a] + t.room[b, p, a] - t.size[b, p, a]
        t.room[b, i, 1 - a] = t.room[b, p, 1 - a]
    return True


@lean_kernel
def join(t: Trees, s: Stockroom, b: int, x: int, a: int, leaf: int) -> bool:
    """Let a leaf join node x along axis a; False (and the sheet then is not fit for use) where it does not fit."""
    n = t.nodes[b]
    if t.kind[b, x] == -1 - a:  # one more in the row
        at = t.end[b, x]
        shift = 1
    else:
        at = t.end[b, x] + 1
        shift = 2
    old_end = t.end[b, x]
    for k in range(n - 1, old_end - 1, -1):
        t.kind[b, k + shift] = t.kind[b, k]
        t.end[b, k + shift] = t.end[b, k] + shift
    if shift == 2:
        for k in range(old_end - 1, x - 1, -1):
            t.kind[b, k + 1] = t.kind[b, k]
            t.end[b, k + 1] = t.end[b, k] + 1
    for k in range(x):
        if t.end[b, k] >= old_end and t.kind[b, k] < 0 and t.end[b, k] > x:
            t.end[b, k] += shift
    if shift == 2:
        t.kind[b, x] = -1 - a
    t.end[b, x] = at + 1
    t.kind[b, at] = leaf
    t.end[b, at] = at + 1
    t.nodes[b] = n + shift
    return measure(t, s, b)


@lean_kernel
def start_sheet(t: Trees, s: Stockroom, b: int, kind: int, leaf: int) -> bool:
    """Take a fresh sheet of a kind with one leaf on it."""
    t.sheet[b] = kind
    t.nodes[b] = 1
    t.kind[b, 0] = leaf
    t.end[b, 0] = 1
    return measure(t, s, b)


@lean_kernel
def prune(t: Trees, s: Stockroom, b: int, gone: Ints, scratch: Ints) -> None:
    """Take the leaves that are marked in `gone` off a sheet; rows of one child dissolve, like rows merge.

    `scratch` holds 3 rows of at least as many entries as the sheet has nodes.
    """
    n = t.nodes[b]
    alive, keep, stack = scratch[0], scratch[1], scratch[2]
    for i in range(n - 1, -1, -1):
        if t.kind[b, i] >= 0:
            alive[i] = 0 if gone[i] else 1
        else:
            kids = 0
            j = i + 1
            while j < t.end[b, i]:
                if alive[j] > 0:
                    kids += 1
                j = t.end[b, j]
            alive[i] = kids
    m = 0
    depth = 0
    i = 0
    while i < n:
        if alive[i] == 0:
            i = t.end[b, i]
            continue
        while depth > 0 and t.end[b, stack[depth - 1]] <= i:
            depth -= 1
        k = t.kind[b, i]
        if k < 0 and (alive[i] == 1 or (depth > 0 and t.kind[b, stack[depth - 1]] == k)):
            i += 1
            continue
        keep[m] = i
        m += 1
        if k < 0:
            stack[depth] = i
            depth += 1
        i += 1
    relink(t, b, keep, m, stack)
    t.nodes[b] = m
    if m == 0:
        t.sheet[b] = -1
        return
    measure(t, s, b)


@lean_kernel
def relink(t: Trees, b: int, keep: Ints, m: int, ends: Ints) -> None:
    """Move the kept nodes together; a node ends before the first kept node at or past its old end."""
    for r in range(m):
        i = keep[r]
        stop = t.end[b, i]
        q = r + 1
        while q < m and keep[q] < stop:
            q += 1
        ends[r] = q
    for r in range(m):
        t.kind[b, r] = t.kind[b, keep[r]]
    for r in range(m):
        t.end[b, r] = ends[r]
