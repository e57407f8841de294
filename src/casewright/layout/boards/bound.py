"""What the parts must cost at the least: measures of length and width that no board can offer more of than it has.

A measure gives every length and every sawn width a number such that pieces laid end to end, or side by side, never
add up to more than the board's own; then the sum over pieces of length number × width number never exceeds the
board's product (Fekete and Schepers 2001, conservative scales). Lengths count as they are above a threshold, or in
whole units of some part's length or a fraction of it; widths likewise, or less an amount for each piece (what the
joints of a strip take). The cheapest whole boards that offer enough in all these measures bound the cost.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.layout.boards.fill import clear_spans
from casewright.layout.boards.panels import fewest_strips
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

NODES = 2_000
THRESHOLDS = 12  # of length, and of width
SHARES = 1, 2, 3
ROUNDS, ROWS_A_ROUND = 20, 30
MOST_STRIPS = 40
BAR_KINDS = 60

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LengthMeasure:
    """Lengths of `least` or more count with a kerf, in whole `unit`s."""

    least: int = 0
    unit: int = 1

    def of(self, demand: BoardDemand, length: int) -> int:
        """Return the number of a piece."""
        return (length + demand.kerf) // self.unit if length >= self.least else 0

    def offered(self, demand: BoardDemand, source: BoardStock) -> int:
        """Return what a board has."""
        spans = (high - low for low, high in clear_spans(demand, source))
        return sum(self.of(demand, span) for span in spans)


@dataclass(frozen=True, slots=True)
class WidthMeasure:
    """Widths of `least` or more count with a kerf, less `each` for every piece, in whole `unit`s.

    `widest` is the greatest sawn width of any piece, so that a board has room for so many pieces at least.
    """

    least: int = 0
    unit: int = 1
    each: int = 0
    widest: int = 0

    def of(self, demand: BoardDemand, part: BoardPart) -> int:
        """Return the number of a part, of a panel in the strips for which it is least."""
        if narrowest(part) < self.least:
            return 0
        if not part.strip_min:
            return max(0, (part.width + demand.kerf - self.each) // self.unit)
        return min(self._strips(demand, part, n) for n in range(fewest_strips(part), _most_strips(part) + 1))

    def _strips(self, demand: BoardDemand, part: BoardPart, n: int) -> int:
        sawn = part.width + 2 * (n - 1) * part.jointing
        rounded = -(-(sawn + n * (demand.kerf - self.each - self.unit + 1)) // self.unit)
        return max(0, rounded, n * max(0, (narrowest(part) + demand.kerf - self.each) // self.unit))

    def offered(self, demand: BoardDemand, source: BoardStock) -> int:
        """Return what a board has across."""
        across = source.width - 2 * (0 if source.offcut else demand.edge_trim)
        if across < max(1, self.least):
            return 0
        if not self.each:
            return (across + demand.kerf) // self.unit
        most = (across + demand.kerf) // (max(self.least, 1) + demand.kerf)
        counts = range(1, min(most, (across + demand.kerf) // (self.widest + demand.kerf) + 1) + 1)
        widest = self.widest + demand.kerf - self.each
        return max(0, *(min(across + demand.kerf - n * self.each, n * widest) for n in counts))


def narrowest(part: BoardPart) -> int:
    """Return the least width to which any piece of the part may be sawn."""
    return min(part.width, part.strip_min + part.jointing) if part.strip_min else part.width


def _widest(part: BoardPart) -> int:
    return min(part.width, (part.strip_max or part.width) + 2 * part.jointing) if part.strip_min else part.width


def _most_strips(part: BoardPart) -> int:
    most = (part.width - 2 * part.jointing) // max(1, part.strip_min - part.jointing)
    return max(fewest_strips(part), min(most, fewest_strips(part) + MOST_STRIPS))


def surface_needed(demand: BoardDemand, parts: Sequence[BoardPart]) -> int:
    """Return the surface of `parts` with one kerf at each piece's end and edge, panels in their fewest strips."""
    return _needed(demand, parts, LengthMeasure(), WidthMeasure())


def surface_offered(demand: BoardDemand, source: BoardStock) -> int:
    """Return what a board offers, in the measure of `surface_needed`."""
    return LengthMeasure().offered(demand, source) * WidthMeasure().offered(demand, source)


def _needed(demand: BoardDemand, parts: Sequence[BoardPart], along: LengthMeasure, across: WidthMeasure) -> int:
    return sum(p.count * along.of(demand, p.length) * across.of(demand, p) for p in parts)


def cost_bound(demand: BoardDemand, price: dict[str, int], parts: Sequence[BoardPart], *, show_on_best: bool) -> int:
    """Return a bound on the cost of `parts`; 0 where the boards do not suffice for them all.

    `show_on_best` bounds the plans in which show parts come from boards of the best grade alone.
    """
    if not parts or not demand.stock:
        return 0
    best = min(s.grade for s in demand.stock)
    good = np.array([s.grade == best for s in demand.stock], dtype=np.float64)
    show = [p for p in parts if p.show] if show_on_best and not good.all() else []
    rows: list[Floats] = []
    for along, across in _measures(demand, parts):
        lengths = np.array([along.offered(demand, s) for s in demand.stock], dtype=np.float64)
        offered = lengths * np.array([across.offered(demand, s) for s in demand.stock], dtype=np.float64)
        for held, row in ((parts, offered), (show, offered * good)):
            needed = _needed(demand, held, along, across)
            if needed > 0:
                rows.append(row / needed)
    for needed_worth, offered in _bars(demand, parts):
        rows.append(offered / needed_worth)
    return _cheapest(np.array(rows), demand.stock, price)


