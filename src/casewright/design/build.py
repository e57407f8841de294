"""From an order to the root assembly: every piece by its kind's builder, pairs mirrored, counts repeated."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, cast

from casewright.design.assembly import PieceDesign
from casewright.design.blocks.top import Moisture
from casewright.design.kit import Kit, KitError
from casewright.design.mirror import mirror_piece
from casewright.findings import Finding, Severity
from casewright.order.model import PieceOrder, Room
from casewright.stock.movement import emc

BuildFunction = Callable[..., PieceDesign]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceBuilder:
    """One entry of the catalogue: kind, and `build(spec, kit, moisture, path, overrides)`."""

    kind: str
    build: BuildFunction


def moisture_of(room: Room) -> Moisture:
    """Return the wood's moisture contents in a room (Wood Handbook Eq. 4-5); when fitted as a meter reads it."""
    read = room.wood_moisture
    return Moisture(
        dry=emc(room.temperature, room.humidity_low),
        damp=emc(room.temperature, room.humidity_high),
        fitted=emc(room.temperature, room.humidity_fitting) if read is None else read,
    )


def piece_path(name: str, hand: str) -> str:
    """Return the path of a piece: bedside.left, bedside.right, or its name where it has no hand."""
    return f"{name}.{hand}" if hand else name


def nameless(spec: PieceOrder) -> PieceOrder:
    """Return what is ordered without what tells equal pieces apart: name, count, hand and place in the order."""
    any_name: PieceOrder = replace(cast(Any, spec), name="", count=1, hands=("",), place="")
    return any_name


def design_piece(
    builder: PieceBuilder, spec: object, path: str, kit: Kit, moisture: Moisture, overrides: Mapping[str, float]
) -> PieceDesign:
    """Return the left (or only) piece; a shop that lacks what it needs gives a piece without parts and a finding."""
    try:
        return builder.build(spec, kit, moisture, path, overrides)
    except KitError as lack:
        return _empty(spec, path, builder.kind, lack)


def handed(left: PieceDesign, hand: str) -> PieceDesign:
    """Return a designed piece in the hand that is wanted."""
    piece = mirror_piece(left) if hand == "right" else left
    return replace(piece, title=f"{piece.title}, {hand}") if hand else piece


def _empty(spec: object, path: str, kind: str, lack: KitError) -> PieceDesign:
    place = str(getattr(spec, "place", ""))
    finding = Finding(
        code="stock.lacking",
        severity=Severity.STOP,
        path=path,
        message=str(lack),
        place=place,
        remedy=f"give the shop {lack.expected} for {lack.what}",
    )
    return PieceDesign(
        path=path,
        kind=kind,
        title=str(getattr(spec, "title", kind)),
        width=float(getattr(spec, "width", 0.0)),
        depth=float(getattr(spec, "depth", 0.0)),
        height=float(getattr(spec, "height", 0.0)),
        findings=(finding,),
        place=place,
    )
