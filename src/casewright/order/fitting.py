"""The shop as an order, and a piece of it, sees it: its own practice values and stock in place of the shop's."""

from __future__ import annotations

from casewright.findings import Finding, Severity
from casewright.order.model import Order, PieceOrder, Roles
from casewright.shop import Practice, Shop, StockSizes
from casewright.shop.sizes import measure_first, stock_sizes
from casewright.stock.fittings import EdgeBand
from casewright.stock.model import Board, Sheet

# Under a clear finish these show as the case does; the shop's usual stock for them may be meant for paint.
LIKE_CASE = ("drawer_front", "door_slab", "shelf", "plinth", "fixing_rail")
LIKE_SOLID_CASE = ("face_frame", "door_frame", "door_panel_solid", "bracket_foot")


def practice_for(order: Order, shop: Shop) -> Practice:
    """Return the shop's practice with the order's own values in place."""
    return shop.practice.with_rules({rule.name: rule for rule in order.practice})


def sizes_for(order: Order, piece: PieceOrder, shop: Shop) -> StockSizes:
    """Return the stock by role that `piece` is made from (see `roles_for`), as measured."""
    roles = roles_for(order, piece, shop)
    return shop.sizes if roles == shop.roles else stock_sizes(shop.stock, dict(roles), shop.measured)


def roles_for(order: Order, piece: PieceOrder, shop: Shop) -> Roles:
    """Return item ids by role for a piece: the shop's, the order's, then the piece's own choice.

    Under a clear finish what shows and is named by neither order nor piece follows the case's stock.
    """
    roles = dict(shop.roles) | dict(order.roles) | dict(piece.roles)
    return tuple(sorted((roles | dict(_following(order, piece, shop))).items()))


def _following(order: Order, piece: PieceOrder, shop: Shop) -> Roles:
    """Return the roles that follow the case, or for thin panels its back, where that is other stock than the shop's."""
    if getattr(piece, "finish", "paint") == "paint":
        return ()
    named = dict(order.roles) | dict(piece.roles)
    roles = dict(shop.roles) | named
    case, back = roles.get("case", ()), roles.get("back", ())
    if not case or not back:
        return ()
    item = shop.stock.items[case[0]]
    solid = isinstance(item, Board)
    like = dict.fromkeys((*LIKE_CASE, *LIKE_SOLID_CASE) if solid else LIKE_CASE, case) | {"door_panel": back}
    if isinstance(item, Sheet) and (bands := _bands(shop, item)):
        like["edge_band"] = bands
    return tuple((r, items) for r, items in like.items() if r in roles and r not in named and roles[r] != items)


def _bands(shop: Shop, sheet: Sheet) -> tuple[str, ...]:
    """Return the bands of a sheet's wood, where the shop's usual one is of another and there is one."""
    items = shop.stock.items
    usual = [items[i] for i in dict(shop.roles).get("edge_band", ())]
    if any(isinstance(band, EdgeBand) and band.matches(sheet.name) for band in usual):
        return ()
    bands = [b for b in items.values() if isinstance(b, EdgeBand) and b.material == "veneer" and b.matches(sheet.name)]
    return tuple(b.id for b in sorted(bands, key=lambda b: b.width))  # the usual one first, then wider ones


def shop_findings(order: Order, shop: Shop) -> tuple[Finding, ...]:
    """Return what the shop says of the order: stock to be measured first, and which shop file was used."""
    fitted = {roles_for(order, piece, shop): piece for piece in order.pieces}.values()  # the rest take the same stock
    unmeasured = {f for piece in fitted for f in measure_first(sizes_for(order, piece, shop))}
    follows = [_follows(piece, roles) for piece in order.pieces if (roles := _following(order, piece, shop))]
    return (*sorted(unmeasured, key=lambda f: f.path), *follows, _used(shop))


def _follows(piece: PieceOrder, roles: Roles) -> Finding:
    """Say which roles follow the case under a clear finish."""
    return Finding(
        code="stock.follows",
        severity=Severity.NOTE,
        path=piece.name,
        message="under a clear finish what shows follows the case: "
        + ", ".join(f"{role} is {items[0]}" for role, items in roles),
        source="common practice: the shop's usual stock for these is meant for paint",
        remedy="name other stock for a role in the order where you want it",
        place=piece.place,
    )


def _used(shop: Shop) -> Finding:
    """Say whose machines, stock and practice everything was computed with."""
    if shop.found == "built in":
        message = f"no shop file was named or found, so the built-in shop was used, {shop.name}"
        remedy = "write a shop.toml with your own machines, stock and measured thicknesses beside the order"
    else:
        how = {"--shop": "named on the command line", "order": "named in the order"}.get(shop.found, shop.found)
        message, remedy = f"{shop.name} is the shop, as {shop.file} describes it ({how})", ""
    return Finding(code="shop.used", severity=Severity.NOTE, path="shop", message=message, remedy=remedy)
