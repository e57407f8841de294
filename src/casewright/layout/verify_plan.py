"""What the verifiers of stick and board layouts share: counts of parts, stock used, and the outcome stated.

Shares no code with the solvers, like the verifiers themselves.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Protocol

from casewright.layout.model import Goal, Outcome, Status, Unplaced


class Wanted(Protocol):
    """A kind of part with a count."""

    @property
    def id(self) -> str:
        """Its name."""

    @property
    def count(self) -> int:
        """How many are wanted."""


class Source(Protocol):
    """A kind of stock with a price and a count."""

    @property
    def id(self) -> str:
        """Its name."""

    @property
    def count(self) -> int | None:
        """How many are on hand; None is as many as wanted."""

    @property
    def price(self) -> int:
        """What one costs."""

    @property
    def offcut(self) -> bool:
        """True where it costs nothing."""


class Used(Protocol):
    """So many pieces of one kind of stock."""

    @property
    def stock(self) -> str:
        """The kind's name."""

    @property
    def times(self) -> int:
        """How many."""


def counts(
    parts: Iterable[Wanted], placed: Mapping[str, int], unplaced: Iterable[Unplaced], cut_before: Mapping[str, int]
) -> Iterator[str]:
    """Say where parts placed and parts named unplaced are not what is wanted, or were cut before."""
    missing: Counter[str] = Counter()
    for u in unplaced:
        missing[u.part] += u.count
        if u.count < 1 or not u.why:
            yield f"{u.part}: an unplaced entry needs a count and a reason"
    for part in parts:
        there = placed.get(part.id, 0)
        wanted = max(part.count, cut_before.get(part.id, 0), missing[part.id])
        if there + missing[part.id] != wanted:
            yield f"{part.id}: {there} placed and {missing[part.id]} named unplaced, wanted {wanted}"


def stock_used(stock: Iterable[Source], patterns: Iterable[Used]) -> Iterator[str]:
    """Say where more is used than there is."""
    used: Counter[str] = Counter()
    for pattern in patterns:
        used[pattern.stock] += pattern.times
    for source in stock:
        if source.count is not None and used[source.id] > source.count:
            yield f"stock {source.id}: {used[source.id]} used, {source.count} on hand"


def outcome_stated(
    outcome: Outcome,
    goals: Sequence[Goal],
    stock: Mapping[str, Source],
    patterns: Iterable[Used],
    sizes: Mapping[str, int],
    unplaced: Sequence[Unplaced],
) -> Iterator[str]:
    """Say where status, bound, value or cost do not agree with what is cut; `sizes` cost where nothing has a price."""
    if bool(unplaced) is not (outcome.status is Status.INFEASIBLE):
        yield f"status is {outcome.status.name}, but {len(unplaced)} kinds of part are unplaced"
    if outcome.status is Status.PROVEN and outcome.value != outcome.bound:
        yield f"called proven with value {outcome.value} and bound {outcome.bound}"
    if outcome.bound > outcome.value:
        yield f"the bound {outcome.bound} is above the value {outcome.value}"
    priced = any(s.price for s in stock.values())
    cost = 0
    for pattern in patterns:
        source = stock.get(pattern.stock)
        if source is not None:
            cost += pattern.times * (source.price if priced else 0 if source.offcut else sizes[source.id])
    stated = dict(outcome.goals).get(Goal.COST)
    if stated is not None and stated != cost:
        yield f"cost is given as {stated}, counted {cost}"
    if tuple(goals[:1]) == (Goal.COST,) and outcome.value != cost:
        yield f"value is given as {outcome.value}, the cost counted is {cost}"