def _bars(demand: BoardDemand, parts: Sequence[BoardPart]) -> Iterator[tuple[float, Floats]]:
    """Worth needed and offered by each board, at the worths that suit boards of one width, or one length, best.

    Strips have no width of their own; panels are worth nothing here.
    """
    from casewright.layout.boards.bars import bar_worths, most_worth

    solid = [p for p in parts if not p.strip_min]
    kerf = demand.kerf
    along = [[high - low + kerf for low, high in clear_spans(demand, s)] for s in demand.stock]
    across = [[max(0, s.width - 2 * (0 if s.offcut else demand.edge_trim)) + kerf] for s in demand.stock]
    lengths, widths = [p.length + kerf for p in solid], [p.width + kerf for p in solid]
    for sizes, others, rooms, other_rooms in ((widths, lengths, across, along), (lengths, widths, along, across)):
        kinds = sorted(set(sizes))
        if not kinds or len(kinds) > BAR_KINDS:
            continue
        needs = np.zeros(len(kinds))
        for size, other, part in zip(sizes, others, solid, strict=True):
            needs[kinds.index(size)] += float(part.count) * other
        for room in _spread({r for spans in rooms for r in spans}):
            worths = bar_worths(kinds, needs, room)
            most = {r: most_worth(kinds, worths, r)[0] for r in {r for spans in rooms for r in spans}}
            offered = [
                sum(most[r] for r in mine) * sum(theirs) for mine, theirs in zip(rooms, other_rooms, strict=True)
            ]
            if needs @ worths > 0:
                yield float(needs @ worths), np.array(offered, dtype=np.float64)


def _measures(demand: BoardDemand, parts: Sequence[BoardPart]) -> Iterator[tuple[LengthMeasure, WidthMeasure]]:
    lengths, widths = _spread({p.length for p in parts}), _spread({narrowest(p) for p in parts})
    widest = max(_widest(p) for p in parts)
    by_length = [LengthMeasure(least=x) for x in lengths]
    by_length += [LengthMeasure(unit=max(1, (x + demand.kerf) // n)) for x in lengths for n in SHARES]
    by_width = [WidthMeasure(least=x) for x in widths]
    joints = {2 * p.jointing + demand.kerf for p in parts if p.strip_min and p.jointing}
    by_width += [WidthMeasure(least=x, each=each, widest=widest) for x in widths[:1] for each in sorted(joints)]
    by_width += [WidthMeasure(unit=max(1, (x + demand.kerf) // n)) for x in widths for n in SHARES]
    yield from itertools.product(by_length, by_width)


def _spread(sizes: set[int]) -> list[int]:
    """At most so many of the sizes, the least and the greatest among them."""
    ordered = sorted(sizes)
    if len(ordered) <= THRESHOLDS:
        return ordered
    return [ordered[i * (len(ordered) - 1) // (THRESHOLDS - 1)] for i in range(THRESHOLDS)]


def _cheapest(rows: Floats, stock: Sequence[BoardStock], price: dict[str, int]) -> int:
    """The bound of the integer programme: numbers of boards that offer all that is needed, rows added as they bind."""
    import highspy

    from casewright.layout.highs import quiet_highs

    mip = quiet_highs(mip_max_nodes=NODES, mip_rel_gap=1e-9)
    dearest = max(max(price.values()), 1)
    none = np.zeros(0, dtype=np.int32), np.zeros(0)
    for source in stock:
        most = highspy.kHighsInf if source.count is None else float(max(0, source.count))
        mip.addCol(price[source.id] / dearest, 0.0, most, 0, *none)
    n = len(stock)
    columns = np.arange(n, dtype=np.int32)
    mip.changeColsIntegrality(n, columns, np.array([highspy.HighsVarType.kInteger] * n))
    waiting = np.ones(len(rows), dtype=np.bool_)
    bound, boards = 0.0, np.zeros(n)
    for _ in range(ROUNDS):
        lacking = np.where(waiting, 1 - rows @ boards, 0.0)
        worst = [int(k) for k in np.argsort(-lacking, kind="stable")[:ROWS_A_ROUND] if lacking[k] > 1e-7]
        if not worst:
            break
        for k in worst:
            mip.addRow(1.0, highspy.kHighsInf, n, columns, np.minimum(rows[k], 1e6))
            waiting[k] = False
        mip.run()
        if mip.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return 0
        bound = max(bound, mip.getInfo().mip_dual_bound)
        if mip.getInfo().primal_solution_status != 2:
            break
        boards = np.array(mip.getSolution().col_value)
    return max(0, -int(-(bound * dearest - 1e-6 * dearest) // 1)) if np.isfinite(bound) else 0
