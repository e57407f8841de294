"""The exact order of a few blocks on one stick, where the quick orders of `arrange` do not do.

Of all ways to lay a set of blocks up to a last one that lies a given way, the shortest is as good as any: every
later piece starts no later, and more is left to hold. So each set, last block and turn is kept once (Held and
Karp 1962).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickPart, StickStock
from casewright.layout.sticks.blocks import Block, gap_between

STATES = 2_000

Key = tuple[tuple[int, ...], int, bool]  # how many of each kind are laid, which is the last one, is it turned
Layer = dict[Key, tuple[int, Key | None]]  # where the last one starts, and what was laid before it


@dataclass(frozen=True, slots=True)
class Turned:
    """A block as it lies; `flipped` end for end."""

    block: Block
    flipped: bool

    @property
    def left(self) -> int:
        """Slope of the end that lies left."""
        return self.block.right if self.flipped else self.block.left

    @property
    def right(self) -> int:
        """Slope of the end that lies right."""
        return self.block.left if self.flipped else self.block.right


def searchable(blocks: Sequence[Block]) -> bool:
    """True where `blocks` are few enough for an exact search."""
    counts = Counter(blocks)
    return len(counts) * math.prod(n + 1 for n in counts.values()) <= STATES


def searched_order(demand: StickDemand, source: StickStock, blocks: Sequence[Block]) -> list[Turned] | None:
    """Return an order in which `blocks` fit and can be held, None where there is none."""
    counts = Counter(blocks)
    stick = _Stick(demand, source, list(counts), tuple(counts.values()))
    layers = [stick.first()]
    for _ in range(len(blocks) - 1):
        layers.append(stick.after(layers[-1]))
    last = next((key for key, (start, _) in layers[-1].items() if stick.ends_well(key, start)), None)
    return None if last is None else stick.traced(layers, last)


@dataclass(frozen=True, slots=True)
class _Stick:
    """One stick and the kinds of block to lay on it, `most` of each."""

    demand: StickDemand
    source: StickStock
    kinds: list[Block]
    most: tuple[int, ...]

    def first(self) -> Layer:
        """Every block that may lie first."""
        start = 0 if self.source.offcut else self.demand.end_trim
        none = (0,) * len(self.kinds)
        return {key: (start, None) for key in self._next(none) if self._fits(self._last(key), start)}

    def after(self, layer: Layer) -> Layer:
        """Every set of one block more, where its last one starts earliest."""
        more: Layer = {}
        for key, (start, _) in layer.items():
            last = self._last(key)
            for new in self._next(key[0]):
                turned = self._last(new)
                at = start + last.block.length + gap_between(self.demand, last.right, turned.left)
                earliest = new not in more or at < more[new][0]
                if earliest and self._held(last.block.parts[-1], at) and self._fits(turned, at):
                    more[new] = at, key
        return more

    def ends_well(self, key: Key, start: int) -> bool:
        """True where the last cut leaves enough to hold, or there is none because the last block ends the stick."""
        block = self._last(key).block
        return start + block.length == self.source.length or self._held(block.parts[-1], start + block.length)

    def traced(self, layers: list[Layer], key: Key) -> list[Turned]:
        """The order that ends in `key`."""
        order: list[Turned] = []
        at: Key | None = key
        for layer in reversed(layers):
            assert at is not None
            order.append(self._last(at))
            at = layer[at][1]
        return order[::-1]

    def _last(self, key: Key) -> Turned:
        return Turned(self.kinds[key[1]], key[2])

    def _next(self, laid: tuple[int, ...]) -> Iterator[Key]:
        for k, block in enumerate(self.kinds):
            if laid[k] < self.most[k]:
                more = (*laid[:k], laid[k] + 1, *laid[k + 1 :])
                yield from ((more, k, flipped) for flipped in ((False,) if block.fixed else (False, True)))

    def _fits(self, turned: Turned, start: int) -> bool:
        """True where a block that starts here ends before the trim, and its own cuts leave enough to hold."""
        block = turned.block
        end = self.source.length - (0 if self.source.offcut else self.demand.end_trim)
        inner = zip(block.parts, block.offsets[1:], strict=False)
        return start + block.length <= end and all(self._held(part, start + at) for part, at in inner)

    def _held(self, part: StickPart, beyond: int) -> bool:
        """True where the saw can hold a part, or what is left of the stick from `beyond` on."""
        return max(part.length, self.source.length - beyond) >= self.demand.least_held
