"""How parts lie in their drawings: what meets, and what mirrors, is measured from the same side."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.design.test_cases import built, case
from tests.packet import demo
from tests.packet.reading import EXAMPLES, example

from casewright.design.assembly import JointKind
from casewright.design.blanks import Face
from casewright.design.features.cuts import RectCut
from casewright.design.features.holes import Hole
from casewright.design.parts import Placed
from casewright.packet.drawing.subject import Subject
from casewright.packet.openings import openings
from casewright.packet.pages.part_drawings import printed_subjects
from casewright.packet.standing import as_it_stands, main_face


def subjects_named(start: str) -> list[Subject]:
    return [s for s in printed_subjects(demo.setting()) if s.name.startswith(start)]


def groove_above_edge_0(subject: Subject) -> float:
    """How high the groove along the length is above edge 0, mm."""
    (low,) = {
        min(f.v0, f.v1)
        for f in subject.part.features
        if isinstance(f, RectCut) and f.face.axis == 2 and f.u1 - f.u0 >= subject.part.blank.length and f.v0 > 0
    }
    return low


def test_the_four_grooves_for_a_drawer_bottom_are_measured_from_the_lower_edge_and_are_at_one_height() -> None:
    box = [*subjects_named("drawer box"), *subjects_named("drawer side")]
    assert len(box) == 4
    assert {(s.towards or {}).get(Face.EDGE0) for s in box} == {"bottom"}
    assert len({groove_above_edge_0(s) for s in box}) == 1


def test_upright_mirror_images_are_measured_from_the_bottom_and_from_mirrored_edges() -> None:
    mirrored = {"left": "right", "right": "left", "front": "front", "back": "back"}
    of = {s.mark: s for s in printed_subjects(demo.setting())}
    upright = [s for s in of.values() if s.mirror_of and s.name.split(",")[0] in ("side", "stile", "door stile")]
    pairs = [(s, of[s.mirror_of]) for s in upright]
    assert len(pairs) >= 8
    for one, two in pairs:
        mine, other = one.towards or {}, two.towards or {}
        assert mine[Face.END0] == other[Face.END0] == "bottom"
        assert mine[Face.EDGE0] == mirrored[other[Face.EDGE0]]


def test_nothing_is_measured_from_an_edge_that_is_trimmed_off() -> None:
    """Outer stiles are trimmed flush with the sides once the frame is on: rails and hinges stand by the inner edges."""
    over = [s for s in printed_subjects(demo.setting()) if s.part.allowance.at is not None]
    assert all(s.part.allowance.at.high for s in over if s.part.allowance.at)
    inner = {(s.towards or {})[Face.EDGE0] for s in over if s.name.split(",")[0] == "stile"}
    assert inner == {"left", "right"}


def test_rows_of_dowels_that_meet_are_measured_from_the_front_on_both_parts() -> None:
    """One stop of the jig bores both (common practice: from their front edges, flush or set back by one size)."""
    rows = 'bays = { rows = ["open", "open"] }'
    piece = built(case(f'front = "frameless"\nwidth = 600\nheight = 700\ndepth = 400\n{rows}'))
    found = 0
    for joint in piece.joints:
        pair = [piece.by_path()[path] for path in (joint.a, joint.b)]
        if joint.kind is not JointKind.DOWEL or not joint.id.startswith("case/shelf"):
            continue
        own = [sorted(_from_edge_0(p, joint.id)) for p in pair]
        steps = {round(b - a, 3) for a, b in zip(*own, strict=True)}
        assert len(own[0]) >= 2
        assert len(steps) == 1, (joint.id, own)
        found += 1
    assert found == 2


@pytest.mark.parametrize(("name", "drawers"), [("media-unit", 1), ("console", 3)])
def test_slides_of_a_drawer_are_screwed_through_the_same_row_left_and_right(name: str, drawers: int) -> None:
    """One setting bores for both; drawers that share a wall take the upper and the lower row by turns."""
    project = example(next(o for o in EXAMPLES if o.stem == name), "in", "letter").project
    (piece,) = project.assembly.pieces
    rows = [o.slide_place.rows for o in openings(project, piece) if o.slide_place is not None]
    assert len(rows) == drawers
    for own in rows:
        assert [hand for hand, _ in own] == ["left", "right"]
        assert own[0][1] == pytest.approx(own[1][1])
    assert all(a[0][1] * b[0][1] < 0 for a, b in pairwise(rows))


def _from_edge_0(placed: Placed, joint: str) -> list[float]:
    """How far the holes of a joint are from edge 0 of a part as it lies in its drawing, mm."""
    part = as_it_stands(placed)
    holes = (f for f in part.features if isinstance(f, Hole) and f.joint.rpartition("/")[2] == joint.rpartition("/")[2])
    return [part.blank.point(f.face, (f.u, f.v))[1] for f in holes]


def test_flat_mirror_images_are_measured_from_mirrored_ends_so_that_both_have_the_same_numbers() -> None:
    of = {s.mark: s for s in printed_subjects(demo.setting())}
    flat = [s for s in of.values() if s.mirror_of and s.name.split(",")[0] in ("top", "front stretcher")]
    assert len(flat) == 4  # the bottom is its own mirror image
    assert not next(s for s in of.values() if s.name == "bottom").mirror_of
    for one, two in ((s, of[s.mirror_of]) for s in flat):
        assert {(one.towards or {})[Face.END0], (two.towards or {})[Face.END0]} == {"left", "right"}
        assert (one.towards or {})[Face.EDGE0] == (two.towards or {})[Face.EDGE0] == "front"
        places = [{(f.u, f.v) for f in s.part.features if isinstance(f, Hole) and f.face.axis == 2} for s in (one, two)]
        assert places[0] == places[1] != set()


def test_what_is_worked_on_a_box_front_and_back_is_seen_with_the_top_up() -> None:
    for subject in subjects_named("drawer box"):
        assert main_face(subject.part) is Face.FACE1  # edge 0 is below it on paper
