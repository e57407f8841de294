"""Compiled kernels: the knapsack over all capacities at once, and patterns listed from it.

Imported only when a search begins. Where no folder can hold numba's cache, the kernels are compiled
each time and the answer is the same.

Key: m sizes `w`, at most `b` pieces of each in a pattern, `v` the value of a piece, C the capacity,
`F[i, c]` the greatest value of pieces i … m − 1 in capacity c.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Function = TypeVar("Function", bound=Callable[..., Any])


def compiled(function: Function) -> Function:
    """Compile `function`, with the cache where there is a folder for it."""
    try:
        return cast(Function, numba.njit(cache=True)(function))
    except RuntimeError:  # "no locator available": nowhere to write
        return cast(Function, numba.njit(function))


@compiled
def fill_table(w: Ints, b: Ints, v: Floats, capacity: int, F: Floats) -> None:
    """Fill `F` (m + 1 rows, capacity + 1 columns) from the last size to the first."""
    m = w.size
    for c in range(capacity + 1):
        F[m, c] = 0.0
    for i in range(m - 1, -1, -1):
        size, value = w[i], v[i]
        for c in range(capacity + 1):
            F[i, c] = F[i + 1, c]
        if value <= 0.0 or b[i] == 0:
            continue
        if b[i] * size >= capacity - size + 1:
            for c in range(size, capacity + 1):
                if F[i, c - size] + value > F[i, c]:
                    F[i, c] = F[i, c - size] + value
            continue
        copies = b[i]
        lot = 1
        while copies > 0:  # in lots of 1, 2, 4 … pieces
            n = min(lot, copies)
            for c in range(capacity, n * size - 1, -1):
                if F[i, c - n * size] + n * value > F[i, c]:
                    F[i, c] = F[i, c - n * size] + n * value
            copies -= n
            lot *= 2


@compiled
def best_pattern(
    w: Ints, b: Ints, v: Floats, capacity: int, coarse: int, F: Floats, enough: float, work: int, pattern: Ints
) -> tuple[float, bool]:
    """Write the most valuable pattern into `pattern`; return its value, and whether it is proven within `work` nodes.

    A first pattern worth more than `enough` is not improved on.
    `F` is the table of the sizes and capacity divided by `coarse` and rounded down, so that it bounds what can still
    be gained. Where `coarse` is 1 it is exact and the first way down is the answer.
    """
    m = w.size
    free, best = capacity, 0.0
    for i in range(m):  # down the way that the table promises most
        pattern[i] = 0
        if v[i] <= 0.0:
            continue
        promise = F[i + 1, free // coarse]
        for k in range(1, min(b[i], free // w[i]) + 1):
            value = F[i + 1, (free - k * w[i]) // coarse] + k * v[i]
            if value > promise + 1e-12:
                promise, pattern[i] = value, k
        free -= pattern[i] * w[i]
        best += pattern[i] * v[i]
    if best >= F[0, capacity // coarse] - 1e-9:
        return best, True
    if best > enough:
        return best, False
    return _better_pattern(w, b, v, capacity, coarse, F, work, pattern, best)


@compiled
def _better_pattern(
    w: Ints, b: Ints, v: Floats, capacity: int, coarse: int, F: Floats, work: int, pattern: Ints, best: float
) -> tuple[float, bool]:
    """Search all patterns that the table does not rule out, depth first."""
    m = w.size
    count = np.zeros(m + 1, dtype=np.int64)
    free, gained = capacity, 0.0
    i = 0
    count[0] = min(b[0], free // w[0]) + 1
    while i >= 0:
        work -= 1
        if work < 0:
            return best, False
        moved = False
        while count[i] > 0 and not moved:
            count[i] -= 1
            left, value = free - count[i] * w[i], gained + count[i] * v[i]
            moved = value + F[i + 1, left // coarse] > best + 1e-9
        if not moved:
            i -= 1
            if i >= 0:
                free += count[i] * w[i]
                gained -= count[i] * v[i]
            continue
        free, gained = left, value
        i += 1
        if gained > best + 1e-9:
            best = gained
            pattern[:i] = count[:i]
            pattern[i:] = 0
        if i < m:
            count[i] = min(b[i], free // w[i]) + 1
        else:
            i -= 1
            free += count[i] * w[i]
            gained -= count[i] * v[i]
    return best, True


@compiled
def _is_full(w: Ints, b: Ints, count: Ints, free: int) -> bool:
    for j in range(w.size):
        if count[j] < b[j] and w[j] <= free:
            return False
    return True


@compiled
def list_patterns(
    w: Ints, b: Ints, v: Floats, capacity: int, coarse: int, F: Floats, least: float, out: NDArray[np.int16], work: int
) -> int:
    """List every full pattern worth `least` or more into the rows of `out`; return how many, −1 where there is no end.

    Full: no further piece fits in what is free, so that no other pattern holds all of it. `F` as in `best_pattern`.
    """
    m = w.size
    count = np.zeros(m + 1, dtype=np.int64)
    free, gained = capacity, 0.0
    found = 0
    i = 0
    count[0] = min(b[0], free // w[0]) + 1
    while i >= 0:
        work -= 1
        if work < 0:
            return -1
        moved = False
        while count[i] > 0 and not moved:
            count[i] -= 1
            left, value = free - count[i] * w[i], gained + count[i] * v[i]
            moved = value + F[i + 1, left // coarse] >= least
        if moved:
            free, gained = left, value
            i += 1
            if i < m:
                count[i] = min(b[i], free // w[i]) + 1
                continue
            if _is_full(w, b, count, free):
                if found == out.shape[0]:
                    return -1
                out[found] = count[:m]
                found += 1
        i -= 1
        if i >= 0:
            free += count[i] * w[i]
            gained -= count[i] * v[i]
    return found
