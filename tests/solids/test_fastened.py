"""Fasteners by axis arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.solids.things import board, piece, put, screw

from casewright.cache import Cache
from casewright.design.assembly import Keepout
from casewright.design.blanks import Face
from casewright.design.features.openings import Recess
from casewright.design.frames import Frame, Vec, rotation_about
from casewright.design.outlines import circle
from casewright.design.parts import Fastener, Placed
from casewright.solids.fastened import crossed_fasteners, fastener_overlaps, keepout_overlaps

BLOCK = board(100.0, 60.0, 40.0)
DOWN: Vec = (0.0, 0.0, -1.0)


def hits(fastener: Fastener, *placed: Placed) -> list[str]:
    return [o.other for o in fastener_overlaps(piece(*placed, fasteners=(fastener,)), Cache())]


@pytest.mark.parametrize(("x", "enters"), [(-2.1, False), (-2.0, False), (-1.985, False), (-1.97, True), (50.0, True)])
def test_a_screw_may_touch_but_not_enter_a_strange_part(x: float, enters: bool) -> None:
    assert bool(hits(screw("s", (x, 30.0, 60.0), DOWN, 40.0), put("p/a", BLOCK, (0.0, 0.0, 0.0)))) is enters


@pytest.mark.parametrize(("length", "enters"), [(19.0, False), (20.0, False), (20.015, False), (20.05, True)])
def test_its_end_is_flat(length: float, enters: bool) -> None:
    assert bool(hits(screw("s", (50.0, 30.0, 60.0), DOWN, length), put("p/a", BLOCK, (0.0, 0.0, 0.0)))) is enters


def test_the_parts_of_its_joint_are_its_own() -> None:
    own = screw("s", (50.0, 30.0, 60.0), DOWN, 40.0, parts=("p/a",))
    assert hits(own, put("p/a", BLOCK, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (0.0, 0.0, -40.0))) == []
    long = screw("s", (50.0, 30.0, 60.0), DOWN, 70.0, parts=("p/a",))
    assert hits(long, put("p/a", BLOCK, (0.0, 0.0, 0.0)), put("p/b", BLOCK, (0.0, 0.0, -40.0))) == ["p/b"]


def test_a_screw_buried_whole_in_a_part_is_seen() -> None:
    assert hits(screw("s", (50.0, 30.0, 30.0), DOWN, 10.0), put("p/a", BLOCK, (0.0, 0.0, 0.0))) == ["p/a"]


@pytest.mark.parametrize(("radius", "enters"), [(2.0, False), (5.5, True)])
def test_a_screw_through_a_hole_of_a_strange_part_is_free_if_it_is_wide_enough(radius: float, enters: bool) -> None:
    drilled = board(100.0, 60.0, 40.0, Recess(face=Face.FACE1, outline=circle(50.0, 30.0, 5.0), depth=40.0))
    assert (
        bool(hits(screw("s", (50.0, 30.0, 60.0), DOWN, 80.0, radius=radius), put("p/a", drilled, (0.0, 0.0, 0.0))))
        is enters
    )


def test_a_wide_head_counts() -> None:
    bare = screw("s", (-3.0, 30.0, 38.0), DOWN, 30.0)
    headed = Fastener(
        path="s", item="screw", joint="j", parts=(), frame=bare.frame, length=30.0, shank_radius=2.0,
        thread_length=20.0, head_radius=4.0, head_height=3.0,
    )  # fmt: skip
    block = put("p/a", BLOCK, (0.0, 0.0, 0.0))
    assert hits(bare, block) == []
    assert hits(headed, block) == ["p/a"]


@given(
    axis=st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(0.1, 1)), angle=st.floats(-180, 180),
    x=st.sampled_from([-2.5, -1.9, 20.0, 101.9, 102.1]), length=st.sampled_from([19.9, 20.1, 45.0]),
)  # fmt: skip
def test_the_answer_does_not_depend_on_where_the_piece_stands(axis: Vec, angle: float, x: float, length: float) -> None:
    turn = rotation_about(axis, angle)
    fastener, block = screw("s", (x, 30.0, 60.0), DOWN, length), put("p/a", BLOCK, (0.0, 0.0, 0.0))
    moved = Fastener(
        path="s", item="screw", joint="j", parts=(), frame=turn.then(fastener.frame), length=length,
        shank_radius=2.0, thread_length=length,
    )  # fmt: skip
    there = Placed(path="p/a", name="a", thing=BLOCK, frame=turn.then(Frame()))
    assert hits(moved, there) == hits(fastener, block) == (["p/a"] if -2 < x < 102 and length > 20 else [])


def test_keepouts_hold_off_all_but_their_owners() -> None:
    keep = Keepout(id="p/slide", lo=(40.0, 20.0, 0.0), hi=(60.0, 40.0, 30.0), owners=("p/slide",))
    strange = screw("s1", (50.0, 30.0, 40.0), DOWN, 20.0)
    own = screw("s2", (50.0, 30.0, 40.0), DOWN, 20.0, parts=("p/slide/left", "p/side"))
    short = screw("s3", (50.0, 30.0, 40.0), DOWN, 10.0)
    found = keepout_overlaps(piece(keepouts=(keep,), fasteners=(strange, own, short)))
    assert [(f.fastener, f.other) for f in found] == [("s1", "p/slide")]


@pytest.mark.parametrize(("apart", "meets"), [(4.1, False), (4.0, False), (3.97, True)])
def test_fasteners_run_into_each_other_by_radius(apart: float, meets: bool) -> None:
    parallel = (screw("a", (0.0, 0.0, 0.0), DOWN, 30.0), screw("b", (apart, 0.0, -20.0), DOWN, 30.0))
    crossed = (screw("a", (0.0, 0.0, 0.0), DOWN, 30.0), screw("b", (-15.0, apart, -15.0), (1.0, 0.0, 0.0), 30.0))
    for pair in (parallel, crossed):
        assert bool(crossed_fasteners(piece(fasteners=pair))) is meets


def test_fasteners_in_line_are_free_end_to_end() -> None:
    assert (
        crossed_fasteners(
            piece(fasteners=(screw("a", (0.0, 0.0, 0.0), DOWN, 30.0), screw("b", (0.0, 0.0, -30.0), DOWN, 30.0)))
        )
        == ()
    )
