"""The order: what a client wants, read from one TOML file and checked."""

from casewright.order.editing import set_value
from casewright.order.errors import EditError, OrderError
from casewright.order.fitting import practice_for, shop_findings, sizes_for
from casewright.order.json_schema import order_json_schema
from casewright.order.model import Acceptance, Order, PieceKind, PieceOrder, Room, Setting, Style, Use
from casewright.order.reading import Catalogue, load_order, order_from_text, shop_named_in

__all__ = [
    "Acceptance",
    "Catalogue",
    "EditError",
    "Order",
    "OrderError",
    "PieceKind",
    "PieceOrder",
    "Room",
    "Setting",
    "Style",
    "Use",
    "load_order",
    "order_from_text",
    "order_json_schema",
    "practice_for",
    "set_value",
    "shop_findings",
    "shop_named_in",
    "sizes_for",
]
