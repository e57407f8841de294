"""Faults that were written by people who had not seen the checks: each is told by its code, at its place, for good."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import pytest
from tests.checks.blind_faults import BLIND, TOLD
from tests.checks.seeding import changed, project_of, subject_at, text_of

from casewright.catalogue import BUILT_IN
from casewright.checks.model import run_checks
from casewright.findings import Finding, Severity
from casewright.shop.errors import FileError

CASES = [(fault, *told) for fault, told in zip(BLIND, TOLD, strict=True)]
NAMES = [fault["name"] for fault in BLIND]


def findings_of(fault: Mapping[str, Any]) -> tuple[str, Iterable[Finding]]:
    """Return the path of the piece, and all that is said of it with its fault."""
    sound = project_of(text_of(fault["of"]))
    piece = fault.get("piece") or sound.assembly.pieces[0].path
    if "edit" in fault:
        return piece, run_checks(BUILT_IN.checks, fault["edit"](subject_at(sound, piece)))
    try:
        project = project_of(changed(text_of(fault["of"]), *fault["order_edit"]))
        built = {p.path for p in project.assembly.pieces}
        return (piece if piece in built else min(built)), project.piece_findings
    except FileError as refused:
        return piece, refused.findings


@pytest.mark.parametrize(("fault", "code", "path"), CASES, ids=NAMES)
def test_a_blind_fault_is_told_where_it_is(fault: Mapping[str, Any], code: str, path: str) -> None:
    piece, findings = findings_of(fault)
    told = {(f.code, f.path.removeprefix(piece).lstrip("/")) for f in findings if f.severity is not Severity.NOTE}
    assert not code or (code, path) in told, sorted(told)


def test_what_is_not_told_is_few_and_has_its_reason() -> None:
    untold = [reason for code, reason in TOLD if not code]
    assert len(untold) <= 3
    assert all(untold)
