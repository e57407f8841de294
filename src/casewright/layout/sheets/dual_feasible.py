"""Bounds by dual-feasible functions, for one kind of sheet: sizes are exaggerated where that can be proven harmless.

f is dual feasible if no sizes that fit a length W together exceed f(W) after f. For such f of widths and g of heights,
Σ f(w) g(h) / (f(W) g(H)) sheets are needed at least; a part that may turn counts its smaller product.
Families: Fekete and Schepers 2001 (cut off small and large; rounding to k + 1 parts), Carlier, Clautiaux and Moukrim
2007 (rounding down to multiples, counted from the middle).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from casewright.layout.sheets.problem import Problem

Sizes = NDArray[np.int64]
Shares = NDArray[np.float64]
MOST = 60  # thresholds of each family; enough for every size of a small order
SAFE = 1e-7


def fewest_sheets(problem: Problem) -> int:
    """Least number of sheets of the problem's only kind; 0 where there are several kinds, or groups."""
    if len(problem.inner) != 1 or any(len(thing.members) > 1 for thing in problem.things):
        return 0
    kerf = min(problem.rules.kerf, problem.rules.rough)
    full = [side + kerf for side in problem.inner[0]]
    lying = np.array([[side + kerf for side in t.shapes[0].size] for t in problem.things], np.int64).reshape(-1, 2)
    count = np.array([thing.count for thing in problem.things], np.float64)
    turns = np.array([len(thing.shapes) > 1 for thing in problem.things], np.bool_)
    # a part that fits only one way round counts as that way alone
    fits, fits_turned = np.all(lying <= full, axis=1), np.all(lying[:, ::-1] <= full, axis=1)
    upright = np.where(fits.reshape(-1, 1), lying, lying[:, ::-1])
    turns &= fits & fits_turned
    thresholds = np.unique(lying)
    across, along = (functions(full[a], thresholds) for a in (0, 1))
    best = 0.0
    wide, high = ([shares(f, upright[:, a], full[a]) for f in fs] for a, fs in ((0, across), (1, along)))
    wide_t, high_t = ([shares(f, upright[:, 1 - a], full[a]) for f in fs] for a, fs in ((0, across), (1, along)))
    highs, highs_turned = np.array(high), np.array(high_t)
    for f, f_turned in zip(wide, wide_t, strict=True):
        straight, turned = highs * f, highs_turned * f_turned
        needed = np.where(turns, np.minimum(straight, turned), straight) @ count
        best = max(best, float(needed.max()))
    return math.ceil(best - SAFE * max(1.0, best))


def functions(full: int, sizes: Sizes, most: int = MOST) -> list[tuple[str, int]]:
    """Functions for a length, by name and parameter; about `most` thresholds of each family, out of the sizes."""
    sizes = np.unique(sizes)
    small = [int(k) for k in sizes if 2 * k <= full]
    step = max(1, len(small) // most)
    cut_off = [("cut off", 0)] + [("cut off", k) for k in small[::step]]
    multiples = sorted({k for size in sizes[:: max(1, len(sizes) // most)] for k in (int(size), full - int(size) + 1)})
    return cut_off + [("multiples", k) for k in multiples if 0 < 2 * k <= full] + [("parts", k) for k in range(1, 12)]


def shares(function: tuple[str, int], sizes: Sizes, full: int) -> Shares:
    """f(sizes) / f(full)."""
    name, k = function
    clipped = np.minimum(sizes, full)
    if name == "cut off":
        return np.where(clipped > full - k, full, np.where(clipped < k, 0, clipped)) / full
    if name == "multiples":
        whole = full // k
        above = 2 * (whole - (full - clipped) // k)
        return np.where(2 * clipped > full, above, np.where(2 * clipped == full, whole, 2 * (clipped // k))) / (
            2 * whole
        )
    scaled = (k + 1) * clipped
    return np.where(scaled % full == 0, clipped / full, (scaled // full) / k)
