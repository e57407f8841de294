"""What an order says and no piece takes: roles that nothing of the stock they name was built with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Part
from casewright.findings import Finding, Severity
from casewright.order.model import Order, Roles
from casewright.stock.model import Finish, Glue, Item, Stock


def unused_roles(order: Order, pieces: Iterable[tuple[str, PieceDesign]], stock: Stock) -> Iterator[Finding]:
    """Yield a note for each role of the order, or of one of its pieces, whose stock is in none of what it is for.

    `pieces` are the designs by the name that the order gives them. Glues and finishes are in no design and pass; a
    piece that could not be built says nothing.
    """
    built = [(name, used_items(piece), bool(piece.placed)) for name, piece in pieces]
    if all(done for _, _, done in built):
        everything = {item for _, used, _ in built for item in used}
        yield from (_note("roles", role, items) for role, items in _idle(order.roles, everything, stock))
    for spec in order.pieces:
        own = [(used, done) for name, used, done in built if name == spec.name]
        if own and all(done for _, done in own):
            used = {item for one, _ in own for item in one}
            yield from (_note(spec.name, role, items, spec.place) for role, items in _idle(spec.roles, used, stock))


def used_items(piece: PieceDesign) -> frozenset[str]:
    """Return the ids of every stock item of a piece: parts, bands, hardware, fasteners, what is bought."""
    used = {line.item for line in piece.bought} | {f.item for f in piece.fasteners}
    for placed in piece.placed:
        thing = placed.thing
        used |= {thing.stock, *(b.item for b in thing.bands)} if isinstance(thing, Part) else {thing.item}
    return frozenset(used)


def _idle(roles: Roles, used: Iterable[str], stock: Stock) -> Roles:
    known = set(used)
    return tuple((r, items) for r, items in roles if not known & set(items) and not _unseen(stock.items[items[0]]))


def _unseen(item: Item) -> bool:
    return isinstance(item, Glue | Finish)


def _note(path: str, role: str, items: tuple[str, ...], place: str = "") -> Finding:
    return Finding(
        code="role.unused",
        severity=Severity.NOTE,
        path=path,
        message=f"the order names {', '.join(items)} for the role {role}, and nothing is made of it",
        source="the parts lists of the pieces that the order means",
        remedy="leave the line out, or ask for what the role serves",
        place=place,
    )
