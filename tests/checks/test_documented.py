"""Every code that a check may give has its row in docs/checks.md."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from casewright.catalogue import BUILT_IN

ROOT = Path(__file__).parents[2]
FIRST = r"(?:around|assembly|attached|chain|collision|contents|device|fastener|fit|gaps|handed|looks|motion|movement)"
OTHERS = r"(?:racking|reach|stability|strength|tools|visible|wall|weak)"
GIVEN = re.compile(rf'"((?:{FIRST}|{OTHERS})\.[a-z_]+)"')
NAMED = {check.code for check in (*BUILT_IN.checks, *BUILT_IN.order_checks)}
PRACTICE = {"door", "pull"}


def codes() -> set[str]:
    """Return every code that is written in a module of a check, names of checks themselves left out."""
    text = "".join(f.read_text(encoding="utf-8") for f in (ROOT / "src/casewright/checks").glob("*.py"))
    practice = set(re.findall(r'(?:practice|p)\["([^"]+)"\]', text))
    return set(GIVEN.findall(text)) - practice


@pytest.mark.parametrize("code", sorted(codes()))
def test_a_code_is_in_the_reference(code: str) -> None:
    page = (ROOT / "docs/checks.md").read_text(encoding="utf-8")
    assert f"`{code}`" in page or code in NAMED


def test_there_are_codes() -> None:
    assert len(codes()) > 60
