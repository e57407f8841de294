"""The `Finding`: one thing that a careful maker should know about an order, with its numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field
from enum import Enum

from casewright.units.grid import record


class Severity(Enum):
    """How bad a finding is; the order of members is worst first."""

    STOP = "stop"  # it will not work, or may hurt someone
    WARN = "warn"  # a careful maker would change it
    NOTE = "note"  # worth knowing

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return list(Severity).index(self)


@record
class Finding:
    """One finding. `value` and `limit` are in `unit` ("mm", "deg", "kg", "" for counts).

    `path` is a path of the design (`bedside.left/door[c1,r2]`) or a key path of the order or shop
    (`piece[1].width`); `place` names the file and line that it comes from, for example
    "order.toml:14", and may be empty.
    """

    code: str
    severity: Severity
    path: str
    message: str
    value: float | None = None
    limit: float | None = None
    unit: str = "mm"
    source: str = ""
    remedy: str = ""
    place: str = field(default="", compare=False)
    related: tuple[str, ...] = ()
    accepted: str = ""  # the reason given in the order, where it is accepted

    @property
    def stops(self) -> bool:
        """True where it is a stop that nobody accepted."""
        return self.severity is Severity.STOP and not self.accepted


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return `findings` without repeats, sorted by severity, then path, then code."""
    return tuple(sorted(set(findings), key=lambda f: (f.severity.rank, f.path, f.code, f.message)))
