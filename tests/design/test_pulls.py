"""Pulls as drawn: a knob's base and head have the sizes that are listed."""

from __future__ import annotations

import pytest
from tests.checks.seeding import case, project_of

from casewright.cache import Cache
from casewright.design.blocks.hardware import pull_hardware
from casewright.solids.evaluate import solid
from casewright.stock import load_stock
from casewright.stock.model import Pull

PULLS = [item for item in load_stock().items.values() if isinstance(item, Pull)]


@pytest.mark.parametrize("pull", PULLS, ids=lambda p: p.id)
def test_a_pull_is_as_wide_and_as_high_as_it_is_listed(pull: Pull) -> None:
    made = solid(pull_hardware(pull), Cache())
    assert made.high[0] - made.low[0] == pytest.approx(max(pull.base_width, pull.head), abs=1e-3)
    assert made.high[2] == pytest.approx(pull.projection, abs=1e-6)
    assert made.low[2] == pytest.approx(0.0, abs=1e-6)


def test_a_knob_stands_on_its_base_and_is_held_by_its_head() -> None:
    knob = load_stock().items["knob-30"]
    assert isinstance(knob, Pull)
    assert (knob.base_width, knob.head) == (14.0, 30.0), "common practice: a 30 mm knob on a 14 mm base"
    body = solid(pull_hardware(knob), Cache()).body
    slices = {share: body.slice(share * knob.projection).area() for share in (0.01, 0.7)}
    assert slices[0.01] == pytest.approx(3.14159 / 4 * 14.0**2, rel=0.03)
    assert slices[0.7] == pytest.approx(3.14159 / 4 * 30.0**2, rel=0.01)


@pytest.mark.parametrize(
    ("stand", "depth", "height", "high"),
    [
        ("{ kind = 'wall', height = 1400 }", 330, 700, 75.0),
        ("{ kind = 'plinth', height = 80 }", 400, 700, 0.0),
        ("{ kind = 'plinth', height = 80 }", 400, 1900, 1050.0),
    ],
)
def test_a_door_is_pulled_where_a_hand_is(stand: str, depth: int, height: int, high: float) -> None:
    # Common practice: near the lower end of a hung door, the upper end of a low one, waist high on a tall one.
    rows = f'front = "frameless"\nwidth = 500\ndepth = {depth}\nheight = {height}\nstand = {stand}'
    [piece] = project_of(case(f"{rows}\nfronts = {{ mount = 'overlay', door = 'glass' }}", '"door"')).assembly.pieces
    pull = next(p for p in piece.placed if p.path.endswith("/pull"))
    leaf = next(p for p in piece.placed if p.path.endswith("/stile.left"))
    low, top = leaf.frame.origin[2], leaf.frame.origin[2] + leaf.part.blank.length
    wanted = {75.0: low + 75.0, 0.0: top - 75.0}.get(high, high)
    assert pull.frame.origin[2] == pytest.approx(wanted, abs=0.01)
