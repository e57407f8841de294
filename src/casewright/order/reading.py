"""Reads an order: text → tables → checked records. Everything that is wrong is collected, then raised at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from casewright.findings import Finding
from casewright.order.errors import OrderError
from casewright.order.model import Acceptance, Order, PieceKind, PieceOrder, Roles, Room, Setting, Style, Use
from casewright.order.schema import MOST_PIECES, OrderTable
from casewright.shop import Rule, library_practice
from casewright.shop.files import UserFile, parse_user_text, read_user_file
from casewright.shop.lines import KeyPath, place_of
from casewright.shop.practice import override
from casewright.shop.reading import read_roles
from casewright.shop.schema import Table, did_you_mean, file_unit, findings_of, wrong
from casewright.stock import Stock, load_stock
from casewright.stock.sundries import Need, Sundry
from casewright.units.printed import System

T = TypeVar("T", bound=Table)

Catalogue = tuple[PieceKind, ...]


def load_order(path: Path | str, catalogue: Catalogue, stock: Stock | None = None) -> Order:
    """Return the order of a file, for a shop that has `stock` (else the library's). Raises OrderError."""
    return _checked(read_user_file(Path(path), "order"), catalogue, stock)


def order_from_text(text: str, catalogue: Catalogue, name: str = "order.toml", stock: Stock | None = None) -> Order:
    """Return the order written in `text`; messages call its file `name`. Raises OrderError with every finding."""
    return _checked(parse_user_text(text, name, "order"), catalogue, stock)


def shop_named_in(path: Path | str) -> str:
    """Return the shop file that an order names, an empty text where it names none or cannot be read."""
    read = read_user_file(Path(path), "order")
    named = "" if isinstance(read, Finding) else read.data.get("shop", "")
    return named if isinstance(named, str) else ""


def _checked(read: UserFile | Finding, catalogue: Catalogue, stock: Stock | None) -> Order:
    if isinstance(read, Finding):
        raise OrderError((read,))
    reader = _Reader(read, catalogue, load_stock() if stock is None else stock)
    order = reader.order()
    if order is None or reader.findings:
        raise OrderError(tuple(reader.findings))
    return order


def _written_in(table: OrderTable) -> System | None:
    if "units" not in table.model_fields_set:
        return None
    return "in" if table.units == "in" else "mm"


class _Reader:
    """Reads one file; `findings` gathers what is wrong with it."""

    def __init__(self, file: UserFile, catalogue: Catalogue, stock: Stock) -> None:
        self.file, self.stock = file, stock
        self.kinds = {k.kind: k for k in catalogue}
        self.unit = file_unit(file)
        self.findings: list[Finding] = []

    def order(self) -> Order | None:
        """Return the order, or None where its header is wrong; pieces are checked all the same, for their messages."""
        table = self._table(OrderTable, self.file.data, ())
        tables = self._piece_tables()
        if table is None:
            return None
        room, use = Room(**table.room.model_dump()), Use(**table.use.model_dump())
        return Order(
            file=self.file.name,
            title=table.title,
            client=table.client,
            due=table.due.isoformat() if table.due else "",
            units=table.units,
            shop=table.shop,
            room=room,
            use=use,
            style=Style(paint=table.style.paint, top_finish=table.style.top_finish, line_up=table.style.line_up),
            pieces=self._pieces(tables, table, room, use),
            practice=self._practice(table),
            roles=self._roles(table.roles, ("roles",)),
            accepted=self._accepted(table),
            written_in=_written_in(table),
        )

    def _table(self, model: type[T], data: object, prefix: KeyPath) -> T | None:
        try:
            return model.model_validate(data, context={"unit": self.unit})
        except ValidationError as error:
            self.findings.extend(findings_of(error, model, self.file, "order", prefix))
            return None

    def _piece_tables(self) -> list[tuple[KeyPath, PieceKind, Table]]:
        """Check each [[piece]] against the schema of its kind."""
        given = self.file.data.get("piece", [])
        checked: list[tuple[KeyPath, PieceKind, Table]] = []
        for i, data in enumerate(given[:MOST_PIECES] if isinstance(given, list) else ()):
            kind = self._kind(data, ("piece", i)) if isinstance(data, dict) else None
            table = self._table(kind.table, data, ("piece", i)) if kind is not None else None
            if kind is not None and table is not None:
                checked.append((("piece", i), kind, table))
        if given == []:
            known = " or ".join(f'kind = "{kind}"' for kind in self.kinds)
            self._wrong("no_pieces", ("piece",), "the order has no pieces", f"add [[piece]] with {known}")
        return checked

    def _kind(self, data: dict[str, Any], path: KeyPath) -> PieceKind | None:
        name = data.get("kind")
        if name is None:
            self._wrong("missing", path, '"kind" is missing', did_you_mean("", self.kinds))
            return None
        if not isinstance(name, str) or name not in self.kinds:
            shown = str(name)[:40] if isinstance(name, str) else "something that is no text"
            self._wrong("unknown_kind", (*path, "kind"), f'no piece "{shown}"', did_you_mean(shown, self.kinds))
            return None
        return self.kinds[name]

    def _pieces(
        self, tables: list[tuple[KeyPath, PieceKind, Table]], order: OrderTable, room: Room, use: Use
    ) -> tuple[PieceOrder, ...]:
        pieces: dict[str, PieceOrder] = {}
        for path, kind, table in tables:
            roles = self._roles(getattr(table, "roles", {}), (*path, "roles"))
            place = place_of(self.file.name, self.file.text, path)
            piece = kind.read(table, Setting(room=room, use=use, style=order.style, roles=roles, place=place))
            if piece.name in pieces:
                message = f'the name "{piece.name}" is taken by another piece'
                self._wrong("repeated_name", (*path, "name"), message, "give each piece its own name")
            pieces[piece.name] = piece
        return tuple(pieces.values())

    def _roles(self, table: dict[str, list[str]], path: KeyPath) -> Roles:
        roles, findings = read_roles(table, self.stock, self.file, "order", path)
        self.findings.extend(findings)
        return tuple(sorted(roles.items()))

    def _practice(self, table: OrderTable) -> tuple[Rule, ...]:
        practice, findings = override(library_practice(), table.practice, self.file, self.unit, "order")
        self.findings.extend(findings)
        return tuple(rule for rule in practice.rules if rule.given_by == self.file.name)

    def _accepted(self, table: OrderTable) -> tuple[Acceptance, ...]:
        return tuple(
            Acceptance(
                code=a.code,
                path=a.path,
                value=a.value,
                reason=a.reason,
                needs=tuple(Need(thing=Sundry(n.thing), mass=n.mass) for n in a.needs),
                place=place_of(self.file.name, self.file.text, ("accept", i)),
            )
            for i, a in enumerate(table.accept)
        )

    def _wrong(self, code: str, path: KeyPath, message: str, remedy: str) -> None:
        self.findings.append(wrong(self.file, f"order.{code}", path, message, remedy))
