"""What is wrong with any demand of sticks or boards, whichever solver answers it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Protocol

MOST_KINDS = 2_000


class _Part(Protocol):
    @property
    def id(self) -> str: ...


class _Stock(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def length(self) -> int: ...
    @property
    def count(self) -> int | None: ...
    @property
    def price(self) -> int: ...


def wrong_with_demand(parts: Iterable[_Part], stock: Iterable[_Stock], allowances: Mapping[str, int]) -> str:
    """Return why nothing of a demand can be laid out, or an empty text; `allowances` must not be below 0, by name."""
    parts, stock = list(parts), list(stock)
    for what, ids in (("part", [p.id for p in parts]), ("stock", [s.id for s in stock])):
        twice = sorted(i for i, n in Counter(ids).items() if n > 1)
        if twice:
            return f"{what} {twice[0]!r} is listed twice; give each an id of its own"
    if len(parts) > MOST_KINDS:
        return f"{len(parts)} kinds of part are more than {MOST_KINDS}; split the order"
    for name, size in allowances.items():
        if size < 0:
            return f"the {name} is {size}; it must be 0 or more"
    for s in stock:
        if s.length <= 0:
            return f"stock {s.id!r} has a length of {s.length}; it must be above 0"
        for name, number in (("count", s.count or 0), ("price", s.price)):
            if number < 0:
                return f"stock {s.id!r} has a {name} of {number}; it must be 0 or more"
    return ""
