"""Worths of widths (or lengths) that make the most of what can lie side by side on a board of one width (or length).

The bar relaxation: any line across a board meets pieces whose widths add up to no more than the board's. The
linear programme over all such sets, each for some length of the board (column generation, Gilmore and Gomory 1961),
has duals that give each width its worth; no line meets more worth than 1 (Scheithauer 1999: bars in both directions).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import highspy
import numpy as np
from numpy.typing import NDArray

from casewright.layout.highs import quiet_highs

CELLS = 2_000
ROUNDS = 80

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def most_worth(sizes: Sequence[int], worths: Floats, room: int) -> tuple[float, Ints]:
    """Return the most worth of pieces whose sizes add up to `room`, and how many of each; not below the true most.

    Sizes are rounded down to a two-thousandth of the room.
    """
    unit = max(1, room // CELLS)
    cells = -(-room // unit)
    if any(size < unit and worth > 0 for size, worth in zip(sizes, worths, strict=True)):
        return math.inf, np.zeros(len(sizes), dtype=np.int64)
    best = np.zeros(cells + 1)
    lots: list[tuple[int, int, NDArray[np.bool_]]] = []
    for i, (size, worth) in enumerate(zip(sizes, worths, strict=True)):
        step, lot = size // unit, 1
        while worth > 0 and lot * step <= cells:  # lots of 1, 2, 4 … pieces
            other = best.copy()
            other[lot * step :] = best[: cells + 1 - lot * step] + lot * worth
            taken = other > best
            lots.append((i, lot, taken))
            best = np.maximum(best, other)
            lot *= 2
    counts = np.zeros(len(sizes), dtype=np.int64)
    at = cells
    for i, lot, taken in reversed(lots):
        if taken[at]:
            counts[i] += lot
            at -= lot * (sizes[i] // unit)
    return float(best[cells]), counts


def bar_worths(sizes: Sequence[int], needs: Floats, room: int) -> Floats:
    """Return a worth for each size such that no set in `room` is worth more than 1, and `needs` are worth the most."""
    lp = quiet_highs()
    none = np.zeros(0, dtype=np.int32), np.zeros(0)
    scale = max(1.0, float(needs.max(initial=0.0)))
    for need in needs:
        lp.addRow(float(need) / scale, highspy.kHighsInf, 0, *none)
    for i, size in enumerate(sizes):
        if size <= room:
            lp.addCol(1.0, 0.0, highspy.kHighsInf, 1, np.array([i], dtype=np.int32), np.array([float(room // size)]))
        else:
            lp.changeRowBounds(i, 0.0, highspy.kHighsInf)
    worths = np.zeros(len(sizes))
    for _ in range(ROUNDS):
        lp.run()
        worths = np.maximum(0.0, np.array(lp.getSolution().row_dual))
        most, counts = most_worth(sizes, worths, room)
        if most <= 1 + 1e-7 or not counts.any():
            break
        index = np.flatnonzero(counts).astype(np.int32)
        lp.addCol(1.0, 0.0, highspy.kHighsInf, index.size, index, counts[index].astype(np.float64))
    return worths
