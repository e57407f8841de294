"""Hidden lines against brute force, by hand, and without the compiler."""

from __future__ import annotations

import os
import subprocess
import sys

import numpy as np
import pytest
from tests.solids.things import board, cabinet, every_feature, piece, put

from casewright.cache import Cache
from casewright.design.frames import Frame, X, Y, Z
from casewright.design.outlines import circle
from casewright.design.parts import Hardware
from casewright.design.volumes import Prism
from casewright.solids import kernel
from casewright.solids.hide import BEHIND, INSIDE, Projection, front_at, hidden_lines, project, visible_lines
from casewright.solids.lines import Lines, merged, runs, uncovered
from casewright.solids.mesh import scene_of
from casewright.solids.view import BACK, FRONT, ISOMETRIC, PLAN, SIDE, UNDERSIDE, View, view_from

ODD = view_from("odd", (0.31, -1.0, 0.47))
BELOW = view_from("below", (-0.4, -1.0, -0.6))


def nearest_in_front(projection: Projection, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """For points (n, 3): how far the nearest triangle over each lies in front, and how close its border comes."""
    front, border = np.full(len(points), -np.inf), np.full(len(points), np.inf)
    for tri, plane in zip(projection.triangles, projection.planes, strict=True):
        a, b, c = tri[0:2], tri[3:5], tri[6:8]
        side = np.full(len(points), np.inf)
        for u, v in ((a, b), (b, c), (c, a)):
            w = v - u
            side = np.minimum(side, (w[0] * (points[:, 1] - u[1]) - w[1] * (points[:, 0] - u[0])) / np.hypot(*w))
        ahead = plane[0] * points[:, 0] + plane[1] * points[:, 1] + plane[2] - points[:, 2]
        border = np.where(ahead > BEHIND, np.minimum(border, np.abs(side)), border)
        front = np.where(side > 0, np.maximum(front, ahead), front)
    return front, border


def samples(projection: Projection, lines: Lines, count: int) -> np.ndarray:
    """Points (n, 3) along drawn lines, their depth read off the edge that each is part of."""
    rng = np.random.default_rng(1)
    size = np.hypot(lines.ends[:, 2] - lines.ends[:, 0], lines.ends[:, 3] - lines.ends[:, 1])
    which = rng.choice(len(size), count, p=size / size.sum())
    share = rng.uniform(0.02, 0.98, count)[:, None]
    flat = lines.ends[which, :2] * (1 - share) + lines.ends[which, 2:] * share
    p, q = projection.p[lines.edge[which]], projection.q[lines.edge[which]]
    way = q[:, :2] - p[:, :2]
    t = ((flat - p[:, :2]) * way).sum(axis=1) / (way**2).sum(axis=1)
    return np.column_stack((flat, p[:, 2] + t * (q[:, 2] - p[:, 2])))


@pytest.mark.parametrize("view", [FRONT, BACK, SIDE, PLAN, UNDERSIDE, ISOMETRIC, ODD, BELOW], ids=lambda v: v.name)
@pytest.mark.parametrize("case", ["cabinet", "every feature"])
def test_no_sample_of_a_line_is_wrong_by_brute_force(view: View, case: str) -> None:
    whole = cabinet() if case == "cabinet" else piece(put("p/part", every_feature(), (0.0, 0.0, 0.0)))
    projection = project(scene_of(whole, Cache()), view)
    everything = frozenset(range(len(whole.placed)))
    for lines, hidden in ((visible_lines(projection), False), (hidden_lines(projection, everything), True)):
        ahead, border = nearest_in_front(projection, samples(projection, lines, 800))
        # A point on a triangle's border, or 0.01 to 0.05 mm behind it, may go either way.
        clear = (border > 1e-3) & ((ahead < BEHIND / 2) | (ahead > BEHIND + 0.03))
        assert clear.sum() > 20
        assert ((ahead[clear] > BEHIND) == hidden).all()


def length(lines: Lines) -> float:
    return float(np.hypot(lines.ends[:, 2] - lines.ends[:, 0], lines.ends[:, 3] - lines.ends[:, 1]).sum())


def test_a_box_in_front_of_a_box() -> None:
    small, large = board(40.0, 30.0, 5.0), board(100.0, 80.0, 10.0)
    whole = piece(put("p/large", large, (0.0, 0.0, 0.0)), put("p/small", small, (80.0, 20.0, 20.0)))
    projection = project(scene_of(whole, Cache()), PLAN)
    # Of the large box's outline 30 mm lie under the small one, which sticks out to x = 120.
    assert length(visible_lines(projection)) == pytest.approx(2 * (100 + 80) - 30 + 2 * (40 + 30), abs=0.1)
    lower_rim = 2 * (100 + 80)
    assert length(merged(hidden_lines(projection, frozenset({0})))) == pytest.approx(lower_rim, abs=0.2)


def test_flush_faces_share_one_line() -> None:
    block = board(100.0, 60.0, 20.0)
    whole = piece(put("p/a", block, (0.0, 0.0, 0.0)), put("p/b", block, (100.0, 0.0, 0.0)))
    lines = visible_lines(project(scene_of(whole, Cache()), PLAN))
    assert length(lines) == pytest.approx(2 * (200 + 120), abs=0.1)
    once = merged(lines)
    assert length(once) == pytest.approx(2 * 200 + 3 * 60, abs=0.1)
    assert len(once.ends) == 5


def test_facets_of_a_round_body_are_not_drawn() -> None:
    disc = Hardware(item="disc", mass=0.1, bodies=(Prism(frame=Frame(), outline=circle(0.0, 0.0, 20.0), height=10.0),))
    whole = piece(put("p/disc", disc, (0.0, 0.0, 0.0)))
    lines = merged(visible_lines(project(scene_of(whole, Cache()), FRONT)))
    # Two ellipses seen edge on and two outlines.
    assert length(lines) == pytest.approx(2 * 40 + 2 * 10, abs=0.1)


def test_a_thin_triangle_hides_nothing_beyond_its_tips() -> None:
    # One millimetre long and a millionth wide, lying along an edge of 500 mm and 50 mm in front of it.
    needle = np.array([10.0, 100.0, 50.0, 10.000001, 100.4, 50.0, 10.0, 101.0, 50.0])
    p, q = np.array([10.0, 0.0, 0.0]), np.array([10.0, 500.0, 0.0])
    t0, t1 = kernel.clip(p, q, needle, np.array([0.0, 0.0, 50.0]), BEHIND, INSIDE)
    assert (t0 * 500, t1 * 500) == pytest.approx((100.0, 101.0), abs=0.01)


def as_lines(*ends: tuple[float, float, float, float]) -> Lines:
    count = np.zeros(len(ends), np.int64)
    return Lines(ends=np.array(ends), owner=count, edge=count)


def test_lines_under_others_are_taken_away() -> None:
    lines = as_lines((0.0, 5.0, 100.0, 5.0), (0.0, 6.0, 10.0, 6.0))
    left = uncovered(lines, as_lines((20.0, 5.0, 30.0, 5.0), (60.0, 5.0, 200.0, 5.0)))
    assert left.ends.round(6).tolist() == [[0, 5, 20, 5], [30, 5, 60, 5], [0, 6, 10, 6]]


def test_runs_follow_curves_and_stop_at_corners() -> None:
    turn = np.linspace(0.0, 2 * np.pi, 25)
    x, y = np.cos(turn), np.sin(turn)
    circle_lines = np.column_stack((x[:-1], y[:-1], x[1:], y[1:]))
    found = runs(np.concatenate((circle_lines[::2], circle_lines[1::2])))
    assert [len(r) for r in found] == [25]
    assert found[0][0] == pytest.approx(found[0][-1])
    corner = np.array([(5.0, 5.0, 9.0, 5.0), (9.0, 5.0, 9.0, 9.0)])
    assert sorted(len(r) for r in runs(corner)) == [2, 2]


def test_what_lies_at_a_point() -> None:
    projection = project(scene_of(cabinet(), Cache()), FRONT)
    found = front_at(projection, np.array([[0.0, 160.0], [0.0, 290.0], [-95.0, 20.0], [0.0, 20.0], [500.0, 0.0]]))
    owner = [int(projection.triangle_owner[t]) if t >= 0 else -1 for t in found]
    assert owner == [5, 3, 0, -1, -1]


def test_moved_nodes_are_seen_where_they_were_moved() -> None:
    scene = scene_of(cabinet(), Cache())
    moved = project(scene, FRONT, {"p/top": (0.0, 0.0, 100.0)})
    assert front_at(moved, np.array([[0.0, 390.0]]))[0] >= 0
    assert front_at(moved, np.array([[0.0, 290.0]]))[0] < 0


def test_views_are_right_handed_and_named_by_where_the_viewer_stands() -> None:
    assert FRONT.towards == (0.0, -1.0, 0.0)
    assert (SIDE.towards, PLAN.towards) == (X, Z)
    assert BACK.towards == Y
    assert np.allclose(ISOMETRIC.matrix @ ISOMETRIC.matrix.T, np.eye(3))
    with pytest.raises(ValueError, match="square"):
        View(name="bad", right=X, up=X)


def test_the_same_lines_come_without_the_compiler() -> None:
    program = (
        "import hashlib; from casewright.cache import Cache; from casewright.solids.hide import *;"
        "from casewright.solids.lines import merged;"
        "from casewright.solids.mesh import scene_of; from casewright.solids.view import ISOMETRIC;"
        "from tests.solids.things import cabinet;"
        "e = merged(visible_lines(project(scene_of(cabinet(), Cache()), ISOMETRIC))).ends.round(6);"
        "print(len(e), float(abs(e).sum().round(3)))"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", program], env={**os.environ, **more, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True, text=True, check=True,
        ).stdout
        for more in ({}, {"NUMBA_DISABLE_JIT": "1"})
    ]  # fmt: skip
    assert runs[0] == runs[1]
    assert int(runs[0].split()[0]) > 50
