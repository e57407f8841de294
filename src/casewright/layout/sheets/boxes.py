"""Compiled: boxes of one sheet and the fillings that each can hold, for `knapsack`.

A box (i, j) is one of the sheet's raster points wide and high. Three tables over boxes:

* `relaxed`: greatest worth of a box if each thing were there without end;
* `beyond`: greatest worth, in the same sense, of all that can lie on the sheet outside a box in its corner;
* fillings: for each box the best of the fillings that keep the counts, worth enough to lead to a better sheet.

Worth is int. A filling's counts are packed into int64 words, one field for each thing with a guard bit above it: adding
`bias` sets the guard of each thing that is there too often.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from casewright.layout.sheets.kernel import kernel, lean_kernel
from casewright.layout.sheets.trees import Ints

LEAF = -1  # `cut` of a filling that is one thing; then `left` is its leaf number


class Boxes(NamedTuple):
    """What does not change between passes: raster points, what is left beside a cut, leaves, packed counts."""

    across: Ints  # raster points of the length, from 0
    along: Ints  # of the width
    beside_x: Ints  # [i, c]: greatest point that is left of point i beside point c
    beside_y: Ints
    leaf_box: Ints  # leaf: (i, j), the least box that holds it
    leaf_thing: Ints
    words: Ints  # thing: packed count of one
    bias: Ints
    guard: Ints
    mark: Ints  # thing: random number; a filling's sum tells it from others


class Fillings(NamedTuple):
    """Fillings of all boxes, one after another; a box's are `start[i, j]` to `stop[i, j]`, the best first."""

    worth: Ints
    value: Ints
    mark: Ints
    words: Ints
    left: Ints
    right: Ints
    cut: Ints
    start: Ints
    stop: Ints


class Draft(NamedTuple):
    """Fillings of the box at hand, unsorted, with a table of their marks."""

    worth: Ints
    value: Ints
    mark: Ints
    words: Ints
    left: Ints
    right: Ints
    cut: Ints
    table: Ints
    stamp: Ints  # table: which box wrote here
    state: Ints  # fillings here, least worth that counts, stamp, 1 if some were dropped, best value, its index, joins


@lean_kernel
def relax(b: Boxes, leaf_worth: Ints, f: Ints) -> None:
    """Fill `f`: greatest worth of each box with things without end (waste allowed)."""
    n, m = b.across.shape[0], b.along.shape[0]
    f[:] = 0
    for leaf in range(leaf_worth.shape[0]):
        i, j = b.leaf_box[leaf, 0], b.leaf_box[leaf, 1]
        f[i, j] = max(f[i, j], leaf_worth[leaf])
    for i in range(1, n):
        for j in range(1, m):
            f[i, j] = max(f[i, j], f[i - 1, j])
        c = 1
        while c < i and 2 * b.across[c] <= b.across[i]:
            p = b.beside_x[i, c]
            for j in range(1, m):
                f[i, j] = max(f[i, j], f[c, j] + f[p, j])
            c += 1
        for j in range(1, m):
            best = max(f[i, j], f[i, j - 1])
            c = 1
            while c < j and 2 * b.along[c] <= b.along[j]:
                best = max(best, f[i, c] + f[i, b.beside_y[j, c]])
                c += 1
            f[i, j] = best


@kernel
def count_relaxed(b: Boxes, leaf_worth: Ints, f: Ints, used: Ints) -> None:
    """Count how often each thing lies on the relaxed sheet of greatest worth."""
    n, m = b.across.shape[0], b.along.shape[0]
    used[:] = 0
    todo = np.empty((4 * (n + m) + 16, 2), np.int64)
    todo[0, 0], todo[0, 1] = n - 1, m - 1
    depth = 1
    while depth > 0:
        depth -= 1
        i, j = todo[depth, 0], todo[depth, 1]
        if f[i, j] == 0:
            continue
        if f[i - 1, j] == f[i, j]:
            todo[depth, 0], todo[depth, 1] = i - 1, j
            depth += 1
            continue
        if f[i, j - 1] == f[i, j]:
            todo[depth, 0], todo[depth, 1] = i, j - 1
            depth += 1
            continue
        found = False
        for leaf in range(leaf_worth.shape[0]):
            if b.leaf_box[leaf, 0] == i and b.leaf_box[leaf, 1] == j and leaf_worth[leaf] == f[i, j]:
                used[b.leaf_thing[leaf]] += 1
                found = True
                break
        c = 1
        while not found and c < i and 2 * b.across[c] <= b.across[i]:
            p = b.beside_x[i, c]
            if f[c, j] + f[p, j] == f[i, j]:
                todo[depth, 0], todo[depth, 1] = c, j
                todo[depth + 1, 0], todo[depth + 1, 1] = p, j
                depth += 2
                found = True
            c += 1
        c = 1
        while not found and c < j and 2 * b.along[c] <= b.along[j]:
            p = b.beside_y[j, c]
            if f[i, c] + f[i, p] == f[i, j]:
                todo[depth, 0], todo[depth, 1] = i, c
                todo[depth + 1, 0], todo[depth + 1, 1] = i, p
                depth += 2
                found = True
            c += 1


@lean_kernel
def surround(b: Boxes, f: Ints, beyond: Ints) -> None:
    """Fill `beyond`: greatest relaxed worth of what lies on the sheet outside a box in its corner."""
    n, m = b.across.shape[0], b.along.shape[0]
    beyond[:] = 0
    for i in range(n - 1, -1, -1):
        for wider in range(i + 1, n):
            p = b.beside_x[wider, i]
            for j in range(m):
                beyond[i, j] = max(beyond[i, j], beyond[wider, j] + f[p, j])
        for j in range(m - 1, -1, -1):
            best = beyond[i, j]
            for higher in range(j + 1, m):
                best = max(best, beyond[i, higher] + f[i, b.beside_y[higher, j]])
            beyond[i, j] = best


