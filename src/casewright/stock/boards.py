"""Board feet: how hardwood is measured and sold.

A board foot is 144 cubic inches: thickness (in) × width (in) × length (ft) / 12, where a thickness
under one inch counts as one (NHLA rules; facts read, the rule for thin stock from memory).
"""

from __future__ import annotations

from casewright.stock.model import Board

INCH = 25.4
FOOT = 304.8
BOARD_FOOT = 144 * INCH**3  # mm³


def board_feet(thickness: float, width: float, length: float) -> float:
    """Return the board feet of a board of rough `thickness`, `width` and `length` in mm.

    Raises ValueError where a size is negative.
    """
    if min(thickness, width, length) < 0:
        raise ValueError(f"sizes must not be negative, got {thickness} × {width} × {length} mm")
    return max(thickness, INCH) * width * length / BOARD_FOOT


def board_feet_of(board: Board, width: float, length: float) -> float:
    """Return the board feet of a piece of `board`, sold at its rough thickness; sizes in mm."""
    return board_feet(board.quarters * INCH / 4, width, length)
