"""What the saws demand of a whole sheet, on slicing trees: the policy by which `order_of_cuts` makes the cuts.

Boxes hold one kerf at the far end, as in `trees`. `rules`: 0 kerf, 1 extra of a rough line, 2 and 3 lift (greater,
smaller), 4 longest crosscut, 5 longest rip, 6 first split, 7 stages; −1 is no limit.
"""

from __future__ import annotations

import numpy as np

from casewright.layout.sheets.kernel import kernel, lean_kernel
from casewright.layout.sheets.trees import Ints, Stockroom, Trees, liftable


@lean_kernel
def may_saw(rules: Ints, x: int, y: int, stage: int, made: int, split: int) -> bool:
    """True if a plate made by split `made` in `stage` may be divided by `split`."""
    if made < 0 and rules[6] >= 0 and split != rules[6]:
        return False
    if rules[7] >= 0 and stage + (1 if made != split else 0) > rules[7]:
        return False
    line = (y if split == 0 else x) - rules[0]
    return rules[4 + split] < 0 or line <= rules[4 + split] or not liftable(rules, x, y)


@kernel
def legal(t: Trees, s: Stockroom, b: int) -> bool:
    """True if the sheet can be cut within lift limits, longest lines, stages and first direction."""
    n = t.nodes[b]
    plate = np.zeros((n, 4), np.int64)  # of each node: x, y, stage, made by
    plate[0, 0] = s.inner[t.sheet[b], 0]
    plate[0, 1] = s.inner[t.sheet[b], 1]
    plate[0, 3] = -1
    for i in range(n):
        if t.kind[b, i] >= 0:
            if not leaf_legal(t, s, b, i, plate):
                return False
        elif not row_legal(t, s, b, i, plate):
            return False
    return True


@lean_kernel
def leaf_legal(t: Trees, s: Stockroom, b: int, i: int, plate: Ints) -> bool:
    """True if a leaf can be cut out of its plate, crosscut or rip first."""
    for first in range(2):
        x, y, stage, made = plate[i, 0], plate[i, 1], plate[i, 2], plate[i, 3]
        good = True
        for turn in range(2):
            split = first if turn == 0 else 1 - first
            extent = x if split == 0 else y
            if t.size[b, i, split] >= extent:
                continue
            if not may_saw(s.rules, x, y, stage, made, split):
                good = False
                break
            stage += 1 if made != split else 0
            made = split
            if split == 0:
                x = t.size[b, i, 0]
            else:
                y = t.size[b, i, 1]
        if good:
            return True
    return False


@lean_kernel
def row_legal(t: Trees, s: Stockroom, b: int, i: int, plate: Ints) -> bool:
    """True if a row's plate can be trimmed and divided; hands their plates to the children."""
    a = -1 - t.kind[b, i]
    along, across, stage, made = plate[i, a], plate[i, 1 - a], plate[i, 2], plate[i, 3]
    x, y = plate[i, 0], plate[i, 1]
    limit = s.rules[4 + a]
    if across > t.size[b, i, 1 - a] and (not liftable(s.rules, x, y) or (limit >= 0 and across - s.rules[0] > limit)):
        if not may_saw(s.rules, x, y, stage, made, 1 - a):
            return False
        stage += 1 if made != 1 - a else 0
        made = 1 - a
        across = t.size[b, i, 1 - a]
    whole = liftable(s.rules, along if a == 0 else across, across if a == 0 else along)
    j = i + 1
    while j < t.end[b, i]:
        run, stop = segment(t, s, b, i, j, a, whole)
        inner = along
        run_stage, run_made = stage, made
        if not whole and run < along:
            if not may_saw(s.rules, along if a == 0 else across, across if a == 0 else along, stage, made, a):
                return False
            stage += 1 if made != a else 0
            made = a
            extra = 0 if liftable(s.rules, along if a == 0 else across, across if a == 0 else along) else s.rules[1]
            along -= run + extra
            inner = run
            run_stage, run_made = stage, made
        while j < stop:
            size = t.size[b, j, a]
            if size < inner:
                if not may_saw(
                    s.rules, inner if a == 0 else across, across if a == 0 else inner, run_stage, run_made, a
                ):
                    return False
                run_stage += 1 if run_made != a else 0
                run_made = a
            plate[j, a], plate[j, 1 - a] = min(size, inner), across
            plate[j, 2], plate[j, 3] = run_stage, run_made
            inner -= size
            j = t.end[b, j]
    return True


@lean_kernel
def segment(t: Trees, s: Stockroom, b: int, i: int, j: int, a: int, whole: bool) -> tuple[int, int]:
    """Length of the run of children from j that can be lifted as one, and the node after it."""
    if whole:
        return t.size[b, i, a], t.end[b, i]
    run = t.size[b, j, a]
    across = t.size[b, i, 1 - a]
    j = t.end[b, j]
    while j < t.end[b, i]:
        longer = run + t.size[b, j, a]
        if not liftable(s.rules, longer if a == 0 else across, across if a == 0 else longer):
            break
        run = longer
        j = t.end[b, j]
    return run, j
