"""Which practice values an order's design and stock needs really read: they are computed once more, watched."""

from __future__ import annotations

from dataclasses import field
from functools import cached_property

from casewright.cache import Cache
from casewright.project import Project
from casewright.shop.practice import Practice, Rule
from casewright.units.grid import record

READ_BY_PAGES = frozenset(  # beside the design's
    {
        "fit.cut_over", "moulding.corner_slack", "rip.least_length", "shim.thickness", "supplies.cloth_area",
        "supplies.disc_area", "supplies.filler_edge", "supplies.filler_head", "supplies.glue_spread",
    }
)  # fmt: skip


@record
class _Watched(Practice):
    """A practice that notes the name of every rule that is read."""

    seen: set[str] = field(compare=False, repr=False, default_factory=set)

    def rule(self, name: str) -> Rule:
        """Return the rule and note its name."""
        found = Practice.rule(self, name)
        self.seen.add(name)
        return found


class _WatchedProject(Project):
    """A project whose practice is watched; its cache is its own, so that nothing is taken from an earlier reading."""

    @cached_property
    def practice(self) -> _Watched:
        """The practice of the order, watched."""
        return _Watched(rules=super().practice.rules)


def practice_used(project: Project) -> tuple[Rule, ...]:
    """Return the rules that were read, sorted by name."""
    twin = _WatchedProject(project.order, project.shop, Cache(), catalogue=project.catalogue)
    _ = twin.assembly, twin.needs
    return tuple(rule for rule in project.practice.rules if rule.name in twin.practice.seen | READ_BY_PAGES)
