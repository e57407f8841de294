"""What a stick has room for, where mitred cuts are shared or short pieces must be held.

The bare problem counts every mitred cut as shared, by half at each of its two ends. Of a set of blocks some ends
find no partner: as ends are nodes and blocks the edges between them (see `arrange`), one end at each node of odd
degree, and two in each part of the graph that is closed. What they lose is counted here exactly, what wider kerfs
beside square ends lose is not.

Slopes as in `blocks`; all lengths doubled, as the bare problem counts them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from casewright.layout.model import StickDemand, StickStock
from casewright.layout.sticks.arrange import arrange
from casewright.layout.sticks.blocks import Block, kerf_between
from casewright.layout.sticks.order import searchable
from casewright.layout.sticks.problem import Items


@dataclass(slots=True)
class Room:
    """Answers for patterns of a bare problem; `blocks[i]` stands for its size i, `sources` are its sticks."""

    demand: StickDemand
    blocks: Sequence[Block]
    sources: Sequence[StickStock]
    _fits: dict[tuple[int, Items], bool] = field(default_factory=dict)
    _lies: dict[tuple[int, Items], bool] = field(default_factory=dict)

    def fits(self, stock: int, items: Items) -> bool:
        """False only where these blocks cannot lie on a stick of this kind, whatever their order."""
        key = stock, items
        if key not in self._fits:
            self._fits[key] = self._needed(items) <= 2 * self._usable(stock, items)
        return self._fits[key]

    def lies(self, stock: int, items: Items) -> bool:
        """True where an order is found in which these blocks lie on a stick of this kind."""
        key = stock, items
        if key not in self._lies:
            self._lies[key] = not items or (self.fits(stock, items) and self._arranged(stock, items))
        return self._lies[key]

    def _arranged(self, stock: int, items: Items) -> bool:
        blocks = [self.blocks[i] for i, n in items for _ in range(n)]
        if arrange(self.demand, self.sources[stock], blocks) is not None:
            return True
        self._fits[stock, items] = not searchable(blocks)
        return False

    def _needed(self, items: Items) -> int:
        """The least length from the first long point to the last."""
        share, kerf, wide = self.demand.share_mitres, self.demand.kerf, kerf_between(self.demand, 1, 1)
        ends = [(self.blocks[i].left, self.blocks[i].right, n) for i, n in items]
        joints = sum(n for _, _, n in ends) - 1
        alone, lost = _unshared(ends) if share else (0, 0)
        narrow = _square_joints_turned(ends, alone) if share else _square_joints(ends)
        slopes = [abs(s) for left, right, _ in ends for s in (left, right) if s]
        if share and min(slopes, default=wide) < 2 * (wide - kerf):
            narrow = joints  # a share may be worth giving up for a narrower kerf elsewhere
        shared = sum(n * (abs(left) + abs(right)) for left, right, n in ends) if share else 0
        lengths = sum(self.blocks[i].length * n for i, n in items)
        return 2 * lengths - shared + lost + 2 * (wide * joints - (wide - kerf) * narrow)

    def _usable(self, stock: int, items: Items) -> int:
        """The length between the trims, or what is left of it where all pieces are short and the last is held."""
        source, least = self.sources[stock], self.demand.least_held
        trim = 0 if source.offcut else self.demand.end_trim
        whole = source.length - 2 * trim
        if any(self.blocks[i].longest >= least for i, _ in items):
            return whole
        alone = sum(n for _, n in items) == 1 and self.blocks[items[0][0]].length == source.length
        return whole if alone else whole - max(0, least - trim)


def _unshared(ends: Sequence[tuple[int, int, int]]) -> tuple[int, int]:
    """Return how many mitred ends find no partner at the least, and their runs in all; `ends` with counts."""
    degree: Counter[int] = Counter()
    root: dict[int, int] = {}
    open_ended: set[int] = set()

    def find(node: int) -> int:
        while root.setdefault(node, node) != node:
            node = root[node]
        return node

    for left, right, n in ends:
        for slope, other in ((left, right), (right, left)):
            if slope:
                degree[slope] += n
                find(slope)
                if not other:
                    open_ended.add(slope)
        if left and right:
            root[find(left)] = find(right)
    odd = [s for s, d in degree.items() if d % 2]
    opened = {find(s) for s in (*odd, *open_ended)}
    closed: dict[int, int] = {}
    for slope in degree:
        part = find(slope)
        if part not in opened:
            closed[part] = min(abs(slope), closed.get(part, abs(slope)))
    return len(odd) + 2 * len(closed), sum(map(abs, odd)) + 2 * sum(closed.values())


def _square_joints(ends: Sequence[tuple[int, int, int]]) -> int:
    """Return how many joints of two square ends there can be among blocks that are never turned."""
    only_right = sum(n for left, right, n in ends if left and not right)
    only_left = sum(n for left, right, n in ends if right and not left)
    both = sum(n for left, right, n in ends if not (left or right))
    return min(only_right, only_left) + both - (both > 0 and not only_right and not only_left)


def _square_joints_turned(ends: Sequence[tuple[int, int, int]], alone: int) -> int:
    """Return no fewer than there can be among blocks that turn, of whose mitred ends `alone` find no partner."""
    square = sum(n * ((not left) + (not right)) for left, right, n in ends)
    return min((alone + square) // 2 - 1, square // 2)
