"""What a shop can buy: typed records and the library's data files."""

from casewright.stock.boards import board_feet, board_feet_of
from casewright.stock.model import Item, Price, Stock
from casewright.stock.movement import emc, movement
from casewright.stock.reading import StockDataError, load_stock

__all__ = [
    "Item",
    "Price",
    "Stock",
    "StockDataError",
    "board_feet",
    "board_feet_of",
    "emc",
    "load_stock",
    "movement",
]
