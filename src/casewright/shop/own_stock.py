"""Stock that a shop adds to the library: `[stock.sheets.my-ply]`, with the keys of the kind's record.

`like` takes what an item does not give from a template or an item of the library; lengths are in the unit of
the file. A stick may give its profile as `section`, points [x, y, bulge], or as `outline`, a drawing beside
the shop file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from casewright.findings import Finding
from casewright.shop.files import UserFile
from casewright.shop.lines import KeyPath
from casewright.shop.outline_file import read_outline
from casewright.shop.outline_joining import OutlineError
from casewright.shop.schema import did_you_mean, wrong
from casewright.stock import Item, Price, Stock
from casewright.stock.kinds import KINDS, StockKind
from casewright.stock.loops import Loop
from casewright.stock.model import Stick
from casewright.stock.reading import templates
from casewright.stock.rows import Problem, RowError, read_row, record_fields, values_of
from casewright.stock.sections import profile

MOST_OWN = 500  # items; a shop with more keeps them in several files
LARGEST_PRICE = 1_000_000.0
SOURCE = {"source": "shop file", "basis": "set by the user"}
OUTLINE_KEYS = ("outline", "layer", "outline_unit")
MADE_KEYS = ("like", "price", "per", *OUTLINE_KEYS)  # keys of an item that are no field of its record
SCREWS = ("screw", "case_screw", "plate_screw", "wall_screw")
KIND_BY_NAME: Mapping[str, StockKind] = {kind.name: kind for kind in KINDS}
_ID = re.compile(r"[a-z0-9][a-z0-9./-]{0,59}")


@dataclass(frozen=True, slots=True)
class _Added:
    """An item that was read, with its price and where it stands."""

    kind: StockKind
    item: Item
    price: Price
    path: KeyPath


class _ItemError(Exception):
    """An item cannot be used: (key or "", message, remedy) of each reason."""

    def __init__(self, *reasons: tuple[str, str, str]) -> None:
        self.reasons = reasons
        super().__init__(*reasons)


def with_own_stock(
    library: Stock, file: UserFile, prices: Mapping[str, float], folder: Path | None
) -> tuple[Stock, tuple[Finding, ...]]:
    """Return the library's stock and what the `[stock]` tables of `file` add, and a finding for all that is wrong.

    `prices` are those of the file, which may price an added item too; drawings lie in `folder`.
    """
    reader = _Reader(library, file, prices, folder)
    added = reader.read()
    return _joined(library, added), (*reader.findings, *_dangling(added, library, file))


class _Reader:
    """Reads one file's `[stock]` tables; `findings` gathers what is wrong with them."""

    def __init__(self, library: Stock, file: UserFile, prices: Mapping[str, float], folder: Path | None) -> None:
        self.library, self.file, self.prices, self.folder = library, file, prices, folder
        self.unit = str(file.data.get("units", "mm"))
        self.findings: list[Finding] = []

    def read(self) -> list[_Added]:
        """Return every item that is in order."""
        added: dict[str, _Added] = {}
        for number, (kind, item_id, row) in enumerate(self._rows()):
            path: KeyPath = ("stock", kind.name, item_id)
            if number >= MOST_OWN:
                self._tell(path, f"more than {MOST_OWN} stock items", "keep what this shop uses")
                break
            try:
                self._check_id(item_id, added)
                added[item_id] = self._added(kind, item_id, row, path)
            except _ItemError as problem:
                for key, message, remedy in problem.reasons:
                    self._tell((*path, key) if key else path, message, remedy)
        return list(added.values())

    def _tell(self, path: KeyPath, message: str, remedy: str) -> None:
        self.findings.append(wrong(self.file, "shop.stock", path, message, remedy))

    def _rows(self) -> Iterator[tuple[StockKind, str, dict[str, Any]]]:
        for name, items in self.file.data.get("stock", {}).items():
            kind = KIND_BY_NAME.get(name)
            if kind is None:
                self._tell(
                    ("stock", name, *list(items)[:1]), f'no kind of stock "{name}"', did_you_mean(name, KIND_BY_NAME)
                )
                continue
            for item_id, row in items.items():
                yield kind, item_id, row

    def _check_id(self, item_id: str, added: Mapping[str, _Added]) -> None:
        if not _ID.fullmatch(item_id):
            raise _ItemError(
                ("", f'got the name "{item_id[:60]}"', "use small letters, digits, hyphens, points and slashes")
            )
        if self.library.item(item_id) is not None:
            raise _ItemError(
                ("", f'the library has "{item_id}"', "choose another name; measures and prices have own tables")
            )
        if item_id in added:
            raise _ItemError(("", f'"{item_id}" is given twice', "choose another name"))

    def _added(self, kind: StockKind, item_id: str, row: Mapping[str, Any], path: KeyPath) -> _Added:
        base, base_price = self._base(kind, row.get("like"))
        own = {key: value for key, value in row.items() if key not in MADE_KEYS}
        outlined = kind.record is Stick and any(key in row for key in OUTLINE_KEYS)
        given = {**base, **SOURCE, **({"section": self._outline(row)} if outlined else {})}
        if outlined and "section" in own:
            raise _ItemError(("section", "the profile is given twice", 'leave either "section" or "outline"'))
        try:
            item = read_row(kind.record, item_id, own, self.unit, given)
        except RowError as problem:
            raise _ItemError(*(_reason(p) for p in problem.problems)) from None
        return _Added(kind, _put_up(item), self._price(kind, item_id, row, base_price), path)

    def _base(self, kind: StockKind, like: object) -> tuple[dict[str, Any], Price | None]:
        """Return the finished values, and the price, of the template or library item that an item is like."""
        if like is None:
            return {}, None
        items, drafts = self.library.tables[kind.name], templates(kind)
        if isinstance(like, str) and like in items:
            found = items[like]
            values = {f.name: getattr(found, f.name) for f in fields(found) if f.name != "id"}
            return values, self.library.prices.get(like)
        fit = {name: row for name, row in drafts.items() if row.keys() <= record_fields(kind.record).keys()}
        if not isinstance(like, str) or like not in fit:
            shown = str(like)[:60]
            raise _ItemError(
                ("like", f'nothing among {kind.what} is called "{shown}"', did_you_mean(shown, [*fit, *items]))
            )
        return values_of(kind.record, fit[like]), None

    def _outline(self, row: Mapping[str, Any]) -> Loop:
        texts = {key: row.get(key, "") for key in OUTLINE_KEYS}
        for key, value in texts.items():
            if not isinstance(value, str):
                raise _ItemError((key, "expected a text in quotes", ""))
        if not texts["outline"]:
            raise _ItemError(("outline", '"outline" is missing', "name the drawing, or leave its layer and unit out"))
        try:
            return read_outline(texts["outline"], self.folder, texts["layer"], texts["outline_unit"])
        except OutlineError as problem:
            raise _ItemError(("outline", problem.message, problem.remedy)) from None

    def _price(self, kind: StockKind, item_id: str, row: Mapping[str, Any], base: Price | None) -> Price:
        amount = row.get("price", self.prices.get(item_id, base.amount if base else None))
        per = row.get("per", base.per if base else kind.per)
        if amount is None:
            raise _ItemError(("price", f'"price" is missing (for one {kind.per})', "add it"))
        if isinstance(amount, bool) or not isinstance(amount, (int, float)) or not 0 <= amount <= LARGEST_PRICE:
            raise _ItemError(("price", "expected a number that is not negative", "prices are in the shop's currency"))
        if not isinstance(per, str) or not per.isprintable() or len(per) > 30:
            raise _ItemError(("per", 'expected a short text such as "sheet"', ""))
        return Price(amount=float(amount), per=per, source="shop file", basis="set by the user")


