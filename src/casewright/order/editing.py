"""Edits of an order's text that keep its comments and layout."""

from __future__ import annotations

from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from casewright.findings import Finding, Severity
from casewright.order.errors import EditError
from casewright.shop.lines import KeyPath, key_text

Value = str | int | float | bool


def set_value(text: str, path: KeyPath, value: Value) -> str:
    """Return `text` with the value at `path` set, for example ("piece", 0, "width").

    The last key may be new, and so may tables on the way; an index must exist. Comments, order and
    layout of everything else stay. Raises EditError where the path does not lead to a value.
    """
    if not path or not isinstance(path[-1], str):
        raise EditError((_cannot(path, "a path ends in a key"),))
    try:
        document = tomlkit.parse(text)
        table = _table_at(document, path)
        table[path[-1]] = _like(table.get(path[-1]), value)
        return tomlkit.dumps(document)
    except (TOMLKitError, ValueError, TypeError) as wrong:
        raise EditError((_cannot(path, str(wrong)),)) from wrong


def _table_at(document: Any, path: KeyPath) -> Any:
    table = document
    for i, key in enumerate(path[:-1]):
        if isinstance(key, int):
            if not isinstance(table, list) or not 0 <= key < len(table):
                raise EditError((_cannot(path[: i + 1], "there is no such entry"),))
        elif isinstance(table, dict) and key not in table and isinstance(path[i + 1], str):
            table[key] = tomlkit.table()
        elif not isinstance(table, dict) or key not in table:
            raise EditError((_cannot(path[: i + 1], "there is no such list"),))
        table = table[key]
    if not isinstance(table, dict):
        raise EditError((_cannot(path[:-1], "is not a table"),))
    return table


def _like(old: Any, value: Value) -> Any:
    """Return `value` as TOML, with the comment that stood behind the old one."""
    item = tomlkit.item(value)
    if old is not None and hasattr(old, "trivia"):
        item.trivia.comment_ws = old.trivia.comment_ws
        item.trivia.comment = old.trivia.comment
    return item


def _cannot(path: KeyPath, message: str) -> Finding:
    return Finding(
        code="order.edit", severity=Severity.STOP, path=key_text(path), message=message, remedy="check the key path"
    )
