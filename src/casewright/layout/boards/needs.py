"""What is still to be cut: solid pieces, panels part-sawn, and the groups that belong on neighbouring boards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from casewright.layout.boards.panels import finished, widest_strip
from casewright.layout.model import BoardPart

Key = tuple[str, int]  # part id, and the copy where it is a panel (0 for solid pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Keys that belong on neighbouring boards: the parts of one match, or one panel alone."""

    name: str
    keys: tuple[Key, ...]
    show: bool


@dataclass(slots=True)
class Needs:
    """Counts of solid pieces left and strips sawn of each panel. `copy` before trying something."""

    parts: dict[str, BoardPart]
    left: dict[Key, int]
    sawn: dict[Key, tuple[int, ...]] = field(default_factory=dict)

    def copy(self) -> Needs:
        """Return an independent copy."""
        return Needs(self.parts, dict(self.left), dict(self.sawn))

    def wants(self, key: Key) -> bool:
        """True while something of `key` is still to be cut."""
        return self.left[key] > 0

    def is_panel(self, key: Key) -> bool:
        """True where `key` is a panel of strips."""
        return self.parts[key[0]].strip_min > 0

    def begun(self, key: Key) -> bool:
        """True for a panel of which some strips are sawn, but not all."""
        return bool(self.sawn.get(key)) and self.left[key] > 0

    def show_left(self) -> bool:
        """True while a show part is still to be cut."""
        return any(n and self.parts[k[0]].show for k, n in self.left.items())

    def done(self, keys: Iterable[Key]) -> bool:
        """True where nothing of `keys` is left."""
        return not any(self.left[k] for k in keys)

    def width(self, key: Key, limit: int) -> int:
        """Return the width to cut next for `key`, no wider than `limit`; 0 where none will do."""
        part = self.parts[key[0]]
        if not part.strip_min:
            return part.width if part.width <= limit else 0
        return widest_strip(part, self.sawn.get(key, ()), limit)

    def cut(self, key: Key, width: int) -> str:
        """Count one piece of `key` as cut and return its name on the board."""
        part = self.parts[key[0]]
        if not part.strip_min:
            self.left[key] -= 1
            return part.id
        sawn = (*self.sawn.get(key, ()), width)
        self.sawn[key] = sawn
        if finished(part, sawn):
            self.left[key] = 0
        return f"{part.id}#{key[1]}/{len(sawn)}"


def make_needs(parts: Iterable[BoardPart]) -> tuple[Needs, list[Group]]:
    """Return the needs of `parts`, and their groups, those with show parts first."""
    needs = Needs({p.id: p for p in parts}, {})
    matches: dict[str, list[Key]] = {}
    panels: list[Group] = []
    for part in needs.parts.values():
        keys = [(part.id, c) for c in range(1, part.count + 1)] if part.strip_min else [(part.id, 0)] * (part.count > 0)
        for key in keys:
            needs.left[key] = 1 if part.strip_min else part.count
        if part.match:
            matches.setdefault(part.match, []).extend(keys)
        elif part.strip_min:
            panels += [Group(name=f"{k[0]}#{k[1]}", keys=(k,), show=part.show) for k in keys]
    groups = [
        Group(name=name, keys=tuple(keys), show=any(needs.parts[k[0]].show for k in keys))
        for name, keys in matches.items()
    ]
    return needs, sorted(groups + panels, key=lambda g: not g.show)
