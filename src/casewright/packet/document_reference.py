"""The reference page of the JSON document and of parts.csv, written from their records."""

from __future__ import annotations

import dataclasses
import json
import types
import typing

from casewright.packet.document import FORMAT
from casewright.packet.document_records import Document, Point
from casewright.packet.parts_csv import COLUMNS

_HEAD = f"""# The JSON document and parts.csv

`casewright show ORDER --json` prints one document, and every packet holds it as `order.json`: everything that was
computed from one order and one shop. Its `format` is `{FORMAT}`; a change of the fields below is a new format. The same
as a JSON Schema: [json.schema.json](json.schema.json).

Numbers are in the unit that ends their name: `_mm`, `_percent`, `_celsius`, `_kg`, `_cents` (hundredths of the shop's
currency). Counts have none. They are computed values, not the rounded ones that pages print.

A place is an origin (mm) and the directions of the thing's own x and y axes, in the frame of its piece: x = 0 in the
middle of the body and to the right as one faces it, y = 0 at the face of the frame and to the back, z = 0 on the floor
and up. Paths name every part and hardware item (see the [glossary](glossary.md)).

This page is written from the records; `scripts/write_references.py` renews it.
"""

_CSV = """## parts.csv

One line for each mark, UTF-8 with a byte-order mark, commas, a header line; lengths in mm with a decimal point.

| column | holds |
|---|---|
"""

_COLUMNS = {
    "mark": "the label of all parts that are cut alike",
    "name": "the names of all its occurrences",
    "count": "how many the order needs",
    "form": "sheet, board or stick",
    "stock": "id of the stock item",
    "stock_name": "its name",
    "grain": "how the grain runs; empty where it does not matter",
    "bands": "banded faces with the band's stock item",
    "shows": "the faces that show, named as in the glossary",
    "finish": "what goes onto them",
    "ends": "angles of the saw cuts at the ends, in degrees from a square cut",
    "hand": "left or right where all its occurrences are of one hand",
    "mirror_of": "the mark of its mirror image, where the order has one",
    "pieces": "how many in which piece",
}
_SIZES = {"finished": "with bands", "cut": "without bands", "rough": "as the layouts lay it out"}


def json_reference() -> str:
    """Return docs/json.md."""
    records: dict[str, type] = {}
    _collect(Document, records)
    sections = [_section(name, kind) for name, kind in records.items()]
    rows = [f"| `{column}` | {_column(column)} |" for column in COLUMNS]
    return "\n".join([_HEAD, *sections, _CSV + "\n".join(rows)]) + "\n"


def json_schema_text() -> str:
    """Return docs/json.schema.json: the document's JSON Schema."""
    from pydantic import TypeAdapter

    return json.dumps(TypeAdapter(Document).json_schema(), indent=1, ensure_ascii=False) + "\n"


def _collect(record: type, found: dict[str, type]) -> None:
    """Gather a record and every record that its fields hold, in the order in which they are met."""
    found[record.__name__] = record
    for hint in typing.get_type_hints(record).values():
        for part in _parts(hint):
            if dataclasses.is_dataclass(part) and isinstance(part, type) and part.__name__ not in found:
                _collect(part, found)


def _parts(hint: object) -> list[object]:
    return [hint, *(p for a in typing.get_args(hint) for p in _parts(a))]


def _section(name: str, record: type) -> str:
    lines = [f"## {name}", "", (record.__doc__ or "").strip(), "", "| field | value |", "|---|---|"]
    lines += [f"| `{field}` | {_kind(hint)} |" for field, hint in typing.get_type_hints(record).items()]
    return "\n".join([*lines, ""])


def _kind(hint: object) -> str:
    arguments = typing.get_args(hint)
    if hint == Point:
        return "three numbers"
    if typing.get_origin(hint) is tuple:
        return f"list of {_kind(arguments[0])}"
    if typing.get_origin(hint) is dict:
        return f"{_kind(arguments[1])} by name"
    if isinstance(hint, types.UnionType):
        return f"{_kind(arguments[0])}, or null"
    words = {str: "text", int: "whole number", float: "number", bool: "true or false"}
    return words.get(typing.cast(type, hint), f"[{getattr(hint, '__name__', '')}](#{_anchor(hint)})")


def _anchor(hint: object) -> str:
    return str(getattr(hint, "__name__", "")).lower()


def _column(column: str) -> str:
    if column in _COLUMNS:
        return _COLUMNS[column]
    if not column.endswith("_mm"):
        return f"{column.split('_')[1]} without bands as the pages print it, with its unit"
    size, axis, _ = column.split("_")
    return f"{axis} {_SIZES[size]}"
