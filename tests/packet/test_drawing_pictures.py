"""Pictures of a piece: lines, shading, exploded views, balloons."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from tests.packet.demo import setting
from tests.solids.things import board, cabinet, piece, put

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign, Step, StepKind
from casewright.layout.model import GRID, Axis, Laid
from casewright.packet.cut_plan import CutPlan, SawLine
from casewright.packet.drawing.balloons import MarkedPoint, balloons
from casewright.packet.drawing.explode import explode_offsets, explosion, groups_of, members_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.picture import picture
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Circle, Fill, Leader, LineRole, Picture, Polyline, Segments, Text
from casewright.packet.drawing.svg import svg_of
from casewright.packet.drawing.tones import METAL, tone_of
from casewright.packet.layout_drawing import drawn_patterns
from casewright.packet.plate_drawing import crowded_picture
from casewright.packet.saw_picture import flat_picture, nested_picture
from casewright.solids.hide import project
from casewright.solids.mesh import scene_of
from casewright.solids.view import FRONT, ISOMETRIC, PLAN, SIDE, THREE_QUARTER
from casewright.stock.model import Stick

MARKS = {"p/side.left": "A", "p/side.right": "A", "p/bottom": "B", "p/top": "C", "p/front": "D"}


def lines(pic: Picture, role: LineRole) -> list[tuple[float, ...]]:
    return [e for item in pic.items if isinstance(item, Segments) and item.role is role for e in item.ends]


def on_paper(pic: Picture) -> np.ndarray:
    points = [(x, y) for item in pic.items if isinstance(item, Segments) for a in item.ends for x, y in (a[:2], a[2:])]
    points += [p for item in pic.items if isinstance(item, Polyline) for p in item.points]
    points += [p for item in pic.items if isinstance(item, Fill) for ring in item.rings for p in ring]
    for item in pic.items:
        if isinstance(item, Circle):
            (x, y), r = item.centre, item.radius
            points += [(x - r, y - r), (x + r, y + r)]
    return np.array(points)


@pytest.mark.parametrize("view", [FRONT, SIDE, PLAN, ISOMETRIC, THREE_QUARTER], ids=lambda v: v.name)
@pytest.mark.parametrize("shaded", [False, True])
def test_a_picture_stays_on_its_paper_and_within_the_room_it_was_given(view, shaded: bool) -> None:
    pic = picture(cabinet(), view, Cache(), fit=(120.0, 90.0), shaded=shaded, marks=MARKS)
    assert pic.width <= 120.0 + 1e-9
    assert pic.height <= 90.0 + 1e-9
    points = on_paper(pic)
    assert (points >= -1e-6).all()
    assert (points[:, 0] <= pic.width + 1e-6).all()
    assert (points[:, 1] <= pic.height + 1e-6).all()


def test_the_front_view_is_true_to_scale() -> None:
    pic = picture(cabinet(), FRONT, Cache(), fit=(120.0, 200.0), scale=0.25)
    points = np.array(lines(pic, LineRole.VISIBLE)).reshape(-1, 2)
    assert np.ptp(points[:, 0]) == pytest.approx(200 * 0.25, abs=1e-6)
    assert np.ptp(points[:, 1]) == pytest.approx(300 * 0.25, abs=1e-6)
    assert pic.alt == "test, front view"


def test_what_does_not_fit_says_so() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        picture(cabinet(), FRONT, Cache(), fit=(120.0, 200.0), scale=1.0)
    with pytest.raises(ValueError, match="nothing to draw"):
        picture(cabinet(), FRONT, Cache(), fit=(120.0, 200.0), only=("p/no such thing",))


def test_fills_cover_what_is_seen_exactly() -> None:
    whole, cache = cabinet(), Cache()
    pic = picture(whole, ISOMETRIC, cache, fit=(300.0, 400.0), shaded=True)
    rings = [shapely.Polygon(r) for item in pic.items if isinstance(item, Fill) for r in item.rings]
    covered = abs(sum(_signed(r) for item in pic.items if isinstance(item, Fill) for r in item.rings))
    triangles = project(scene_of(whole, cache), ISOMETRIC).triangles
    silhouette = shapely.unary_union([shapely.Polygon(t.reshape(3, 3)[:, :2]) for t in triangles]).area
    assert rings
    assert covered == pytest.approx(silhouette * pic.scale**2, rel=1e-4)


def _signed(ring: tuple[tuple[float, float], ...]) -> float:
    # Outer rings run one way and holes the other, so that signed areas of even-odd fills add up.
    x, y = np.array(ring).T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)


def test_hidden_lines_are_drawn_for_chosen_things_alone() -> None:
    plain = picture(cabinet(), FRONT, Cache(), fit=(120.0, 200.0))
    chosen = picture(cabinet(), FRONT, Cache(), fit=(120.0, 200.0), hidden=("p/top",))
    assert lines(plain, LineRole.HIDDEN) == []
    # The let-in circle of the top: 40 mm wide, 12 mm deep, seen from the front.
    recess = np.array(lines(chosen, LineRole.HIDDEN)).reshape(-1, 4) / chosen.scale
    upright = recess[np.abs(recess[:, 0] - recess[:, 2]) < 1e-6]
    heights = sorted(abs(float(b - d)) for _, b, _, d in upright)
    assert [h for h in heights if h == pytest.approx(12.0, abs=0.05)]


def test_a_covered_circle_is_one_run_so_that_its_dashes_show() -> None:
    pic = picture(cabinet(), PLAN, Cache(), fit=(120.0, 200.0), hidden=("p/top",))
    curves = [i for i in pic.items if isinstance(i, Polyline) and i.role is LineRole.HIDDEN]
    assert len(curves) == 1
    assert curves[0].closed
    assert np.ptp(np.array(curves[0].points), axis=0) == pytest.approx([40 * pic.scale] * 2, abs=1e-3)
    # The lower rim of the top lies under its upper one and is not dashed again.
    assert lines(pic, LineRole.HIDDEN) == []


def test_the_same_piece_gives_the_same_bytes() -> None:
    def bytes_of() -> str:
        whole, cache = cabinet(), Cache()
        return svg_of(
            picture(
                whole, ISOMETRIC, cache, fit=(120.0, 120.0), shaded=True, exploded=explosion(whole, cache), marks=MARKS
            )
        )

    assert bytes_of() == bytes_of()


def test_everything_comes_apart_the_way_it_went_together() -> None:
    offsets = explode_offsets(cabinet(), Cache())
    assert offsets["p/side.left"] == (0.0, 0.0, 0.0)
    x, y, z = offsets["p/bottom"]
    assert (y, z) == (0.0, 0.0)
    assert x > 6.0  # out of its 6 mm dado
    assert offsets["p/side.right"][0] > x + 12.0  # beyond the bottom's other end
    assert offsets["p/top"][2] > 0.0


def bring(id_: str, into: str, *brings: str, moves=()) -> Step:
    return Step(id=id_, kind=StepKind.BRING, text=id_, into=into, brings=brings, moves=moves)


def drawer_case() -> PieceDesign:
    block = board(100.0, 60.0, 20.0)
    steps = (
        bring("1", "p/drawer", "p/drawer/bottom"),
        bring("2", "p/drawer", "p/drawer/lid", moves=((0.0, 0.0, -50.0),)),
        bring("3", "p", "p/case"),
        bring("4", "p", "p/drawer/bottom", "p/drawer/lid", moves=((0.0, 30.0, 0.0), (0.0, 200.0, 0.0))),
    )
    placed = (
        put("p/case", block, (0.0, 60.0, 0.0)),
        put("p/drawer/bottom", block, (0.0, 0.0, 0.0)),
        put("p/drawer/lid", block, (0.0, 0.0, 20.0)),
    )
    return piece(*placed, steps=steps)


def test_a_group_moves_as_a_whole_already_taken_apart() -> None:
    offsets = explode_offsets(drawer_case(), Cache())
    bottom, lid = offsets["p/drawer/bottom"], offsets["p/drawer/lid"]
    assert bottom[1] == lid[1] < 0.0
    assert bottom[2] == 0.0 < lid[2]


def test_one_group_alone() -> None:
    whole = drawer_case()
    assert groups_of(whole) == ("p/drawer", "p")
    assert members_of(whole, "p/drawer") == ("p/drawer/bottom", "p/drawer/lid")
    inner = explode_offsets(whole, Cache(), "p/drawer")
    assert inner["p/drawer/lid"][2] > 0.0
    assert inner["p/drawer/lid"][1] == inner["p/case"][1] == 0.0
    outer = explode_offsets(whole, Cache(), "p")
    assert outer["p/drawer/lid"] == outer["p/drawer/bottom"]


def test_exploded_boxes_keep_clear_of_each_other() -> None:
    whole, cache = cabinet(), Cache()
    offsets = explode_offsets(whole, cache)
    from casewright.solids.collide import placed_boxes

    boxes = placed_boxes(whole.placed, cache) + np.array([[*offsets[p.path], *offsets[p.path]] for p in whole.placed])
    moved = [i for i, p in enumerate(whole.placed) if p.path not in ("p/front", "p/knob")]
    for i, j in itertools.combinations(moved, 2):
        a, b = boxes[i], boxes[j]
        assert (a[:3] >= b[3:]).any() or (b[:3] >= a[3:]).any()


def test_trails_are_drawn_in_the_gaps() -> None:
    whole, cache = cabinet(), Cache()
    pic = picture(whole, FRONT, cache, fit=(200.0, 200.0), exploded=explosion(whole, cache))
    assert lines(pic, LineRole.TRAIL)


def crossing(a: Leader, b: Leader) -> bool:
    return shapely.LineString(a.points).crosses(shapely.LineString(b.points))


@given(
    points=st.lists(st.tuples(st.floats(20, 130), st.floats(5, 145)), min_size=1, max_size=36, unique=True),
)
def test_balloons_stay_on_paper_apart_and_uncrossed(points) -> None:
    marked = tuple(MarkedPoint(str(i), at, covered=i % 5 == 0) for i, at in enumerate(points))
    items = balloons(marked, 150.0, 150.0)
    circles = [i for i in items if isinstance(i, Circle)]
    assert sorted(t.text for t in items if isinstance(t, Text)) == sorted(m.mark for m in marked)
    for c in circles:
        assert c.radius <= c.centre[0] <= 150 - c.radius
        assert c.radius <= c.centre[1] <= 150 - c.radius
    for a, b in itertools.combinations(circles, 2):
        apart = np.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1])
        assert apart >= a.radius + b.radius
    leaders = [i for i in items if isinstance(i, Leader)]
    for side in (True, False):
        column = [leader for leader in leaders if (leader.points[0][0] < 75) is side]
        assert not any(crossing(a, b) for a, b in itertools.combinations(column, 2))


def test_more_balloons_than_the_columns_hold_are_refused() -> None:
    marked = tuple(MarkedPoint(str(i), (75.0, 3.0 * i), covered=False) for i in range(48))
    with pytest.raises(NoRoom):
        balloons(marked, 150.0, 150.0)


def test_one_balloon_for_each_mark_and_its_dot_lies_on_the_part() -> None:
    whole, cache = cabinet(), Cache()
    pic = picture(whole, FRONT, cache, fit=(160.0, 160.0), marks=MARKS)
    texts = [i.text for i in pic.items if isinstance(i, Text)]
    dots = [i.points[-1] for i in pic.items if isinstance(i, Leader)]
    assert sorted(texts) == ["A", "B", "C", "D"]
    top = next(dot for text, dot in zip(texts, dots, strict=True) if text == "C")
    # The top is the upper 18 mm of 300; its front edge is what is seen of it from here.
    assert pic.height - 1.5 - 18 * pic.scale < top[1] < pic.height - 1.5


def test_a_covered_part_is_pointed_at_with_a_dashed_leader() -> None:
    block, small = board(100.0, 60.0, 40.0), board(20.0, 20.0, 10.0)
    whole = piece(put("p/block", block, (0.0, 0.0, 0.0)), put("p/small", small, (40.0, 20.0, -20.0)))
    pic = picture(whole, PLAN, Cache(), fit=(100.0, 100.0), marks={"p/block": "A", "p/small": "B"})
    assert sorted(i.covered for i in pic.items if isinstance(i, Leader)) == [False, True]


def test_tones_come_from_the_stock_name() -> None:
    poplar = cabinet().placed[0].thing
    assert tone_of(poplar) != METAL
    assert tone_of(cabinet().by_path()["p/knob"].thing) == METAL


def test_layouts_and_pictures_of_the_saw_can_be_read() -> None:
    made = setting()
    drawn = [d.picture for laid in made.project.layouts for d in drawn_patterns(made, laid)]
    sticks = [item for item in made.project.stock.values() if isinstance(item, Stick)]
    drawn += [of(stick, k) for stick in sticks for of in (nested_picture, flat_picture) for k in (0.5, 1.0)]
    assert [fault for shown in drawn for fault in overlaps(shown)] == []
    assert len(drawn) > 40


@pytest.mark.parametrize("seed", range(6))
def test_a_sheet_full_of_narrow_parts_can_be_read(seed: int) -> None:
    """Strips down to 20 mm wide on a whole sheet: every number and mark is there once, or said to be missing."""
    rng, mm = random.Random(seed), GRID
    plan, y = CutPlan(), 0
    while y < 1150 * mm and len(plan.laid) < 40:
        high, x = rng.choice((20, 35, 60, 150, 300)) * mm, 0
        plan.lines.append(_line(plan, Axis.RIP, y + high, 0, 2400 * mm))
        while x < 2200 * mm and len(plan.laid) < 40:
            wide = rng.choice((60, 200, 500, 900)) * mm
            plan.laid.append(Laid(part=f"A{len(plan.laid)}", x=x, y=y, length=wide, width=high, turned=False))
            x += wide + 3 * mm
            plan.lines.append(_line(plan, Axis.CROSSCUT, x, y, y + high))
        y += high + 3 * mm
    (shown, left) = crowded_picture(2440 * mm, 1220 * mm, plan, across=249.0, size=lambda p: "23 × 1 1/2", alt="")
    assert overlaps(shown) == ()
    said = [t.text for t in shown.items if isinstance(t, Text)]
    wanted = [*(str(line.number) for line in plan.lines), *(p.part for p in plan.laid)]
    assert sorted([*(t for t in said if t in wanted), *left]) == sorted(wanted)
    assert len(left) <= 3


def _line(plan: CutPlan, axis: Axis, at: int, start: int, end: int) -> SawLine:
    return SawLine(number=len(plan.lines) + 1, axis=axis, at=at, start=start, end=end, rough=False)
