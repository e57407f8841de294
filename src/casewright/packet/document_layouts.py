"""Layouts in the JSON document."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.demand import StockNeed, marks_in
from casewright.layout.model import (
    BoardPattern,
    Laid,
    SheetPattern,
    StickPattern,
    StickPiece,
    to_grid_up,
    to_mm,
)
from casewright.layouts import LaidOut
from casewright.packet import document_records as rec
from casewright.packet.cut_plan import leaves


def layout_record(laid: LaidOut) -> rec.LayoutRecord:
    """Return one layout as the document gives it."""
    layout, outcome = laid.layout, laid.layout.outcome
    return rec.LayoutRecord(
        item=laid.need.item,
        form=laid.need.form.value,
        status=outcome.status.value,
        proven=outcome.proven,
        cost_cents=outcome.value,
        bound_cents=outcome.bound,
        reproducible=outcome.reproducible,
        unplaced={u.part: u.count for u in layout.unplaced},
        patterns=tuple(_pattern(laid, p) for p in layout.patterns),
    )


def _pattern(laid: LaidOut, pattern: SheetPattern | BoardPattern | StickPattern) -> rec.PatternRecord:
    stock = next(s for s in laid.need.demand.stock if s.id == pattern.stock)
    placed = (
        tuple(record for p in pattern.pieces for record in _stick_piece(laid.need, p))
        if isinstance(pattern, StickPattern)
        else tuple(_leaf(leaf) for leaf in leaves(pattern.root))
    )
    return rec.PatternRecord(
        stock=pattern.stock,
        length_mm=to_mm(stock.length),
        width_mm=to_mm(getattr(stock, "width", 0)),
        times=pattern.times,
        laid=placed,
    )


def _leaf(laid: Laid) -> rec.LaidRecord:
    return rec.LaidRecord(
        part=laid.part,
        x_mm=to_mm(laid.x),
        y_mm=to_mm(laid.y),
        length_mm=to_mm(laid.length),
        width_mm=to_mm(laid.width),
        turned=laid.turned,
    )


def _stick_piece(need: StockNeed, piece: StickPiece) -> Iterator[rec.LaidRecord]:
    """Give the record of a piece; of two that stay together that of each, the second turned end for end."""
    rough = {w.mark: to_grid_up(w.part.rough[0]) for w in need.wanted}
    marks = marks_in(piece.part)[:: -1 if piece.flipped else 1]
    for number, mark in enumerate(marks):
        length = rough[mark] if len(marks) > 1 else piece.length
        start = piece.start + (piece.length - length if number else 0)
        yield rec.LaidRecord(
            part=mark,
            x_mm=to_mm(start),
            y_mm=0.0,
            length_mm=to_mm(length),
            width_mm=0.0,
            turned=number > 0 if len(marks) > 1 else piece.flipped,
        )
