"""Where everything of a piece stands: the boxes of its things and fasteners, worked out once for all checks."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.checks.model import Subject
from casewright.design.parts import Fastener, Placed
from casewright.solids.collide import placed_boxes

Boxes = NDArray[np.float64]  # (n, 6): low x y z, high x y z, mm


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """Boxes in the piece, a row each, and the rows by path."""

    placed: tuple[Placed, ...]
    boxes: Boxes
    fastener_boxes: Boxes
    rows: Mapping[str, int]
    fastener_rows: Mapping[str, int]

    def of(self, things: Sequence[Placed]) -> Boxes:
        """Return the boxes of things that stand at their places in the piece."""
        return self.boxes[[self.rows[p.path] for p in things]]

    def of_fasteners(self, fasteners: Sequence[Fastener]) -> Boxes:
        """Return the boxes of fasteners that stand at their places."""
        return self.fastener_boxes[[self.fastener_rows[f.path] for f in fasteners]]

    def met_by(self, box: Boxes) -> list[Placed]:
        """Return what reaches into a box (6,), in the order of the piece."""
        return [self.placed[i] for i in met_boxes(self.boxes, box)]


def standing(subject: Subject) -> Standing:
    """Return where everything of a subject stands."""
    return subject.once("standing", lambda: _standing(subject))


def _standing(subject: Subject) -> Standing:
    piece = subject.piece
    return Standing(
        placed=piece.placed,
        boxes=placed_boxes(piece.placed, subject.cache),
        fastener_boxes=fastener_boxes(piece.fasteners),
        rows={p.path: i for i, p in enumerate(piece.placed)},
        fastener_rows={f.path: i for i, f in enumerate(piece.fasteners)},
    )


def met_boxes(boxes: Boxes, box: Boxes) -> list[int]:
    """Return the rows of boxes that reach into one (6,)."""
    met: list[int] = np.flatnonzero(((boxes[:, :3] < box[3:]) & (boxes[:, 3:] > box[:3])).all(axis=1)).tolist()
    return met


def fastener_boxes(fasteners: Sequence[Fastener]) -> Boxes:
    """Return the boxes of fasteners, heads included, (n, 6) in the piece."""
    rows = []
    for f in fasteners:
        z, start, tip = f.frame.z, f.frame.origin, f.tip
        radius = max(f.shank_radius, f.head_radius)
        # A disc reaches radius × sin(angle between its axis and the direction).
        out = [radius * math.sqrt(max(0.0, 1 - c * c)) for c in z]
        low = [min(a, b) - r for a, b, r in zip(start, tip, out, strict=True)]
        high = [max(a, b) + r for a, b, r in zip(start, tip, out, strict=True)]
        rows.append(low + high)
    return np.array(rows).reshape(-1, 6)
