"""A subject for checks in tests: a piece that no order asked for, in the order file's usual room and use."""

from __future__ import annotations

from casewright import load_shop
from casewright.cache import Cache
from casewright.checks.model import Subject
from casewright.design.assembly import PieceDesign
from casewright.design.build import moisture_of
from casewright.order.model import Room, Use
from casewright.order.schema import RoomTable, UseTable
from casewright.shop.model import Practice, Shop

ROOM = Room(**RoomTable().model_dump())
USE = Use(**UseTable().model_dump())


def subject_of(
    piece: PieceDesign, practice: Practice | None = None, cache: Cache | None = None, shop: Shop | None = None
) -> Subject:
    """Return what checks read of a piece that was built without an order."""
    shop = shop or load_shop()
    return Subject(
        piece=piece,
        practice=practice or shop.practice,
        cache=cache or Cache(),
        room=ROOM,
        use=USE,
        moisture=moisture_of(ROOM),
        sizes=shop.sizes,
        machines=shop.machines,
    )
