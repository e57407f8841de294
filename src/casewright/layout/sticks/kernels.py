"""Compiled kernels: the knapsack over all capacities at once, and patterns listed from it.

Imported only when a search begins. Where no folder can hold numba's cache, the kernels are compiled
each time and the answer is the same.

Key: m sizes `w`, at most `b` pieces of each in a pattern, `v` the value of a piece, C the capacity,
`F[i, c]` the greatest value of pieces i … m − 1 in capacity c.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Function = TypeVar("Function", bound=Callable[..., Any])


def compiled(function: Function) -> Function:
    """Compile `function`, with the cache where there is a folder for it."""
    try:
        return numba.njit(cache=True)(function)  # type: ignore[no-any-return]
    except RuntimeError:  # "no locator available": nowhere to write
        return numba.njit(function)  # type: ignore[no-any-return]


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
def best_pattern(w: Ints, b: Ints, v: Floats, capacity: int, F: Floats, pattern: Ints) -> None:
    """Write into `pattern` the counts that reach `F[0, capacity]`."""
    c = capacity
    for i in range(w.size):
        pattern[i] = 0
        if v[i] <= 0.0:
            continue
        best, best_k = F[i + 1, c], 0
        for k in range(1, min(b[i], c // w[i]) + 1):
            value = F[i + 1, c - k * w[i]] + k * v[i]
            if value > best + 1e-12:
                best, best_k = value, k
        pattern[i] = best_k
        c -= best_k * w[i]


@compiled
def list_patterns(
    w: Ints, b: Ints, v: Floats, capacity: int, F: Floats, least: float, waste: int, out: NDArray[np.int16], work: int
) -> int:
    """List every full pattern worth `least` or more into the rows of `out`; return how many, −1 where they do not fit.

    Full: no further piece fits in what is free, so that no other pattern holds all of it. `waste` is the most that
    may stay free. `work` limits the nodes visited.
    """
    m = w.size
    free = np.empty(m + 1, dtype=np.int64)
    gained = np.empty(m + 1, dtype=np.float64)
    count = np.zeros(m, dtype=np.int64)
    free[0], gained[0] = capacity, 0.0
    found = 0
    i = 0
    down = True
    while True:
        if down:
            if i == m:
                if free[m] <= waste:
                    full = True
                    for j in range(m):
                        if count[j] < b[j] and w[j] <= free[m]:
                            full = False
                            break
                    if full:
                        if found == out.shape[0]:
                            return -1
                        for j in range(m):
                            out[found, j] = count[j]
                        found += 1
                down = False
                i -= 1
                continue
            count[i] = min(b[i], free[i] // w[i]) + 1
            down = False
        work -= 1
        if work < 0:
            return -1
        moved = False
        while count[i] > 0:
            count[i] -= 1
            left = free[i] - count[i] * w[i]
            value = gained[i] + count[i] * v[i]
            if value + F[i + 1, left] >= least:
                free[i + 1], gained[i + 1] = left, value
                moved = True
                break
        if moved:
            i += 1
            down = True
            continue
        count[i] = 0
        i -= 1
        if i < 0:
            return found


@compiled
def search_best(w: Ints, b: Ints, v: Floats, capacity: int, work: int, pattern: Ints) -> tuple[float, bool]:
    """Write the best pattern into `pattern` by depth-first search; return its value, and whether it is proven.

    For grids too fine for a table. Sizes come in falling order of value for size, so that what is free, filled at
    the next size's rate, bounds what can still be gained (Horowitz and Sahni 1974, for several copies).
    """
    m = w.size
    count = np.zeros(m, dtype=np.int64)
    free, gained, best = capacity, 0.0, 0.0
    pattern[:] = 0
    i = 0
    while True:
        while i < m and v[i] > 0.0:
            if gained + free * (v[i] / w[i]) <= best + 1e-10:
                break
            count[i] = min(b[i], free // w[i])
            free -= count[i] * w[i]
            gained += count[i] * v[i]
            i += 1
        if gained > best + 1e-10:
            best = gained
            pattern[:] = count
        work -= 1
        if work < 0:
            return best, False
        i = min(i, m) - 1
        while i >= 0 and count[i] == 0:
            i -= 1
        if i < 0:
            return best, True
        count[i] -= 1
        free += w[i]
        gained -= v[i]
        for j in range(i + 1, m):
            count[j] = 0
        i += 1


@compiled
def search_list(
    w: Ints, b: Ints, v: Floats, capacity: int, least: float, waste: int, out: NDArray[np.int16], work: int
) -> int:
    """As `list_patterns`, for grids too fine for a table; sizes in falling order of value for size."""
    m = w.size
    count = np.zeros(m, dtype=np.int64)
    free, gained = capacity, 0.0
    found = 0
    i = 0
    while True:
        while i < m:
            rate = v[i] / w[i]
            if gained + free * rate < least:
                break
            count[i] = min(b[i], free // w[i])
            free -= count[i] * w[i]
            gained += count[i] * v[i]
            i += 1
        if i == m and gained >= least and free <= waste:
            full = True
            for j in range(m):
                if count[j] < b[j] and w[j] <= free:
                    full = False
                    break
            if full:
                if found == out.shape[0]:
                    return -1
                for j in range(m):
                    out[found, j] = count[j]
                found += 1
        work -= 1
        if work < 0:
            return -1
        i = min(i, m) - 1
        while i >= 0 and count[i] == 0:
            i -= 1
        if i < 0:
            return found
        count[i] -= 1
        free += w[i]
        gained -= v[i]
        i += 1
