"""Where everything of a piece stands: the boxes of its things and fasteners, worked out once for all checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from casewright.checks.model import Subject
from casewright.design.parts import Fastener, Placed
from casewright.solids.collide import Boxes, placed_boxes
from casewright.solids.fastened import fastener_boxes


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
