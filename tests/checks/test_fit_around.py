"""Doors beside walls: what is met before a door shuts off its opening stops, what is met at a right angle is said."""

from __future__ import annotations

import pytest
from tests.checks.seeding import case, found, subject_at
from tests.checks.seeding import project_of as project_of_text
from tests.laws.orders import project_of

from casewright.checks import fit_around
from casewright.findings import Severity

SHOP = 'format = 1\nname = "Fernbrook Workshop"\nunits = "mm"\n'
CABINET = """format = 1
title = "around"
units = "mm"
[[piece]]
kind = "case"
name = "case"
width = 722
depth = 547
height = 1102
front = "frameless"
scribe = "left right"
bays = { holds = "door", shelves = 1, hinged = "left" }
stand = { kind = "wall", height = 820 }
top = { kind = "between" }
fronts = { mount = "MOUNT", door = "slab" }
"""


@pytest.mark.parametrize("mount", ["overlay", "inset"])
def test_a_knob_that_meets_the_wall_near_a_right_angle_does_not_stop(mount: str) -> None:
    project = project_of(CABINET.replace("MOUNT", mount), SHOP)
    met = [f for f in project.piece_findings if f.code == "around.wall"]
    assert met, "the knob stands out further than the strip is wide"
    assert all(f.severity is Severity.WARN and f.value is not None and f.value > 87.0 for f in met)


def test_a_scribed_case_clears_the_skirting_board_of_its_wall() -> None:
    """By hand: a board of 14 mm and 2 mm of play; the strip stands 16 mm out, of the 19 mm that it is cut."""
    room = "[room]\nskirting_height = 95\nskirting_thickness = {}"
    rows = 'width = 900\ndepth = 400\nheight = 900\nfront = "frameless"\nscribe = "left right"'
    for thick, wide, told in ((14, 16.0, False), (30, 6.35, True)):
        subject = subject_at(project_of_text(case(rows, '{ holds = "open", shelves = 1 }', room=room.format(thick))))
        assert {s.name: s.value for s in subject.piece.sizes}["scribe.side.gap"] == pytest.approx(wide)
        codes = {f.code for f in found(fit_around.CHECK, subject)}
        assert ("around.skirting" in codes) is told