def _reason(problem: Problem) -> tuple[str, str, str]:
    keys = [*problem.known, *MADE_KEYS] if problem.known else []
    return problem.key, problem.message, problem.remedy or (did_you_mean(problem.key, keys) if keys else "")


def _put_up(item: Any) -> Any:
    """Return a stick with its profile put to its wall; any other item as it is."""
    if not isinstance(item, Stick):
        return item
    if item.spring >= 90:
        raise _ItemError(("spring", f"got {item.spring:g}; expected an angle below 90°", ""))
    try:
        return replace(item, section=profile(item.section))
    except ValueError as problem:
        raise _ItemError(("section", str(problem), "")) from None


def _joined(library: Stock, added: list[_Added]) -> Stock:
    if not added:
        return library
    tables: dict[str, Any] = {}
    for name, items in library.tables.items():
        own = {a.item.id: a.item for a in added if a.kind.name == name}
        if own:
            tables[name] = MappingProxyType({**items, **own})
    prices = {a.item.id: a.price for a in added}
    return replace(library, prices=MappingProxyType({**library.prices, **prices}), **tables)


def _dangling(added: list[_Added], library: Stock, file: UserFile) -> Iterator[Finding]:
    """Yield a finding for each species or screw that an added item names and nobody has."""
    screws = {*library.screws, *(a.item.id for a in added if a.kind.name == "screws")}
    for a in added:
        for key, known in (("species", library.species.keys()), *((s, screws) for s in SCREWS)):
            named = getattr(a.item, key, "")
            if named and named not in known:
                what = "species" if key == "species" else "screw"
                yield wrong(file, "shop.stock", (*a.path, key), f'no {what} "{named}"', did_you_mean(named, known))
