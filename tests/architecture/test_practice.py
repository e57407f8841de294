"""Every practice value is read by some module: a rule that nothing computes with is a promise that nobody keeps."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from tests.architecture.sources import PACKAGE

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
    # A size of the ledger may bear the same name: what is let, or read from the ledger, does not count.
    text = re.sub(r"(?:let\(|led\[)\s*f?[\"'][^\"']*[\"']", "", text)
    unread = {name for name in names(VALUES) if not re.search(rf"[\"']{re.escape(name)}[\"']", text)}
    assert not unread, f"nothing reads {', '.join(sorted(unread))}: compute with them or take them out"
