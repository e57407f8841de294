"""Sizes with reasons: each size is let once, with a role and the sizes that it follows from."""

from __future__ import annotations

from collections.abc import Mapping

from casewright.units.grid import record, snap
from casewright.units.printed import Role

__all__ = ["Ledger", "Role", "Size", "why"]


@record
class Size:
    """One size of one piece: name, value in mm, why."""

    name: str
    value: float
    role: Role
    because: tuple[str, ...]
    rule: str  # the reason in words
    measured: bool = False


class Ledger:
    """The sizes of one piece while it is being designed.

    `overrides` are measured sizes by name; where one exists it replaces the computed value. An empty
    mapping changes nothing.
    """

    def __init__(self, overrides: Mapping[str, float] | None = None) -> None:
        self._overrides = dict(overrides or {})
        self._sizes: dict[str, Size] = {}

    def let(
        self, name: str, value: float, *, because: tuple[str, ...] = (), rule: str = "", role: Role = Role.FREE
    ) -> float:
        """Record a size once and return it (or its measured override), in mm.

        Raises ValueError where the name was let before, or a reason is not a known size.
        """
        if name in self._sizes:
            raise ValueError(f"size {name!r} is let twice")
        unknown = [b for b in because if b not in self._sizes]
        if unknown:
            raise ValueError(f"size {name!r} rests on unknown sizes {unknown}")
        measured = name in self._overrides
        final = snap(self._overrides[name] if measured else value)
        self._sizes[name] = Size(name=name, value=final, role=role, because=because, rule=rule, measured=measured)
        return final

    def __getitem__(self, name: str) -> float:
        return self._sizes[name].value

    def get(self, name: str, default: float) -> float:
        """Return a size, or `default` where it was not let."""
        return self._sizes[name].value if name in self._sizes else default

    def __contains__(self, name: str) -> bool:
        return name in self._sizes

    @property
    def sizes(self) -> tuple[Size, ...]:
        """All sizes in the order in which they were let."""
        return tuple(self._sizes.values())


def why(sizes: tuple[Size, ...], name: str) -> tuple[Size, ...]:
    """Return the size and everything that it follows from, nearest first.

    Raises KeyError for an unknown name.
    """
    by_name = {s.name: s for s in sizes}
    seen: dict[str, Size] = {}
    queue = [name]
    while queue:
        n = queue.pop(0)
        if n not in seen:
            seen[n] = by_name[n]
            queue.extend(by_name[n].because)
    return tuple(seen.values())
