"""Each seeded fault is found by its code at its path, and raises no stop that has nothing to do with it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from tests.checks.fault import Fault
from tests.checks.faults import FAULTS
from tests.checks.faults_looks import ORDER_FAULTS
from tests.checks.seeding import project_of, subject_at, text_of

from casewright.catalogue import BUILT_IN
from casewright.checks.model import Subject, run_checks
from casewright.findings import Finding, Severity


@cache
def sound(example: str) -> Subject:
    return subject_at(project_of(text_of(example)))


@cache
def found_before(example: str) -> frozenset[tuple[str, str, Severity]]:
    return frozenset((f.code, f.path, f.severity) for f in run_checks(BUILT_IN.checks, sound(example)))


def told(findings: tuple[Finding, ...]) -> frozenset[tuple[str, str]]:
    return frozenset((f.code, f.path) for f in findings)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f.name)
def test_a_seeded_fault_is_found_where_it_is(fault: Fault) -> None:
    subject = fault.edit(sound(fault.of))
    findings = run_checks(BUILT_IN.checks, subject)
    path = f"{subject.piece.path}/{fault.path}" if fault.path else subject.piece.path
    before = found_before(fault.of)
    fresh = [f for f in findings if (f.code, f.path, f.severity) not in before]
    assert (fault.code, path) in told(tuple(fresh)), sorted({(f.code, f.path) for f in fresh})
    foreign = {
        (f.code, f.path)
        for f in fresh
        if f.severity is Severity.STOP and f.code != fault.code and f.code not in fault.also
    }
    assert not foreign
    for f in fresh:
        if f.code == fault.code:
            assert f.message
            assert f.source
            assert f.remedy or f.severity is Severity.NOTE


@pytest.mark.parametrize(("text", "code", "path"), ORDER_FAULTS, ids=[code for _, code, _ in ORDER_FAULTS])
def test_a_fault_between_the_pieces_of_an_order_is_found(text: str, code: str, path: str) -> None:
    assert (code, path) in told(project_of(text).order_findings)


def test_every_code_has_a_seeded_fault() -> None:
    """Each code that the reference lists is one that some fault of the library is found by."""
    page = (Path(__file__).parents[2] / "docs/checks.md").read_text(encoding="utf-8")
    rows = [line.split("|")[1] for line in page.splitlines() if line.startswith("| `")]
    listed = {code for row in rows for code in re.findall(r"`([a-z]+\.[a-z_]+)`", row)}
    assert len(listed) > 90
    assert listed - {f.code for f in FAULTS} - {code for _, code, _ in ORDER_FAULTS} == set()


def test_the_library_is_large_and_every_fault_has_its_own_name() -> None:
    assert len(FAULTS) >= 40
    assert len({f.name for f in FAULTS}) == len(FAULTS)
