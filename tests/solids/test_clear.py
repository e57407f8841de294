"""What points and planes call clear is clear by the solids, and round bodies are what their cones add up to."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.cache import Cache
from casewright.design.frames import Frame
from casewright.design.volumes import Cone, Lowered
from casewright.solids.clear import stands_in_a_cut
from casewright.solids.collide import DEPTH_LIMIT, near_pairs, vertices
from casewright.solids.evaluate import matrix, shrunk, solid
from casewright.solids.facets import Facets
from casewright.solids.reach import lowered, moved, near
from casewright.solids.turned import turned_bodies

SLACK = DEPTH_LIMIT / 2


def test_nothing_that_is_called_clear_meets_and_most_pairs_are_told_so() -> None:
    cache = Cache()
    piece = Project(load_order(DEMO), load_shop(), cache).assembly.pieces[0]
    told = looked = 0
    for a, b in near_pairs(piece, cache, -DEPTH_LIMIT):
        at = a.frame.relative(b.frame)
        sa, sb = solid(a.thing, cache), solid(b.thing, cache)
        of_b = moved(np.array((sb.low, sb.high)), at)
        room = np.array((np.maximum(sa.low, of_b[0]), np.minimum(sa.high, of_b[1])))
        near_a = near(a.thing, room, 2 * SLACK, cache).volumes
        looked += 1
        if stands_in_a_cut(near_a.removals, lowered(b.thing, cache), vertices(b.thing, cache), at, room, SLACK):
            told += 1
            common = shrunk(a.thing, SLACK, cache).body ^ shrunk(b.thing, SLACK, cache).body.transform(matrix(at))
            assert common.is_empty(), f"{a.path} {b.path}"
    assert told > looked / 3


@pytest.mark.parametrize(("gap", "clear"), [(0.0, True), (0.003, True), (0.05, False), (1.0, False)])
def test_a_pin_is_called_clear_in_its_bore_and_not_beside_it(gap: float, clear: bool) -> None:
    bore = Cone(frame=Frame(origin=(0.0, 0.0, -1.0)), r0=5.0, r1=5.0, height=31.0)
    pin = Lowered(base=(Cone(frame=Frame(), r0=5.0, r1=5.0, height=30.0),))
    room = np.array(((-5.0 + gap, -5.0, 0.0), (5.0 + gap, 5.0, 30.0)))
    at = Frame(origin=(gap, 0.0, 0.0))
    assert stands_in_a_cut((bore,), pin, np.zeros((0, 3)), at, room, SLACK) is clear


def test_a_countersunk_hole_is_one_body_with_the_volume_of_its_cones() -> None:
    shank = Cone(frame=Frame(), r0=2.0, r1=2.0, height=20.0)
    sink = Cone(frame=Frame(origin=(0.0, 0.0, 16.0)), r0=0.0, r1=6.0, height=6.0)
    other = Cone(frame=Frame(origin=(30.0, 0.0, 0.0)), r0=1.0, r1=3.0, height=10.0)
    bodies = turned_bodies((shank, sink, other), 0.0, Facets.EQUAL)
    assert len(bodies) == 2
    # The cone is as wide as the shank 2 mm up, at z = 18; from there on it is the wider one.
    expected = math.pi * (4.0 * 18.0 + 4.0 * (2.0**2 + 2.0 * 6.0 + 6.0**2) / 3)
    assert bodies[0].volume() == pytest.approx(expected, rel=1e-9)
    assert bodies[1].volume() == pytest.approx(other.volume, rel=1e-9)


def test_cones_apart_on_one_axis_are_two_bodies_and_turned_over_is_the_same() -> None:
    low = Cone(frame=Frame(), r0=2.0, r1=2.0, height=5.0)
    high = Cone(frame=Frame(origin=(0.0, 0.0, 15.0), y=(0.0, -1.0, 0.0)), r0=3.0, r1=1.0, height=5.0)
    bodies = turned_bodies((low, high), 0.0, Facets.EQUAL)
    assert sorted(round(b.volume(), 6) for b in bodies) == sorted(round(c.volume, 6) for c in (low, high))
    assert sorted(round(b.bounding_box()[2], 6) for b in bodies) == [0.0, 10.0]
