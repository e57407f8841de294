"""The shop: practice, stock by role with measured sizes, machines, prices, hours."""

from casewright.shop.errors import FileError, ShopError, message_line
from casewright.shop.model import Shop
from casewright.shop.practice import Practice, Rule, library_practice
from casewright.shop.reading import ShopChoice, built_in_shop, find_shop, load_shop, shop_from_text
from casewright.shop.sizes import ROLES, Measured, StockSizes, thickness_of
from casewright.shop.slices import Hours, Machine, Machines, Prices

__all__ = [
    "ROLES",
    "FileError",
    "Hours",
    "Machine",
    "Machines",
    "Measured",
    "Practice",
    "Prices",
    "Rule",
    "Shop",
    "ShopChoice",
    "ShopError",
    "StockSizes",
    "built_in_shop",
    "find_shop",
    "library_practice",
    "load_shop",
    "message_line",
    "shop_from_text",
    "thickness_of",
]
