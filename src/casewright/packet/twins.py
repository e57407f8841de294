"""Pairs: pieces of an order that are the mirror image of an earlier one, and how their marks correspond.

The pages show the first piece of a pair whole; of the second what differs from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.design.mirror import mirror_piece, swap_hands


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedMark:
    """A part that has another mark in the mirror image: both marks, and what it is called here."""

    there: str
    here: str
    name: str


def twins_among(pieces: tuple[PieceDesign, ...]) -> dict[str, PieceDesign]:
    """Return, by the path of each piece that mirrors an earlier one, that one."""
    out: dict[str, PieceDesign] = {}
    for i, piece in enumerate(pieces):
        other = next((p for p in pieces[:i] if p.path == swap_hands(piece.path) != piece.path), None)
        if other is not None and mirror_piece(other).placed == piece.placed:
            out[piece.path] = other
    return out


def handed_marks(
    piece: PieceDesign, other: PieceDesign, marks: Mapping[str, str], others: Mapping[str, str]
) -> tuple[HandedMark, ...]:
    """Return the parts of a piece whose mark differs from that of the same part in its twin, by the twin's marks."""
    found: dict[tuple[str, str], str] = {}
    for placed in piece.placed:
        here, there = marks.get(placed.path), others.get(swap_hands(placed.path, piece.cells))
        if here is not None and there is not None and here != there:
            found.setdefault((there, here), placed.name)
    order = sorted(found, key=lambda pair: (len(pair[0]), pair[0], len(pair[1]), pair[1]))
    return tuple(HandedMark(there=t, here=h, name=found[t, h]) for t, h in order)
