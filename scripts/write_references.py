"""Writes the reference pages docs/order.md, docs/shop.md and docs/json.md from schemas and records."""

from __future__ import annotations

from pathlib import Path

from casewright.order.pieces import PIECES
from casewright.order.reference import order_reference, shop_reference
from casewright.packet.document_reference import json_reference, json_schema_text

DOCS = Path(__file__).resolve().parent.parent / "docs"


def main() -> None:
    """Write all pages."""
    (DOCS / "order.md").write_text(order_reference(PIECES), encoding="utf-8")
    (DOCS / "shop.md").write_text(shop_reference(), encoding="utf-8")
    (DOCS / "json.md").write_text(json_reference(), encoding="utf-8")
    (DOCS / "json.schema.json").write_text(json_schema_text(), encoding="utf-8")


if __name__ == "__main__":
    main()
