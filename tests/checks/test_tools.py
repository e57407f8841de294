"""Tools at fasteners: a nail set leans where a square one has no room."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.seeding import case, found, project_of, subject_at

from casewright.checks import assembly_tools

ROWS = """width = {width}
depth = 330
height = 700
front = "frameless"
stand = {{ kind = "wall", height = 1400 }}
top = {{ kind = "between" }}
fronts = {{ mount = "overlay", door = "glass" }}"""


@pytest.mark.parametrize("width", [200, 260])
def test_a_nail_set_leans_out_of_a_narrow_glazed_door(width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """By hand: a set of 110 mm and 40 mm of hammer need 150 mm square to a bead.

    Leaned by 15° out of the door they rise 39 mm over that length, past a stile that stands 7 mm over the pin.
    """
    subject = subject_at(project_of(case(ROWS.format(width=width), '{ holds = "door", shelves = 1 }')))
    assert not [f for f in found(assembly_tools.CHECK, subject) if f.code == "tools.reach"]
    upright = tuple(replace(t, slant=0.0) for t in assembly_tools.NAILERS)
    monkeypatch.setattr(assembly_tools, "NAILERS", upright)
    stops = [f for f in found(assembly_tools.CHECK, subject) if f.code == "tools.reach"]
    assert stops
    assert all("bead" in f.path for f in stops)
