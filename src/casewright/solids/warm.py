"""`python -m casewright.solids.warm` compiles the hidden-line kernel once, so that first pictures are quick."""

from __future__ import annotations

import numpy as np

from casewright.solids import kernel


def warm() -> None:
    """Call each compiled function once on a single triangle."""
    triangle = np.array([[0.0, 0.0, 1.0, 2.0, 0.0, 1.0, 0.0, 2.0, 1.0]])
    plane = np.array([[0.0, 0.0, 1.0]])
    start, members = kernel.bin_triangles(triangle, 0.0, 0.0, 1.0, 3, 3)
    ends = np.array([[0.2, 0.2, 0.0]]), np.array([[3.0, 0.2, 0.0]])
    kernel.hidden_spans(*ends, triangle, plane, start, members, 0.0, 0.0, 1.0, 3, 3, 0.02, 1e-5)
    kernel.topmost(np.array([[0.5, 0.5]]), triangle, plane, start, members, 0.0, 0.0, 1.0, 3, 3)


if __name__ == "__main__":
    warm()
