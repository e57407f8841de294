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

_INTRODUCTION = (
    "Sizes are numbers in the unit of the file (`units`), or texts with their own unit: "
    '`"23 1/2 in"`, `"600 mm"`, `"1\' 11 1/2\\""`. Defaults that are sizes are given in mm.'
)
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
        if inner is not None:
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


def _rule_row(rule: Rule) -> str:
    unit = f" {rule.unit}" if rule.unit else ""
    limits = [f"≥ {rule.least:g}"] if rule.least else []
    limits += [f"≤ {rule.most:g}"] if rule.most is not None else []
    return f"| `{rule.name}` | {rule.value:g}{unit} | {', '.join(limits)} | {rule.note} | {rule.source} |"
