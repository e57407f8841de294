"""How much of a blank stays between two cuts."""

from __future__ import annotations

import numpy as np
from manifold3d import Manifold

from casewright.design.frames import Vec
from casewright.design.volumes import Lowered, Volume
from casewright.solids.evaluate import solid_of
from casewright.solids.reach import reach


def left_between(size: Vec, a: Volume, b: Volume, most: float) -> float:
    """Return the shortest way in mm from one cut to the other within a blank of a size; `most` where it is no less.

    0 where they meet. Cuts start proud of the wood: what lies outside the blank does not count. No half-spaces.
    """
    (low_a, high_a), (low_b, high_b) = (_inside(reach(v), size) for v in (a, b))
    if (np.maximum(low_a, low_b) - np.minimum(high_a, high_b) >= most).any():
        return most
    one, other = (solid_of(Lowered(base=(v,))).body ^ Manifold.cube(size) for v in (a, b))
    if one.is_empty() or other.is_empty():
        return most
    return float(one.min_gap(other, most))


def _inside(box: np.ndarray, size: Vec) -> tuple[np.ndarray, np.ndarray]:
    return np.maximum(box[0], 0.0), np.minimum(box[1], size)
