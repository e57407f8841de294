"""The envelope of docs/checks.md: each line is quiet up to its edge, and told a little beyond it.

Sources: Architectural Woodwork Standards (2009) for the stiffness of plywood, a shelf guideline page for books of 20 to
25 lb per running foot and a sag of 1/32 in per foot, ANSI/KCMA A161.1 for 15 lb/ft² in a drawer, Wood Handbook Table
13-5 for the movement of yellow-poplar (C_T 0.00289). The figures by hand stand beside each line.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest
from tests.checks.seeding import case, found, project_of, subject_at, told

from casewright.checks import fit_hands, movement_joints, strength_feet, strength_sag
from casewright.checks.model import Check


class Line(NamedTuple):
    """One line: the check and its code, the order with one size left open, that size inside and beyond the edge."""

    check: Check
    code: str
    rows: str
    bays: str
    inside: object
    beyond: object
    room: str = ""


SHELF = "width = {}\ndepth = 320\nheight = 1000\nfront = 'frameless'"
LEAF = (
    "width = {}\ndepth = 400\nheight = 900\nfront = 'frameless'\nfronts = {{ mount = 'overlay', door = 'sheet panel' }}"
)
LINES = {
    # L³ = 384·EI / (10·384·w): 6,550 MPa × 300 × 18³/12 mm⁴ under 30 kg/m: 687 mm, and the pins reach in 5 mm each.
    "shelf": Line(strength_sag.CHECK, "strength.sag", SHELF, "{ holds = 'open', shelves = 1 }", 728, 745),
    # A plate of 5.4 mm on 446 mm by what is as good as its length: 7.4 mm (1/60) at about 720 mm.
    "drawer": Line(
        strength_sag.CHECK, "strength.drawer_bottom",
        "width = {}\ndepth = 520\nheight = 700\nfront = 'frameless'", "{ rows = ['drawer', 'drawer'] }", 760, 900,
    ),
    # 0.00289 × (10.97 − 6.17) × 178 mm = 2.47 mm; 190 mm: 2.63. Practice takes 2.5.
    "frame": Line(
        movement_joints.CHECK, "movement.glue",
        "width = 900\ndepth = 400\nheight = 900\nstile_width = {0}\nbottom_rail_visible = {0}",
        "{ holds = 'open' }", 178, 190,
    ),
    # 0.00289 × 98 mm: 2.43 mm from 20 to 70 % (4.49 to 13.09 %), 2.79 mm from 20 to 75 % (14.4 %).
    "room": Line(
        movement_joints.CHECK, "movement.glue",
        "width = 700\ndepth = 400\nheight = 900\nstile_width = 98\nbottom_rail_visible = 98",
        "{ holds = 'open' }", 70, 75, "[room]\nhumidity_low = 20\nhumidity_high = {}",
    ),
    "overhang": Line(
        strength_feet.CHECK, "strength.overhang",
        "width = 700\ndepth = 600\nheight = 700\ntop = {{ overhang_front = {} }}", "{ holds = 'open' }", 120, 140,
    ),
    "leaf": Line(fit_hands.CHECK, "fit.door_width", LEAF, "{ holds = 'door' }", 660, 680),
}  # fmt: skip


@pytest.mark.parametrize("name", LINES)
def test_the_envelope_is_quiet_inside_and_told_beyond(name: str) -> None:
    line = LINES[name]
    for size, wanted in ((line.inside, False), (line.beyond, True)):
        subject = subject_at(project_of(case(line.rows.format(size), line.bays, room=line.room.format(size))))
        assert subject.piece.placed, "the design refuses it"
        codes = {code for code, _ in told(found(line.check, subject))}
        assert (line.code in codes) is wanted, (size, codes)
