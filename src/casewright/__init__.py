"""Casewright: a furniture shop's order in, everything that it needs to build it out.

from casewright import load_order, load_shop, Project
Project(load_order("order.toml"), load_shop()).findings
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from casewright.shop import Shop, load_shop

if TYPE_CHECKING:
    from casewright.order import Order
    from casewright.project import Project

__all__ = ["Order", "Project", "Shop", "load_order", "load_shop"]

__version__ = "0.1.0"


def load_order(path: Path | str, shop: Shop | None = None) -> Order:
    """Return the order of a file, read with the installed catalogue. Raises OrderError with every finding.

    An order may name stock that only its own shop has; it is then read for that `shop`.
    """
    from casewright.catalogue import installed
    from casewright.order import load_order as read

    return read(path, installed().kinds, shop.stock if shop is not None else None)


def __getattr__(name: str) -> Any:
    # Project pulls in solids and layouts; a program that only reads orders should not pay for them.
    if name == "Project":
        from casewright.project import Project

        return Project
    if name == "Order":
        from casewright.order import Order

        return Order
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
