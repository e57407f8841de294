"""Screws that an order names for a role are the ones that the piece is built with."""

from __future__ import annotations

import pytest
from tests.checks.seeding import project_of, text_of

from casewright.design.assembly import PieceDesign
from casewright.findings import Severity

CASES = (
    ("low-bookcase", "case_screw", "screw-10x2"),
    ("lantern-hill", "case_screw", "screw-10x2"),
    ("lantern-hill", "block_screw", "screw-10x2"),
)


def built(example: str, role: str, item: str) -> PieceDesign:
    roles = f'[piece.roles]\n{role} = ["screw-8x1-1/4", "{item}"]\n'
    text = text_of(example)
    text = text.replace("[piece.roles]\n", roles, 1) if "[piece.roles]" in text else f"{text}\n{roles}"
    return project_of(text).assembly.pieces[0]


@pytest.mark.parametrize(("example", "role", "item"), CASES)
def test_a_named_screw_is_built_with(example: str, role: str, item: str) -> None:
    before = project_of(text_of(example)).assembly.pieces[0]
    named = [f.item for f in built(example, role, item).fasteners]
    assert named.count(item) > [f.item for f in before.fasteners].count(item)


def test_a_named_screw_that_fits_nowhere_is_told() -> None:
    stops = [f for f in built("low-bookcase", "case_screw", "screw-8x3/4").findings if f.severity is Severity.STOP]
    assert any("case_screw" in f.message for f in stops)
