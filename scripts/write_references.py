"""Writes the reference pages docs/order.md and docs/shop.md from the schemas."""

from __future__ import annotations

from pathlib import Path

from casewright.order.pieces import PIECES
from casewright.order.reference import order_reference, shop_reference

DOCS = Path(__file__).resolve().parent.parent / "docs"


def main() -> None:
    """Write both pages."""
    (DOCS / "order.md").write_text(order_reference(PIECES), encoding="utf-8")
    (DOCS / "shop.md").write_text(shop_reference(), encoding="utf-8")


if __name__ == "__main__":
    main()
