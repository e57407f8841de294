"""Gaps around fronts are still open once the paint is on and every part of the row is a little off.

A row of a front with its gaps is a chain whose absorber is the gap. What a shop misses in n sizes adds up as the root
of their squares; film lies on both faces of each gap.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.assembly import Chain
from casewright.findings import Finding, Severity

SOURCE = (
    "practice finish.film_face; common practice: a shop keeps a size to 0.25 mm; errors of n sizes add as their root"
)
EACH = 0.25  # mm: what one size may be off
LEAST = 0.4  # mm: below this a gap looks shut, and sticks in damp weather
WIDEST = 5.0  # mm: a gap that nobody would call one


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for a gap that may close, a warning for one that is nearly shut, or as wide as a finger."""
    for chain in subject.piece.chains:
        gaps = [i.value for i in chain.items if _is_gap(i.name)]
        if not gaps or not _is_gap(chain.absorber):
            continue
        wide, error = max(gaps), _error(chain, len(gaps))
        left = min(gaps) - 2 * subject.practice["finish.film_face"] - error
        if left < LEAST:
            severity = Severity.STOP if left < 0 else Severity.WARN
            text = f"{left:.2f} mm of a gap of {min(gaps):.2f} is left after paint and {error:.2f} mm of error"
            yield _finding(subject, chain, severity, text, left, LEAST, "make the gap wider")
        elif wide > WIDEST:
            text = f"a gap of {wide:.2f} mm is too wide"
            yield _finding(subject, chain, Severity.WARN, text, wide, WIDEST, "make the front larger")


def _is_gap(name: str) -> bool:
    return name.endswith(".gap") or ".gap." in name or name.startswith("gap")


def _error(chain: Chain, gaps: int) -> float:
    """Return the error that one gap takes of the row's other sizes and its total."""
    others = len(chain.items) - gaps + 1
    return EACH * math.sqrt(others) / gaps


def _finding(
    subject: Subject, chain: Chain, severity: Severity, message: str, value: float, limit: float, remedy: str
) -> Finding:
    return subject.finding(
        code="gaps.tolerance",
        severity=severity,
        path=chain.id,
        message=message,
        value=value,
        limit=limit,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="gaps",
    what="gaps stay open under paint and the errors of their row",
    needs=("chains", "practice finish.film_face"),
    source=SOURCE,
    run=run,
)
