"""Rows of blocks that fill a rectangle's whole length without any waste (compiled).

A shelf runs along axis a and is `high` across it. It is a row of blocks, each just so high: a piece, or a pile of two
or three bars of the same length, a bar being a piece or two pieces of the same height side by side. What is found is
found at random, among at most so many blocks, so that asking again gives another one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from casewright.layout.sheets.kernel import kernel, lean_kernel
from casewright.layout.sheets.search import draw
from casewright.layout.sheets.trees import Ints

MOST_BARS = 12_000
MOST_BLOCKS = 6_000
BARS = 3  # in a block, at most
TRIES = 6  # blocks looked at for each place in a shelf; the one with the largest pieces is taken
VISITS = 400  # places tried, before a shelf is given up


class Bench(NamedTuple):
    """Room to look for shelves."""

    size: Ints  # piece, axis
    free: Ints  # piece: 1 while it may be used
    bar: Ints  # bar, (piece, other piece or −1), by length
    first_bar: Ints  # length: first bar; one more entry at the end
    block: Ints  # block, its bars (−1: none), by length
    first_block: Ints  # length: first block
    head: Ints  # height: first bar of the length looked at
    next: Ints  # bar: next bar of that length and height
    reach: Ints  # length: 1 where blocks could sum to it
    chosen: Ints  # blocks of the shelf; last entry: how many
    spent: Ints  # as in `search`: random state in the third entry


def new_bench(size: Ints, longest: int, seed: int) -> Bench:
    """Room for pieces of these sizes and shelves up to `longest`."""
    spent = np.zeros(9, np.int64)
    spent[2] = seed * 7919 + 99991
    return Bench(
        size=size.astype(np.int64),
        free=np.ones(len(size), np.int64),
        bar=np.zeros((MOST_BARS, 2), np.int64),
        first_bar=np.zeros(longest + 2, np.int64),
        block=np.zeros((MOST_BLOCKS, BARS), np.int64),
        first_block=np.zeros(longest + 2, np.int64),
        head=np.zeros(longest + 2, np.int64),
        next=np.zeros(MOST_BARS, np.int64),
        reach=np.zeros(longest + 2, np.int64),
        chosen=np.zeros(longest + 2, np.int64),
        spent=spent,
    )


@kernel
def list_bars(k: Bench, a: int, length: int, high: int) -> int:
    """List the bars along axis a that are no longer or higher than so, sorted by length; returns how many."""
    n = k.size.shape[0]
    order = np.argsort(k.size[:, 1 - a])
    found = np.zeros((MOST_BARS, 3), np.int64)
    bars = 0
    start = draw(k.spent, n)
    for turn in range(n):
        u = (start + turn) % n
        p = order[u]
        if k.free[p] == 0 or k.size[p, a] > length or k.size[p, 1 - a] > high:
            continue
        if bars < MOST_BARS:
            found[bars] = (k.size[p, a], p, -1)
            bars += 1
        v = u + 1
        while v < n and bars < MOST_BARS and k.size[order[v], 1 - a] == k.size[p, 1 - a]:
            q = order[v]
            v += 1
            if k.free[q] and k.size[p, a] + k.size[q, a] <= length:
                found[bars] = (k.size[p, a] + k.size[q, a], p, q)
                bars += 1
    k.first_bar[:] = 0
    for i in range(bars):
        k.first_bar[found[i, 0] + 1] += 1
    for x in range(k.first_bar.shape[0] - 1):
        k.first_bar[x + 1] += k.first_bar[x]
    at = k.first_bar.copy()
    for i in range(bars):
        x = found[i, 0]
        k.bar[at[x], 0], k.bar[at[x], 1] = found[i, 1], found[i, 2]
        at[x] += 1
    return bars


@lean_kernel
def apart(k: Bench, i: int, j: int) -> bool:
    """True where two bars have no piece in common."""
    p, q, r, t = k.bar[i, 0], k.bar[i, 1], k.bar[j, 0], k.bar[j, 1]
    return bool(p != r and p != t and (q < 0 or (q != r and q != t)))


@lean_kernel
def list_blocks(k: Bench, a: int, length: int, high: int) -> int:
    """List blocks along axis a just so high, sorted by length; returns how many."""
    blocks = 0
    for x in range(length + 1):
        k.first_block[x] = blocks
        low, top = k.first_bar[x], k.first_bar[x + 1]
        if low == top:
            continue
        most = min(MOST_BLOCKS, blocks + max(8, 2 * (MOST_BLOCKS - blocks) // (length + 1 - x)))
        for i in range(low, top):
            k.head[k.size[k.bar[i, 0], 1 - a]] = -1
        for i in range(low, top):
            t = k.size[k.bar[i, 0], 1 - a]
            k.next[i] = k.head[t]
            k.head[t] = i
        start = draw(k.spent, top - low)
        for turn in range(top - low):
            blocks = pile(k, a, low + (start + turn) % (top - low), low, top, high, blocks, most)
    for x in range(length + 1, k.first_block.shape[0]):
        k.first_block[x] = blocks
    return blocks


@lean_kernel
def pile(k: Bench, a: int, i: int, low: int, top: int, high: int, blocks: int, most: int) -> int:
    """List the blocks that begin with bar i, of the bars low … top − 1 of its length; returns how many there are."""
    rest = high - k.size[k.bar[i, 0], 1 - a]
    if rest == 0 and k.bar[i, 1] < 0 and blocks < most:
        k.block[blocks, 0], k.block[blocks, 1], k.block[blocks, 2] = i, -1, -1
        return blocks + 1
    for j in range(i + 1, top):
        more = rest - k.size[k.bar[j, 0], 1 - a]
        if blocks >= most:
            break
        if more < 0 or not apart(k, i, j):
            continue
        if more == 0:
            k.block[blocks, 0], k.block[blocks, 1], k.block[blocks, 2] = i, j, -1
            blocks += 1
        g = k.head[more] if more > 0 else -1
        if g < low or g >= top or k.size[k.bar[g, 0], 1 - a] != more:
            continue  # what stands there is of another length
        while g > j:  # the last comes first
            if blocks < most and apart(k, i, g) and apart(k, j, g):
                k.block[blocks, 0], k.block[blocks, 1], k.block[blocks, 2] = i, j, g
                blocks += 1
            g = k.next[g]
    return blocks


@lean_kernel
def usable(k: Bench, b: int) -> bool:
    """True while all pieces of a block are free."""
    for v in range(BARS):
        i = k.block[b, v]
        if i >= 0 and (k.free[k.bar[i, 0]] == 0 or (k.bar[i, 1] >= 0 and k.free[k.bar[i, 1]] == 0)):
            return False
    return True


@lean_kernel
def mark(k: Bench, b: int, free: int) -> None:
    """Mark the pieces of a block as free or used."""
    for v in range(BARS):
        i = k.block[b, v]
        if i >= 0:
            k.free[k.bar[i, 0]] = free
            if k.bar[i, 1] >= 0:
                k.free[k.bar[i, 1]] = free


@lean_kernel
def pieces(k: Bench, b: int) -> int:
    """How many pieces a block has."""
    n = 0
    for v in range(BARS):
        i = k.block[b, v]
        if i >= 0:
            n += 1 if k.bar[i, 1] < 0 else 2
    return n


@lean_kernel
def length_of(k: Bench, a: int, b: int) -> int:
    """Length of a block along axis a."""
    i = k.block[b, 0]
    return int(k.size[k.bar[i, 0], a] + (k.size[k.bar[i, 1], a] if k.bar[i, 1] >= 0 else 0))


@lean_kernel
def look_ahead(k: Bench, length: int) -> None:
    """Note which lengths blocks could sum to, each taken as often as one likes."""
    k.reach[: length + 1] = 0
    k.reach[0] = 1
    for x in range(1, length + 1):
        if k.first_block[x + 1] > k.first_block[x]:
            for y in range(x, length + 1):
                if k.reach[y - x]:
                    k.reach[y] = 1


@kernel
def find_shelf(k: Bench, a: int, length: int, high: int) -> bool:
    """Find a shelf along axis a, and mark its pieces as used; its blocks are then in `chosen`."""
    list_bars(k, a, length, high)
    blocks = list_blocks(k, a, length, high)
    k.chosen[-1] = 0
    if blocks == 0:
        return False
    look_ahead(k, length)
    if k.reach[length] == 0:
        return False
    rest, depth = length, 0
    for _ in range(VISITS):
        best, size = -1, -1.0
        exact = k.first_block[rest + 1] - k.first_block[rest]
        for turn in range(max(TRIES, exact)):  # one that ends the shelf, if there is any
            b = k.first_block[rest] + turn if turn < exact else draw(k.spent, blocks)
            x = length_of(k, a, b)
            if x > rest or k.reach[rest - x] == 0 or not usable(k, b):
                continue
            mean = x * high / pieces(k, b) * (1000.0 if x == rest else 1.0)
            if mean > size:
                best, size = b, mean
        if best >= 0:
            mark(k, best, 0)
            k.chosen[depth] = best
            depth += 1
            rest -= length_of(k, a, best)
            if rest == 0:
                k.chosen[-1] = depth
                return True
        else:
            for _ in range(min(depth, 1 + draw(k.spent, 3))):
                depth -= 1
                mark(k, k.chosen[depth], 1)
                rest += length_of(k, a, k.chosen[depth])
    for i in range(depth):
        mark(k, k.chosen[i], 1)
    return False
