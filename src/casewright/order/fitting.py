"""The shop as an order, and a piece of it, sees it: its own practice values and stock in place of the shop's."""

from __future__ import annotations

from casewright.findings import Finding, Severity
from casewright.order.model import Order, PieceOrder
from casewright.shop import Practice, Shop, StockSizes
from casewright.shop.sizes import measure_first, stock_sizes


def practice_for(order: Order, shop: Shop) -> Practice:
    """Return the shop's practice with the order's own values in place."""
    return shop.practice.with_rules({rule.name: rule for rule in order.practice})


def sizes_for(order: Order, piece: PieceOrder, shop: Shop) -> StockSizes:
    """Return the stock by role that `piece` is made from: the shop's, the order's, then the piece's own choice."""
    if not order.roles and not piece.roles:
        return shop.sizes
    roles = {**dict(shop.roles), **dict(order.roles), **dict(piece.roles)}
    return stock_sizes(shop.stock, roles, shop.measured)


def shop_findings(order: Order, shop: Shop) -> tuple[Finding, ...]:
    """Return what the shop says of the order: stock to be measured first, and which shop file was used."""
    fitted = {piece.roles: piece for piece in order.pieces}.values()  # the rest take the same stock
    unmeasured = {f for piece in fitted for f in measure_first(sizes_for(order, piece, shop))}
    return (*sorted(unmeasured, key=lambda f: f.path), _used(shop))


def _used(shop: Shop) -> Finding:
    """Say whose machines, stock and practice everything was computed with."""
    if shop.found == "built in":
        message = f"no shop file was named or found, so the built-in shop was used, {shop.name}"
        remedy = "write a shop.toml with your own machines, stock and measured thicknesses beside the order"
    else:
        how = {"--shop": "named on the command line", "order": "named in the order"}.get(shop.found, shop.found)
        message, remedy = f"{shop.name} is the shop, as {shop.file} describes it ({how})", ""
    return Finding(code="shop.used", severity=Severity.NOTE, path="shop", message=message, remedy=remedy)
