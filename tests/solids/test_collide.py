"""Collisions and boxes: seeded cases around the 0.02 mm limit, and rigid motion."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.solids.things import board, cabinet, piece, put

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.features.openings import Recess
from casewright.design.frames import Frame, Vec, X, Y, rotation_about
from casewright.design.outlines import circle
from casewright.design.parts import Hardware, Placed
from casewright.design.volumes import Cone
from casewright.solids.collide import collisions, overall_box

BLOCK = board(100.0, 60.0, 40.0)


def two(shift: Vec, a=BLOCK, b=BLOCK):
    return piece(put("p/a", a, (0.0, 0.0, 0.0)), put("p/b", b, shift))


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize(
    ("depth", "collides"), [(-1.0, False), (0.0, False), (0.019, False), (0.021, True), (1.0, True)]
)
def test_faces_may_penetrate_by_no_more_than_the_limit(axis: int, depth: float, collides: bool) -> None:
    size = (100.0, 60.0, 40.0)
    shift = [0.0, 0.0, 0.0]
    shift[axis] = size[axis] - depth
    found = collisions(two((shift[0], shift[1], shift[2])), Cache())
    assert bool(found) is collides
    if collides:
        assert found[0].depth == pytest.approx(depth, rel=0.01)
        assert found[0].at[axis] == pytest.approx(size[axis] - depth / 2, abs=0.01)


@pytest.mark.parametrize(("depth", "collides"), [(0.019, False), (0.021, True)])
def test_an_edge_that_meets_an_edge_counts_by_depth_not_by_volume(depth: float, collides: bool) -> None:
    # A bar 0.02 × 0.02 × 40 mm: next to no volume, and a collision all the same just above the limit.
    assert bool(collisions(two((100.0 - depth, 60.0 - depth, 0.0)), Cache())) is collides


@pytest.mark.parametrize(("oversize", "collides"), [(-0.1, False), (0.0, False), (0.018, False), (0.022, True)])
def test_a_tongue_too_thick_for_its_groove_collides_on_one_side(oversize: float, collides: bool) -> None:
    groove = board(100.0, 60.0, 40.0, Groove(face=Face.FACE1, u0=0.0, u1=100.0, v0=20.0, v1=26.0, depth=10.0))
    tongue = board(100.0, 6.0 + oversize, 30.0)
    assert bool(collisions(two((0.0, 20.0, 30.0), groove, tongue), Cache())) is collides


@pytest.mark.parametrize(("reach", "collides"), [(29.99, False), (30.015, False), (30.03, True)])
def test_a_tenon_may_not_bottom_out(reach: float, collides: bool) -> None:
    rail = board(200.0, 60.0, 20.0, Tenon(face=Face.END1, u0=10.0, u1=50.0, v0=6.0, v1=14.0, length=reach))
    stile = board(300.0, 60.0, 20.0, Groove(face=Face.EDGE0, u0=0.0, u1=300.0, v0=6.0, v1=14.0, depth=30.0))
    # The shoulders touch the stile's edge; its groove runs up the piece.
    placed = (put("p/rail", rail, (0.0, 0.0, 0.0)), put("p/stile", stile, (200.0 - reach, -100.0, 20.0), Y, X))
    assert bool(collisions(piece(*placed), Cache())) is collides


@pytest.mark.parametrize(("radius", "collides"), [(20.0, False), (19.99, False), (20.05, True)])
def test_a_round_body_in_a_round_recess(radius: float, collides: bool) -> None:
    top = board(100.0, 100.0, 20.0, Recess(face=Face.FACE1, outline=circle(50.0, 50.0, 20.0), depth=12.0))
    device = Hardware(item="device", mass=0.1, bodies=(Cone(frame=Frame(), r0=radius, r1=radius, height=12.0),))
    assert (
        bool(collisions(piece(put("p/top", top, (0.0, 0.0, 0.0)), put("p/device", device, (50.0, 50.0, 8.0))), Cache()))
        is collides
    )


def test_a_thing_wholly_inside_another_collides() -> None:
    found = collisions(two((40.0, 20.0, 10.0), BLOCK, board(10.0, 10.0, 10.0)), Cache())
    assert [(c.a, c.b) for c in found] == [("p/a", "p/b")]
    assert found[0].depth == pytest.approx(10.0, rel=0.01)


def turned(placed: Placed, by: Frame) -> Placed:
    return Placed(path=placed.path, name=placed.name, thing=placed.thing, frame=by.then(placed.frame))


@given(
    axis=st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(0.1, 1)), angle=st.floats(-180, 180),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500), st.floats(-500, 500)),
    depth=st.sampled_from([0.015, 0.025, 0.5]),
)  # fmt: skip
def test_collisions_do_not_depend_on_where_the_piece_stands(axis: Vec, angle: float, shift: Vec, depth: float) -> None:
    turn = rotation_about(axis, angle)
    by = Frame(origin=shift, x=turn.x, y=turn.y)
    here = two((100.0 - depth, 10.0, 5.0))
    there = piece(*(turned(p, by) for p in here.placed))
    a, b = collisions(here, Cache()), collisions(there, Cache())
    assert len(a) == len(b) == (1 if depth > 0.02 else 0)
    assert [c.depth for c in a] == pytest.approx([c.depth for c in b], rel=0.01)


def test_a_sound_cabinet_has_no_collision_and_its_own_size() -> None:
    assert collisions(cabinet(), Cache()) == ()
    low, high = overall_box(cabinet(), Cache(), exclude=("p/knob",))
    assert (low, high) == ((-100.0, 0.0, 0.0), (100.0, 150.0, 300.0))
    low, _ = overall_box(cabinet(), Cache())
    assert low[1] == pytest.approx(-25.0, abs=1e-9)


def test_a_turned_box_is_measured_at_its_corners() -> None:
    s = math.sqrt(0.5)
    low, high = overall_box(piece(put("p/a", BLOCK, (0.0, 0.0, 0.0), (s, s, 0.0), (-s, s, 0.0))), Cache())
    assert high[0] - low[0] == pytest.approx(160.0 * s, abs=1e-9)


def test_results_are_kept_by_pair_and_relative_place() -> None:
    cache = Cache()
    first = collisions(two((99.0, 0.0, 0.0)), cache)
    size = len(cache)
    moved = piece(*(turned(p, Frame(origin=(7.0, 8.0, 9.0))) for p in two((99.0, 0.0, 0.0)).placed))
    assert [c.depth for c in collisions(moved, cache)] == [c.depth for c in first]
    assert len(cache) == size
