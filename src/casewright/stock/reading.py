"""Turns the library's data files into stock records.

A TOML file holds tables of items by id; `like = "x"` takes the values of `[templates.x]` that the item
does not give itself. A text where a record wants a number is a length. `price` (and `per`) go to the
price list and not into the record.

StockDataError  a data file of the library does not describe its records; says which file, item and key
"""

from __future__ import annotations

import csv
import tomllib
import typing
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, fields
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, TypeVar

from casewright.stock import model
from casewright.stock.species import read_species
from casewright.units import LengthError, parse_length

T = TypeVar("T")

LIST_PRICE = "sample price list of the built-in shop; put your own in the shop file"


class StockDataError(Exception):
    """A data file of the library does not describe its records."""


@cache
def load_stock() -> model.Stock:
    """Return the built-in stock, read once."""
    tables, prices = _Tables(), dict[str, model.Price]()

    def read(
        kind: Callable[..., T], tables: Mapping[str, Any], name: str, per: str, **given: object
    ) -> Mapping[str, T]:
        return read_items(kind, tables, name, per, prices, **given)

    supplies, hardware = tables["supplies"], tables["hardware"]
    return model.Stock(
        species=MappingProxyType(read_species(_rows("species.csv"))),
        sheets=read(model.Sheet, tables["sheets"], "items", "sheet", measured=None),
        boards=read(model.Board, tables["boards"], "items", "board foot"),
        sticks=read(model.Stick, tables["sticks"], "items", "metre"),
        slides=read(model.Slide, tables["slides"], "items", "each"),
        screws=read(model.Screw, tables["screws"], "items", "each"),
        pins=read(model.Pin, tables["pins"], "items", "each"),
        hinges=read(model.Hinge, hardware, "hinges", "each"),
        pulls=read(model.Pull, hardware, "pulls", "each"),
        dowels=read(model.Dowel, hardware, "dowels", "each"),
        inserts=read(model.Insert, hardware, "inserts", "each"),
        levellers=read(model.Leveller, hardware, "levellers", "each"),
        catches=read(model.Catch, hardware, "catches", "each"),
        devices=read(model.Device, hardware, "devices", "each"),
        bumpers=read(model.Bumper, hardware, "bumpers", "each"),
        glues=read(model.Glue, supplies, "glues", "litre"),
        finishes=read(model.Finish, supplies, "finishes", "litre"),
        prices=MappingProxyType(prices),
    )


class _Tables(dict[str, dict[str, Any]]):
    """The parsed data files by name."""

    def __missing__(self, name: str) -> dict[str, Any]:
        self[name] = tomllib.loads(_text(f"{name}.toml"))
        return self[name]


def read_items(
    kind: Callable[..., T],
    tables: Mapping[str, Any],
    name: str,
    per: str,
    prices: dict[str, model.Price],
    **given: object,
) -> Mapping[str, T]:
    """Return the records of `kind` in `tables[name]` by id; put their prices, for one `per`, into `prices`.

    `given` are values for every item. Raises StockDataError.
    """
    items: dict[str, T] = {}
    for item_id, table in tables[name].items():
        row = {**given, **tables.get("templates", {}).get(table.get("like"), {}), **table}
        row.pop("like", None)
        if item_id in prices:
            raise StockDataError(f"the stock id {item_id!r} is given twice")
        amount = float(row.pop("price"))
        prices[item_id] = model.Price(amount=amount, per=row.pop("per", per), source=LIST_PRICE, basis="sample")
        items[item_id] = _record(kind, item_id, row)
    return MappingProxyType(items)


def _record(kind: Callable[..., T], item_id: str, row: Mapping[str, Any]) -> T:
    wanted = {f.name: f for f in fields(typing.cast(Any, kind))}
    hints = typing.get_type_hints(kind)
    unknown = sorted(set(row) - set(wanted))
    missing = sorted(n for n, f in wanted.items() if n not in row and n != "id" and f.default is MISSING)
    if unknown or missing:
        raise StockDataError(f"stock item {item_id!r}: unknown keys {unknown}, missing keys {missing}")
    try:
        return kind(id=item_id, **{key: _value(value, hints[key]) for key, value in row.items()})
    except (LengthError, ValueError) as wrong:
        raise StockDataError(f"stock item {item_id!r}: {wrong}") from wrong


def _value(value: object, hint: object) -> object:
    """Return `value` as the record wants it: lists as tuples, texts for numbers as lengths."""
    if isinstance(value, list):
        inner = typing.get_args(hint)[0]
        return tuple(_value(v, _element(hint, i, inner)) for i, v in enumerate(value))
    if hint in (float, float | None):
        return parse_length(value) if isinstance(value, str) else None if value is None else float(value)  # type: ignore[arg-type]
    return value


def _element(hint: object, index: int, first: object) -> object:
    arguments = typing.get_args(hint)
    return first if Ellipsis in arguments else arguments[index]


def _text(name: str) -> str:
    return (files("casewright.stock") / "data" / name).read_text(encoding="utf-8")


def _rows(name: str) -> Iterator[dict[str, str]]:
    return csv.DictReader(_text(name).splitlines())
