"""Tops over crowns: rule of the trade (common practice), overhang ≥ projection + reveal."""

from __future__ import annotations

import math

import pytest
from tests.laws.orders import case

from casewright.findings import Severity

ORDER = """
width = 800
depth = 450
height = 800
crown = true
bays = "drawer"
top = { overhang_side = SIDE }
"""


@pytest.mark.parametrize(
    ("over", "severity"), [(-5.0, Severity.STOP), (1.0, Severity.WARN), (5.9, Severity.WARN), (6.1, None), (10.0, None)]
)
def test_a_top_stands_out_over_the_crown_by_its_reveal(over: float, severity: Severity | None) -> None:
    crown = 1.625 * 25.4 * math.sin(math.radians(45))  # a crown 1 5/8 in wide at a spring angle of 45°: w sin s
    text = ORDER.replace("SIDE", f"{crown + over:.3f}")
    project = case(text)
    found = [f for f in project.piece_findings if f.path.endswith("top.overhang_side")]
    assert [f.severity for f in found] == ([severity] if severity else [])
    if severity is Severity.WARN:
        assert found[0].limit == pytest.approx(crown + 6.0, abs=0.1)
