"""The shop: narrow slices, so that a new price redesigns nothing."""

from __future__ import annotations

from dataclasses import field

from casewright.findings import Finding
from casewright.shop.practice import Practice
from casewright.shop.sizes import Measured, StockSizes
from casewright.shop.slices import Cutting, Hours, Machines, Prices
from casewright.stock import Stock, load_stock
from casewright.units import LengthStyle
from casewright.units.grid import record

__all__ = ["Cutting", "Hours", "Machines", "Measured", "Practice", "Prices", "Shop", "StockSizes"]


@record
class Shop:
    """A shop as read. `found` says which file was used and why; `roles` and `measured` are what `sizes` is made of.

    `stock` is the library's stock with what the shop adds; stages get what they read of it in `sizes` and `prices`.

    A stage takes the slices that it reads; `key_of` of a slice is its stable key.
    """

    name: str
    file: str  # "built in" or the file's name
    found: str  # "--shop", "order", "beside the order" or "built in"
    practice: Practice
    sizes: StockSizes
    machines: Machines
    prices: Prices
    hours: Hours
    cutting: Cutting
    style: LengthStyle | None  # how it prints sizes; None follows each order
    roles: tuple[tuple[str, tuple[str, ...]], ...]
    measured: tuple[Measured, ...]
    findings: tuple[Finding, ...] = ()
    stock: Stock = field(default_factory=load_stock, compare=False, repr=False)
