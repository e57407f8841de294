"""What the parts must cost at the least: their surface, for each length and width that a board must have.

For every threshold of length and width, the boards that are long and wide enough must offer the
surface of the parts that are at least as long and wide. The cheapest whole boards that meet all these at
once bound the cost.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from casewright.layout.boards.fill import clear_spans
from casewright.layout.boards.panels import fewest_strips, limits
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

NODES = 2_000


def surface_needed(demand: BoardDemand, parts: Sequence[BoardPart]) -> int:
    """Return the surface of `parts` with one kerf at each piece's end and edge, panels in their fewest strips."""
    total = 0
    for part in parts:
        strips = fewest_strips(part) if part.strip_min else 1
        width = part.width + 2 * (strips - 1) * part.jointing + strips * demand.kerf
        total += part.count * (part.length + demand.kerf) * width
    return total


def surface_offered(demand: BoardDemand, source: BoardStock, length: int = 0, width: int = 0) -> int:
    """Return what a board offers to parts at least `length` by `width`, in the measure of `surface_needed`."""
    edge = 0 if source.offcut else demand.edge_trim
    across = source.width - 2 * edge
    if across < width:
        return 0
    return sum(
        (b - a + demand.kerf) * (across + demand.kerf) for a, b in clear_spans(demand, source) if b - a >= length
    )


def cost_bound(demand: BoardDemand, price: dict[str, int], parts: Sequence[BoardPart]) -> int:
    """Return a bound on the cost of `parts`; 0 where the boards do not suffice for them all."""
    if not parts or not demand.stock:
        return 0
    narrow = {p.id: min(p.width, limits(p).least) if p.strip_min else p.width for p in parts}
    rows: list[list[int]] = []
    needs: list[int] = []
    for length in sorted({p.length for p in parts}):
        for width in sorted(set(narrow.values())):
            needs.append(surface_needed(demand, [p for p in parts if p.length >= length and narrow[p.id] >= width]))
            rows.append([surface_offered(demand, s, length, width) for s in demand.stock])
    return _cheapest(np.array(rows, dtype=np.float64), np.array(needs, dtype=np.float64), demand.stock, price)


def _cheapest(rows: np.ndarray, needs: np.ndarray, stock: Sequence[BoardStock], price: dict[str, int]) -> int:
    """The bound of the integer programme: numbers of boards that offer all that is needed."""
    import highspy

    from casewright.layout.highs import quiet_highs

    kept = needs > 0
    rows, needs = rows[kept], needs[kept]
    mip = quiet_highs(mip_max_nodes=NODES, mip_rel_gap=1e-9)
    none = np.zeros(0, dtype=np.int32), np.zeros(0)
    dearest = max(max(price.values()), 1)
    for _ in needs:
        mip.addRow(1.0, highspy.kHighsInf, 0, *none)
    for k, source in enumerate(stock):
        column = rows[:, k] / needs
        index = np.flatnonzero(column).astype(np.int32)
        most = highspy.kHighsInf if source.count is None else float(max(0, source.count))
        mip.addCol(price[source.id] / dearest, 0.0, most, index.size, index, column[index])
    n = len(stock)
    mip.changeColsIntegrality(n, np.arange(n, dtype=np.int32), np.array([highspy.HighsVarType.kInteger] * n))
    mip.run()
    if mip.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return 0
    bound = mip.getInfo().mip_dual_bound
    return max(0, -int(-(bound * dearest - 1e-6 * dearest) // 1)) if np.isfinite(bound) else 0
