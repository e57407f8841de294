"""The bare problem inside a stick job: sizes with demands, sticks with capacities, costs and counts.

Kerf, trims, mitres and runs are settled before (`blocks`) and after (`arrange`); what is left is the
cutting-stock problem with several stock lengths, some of them finite, that the engine solves.
"""

from __future__ import annotations

from dataclasses import dataclass

UNLIMITED = 1 << 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """`demands[i]` pieces of `sizes[i]`; sticks of `capacities[s]`, `counts[s]` of them, `costs[s]` each.

    All int. A set of pieces fits a stick where its sizes add up to no more than the capacity.
    """

    sizes: tuple[int, ...]
    demands: tuple[int, ...]
    capacities: tuple[int, ...]
    costs: tuple[int, ...]
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Pattern:
    """`times` sticks of kind `stock`, each holding `items`: (index of the size, how many), ascending."""

    stock: int
    items: tuple[tuple[int, int], ...]
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
