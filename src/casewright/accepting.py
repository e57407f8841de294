"""Findings that an order accepts: marked with the reason, and open again when the value has got worse."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from casewright.findings import Finding
from casewright.order.model import Acceptance


def accepted(findings: Iterable[Finding], acceptances: tuple[Acceptance, ...]) -> list[Finding]:
    """Return the findings, each that an acceptance covers (code, path, no worse value) with its reason."""
    by_key = {(a.code, a.path): a for a in acceptances}
    out = []
    for finding in findings:
        given = by_key.get((finding.code, finding.path))
        covers = given is not None and not worse(finding, given.value)
        out.append(replace(finding, accepted=given.reason) if covers and given is not None else finding)
    return out


def worse(finding: Finding, before: float | None) -> bool:
    """True where the finding lies further beyond its limit than the value that was accepted."""
    if finding.value is None or before is None:
        return False
    if finding.limit is None:
        return abs(finding.value) > abs(before) + 1e-9
    beyond = 1.0 if finding.value >= finding.limit else -1.0
    return beyond * (finding.value - before) > 1e-9
