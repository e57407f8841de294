"""Every practice value is read by some module: a rule that nothing computes with is a promise that nobody keeps."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from tests.architecture.sources import PACKAGE

# Values of what cases are being given now; each leaves this list with the block that reads it.
AWAITED = {"dado.stop", "key.depth", "toe.depth", "wall.shelf_load"}
VALUES = tomllib.loads((files("casewright.shop") / "data" / "practice.toml").read_text(encoding="utf-8"))


def names(table: dict[str, Any], group: str = "") -> Iterator[str]:
    for key, value in table.items():
        name = f"{group}.{key}" if group else key
        if isinstance(value, dict) and "value" not in value:
            yield from names(value, name)
        elif isinstance(value, dict):
            yield name


def test_every_practice_value_is_read() -> None:
    text = "\n".join(path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py"))
    unread = {name for name in names(VALUES) if f'"{name}"' not in text and f"'{name}'" not in text}
    assert unread <= AWAITED, f"nothing reads {', '.join(sorted(unread - AWAITED))}: compute with them or take them out"
