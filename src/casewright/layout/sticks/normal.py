"""From blocks and sticks to the bare problem.

It counts every mitred cut as shared, by half at each of its two ends, and what a stick loses at its outer ends as if
they were square, unless no end is. No real plan is better, so its bound holds; which of its patterns are real, `Room`
knows. Sizes are doubled because mitres are halved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickStock
from casewright.layout.sticks.blocks import Block, kerf_between
from casewright.layout.sticks.problem import UNLIMITED, Problem
from casewright.layout.sticks.room import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Normal:
    """The bare problem, the blocks behind each of its sizes, and the sticks behind each of its stock kinds."""

    problem: Problem
    blocks: tuple[tuple[Block, ...], ...]
    sources: tuple[StickStock, ...]


def usable(demand: StickDemand, source: StickStock) -> int:
    """Return the length of `source` between its end trims."""
    return source.length - (0 if source.offcut else 2 * demand.end_trim)


def cost(demand: StickDemand, source: StickStock) -> int:
    """Return the price of `source`; where nothing has a price, a stick that is bought costs its length."""
    if any(s.price for s in demand.stock):
        return source.price
    return 0 if source.offcut else source.length


def normalise(demand: StickDemand, blocks: Sequence[Block], on_hand: dict[str, int]) -> Normal:
    """Return the bare problem for `blocks` and the sticks that are left."""
    groups: dict[tuple[int, ...], list[Block]] = {}
    for block in blocks:
        ends = (block.left, block.right) if block.fixed else tuple(sorted((block.left, block.right)))
        key = (_size(demand, block), *ends, block.fixed, block.longest < demand.least_held, len(block.parts))
        groups.setdefault(key, []).append(block)
    ordered = sorted(groups.items(), key=lambda g: g[0], reverse=True)
    sources = tuple(s for s in demand.stock if on_hand[s.id] > 0 and usable(demand, s) > 0)
    sizes = tuple(key[0] for key, _ in ordered)
    room = Room(demand, [members[0] for _, members in ordered], sources)
    problem = Problem(
        sizes=sizes,
        demands=tuple(sum(b.count for b in members) for _, members in ordered),
        capacities=tuple(_capacity(demand, blocks, s) for s in sources),
        costs=tuple(cost(demand, s) for s in sources),
        counts=tuple(min(on_hand[s.id], UNLIMITED) for s in sources),
        shape=room if _shaped(demand, blocks) else None,
    )
    return Normal(problem=problem, blocks=tuple(tuple(members) for _, members in ordered), sources=sources)


def _shaped(demand: StickDemand, blocks: Sequence[Block]) -> bool:
    """True where lengths alone do not settle what a stick holds."""
    mitred = any(b.left or b.right for b in blocks)
    uneven = demand.share_mitres or demand.mitre_kerf not in (0, demand.kerf)
    return (mitred and uneven) or any(b.shortest < demand.least_held for b in blocks)


def _size(demand: StickDemand, block: Block) -> int:
    kerfs = kerf_between(demand, block.left, 0), kerf_between(demand, block.right, 0)
    shared = abs(block.left) + abs(block.right) if demand.share_mitres else 0
    return 2 * block.length + sum(kerfs) - shared


def _capacity(demand: StickDemand, blocks: Sequence[Block], source: StickStock) -> int:
    ends = [abs(slope) for b in blocks for slope in (b.left, b.right)]
    room = 2 * usable(demand, source)
    trim = 0 if source.offcut else demand.end_trim
    if trim > 0 and all(b.longest < demand.least_held for b in blocks):  # the last cut too holds what is beyond
        room -= 2 * max(0, demand.least_held - trim)
    if demand.share_mitres:
        room -= 2 * min(ends, default=0)  # the runs of the two outer ends, which nothing shares
    return room + 2 * max(demand.kerf, kerf_between(demand, max(ends, default=0), 0))
