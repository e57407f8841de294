"""Doors beside walls: what is met before a door shuts off its opening stops, what is met at a right angle is said."""

from __future__ import annotations

import pytest
from tests.laws.orders import project_of

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
