"""From patterns of sizes to pieces on sticks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickPattern, StickPiece, StickStock
from casewright.layout.sticks.arrange import arrange
from casewright.layout.sticks.blocks import Block, kerf_between, slopes
from casewright.layout.sticks.normal import Normal
from casewright.layout.sticks.problem import Pattern


@dataclass(slots=True)
class _Supply:
    block: Block
    count: int


def realise(demand: StickDemand, normal: Normal, patterns: tuple[Pattern, ...]) -> tuple[StickPattern, ...]:
    """Return the sticks of `patterns`, equal ones once with their count."""
    supply = [[_Supply(b, b.count) for b in members] for members in normal.blocks]
    made: dict[tuple[str, tuple[StickPiece, ...]], int] = defaultdict(int)
    for pattern in patterns:
        source = normal.sources[pattern.stock]
        for blocks, times in _assign(pattern, supply):
            pieces = arrange(demand, source, blocks)
            assert pieces is not None  # blocks of one size are alike, and the search knows a way to lay them
            made[source.id, pieces] += times
    return tuple(_stick(demand, sid, pieces, times) for (sid, pieces), times in made.items())


def _assign(pattern: Pattern, supply: list[list[_Supply]]) -> Iterator[tuple[list[Block], int]]:
    """Give the pattern's sizes real blocks, as many equal sticks at a time as the supply allows."""
    left = pattern.times
    while left:
        chosen: list[Block] = []
        times = left
        for item, count in pattern.items:
            queue = supply[item]
            if queue[0].count >= count:
                times = min(times, queue[0].count // count)
            else:
                times = 1
        for item, count in pattern.items:
            chosen += _take(supply[item], count, times)
        left -= times
        yield chosen, times


def _take(queue: list[_Supply], count: int, times: int) -> list[Block]:
    taken: list[Block] = []
    while len(taken) < count:
        block, n = queue[0].block, queue[0].count
        use = min(n, count - len(taken)) if times == 1 else count
        taken += [block] * use
        queue[0].count -= use * times
        if not queue[0].count:
            queue.pop(0)
    return taken


def _stick(demand: StickDemand, stock: str, pieces: tuple[StickPiece, ...], times: int) -> StickPattern:
    source: StickStock = next(s for s in demand.stock if s.id == stock)
    return StickPattern(stock=stock, pieces=pieces, rest=rest_of(demand, source, pieces), times=times)


def rest_of(demand: StickDemand, source: StickStock, pieces: tuple[StickPiece, ...]) -> int:
    """Return what is left at the far end after the last cut, between the trims."""
    last = pieces[-1]
    part = next(p for p in demand.parts if p.id == last.part)
    slope = slopes(part)[0 if last.flipped else 1]
    end = source.length - (0 if source.offcut else demand.end_trim)
    return max(0, end - last.start - last.length - kerf_between(demand, slope, slope))
