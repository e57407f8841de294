"""What the parts must cost at the least: their surface, for each length and width that a board must have.

For every threshold of length and width, the boards that are long and wide enough must offer the
surface of the parts that are at least as long and wide. The same holds with lengths counted in whole units of
some part's length or a fraction of it, rounded down, because no more whole units come out of a board than it
holds (a dual-feasible function of the lengths; Fekete and Schepers 2001). The cheapest whole boards that meet
all these at once bound the cost.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from casewright.layout.boards.fill import clear_spans
from casewright.layout.boards.panels import fewest_strips, limits
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

NODES = 2_000
THRESHOLDS = 12  # of length, and of width
SHARES = 1, 2, 3


def surface_needed(demand: BoardDemand, parts: Sequence[BoardPart], unit: int = 1) -> int:
    """Return the surface of `parts` with one kerf at each piece's end and edge, panels in their fewest strips.

    Lengths count in whole `unit`s.
    """
    return sum(p.count * ((p.length + demand.kerf) // unit) * _sawn_width(demand, p) for p in parts)


def _sawn_width(demand: BoardDemand, part: BoardPart) -> int:
    strips = fewest_strips(part) if part.strip_min else 1
    return part.width + 2 * (strips - 1) * part.jointing + strips * demand.kerf


def surface_offered(demand: BoardDemand, source: BoardStock, length: int = 0, width: int = 0, unit: int = 1) -> int:
    """Return what a board offers to parts at least `length` by `width`, in the measure of `surface_needed`."""
    edge = 0 if source.offcut else demand.edge_trim
    across = source.width - 2 * edge
    if across < width:
        return 0
    usable = sum((b - a + demand.kerf) // unit for a, b in clear_spans(demand, source) if b - a >= length)
    return usable * (across + demand.kerf)


def cost_bound(demand: BoardDemand, price: dict[str, int], parts: Sequence[BoardPart]) -> int:
    """Return a bound on the cost of `parts`; 0 where the boards do not suffice for them all."""
    if not parts or not demand.stock:
        return 0
    narrow = {p.id: min(p.width, limits(p).least) if p.strip_min else p.width for p in parts}
    lengths, widths = _spread({p.length for p in parts}), _spread(set(narrow.values()))
    rows: list[list[int]] = []
    needs: list[int] = []
    for length, width, unit in _measures(demand, lengths, widths):
        held = [p for p in parts if p.length >= length and narrow[p.id] >= width]
        needs.append(surface_needed(demand, held, unit))
        rows.append([surface_offered(demand, s, length, width, unit) for s in demand.stock])
    return _cheapest(np.array(rows, dtype=np.float64), np.array(needs, dtype=np.float64), demand.stock, price)


def _measures(demand: BoardDemand, lengths: list[int], widths: list[int]) -> Iterator[tuple[int, int, int]]:
    """Thresholds of length and width with the unit of length to count in."""
    for width in widths:
        yield from ((length, width, 1) for length in lengths)
        for length in lengths:
            yield from ((0, width, (length + demand.kerf) // share) for share in SHARES)


def _spread(sizes: set[int]) -> list[int]:
    """At most so many of the sizes, the least and the greatest among them."""
    ordered = sorted(sizes)
    if len(ordered) <= THRESHOLDS:
        return ordered
    return [ordered[i * (len(ordered) - 1) // (THRESHOLDS - 1)] for i in range(THRESHOLDS)]


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
