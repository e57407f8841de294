"""Which practice values an order's design and stock needs really read: they are computed once more, watched."""

from __future__ import annotations

from casewright.cache import Cache
from casewright.project import Project
from casewright.shop.practice import Practice, Rule


class _Watched(Practice):
    """A practice that notes the name of every rule that is read."""

    def __init__(self, practice: Practice, seen: set[str]) -> None:
        super().__init__(rules=practice.rules)
        object.__setattr__(self, "seen", seen)

    def rule(self, name: str) -> Rule:
        """Return the rule and note its name."""
        found = super().rule(name)
        self.seen.add(name)  # type: ignore[attr-defined]
        return found


def practice_used(project: Project) -> tuple[Rule, ...]:
    """Return the rules that were read, sorted by name."""
    seen: set[str] = set()
    twin = Project(project.order, project.shop, Cache(), catalogue=project.catalogue)
    vars(twin)["practice"] = _Watched(project.practice, seen)  # in place of the one that it would work out
    _ = twin.assembly, twin.needs
    return tuple(rule for rule in project.practice.rules if rule.name in seen)
