"""The bare problem inside a stick job: sizes with demands, sticks with capacities, costs and counts.

Kerf, trims, mitres and runs are settled before (`blocks`) and after (`arrange`); what is left is the
cutting-stock problem with several stock lengths, some of them finite, that the engine solves.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Protocol

UNLIMITED = 1 << 40
Items = tuple[tuple[int, int], ...]  # (index of the size, how many), ascending


class Shape(Protocol):
    """What a pattern must satisfy besides its length; nothing that fits stops fitting with a piece less."""

    def fits(self, stock: int, items: Items) -> bool:
        """False only where `items` cannot be cut from a stick of kind `stock`."""

    def lies(self, stock: int, items: Items) -> bool:
        """True where a way is known to cut `items` from a stick of kind `stock`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """`demands[i]` pieces of `sizes[i]`; sticks of `capacities[s]`, `counts[s]` of them, `costs[s]` each.

    All int. A set of pieces fits a stick where its sizes add up to no more than the capacity, and where `shape`, if
    there is one, says so.
    """

    sizes: tuple[int, ...]
    demands: tuple[int, ...]
    capacities: tuple[int, ...]
    costs: tuple[int, ...]
    counts: tuple[int, ...]
    shape: Shape | None = field(default=None, compare=False)

    def lies(self, stock: int, items: Items) -> bool:
        """True where a way is known to cut `items`, whose sizes do not exceed the capacity, from a stick."""
        return self.shape is None or self.shape.lies(stock, items)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Pattern:
    """`times` sticks of kind `stock`, each holding `items`."""

    stock: int
    items: Items
    times: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Patterns that cover the demands exactly, but for `short[i]` pieces that find no stick."""

    patterns: tuple[Pattern, ...]
    short: tuple[int, ...]
    bound: int
    proven: bool

    @property
    def complete(self) -> bool:
        """True where every piece has its stick."""
        return not any(self.short)


def cost_of(problem: Problem, patterns: tuple[Pattern, ...]) -> int:
    """Return what the sticks of `patterns` cost."""
    return sum(problem.costs[p.stock] * p.times for p in patterns)


@dataclass(frozen=True, slots=True)
class _SpareShape:
    """The shape of a problem with spare sticks, which hold what sticks of kind `like` do."""

    shape: Shape
    spare: int
    like: int

    def fits(self, stock: int, items: Items) -> bool:
        return self.shape.fits(self.like if stock == self.spare else stock, items)

    def lies(self, stock: int, items: Items) -> bool:
        return self.shape.lies(self.like if stock == self.spare else stock, items)


def with_spare(problem: Problem) -> Problem:
    """Return `problem` with any number of its longest stick more, each dearer than all that it may cost."""
    spare = len(problem.costs)
    longest = max(range(spare), key=lambda s: problem.capacities[s])
    pieces = sum(problem.demands)
    price = 1 + sum(c * min(n, pieces) for c, n in zip(problem.costs, problem.counts, strict=True))
    return replace(
        problem,
        capacities=(*problem.capacities, problem.capacities[longest]),
        costs=(*problem.costs, price),
        counts=(*problem.counts, UNLIMITED),
        shape=_SpareShape(problem.shape, spare, longest) if problem.shape is not None else None,
    )