@lean_kernel
def add(
    b: Boxes, a: Fillings, d: Draft, worth: int, value: int, left: int, right: int, cut: int, most: int, lone: int
) -> None:
    """Draft the filling made of two others (`cut` 0 or 1), or of one alone (copied), or of leaf `left`."""
    mark = 0
    here = d.state[0]
    for w in range(b.bias.shape[0]):
        if cut == LEAF and lone < 0:
            packed = b.words[b.leaf_thing[left], w]
        elif lone >= 0:
            packed = a.words[lone, w]
        else:
            packed = a.words[left, w] + a.words[right, w]
            if (packed + b.bias[w]) & b.guard[w]:
                return
        d.words[here, w] = packed
    if cut == LEAF and lone < 0:
        mark = b.mark[b.leaf_thing[left]]
    elif lone >= 0:
        mark = a.mark[lone]
    else:
        mark = a.mark[left] + a.mark[right]
    size = d.table.shape[0]
    at = (mark ^ (mark >> 29)) & (size - 1)
    while d.stamp[at] == d.state[2]:
        if d.mark[d.table[at]] == mark:
            return  # the same filling
        at = (at + 1) & (size - 1)
    d.table[at], d.stamp[at] = here, d.state[2]
    d.worth[here], d.value[here], d.mark[here] = worth, value, mark
    d.left[here], d.right[here], d.cut[here] = left, right, cut
    d.state[0] = here + 1
    if here + 1 == d.worth.shape[0]:
        thin(d, most)


@kernel
def thin(d: Draft, most: int) -> None:
    """Keep the best fillings of a draft, sorted."""
    here = d.state[0]
    order = np.argsort(-d.worth[:here], kind="mergesort")
    kept = min(here, most)
    order = order[:kept]
    d.worth[:kept] = d.worth[order]
    d.value[:kept] = d.value[order]
    d.mark[:kept] = d.mark[order]
    d.words[:kept] = d.words[order]
    d.left[:kept] = d.left[order]
    d.right[:kept] = d.right[order]
    d.cut[:kept] = d.cut[order]
    if kept < here:
        d.state[3] = 1
        d.state[1] = max(d.state[1], d.worth[kept - 1] + 1)
    d.state[0] = kept
    d.state[2] += 1
    size = d.table.shape[0]
    for k in range(kept):
        at = (d.mark[k] ^ (d.mark[k] >> 29)) & (size - 1)
        while d.stamp[at] == d.state[2]:
            at = (at + 1) & (size - 1)
        d.table[at], d.stamp[at] = k, d.state[2]


@lean_kernel
def pair(b: Boxes, a: Fillings, d: Draft, s0: int, s1: int, t0: int, t1: int, cut: int, most: int) -> None:
    """Draft what the fillings of two boxes make together; each list is sorted, so bad ends are cut off."""
    if s0 == s1 or t0 == t1:
        return
    for x in range(s0, s1):
        if a.worth[x] + a.worth[t0] < d.state[1]:
            return
        for y in range(t0, t1):
            worth = a.worth[x] + a.worth[y]
            if worth < d.state[1]:
                break
            d.state[6] += 1
            add(b, a, d, worth, a.value[x] + a.value[y], x, y, cut, most, -1)


@lean_kernel
def fill_row(
    b: Boxes,
    a: Fillings,
    d: Draft,
    i: int,
    beyond: Ints,
    leaf_worth: Ints,
    leaf_value: Ints,
    spare: int,
    scale: int,
    most: int,
    end: int,
) -> int:
    """Make the fillings of all boxes of width i, from `end` of the arrays on; returns the new end.

    A filling is kept only if its worth, what is `beyond`, and `spare` come to more than the best value (× scale).
    """
    for j in range(1, b.along.shape[0]):
        d.state[0] = 0
        d.state[2] += 1
        d.state[1] = (d.state[4] + 1) * scale - spare - beyond[i, j]
        for leaf in range(leaf_worth.shape[0]):
            if b.leaf_box[leaf, 0] == i and b.leaf_box[leaf, 1] == j and leaf_worth[leaf] >= d.state[1]:
                add(b, a, d, leaf_worth[leaf], leaf_value[leaf], leaf, leaf, LEAF, most, -1)
        for side in range(2):
            k, q = (i - 1, j) if side == 0 else (i, j - 1)
            for x in range(a.start[k, q], a.stop[k, q]):
                if a.worth[x] < d.state[1]:
                    break
                add(b, a, d, a.worth[x], a.value[x], a.left[x], a.right[x], a.cut[x], most, x)
        c = 1
        while c < i and 2 * b.across[c] <= b.across[i]:
            p = b.beside_x[i, c]
            pair(b, a, d, a.start[c, j], a.stop[c, j], a.start[p, j], a.stop[p, j], 0, most)
            c += 1
        c = 1
        while c < j and 2 * b.along[c] <= b.along[j]:
            p = b.beside_y[j, c]
            pair(b, a, d, a.start[i, c], a.stop[i, c], a.start[i, p], a.stop[i, p], 1, most)
            c += 1
        thin(d, most)
        a.start[i, j] = end
        for k in range(d.state[0]):
            a.worth[end], a.value[end], a.mark[end] = d.worth[k], d.value[k], d.mark[k]
            for w in range(b.bias.shape[0]):
                a.words[end, w] = d.words[k, w]
            a.left[end], a.right[end], a.cut[end] = d.left[k], d.right[k], d.cut[k]
            if d.value[k] > d.state[4]:
                d.state[4], d.state[5] = d.value[k], end
            end += 1
        a.stop[i, j] = end
    return end
