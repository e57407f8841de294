"""The reference pages of order and shop files, written from their schemas, so that they cannot fall behind."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from casewright.order.model import PieceKind
from casewright.order.schema import OrderTable
from casewright.shop import ROLES, library_practice
from casewright.shop.file_schema import ShopFile
from casewright.shop.practice import Rule
from casewright.stock import load_stock
from casewright.stock.kinds import KINDS, StockKind
from casewright.stock.rows import hints_of, quantity_of, record_fields

_INTRODUCTION = (
    "Sizes are numbers in the unit of the file (`units`), or texts with their own unit: "
    '`"23 1/2 in"`, `"600 mm"`, `"1\' 11 1/2\\""`. Defaults that are sizes are given in mm.'
)
_OWN_STOCK = """## Stock of the shop's own

A table `[stock.<kind>.<name>]` adds an item to the library; roles, measures and prices then name it like any other.
`like` takes whatever the item does not give itself from an item (or a template) of the library. `price` is for one of
what the kind is sold by, or for one `per`. Keys in italics are lengths; a key that has a default may be left out.

```toml
[stock.sheets.shop-maple-18]
like = "maple-plywood-18"
name = "maple plywood, 18 mm, from the yard by the river"
nominal = "18 mm"
measured = "17.6 mm"
price = 92.0

[stock.sticks.shop-ogee]
like = "panel-ogee-32"
name = "ogee panel moulding, shop-made"
section = [[0, 0], ["14 mm", 0], ["14 mm", "5 mm", 0.3], ["9 mm", "16 mm", -0.3], ["4 mm", "27 mm"], [0, "27 mm"]]

[stock.sticks.drawn-crown]
like = "crown-cove-41"
name = "crown as drawn"
outline = "crown.dxf"
layer = "profile"
spring = 45
```

