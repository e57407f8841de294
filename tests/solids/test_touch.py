"""Contacts: areas by hand, and the 0.01 mm limit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.solids.things import board, cabinet, piece, put

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.cuts import Dado
from casewright.design.features.holes import Hole
from casewright.design.frames import Frame, Vec, rotation_about
from casewright.design.parts import Placed
from casewright.solids.touch import contacts

BLOCK = board(100.0, 60.0, 40.0)


@pytest.mark.parametrize(("gap", "touches"), [(0.0, True), (0.009, True), (0.011, False), (-0.015, True)])
def test_faces_touch_up_to_the_limit(gap: float, touches: bool) -> None:
    found = contacts(piece(put("p/a", BLOCK, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (100.0 + gap, 10.0, 5.0))), Cache())
    assert bool(found) is touches
    if touches:
        assert found[0].area == pytest.approx(50.0 * 35.0, rel=1e-6)
        assert found[0].normal == (1.0, 0.0, 0.0)
        assert found[0].at == pytest.approx((100.0, 35.0, 22.5), abs=1e-5)


def test_edges_and_small_corners_do_not_count() -> None:
    edge = piece(put("p/a", BLOCK, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (100.0, 60.0, 0.0)))
    corner = piece(put("p/a", BLOCK, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (99.5, 59.5, 40.0)))
    assert contacts(edge, Cache()) == contacts(corner, Cache()) == ()
    assert contacts(corner, Cache(), least_area=0.2)[0].area == pytest.approx(0.25, rel=1e-6)


def test_a_shelf_touches_its_dado_on_three_faces() -> None:
    side = board(300.0, 150.0, 18.0, Dado(face=Face.FACE1, u0=40.0, u1=58.0, v0=0.0, v1=150.0, depth=6.0))
    shelf = put("p/shelf", board(100.0, 150.0, 18.0), (58.0, 0.0, 12.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    found = contacts(piece(put("p/side", side, (0.0, 0.0, 0.0)), shelf), Cache())
    assert found[0].area == pytest.approx(150 * (18 + 6 + 6), rel=1e-6)


def test_a_hole_takes_its_circle_off_the_contact() -> None:
    drilled = board(100.0, 60.0, 40.0, Hole(face=Face.FACE1, u=50.0, v=30.0, diameter=20.0))
    found = contacts(piece(put("p/a", drilled, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (0.0, 0.0, 40.0))), Cache())
    assert found[0].area == pytest.approx(6000 - math.pi * 100, abs=0.02 * math.pi * 20)


@given(
    axis=st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(0.1, 1)), angle=st.floats(-180, 180),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500), st.floats(-500, 500)),
)  # fmt: skip
def test_contacts_do_not_depend_on_where_the_piece_stands(axis: Vec, angle: float, shift: Vec) -> None:
    turn = rotation_about(axis, angle)
    by = Frame(origin=shift, x=turn.x, y=turn.y)
    there = piece(*(Placed(path=p.path, name=p.name, thing=p.thing, frame=by.then(p.frame)) for p in cabinet().placed))
    a, b = contacts(cabinet(), Cache()), contacts(there, Cache())
    assert [(c.a, c.b) for c in a] == [(c.a, c.b) for c in b]
    assert [c.area for c in a] == pytest.approx([c.area for c in b], rel=1e-4)


def test_everything_in_the_cabinet_hangs_together() -> None:
    pairs = {(c.a, c.b): c.area for c in contacts(cabinet(), Cache())}
    assert pairs[("p/side.left", "p/bottom")] == pytest.approx(150 * 30, rel=1e-6)
    assert pairs[("p/side.left", "p/top")] == pytest.approx(150 * 18, rel=1e-6)
    assert pairs[("p/front", "p/knob")] == pytest.approx(math.pi * (36 - 6.25), rel=0.01)
