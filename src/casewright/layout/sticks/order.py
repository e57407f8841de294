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

from casewright.layout.model import StickDemand, StickStock
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
    kinds, most = list(counts), tuple(counts.values())
    trim = 0 if source.offcut else demand.end_trim
    end = source.length - trim
    none = (0,) * len(kinds)
    layer: Layer = {}
    layers = [layer]
    for k, flipped in _turns(kinds, none, most):
        if holds(demand, source, Turned(kinds[k], flipped), trim):
            layer[_one_more(none, k), k, flipped] = trim, None
    for _ in range(sum(most) - 1):
        after: Layer = {}
        for key, (start, _) in layer.items():
            last = Turned(kinds[key[1]], key[2])
            for k, flipped in _turns(kinds, key[0], most):
                turned = Turned(kinds[k], flipped)
                at = start + last.block.length + gap_between(demand, last.right, turned.left)
                if max(last.block.parts[0 if last.flipped else -1].length, source.length - at) < demand.least_held:
                    continue
                new = _one_more(key[0], k), k, flipped
                fits = at + turned.block.length <= end and holds(demand, source, turned, at)
                if fits and (new not in after or at < after[new][0]):
                    after[new] = at, key
        layer = after
        layers.append(layer)
    for key, (start, _) in layer.items():
        turned = Turned(kinds[key[1]], key[2])
        rest = source.length - start - turned.block.length
        last_piece = turned.block.parts[0 if turned.flipped else -1].length
        if rest == 0 or max(last_piece, rest) >= demand.least_held:
            return _traced(layers, key, kinds)
    return None


def _turns(kinds: list[Block], laid: tuple[int, ...], most: tuple[int, ...]) -> Iterator[tuple[int, bool]]:
    for k, block in enumerate(kinds):
        if laid[k] < most[k]:
            yield k, False
            if not block.fixed:
                yield k, True


def _one_more(laid: tuple[int, ...], k: int) -> tuple[int, ...]:
    return (*laid[:k], laid[k] + 1, *laid[k + 1 :])


def holds(demand: StickDemand, source: StickStock, turned: Turned, start: int) -> bool:
    """True where the cuts between the pieces of one block that starts at `start` leave enough to hold."""
    block = turned.block
    cuts = zip(block.parts, block.offsets[1:], strict=False)
    return all(max(p.length, source.length - start - at) >= demand.least_held for p, at in cuts)


def _traced(layers: list[Layer], key: Key, kinds: list[Block]) -> list[Turned]:
    order: list[Turned] = []
    at: Key | None = key
    for layer in reversed(layers):
        assert at is not None
        order.append(Turned(kinds[at[1]], at[2]))
        at = layer[at][1]
    return order[::-1]
