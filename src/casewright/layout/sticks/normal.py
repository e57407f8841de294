"""From blocks and sticks to the bare problem, at three levels of caution.

`RELAXED` counts every mitred cut as shared by half at each end: no real plan is better, so its bound
holds, and its plans are usually real. `RESERVED` keeps one run and one kerf back in each stick for ends that find
no partner. `UNSHARED` shares nothing and is always real, but for what the saw can hold.
Sizes are doubled where mitres are halved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from casewright.layout.model import StickDemand, StickStock
from casewright.layout.sticks.blocks import Block, kerf_between
from casewright.layout.sticks.problem import UNLIMITED, Problem


class Level(Enum):
    """How cautiously mitres and holding are counted."""

    RELAXED = "relaxed"
    RESERVED = "reserved"
    UNSHARED = "unshared"


@dataclass(frozen=True, slots=True, kw_only=True)
class Normal:
    """The bare problem, the blocks behind each of its sizes, and the sticks behind each of its stock kinds."""

    problem: Problem
    blocks: tuple[tuple[Block, ...], ...]
    sources: tuple[StickStock, ...]


def levels(demand: StickDemand, blocks: Sequence[Block]) -> tuple[Level, ...]:
    """Return the levels that differ for this demand, boldest first."""
    mitred = any(b.left or b.right for b in blocks)
    wide = demand.mitre_kerf > demand.kerf
    if mitred and demand.share_mitres:
        return tuple(Level)
    short = any(b.shortest < demand.least_held for b in blocks)
    return (Level.RELAXED, Level.UNSHARED) if (mitred and wide) or short else (Level.RELAXED,)


def usable(demand: StickDemand, source: StickStock) -> int:
    """Return the length of `source` between its end trims."""
    return source.length - (0 if source.offcut else 2 * demand.end_trim)


def cost(demand: StickDemand, source: StickStock) -> int:
    """Return the price of `source`; where nothing has a price, a stick that is bought costs its length."""
    if any(s.price for s in demand.stock):
        return source.price
    return 0 if source.offcut else source.length


def normalise(demand: StickDemand, blocks: Sequence[Block], on_hand: dict[str, int], level: Level) -> Normal:
    """Return the bare problem for `blocks` and the sticks that are left."""
    groups: dict[tuple[int, ...], list[Block]] = {}
    for block in blocks:
        ends = (block.left, block.right) if block.fixed else tuple(sorted((block.left, block.right)))
        key = (_size(demand, block, level), *ends, block.fixed, block.longest < demand.least_held)
        groups.setdefault(key, []).append(block)
    ordered = sorted(groups.items(), key=lambda g: g[0], reverse=True)
    sources = tuple(s for s in demand.stock if on_hand[s.id] > 0 and usable(demand, s) > 0)
    problem = Problem(
        sizes=tuple(key[0] for key, _ in ordered),
        demands=tuple(sum(b.count for b in members) for _, members in ordered),
        capacities=tuple(_capacity(demand, blocks, s, level) for s in sources),
        costs=tuple(cost(demand, s) for s in sources),
        counts=tuple(min(on_hand[s.id], UNLIMITED) for s in sources),
    )
    return Normal(problem=problem, blocks=tuple(tuple(members) for _, members in ordered), sources=sources)


def _size(demand: StickDemand, block: Block, level: Level) -> int:
    kerfs = kerf_between(demand, block.left, 0), kerf_between(demand, block.right, 0)
    if level is Level.UNSHARED:
        return 2 * block.length + 2 * max(kerfs)
    shared = abs(block.left) + abs(block.right) if demand.share_mitres else 0
    return 2 * block.length + sum(kerfs) - shared


def _capacity(demand: StickDemand, blocks: Sequence[Block], source: StickStock, level: Level) -> int:
    runs = [abs(slope) for b in blocks for slope in (b.left, b.right)]
    room = 2 * usable(demand, source)
    trim = 0 if source.offcut else demand.end_trim
    held = 2 * max(0, demand.least_held - trim) if any(b.shortest < demand.least_held for b in blocks) else 0
    if level is Level.RELAXED:
        always = trim > 0 and all(
            b.longest < demand.least_held for b in blocks
        )  # the last cut too holds what is beyond
        return room + 2 * kerf_between(demand, max(runs, default=0), 0) - (held if always else 0)
    reserve = 2 * max(runs, default=0) + held if level is Level.RESERVED else held
    wide = kerf_between(demand, max(runs, default=0), 0) - demand.kerf if level is Level.RESERVED else 0
    return room + 2 * demand.kerf - reserve - 2 * wide
