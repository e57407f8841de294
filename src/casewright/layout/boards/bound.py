"""What the parts must cost at the least: their surface, for each length and width that a board must have."""

from __future__ import annotations

from collections.abc import Sequence

from casewright.layout.boards.fill import clear_spans
from casewright.layout.boards.panels import fewest_strips, limits
from casewright.layout.model import BoardDemand, BoardPart, BoardStock


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
    """Return a bound on the cost of `parts`: the greatest over the thresholds of length and width."""
    best = 0
    narrow = {p.id: min(p.width, limits(p).least) if p.strip_min else p.width for p in parts}
    for length in {p.length for p in parts}:
        for width in {0, *narrow.values()}:
            need = surface_needed(demand, [p for p in parts if p.length >= length and narrow[p.id] >= width])
            offers = [(surface_offered(demand, s, length, width), price[s.id], s.count) for s in demand.stock]
            best = max(best, _cheapest(need, offers))
    return best


def _cheapest(need: int, offers: list[tuple[int, int, int | None]]) -> int:
    """The least cost of `need` where boards may be bought in fractions."""
    total, left = 0.0, need
    for surface, price, count in sorted((o for o in offers if o[0]), key=lambda o: o[1] / o[0]):
        take = left if count is None else min(left, surface * count)
        total += price * take / surface
        left -= take
    return -int(-total * (1 - 1e-12) // 1)