A profile is a closed outline of points `[x, y, bulge]`: x out from the wall, y up, either way round; the bulge is
tan(θ/4) of the arc to the next point, 0.4142 for a quarter circle, below zero where a counter-clockwise outline is
hollow. Or it is a drawing beside the shop file, `outline`: a DXF file (polylines, lines, arcs, circles on one `layer`)
or an SVG file (paths, polygons, rectangles, circles; `layer` is an id), with `outline_unit` where the drawing does not
say its own.
It holds one closed outline, which is put with its back to the wall."""
_WRITTEN = "This page is written from the schema; `scripts/write_references.py` renews it."


def order_reference(catalogue: tuple[PieceKind, ...]) -> str:
    """Return docs/order.md: every key of the order and of each kind of piece."""
    lines = ["# The order file", "", _INTRODUCTION, "", _WRITTEN, ""]
    lines += _tables(OrderTable, "")
    for kind in catalogue:
        lines += [
            f"## Piece: {kind.kind}",
            "",
            f'{kind.what.capitalize()}: `[[piece]]` with `kind = "{kind.kind}"`.',
            "",
        ]
        lines += _tables(kind.table, "piece", many=True)
    return "\n".join(lines).rstrip() + "\n"


def shop_reference() -> str:
    """Return docs/shop.md: every key of the shop file, the roles, and every practice value."""
    lines = ["# The shop file", "", _INTRODUCTION, "", _WRITTEN, ""]
    lines += _tables(ShopFile, "")
    lines += ["## Roles", "", "| role | stock | what it is |", "|---|---|---|"]
    lines += [f"| `{r.role}` | {' or '.join(k.__name__.lower() for k in r.kinds)} | {r.what} |" for r in ROLES]
    lines += ["", *_OWN_STOCK.splitlines(), "", "| kind | what | sold by | items | keys |", "|---|---|---|---|---|"]
    lines += [_kind_row(kind) for kind in KINDS]
    lines += [
        "",
        "## Practice values",
        "",
        "| name | value | limits | what it does | source |",
        "|---|---|---|---|---|",
    ]
    lines += [_rule_row(rule) for rule in library_practice().rules]
    return "\n".join(lines) + "\n"


def _tables(model: type[BaseModel], path: str, many: bool = False) -> list[str]:
    """Return one section for `model`, whose key path is `path`, and one for each table in it."""
    head = f"`[[{path}]]`" if many else f"`[{path}]`" if path else "Top level"
    lines = [f"{'###' if path.startswith('piece') else '##'} {head}", ""]
    lines += [(model.__doc__ or "").strip().split("\n")[0], "", "| key | value | default | what it is |"]
    lines += ["|---|---|---|---|"]
    lines += [_row(name, field) for name, field in model.model_fields.items()]
    lines.append("")
    for name, field in model.model_fields.items():
        inner = _table_in(field.annotation)
        if inner is not None and inner is not model:
            lines += _tables(inner, f"{path}.{name}" if path else name, typing.get_origin(field.annotation) is list)
    return lines


def _row(name: str, field: FieldInfo) -> str:
    return f"| `{name}` | {_kind(field)} | {_default(field)} | {field.description} |"


def _default(field: FieldInfo) -> str:
    if field.default is PydanticUndefined:
        return "required"
    if field.default is None or isinstance(field.default, (BaseModel, dict, list)):
        return ""
    if isinstance(field.default, float) and "length" in _kind(field):
        return f"{field.default:g} mm"
    shown = field.default if not isinstance(field.default, tuple) else ", ".join(map(str, field.default))
    return f"`{str(shown).lower() if isinstance(shown, bool) else shown}`" if shown != "" else ""


def _kind(field: FieldInfo) -> str:
    if any("'x-quantity': 'length'" in str(m) for m in field.metadata) or _quantity(field.annotation):
        return "length"
    return _named(field.annotation)


def _quantity(annotation: object) -> bool:
    return any("'x-quantity': 'length'" in str(getattr(a, "json_schema", "")) for a in _parts(annotation))


def _parts(annotation: object) -> Iterator[object]:
    yield annotation
    for part in typing.get_args(annotation):
        yield from _parts(part)
    yield from getattr(annotation, "__metadata__", ())


def _named(annotation: object) -> str:
    if typing.get_origin(annotation) is typing.Literal:
        return " or ".join(f"`{choice}`" for choice in typing.get_args(annotation))
    if isinstance(annotation, types.UnionType) or typing.get_origin(annotation) is typing.Union:
        return " or ".join(_named(a) for a in typing.get_args(annotation) if a is not type(None))
    if _table_in(annotation) is not None:
        return "table"
    origin = typing.get_origin(annotation) or annotation
    if origin is typing.Annotated:
        return _named(typing.get_args(annotation)[0])
    names = {
        str: "text",
        int: "whole number",
        float: "number",
        bool: "true or false",
        list: "list",
        tuple: "list",
        dict: "table",
    }
    return names.get(typing.cast(type, origin), getattr(origin, "__name__", str(origin)))


def _table_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((t for a in typing.get_args(annotation) if (t := _table_in(a)) is not None), None)


def _kind_row(kind: StockKind) -> str:
    hints = hints_of(kind.record)
    keys = [
        f"*{name}*" if any(quantity_of(part) for part in _parts(hints[name])) else name
        for name in record_fields(kind.record)
        if name != "id"
    ]
    return f"| `{kind.name}` | {kind.what} | {kind.per} | {len(load_stock().tables[kind.name])} | {', '.join(keys)} |"


def _rule_row(rule: Rule) -> str:
    unit = f" {rule.unit}" if rule.unit else ""
    limits = [f"≥ {rule.least:g}"] if rule.least else []
    limits += [f"≤ {rule.most:g}"] if rule.most is not None else []
    return f"| `{rule.name}` | {rule.value:g}{unit} | {', '.join(limits)} | {rule.note} | {rule.source} |"
