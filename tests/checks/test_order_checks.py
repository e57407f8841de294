"""Checks that compare the pieces of an order; keys of the order that a check reads."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from tests.checks.seeding import changed, project_of, text_of

from casewright.checks.model import OrderCheck, Subject, run_order_checks
from casewright.findings import Finding, Severity
from casewright.order.contents import CONTENTS

PIECE = """
[[piece]]
kind = "case"
name = "{name}"
width = 600
depth = 400
height = {height}
bays = {{ holds = "open", shelves = 1 }}
"""
HEAD = 'format = 1\ntitle = "two"\nunits = "mm"\n'


def across(*heights: float) -> list[Finding]:
    pieces = (PIECE.format(name=f"case-{i}", height=h) for i, h in enumerate(heights))
    return [f for f in project_of(HEAD + "".join(pieces)).order_findings if f.code == "looks.across"]


@pytest.mark.parametrize(("second", "told"), [(800.0, False), (800.5, False), (802.0, True), (810.0, False)])
def test_pieces_that_nearly_match_are_told(second: float, told: bool) -> None:
    found = across(800.0, second)
    assert bool(found) is told
    if told:
        assert found[0].path == "case-1"
        assert found[0].value == pytest.approx(2.0, abs=0.01)


def test_a_check_of_the_order_that_crashes_is_reported() -> None:
    def crash(subjects: Sequence[Subject]) -> list[Finding]:
        raise ZeroDivisionError("seeded")

    broken = OrderCheck(code="broken", what="", needs=(), source="", run=crash)
    project = project_of(text_of("low-bookcase"))
    subject = project.subject(project.assembly.pieces[0].path)
    found = run_order_checks((broken,), (subject,))
    assert [(f.code, f.severity) for f in found] == [("check.crashed", Severity.STOP)]
    assert run_order_checks((broken,), ()) == ()


def test_a_reading_of_the_boards_silences_the_note_and_is_the_moisture_when_fitted() -> None:
    text = text_of("lantern-hill")
    read = project_of(changed(text, ("[room]\n", "[room]\nwood_moisture = 7.5\n")))
    assert read.moisture.fitted == 7.5
    assert not [f for f in read.piece_findings if f.code == "movement.reading"]
    assert [f for f in project_of(text).piece_findings if f.code == "movement.reading"]


def test_a_wall_beside_a_pair_is_mirrored_with_it() -> None:
    """The wall stands away from the bed, beside the hinges; the right-hand piece has it at its right."""
    text = changed(text_of("lantern-hill"), ("base = true\n", "base = true\naround = { wall_left = 0.1 }\n"))
    told = {f.path for f in project_of(text).piece_findings if f.code == "around.wall"}
    assert told == {"bedside.left/door[c1,r2]", "bedside.right/door[c1,r2]"}
    project = project_of(text)
    assert project.subject("bedside.left").around.wall_left == pytest.approx(2.54)
    assert project.subject("bedside.right").around.wall_right == pytest.approx(2.54)


def test_contents_have_names_of_their_own_and_sizes() -> None:
    assert len({c.name for c in CONTENTS}) == len(CONTENTS)
    assert all(min(c.width, c.height, c.depth) > 50.0 and c.source for c in CONTENTS)
