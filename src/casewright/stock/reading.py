"""Turns the library's data files into stock records.

A TOML file holds tables of items by id; `like = "x"` takes the values of `[templates.x]` that the item
does not give itself. A text where a record wants a length is a length. `price` (and `per`) go to the
price list and not into the record.

StockDataError  a data file of the library does not describe its records; says which file, item and key
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, TypeVar

from casewright.stock import model
from casewright.stock.kinds import KINDS, StockKind
from casewright.stock.rows import RowError, read_row
from casewright.stock.species import read_species

T = TypeVar("T")

LIST_PRICE = "sample price list of the built-in shop; put your own in the shop file"


class StockDataError(Exception):
    """A data file of the library does not describe its records."""


@cache
def load_stock() -> model.Stock:
    """Return the built-in stock, read once."""
    prices: dict[str, model.Price] = {}
    tables: dict[str, Any] = {
        kind.name: read_items(kind.record, _table(kind.file), kind.table, kind.per, prices) for kind in KINDS
    }
    species = MappingProxyType(read_species(_rows("species.csv")))
    return model.Stock(species=species, prices=MappingProxyType(prices), **tables)


def templates(kind: StockKind) -> Mapping[str, Mapping[str, Any]]:
    """Return the templates that items of a kind may be `like`, by name; their bare lengths are in mm."""
    found: Mapping[str, Mapping[str, Any]] = _table(kind.file).get("templates", {})
    return found


def read_items(
    kind: Callable[..., T], tables: Mapping[str, Any], name: str, per: str, prices: dict[str, model.Price]
) -> Mapping[str, T]:
    """Return the records of `kind` in `tables[name]` by id; put their prices, for one `per`, into `prices`.

    Raises StockDataError.
    """
    items: dict[str, T] = {}
    for item_id, table in tables[name].items():
        row = {**tables.get("templates", {}).get(table.get("like"), {}), **table}
        row.pop("like", None)
        if item_id in prices:
            raise StockDataError(f"the stock id {item_id!r} is given twice")
        amount = float(row.pop("price"))
        prices[item_id] = model.Price(amount=amount, per=row.pop("per", per), source=LIST_PRICE, basis="sample")
        try:
            items[item_id] = read_row(kind, item_id, row)
        except RowError as wrong:
            raise StockDataError(f"stock item {item_id!r}: {wrong}") from wrong
    return MappingProxyType(items)


@cache
def _table(name: str) -> dict[str, Any]:
    return tomllib.loads(_text(f"{name}.toml"))


def _text(name: str) -> str:
    return (files("casewright.stock") / "data" / name).read_text(encoding="utf-8")


def _rows(name: str) -> Iterator[dict[str, str]]:
    return csv.DictReader(_text(name).splitlines())
