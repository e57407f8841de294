"""Part drawings of the demonstration order: what they show; their sizes are those of the model and the parts list."""

from __future__ import annotations

import math

import pytest
from tests.design.test_cases import SIZE, case
from tests.packet.demo import project, setting
from tests.solids.things import board, every_feature

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.base import MadeAt
from casewright.design.features.curves import arch
from casewright.design.features.cuts import Groove
from casewright.design.features.edges import EdgeProfile
from casewright.design.features.holes import Hole
from casewright.packet.drawing.callouts import Place, Words, called
from casewright.packet.drawing.conventions import ASME, ISO, projection_symbol
from casewright.packet.drawing.heading import heading
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.part_drawing import part_drawings, seats_apart
from casewright.packet.drawing.part_plan import plan_of
from casewright.packet.drawing.part_views import folded, lines_of, main_view
from casewright.packet.drawing.primitives import Arc, Circle, Fill, LineRole, Picture, Segments, Text
from casewright.packet.drawing.sized_part_view import _reach
from casewright.packet.drawing.subject import SizeWords, Subject, face_name, subjects
from casewright.packet.pages.part_drawings import drawn_marks
from casewright.packet.pages.parts import parts
from casewright.packet.pages.setting import unframed_setting
from casewright.units import INCHES, MILLIMETRES

FIT = {"letter": (185.9, 240.0), "a4": (180.0, 258.0)}
CONVENTION = {"letter": ASME, "a4": ISO}


def subject_of(part, style=MILLIMETRES) -> Subject:  # type: ignore[no-untyped-def]
    words = SizeWords(style=style)
    size = tuple(words.text(v) for v in part.blank.size)
    return Subject(part=part, mark="A", name="test", count=1, stock="poplar", size=size, words=words)  # type: ignore[arg-type]


def texts(pictures: tuple[Picture, ...]) -> str:
    return " ".join(t.text for p in pictures for t in p.items if isinstance(t, Text))


@pytest.mark.parametrize(("system", "paper"), [("in", "letter"), ("mm", "a4")])
def test_every_mark_is_drawn_with_the_sizes_of_the_parts_list(system, paper) -> None:  # type: ignore[no-untyped-def]
    made = setting(system, paper)
    lines = {line.mark: line for form in parts(made).forms for stock in form.stocks for line in stock.lines}
    for row, subject in zip(made.rows, subjects(made.project, made.rows), strict=True):
        drawings = part_drawings(subject, CONVENTION[paper], made.project.cache, FIT[paper])
        assert all(overlaps(d) == () for d in drawings)
        line = lines[row.mark]
        assert subject.size == line.cut
        shown = {(s.what, s.text) for d in drawings for s in d.shown}
        assert ("length", line.cut[0]) in shown, row.mark
        assert ("width", line.cut[1]) in shown, row.mark
        for text in line.cut:
            assert text in texts(drawings), row.mark
        holes = [f for f in row.part.features if isinstance(f, Hole) and f.made_at is MadeAt.BENCH]
        for hole in holes:
            assert subject.words.drill(hole.diameter) in texts(drawings)


def test_features_made_at_assembly_are_not_drawn() -> None:
    hole = Hole(face=Face.FACE1, u=50.0, v=30.0, diameter=8.0, made_at=MadeAt.ASSEMBLY)
    plan = plan_of(subject_of(board(200.0, 60.0, 20.0, hole)), 0.5)
    assert plan.callouts == ()
    assert len(plan.views) == 1


def test_holes_stay_circles_at_their_place_and_arcs_arcs() -> None:
    hole = Hole(face=Face.FACE1, u=50.0, v=30.0, diameter=8.0)
    cut = Groove(face=Face.FACE1, u0=0.0, u1=200.0, v0=30.0, v1=40.0, depth=5.0)
    whole = lines_of(board(200.0, 60.0, 20.0, hole), main_view(Face.FACE1), Cache(), None)
    assert [(c.centre, c.radius) for c in whole if isinstance(c, Circle)] == [((50.0, 30.0), 4.0)]
    halved = lines_of(board(200.0, 60.0, 20.0, hole, cut), main_view(Face.FACE1), Cache(), None)
    # In the groove the hole begins at its floor: seen from above it is a whole circle still, now as two arcs or one
    # circle.
    total = sum((a.end - a.start) % 360 or 360 for a in halved if isinstance(a, Arc))
    total += 360 * sum(isinstance(c, Circle) for c in halved)
    assert total == pytest.approx(360, abs=3)
    for item in halved:
        if isinstance(item, (Arc, Circle)):
            assert item.centre == (50.0, 30.0)
            assert item.radius == 4.0


def test_no_facet_of_a_circle_is_left_as_a_line() -> None:
    for item in lines_of(every_feature(), main_view(Face.FACE1), Cache(), None):
        if isinstance(item, Segments):
            near = [e for e in item.ends if abs(math.hypot(e[0] - 300.0, e[1] - 40.0) - 24.0) < 0.05]
            assert near == []


def test_a_shallow_arch_takes_no_line_of_its_part_along() -> None:
    """By hand: an arc of 900 mm, 30 mm high, has a radius of (450² + 30²) / (2 · 30) = 3390 mm and 15.25° of it."""
    bare = board(1000.0, 80.0, 19.0)
    rail = board(1000.0, 80.0, 19.0, arch(bare.blank, Face.EDGE0, (50.0, 950.0), 30.0))
    lines = lines_of(rail, main_view(Face.FACE1), Cache(), None)
    (arc,) = (a for a in lines if isinstance(a, Arc))
    assert arc.radius == pytest.approx(3390.0, abs=0.1)
    assert (arc.end - arc.start) % 360 == pytest.approx(2 * math.degrees(math.asin(450 / 3390)), abs=0.01)
    straight = {tuple(round(v, 3) for v in e) for s in lines if isinstance(s, Segments) for e in s.ends}
    ends = {(0.0, 0.0, 50.0, 0.0), (950.0, 0.0, 1000.0, 0.0)}
    assert straight == ends | {(0.0, 80.0, 1000.0, 80.0), (0.0, 0.0, 0.0, 80.0), (1000.0, 0.0, 1000.0, 80.0)}


@pytest.mark.parametrize("main", [Face.FACE0, Face.FACE1])
def test_folded_views_are_proper_and_look_at_their_face(main: Face) -> None:
    from casewright.design.frames import cross
    from casewright.packet.drawing.part_views import NORMALS

    for face in Face:
        view = folded(main_view(main), face)
        assert cross(view.right, view.up) == pytest.approx(NORMALS[face])


def test_running_sizes_are_measured_from_the_datum_corner() -> None:
    holes = [Hole(face=Face.FACE1, u=u, v=20.0, diameter=6.0, depth=10.0) for u in (40.0, 150.0)]
    (drawing,) = part_drawings(subject_of(board(200.0, 60.0, 20.0, *holes)), ISO, Cache(), (180.0, 250.0))
    run = {(s.what, s.text) for s in drawing.shown}
    assert {("face1 across", "40"), ("face1 across", "150"), ("face1 up", "20")} <= run
    assert "2× Ø 6, 10 deep" in texts((drawing,))


def test_features_alike_have_one_call_out_though_some_stand_too_near_to_the_datum_for_a_size() -> None:
    """Pegs of a breadboard end, 10 mm from both ends of the panel at 1:10: one kind, and one letter if any."""
    places = [(u, v) for u in (10.0, 790.0) for v in (6.0, 200.0)]
    holes = [Hole(face=Face.FACE1, u=u, v=v, diameter=4.0) for u, v in places]
    (one,) = plan_of(subject_of(board(800.0, 300.0, 18.0, *holes)), 0.1).callouts
    assert one.text == "4× Ø 4 through; nearest to end 0: 10; nearest to edge 0: 6"
    across = [*holes, Hole(face=Face.FACE1, u=11.0, v=100.0, diameter=4.0)]  # two places there: which is which?
    assert len(plan_of(subject_of(board(800.0, 300.0, 18.0, *across)), 0.1).callouts) > 1


def test_the_line_of_a_size_that_serves_a_hole_and_an_edge_reaches_both() -> None:
    near = Place(Face.FACE1, ((100.0, 10.0, 0.0),), ((0, 100.0),), radius=3.0)
    far = [Place(Face.FACE1, ((100.0, v, 0.0),), ((0, 100.0),)) for v in (150.0, 220.0)]
    assert _reach([near, *far], [10.0, 150.0, 220.0]) == 150.0
    assert _reach(far, [150.0, 220.0]) == 150.0


def test_places_too_close_to_tell_apart_are_said_in_words() -> None:
    holes = [Hole(face=Face.FACE1, u=u, v=v, diameter=4.0) for u, v in ((100.0, 50.0), (101.0, 150.0))]
    plan = plan_of(subject_of(board(800.0, 300.0, 18.0, *holes)), 0.2)
    assert sorted(c.text for c in plan.callouts) == ["a  Ø 4 through", "b  Ø 4 through, 101 from end 0"]


def test_ends_bored_alike_are_shown_once() -> None:
    holes = [Hole(face=f, u=30.0, v=10.0, diameter=8.0, depth=20.0) for f in (Face.END0, Face.END1)]
    plan = plan_of(subject_of(board(300.0, 60.0, 20.0, *holes)), 0.5)
    assert [v.view.face for v in plan.views] == [Face.FACE1, Face.END0]
    assert (
        plan.callouts[0].text == "2× Ø 8, 20 deep, both ends alike, 10 from face 0"
        or "both ends" in plan.callouts[0].text
    )


@pytest.mark.parametrize(
    ("diameter", "style", "text"),
    [(4.366, INCHES, "11/64"), (2.381, INCHES, "3/32"), (12.0, INCHES, "12 mm"), (4.366, MILLIMETRES, "4.4")],
)
def test_bits_are_named_as_they_are_sold(diameter: float, style, text: str) -> None:  # type: ignore[no-untyped-def]
    # 11/64 in = 4.366 mm, 3/32 in = 2.381 mm
    assert SizeWords(style=style).drill(diameter) == text


def test_every_kind_of_feature_has_words() -> None:
    part = every_feature()
    for feature in part.features:
        words = called(feature, Words(part.blank, SizeWords(style=INCHES), Face.FACE1))
        assert words.words
        assert words.place.points


def test_the_projection_symbol_has_its_circles_on_the_side_of_its_angle() -> None:
    def middle(convention) -> tuple[float, float]:  # type: ignore[no-untyped-def]
        items = projection_symbol(convention, (0.0, 0.0))
        circle = next(i for i in items if isinstance(i, Circle))
        cone = next(i.points[0][0] for i in items if not isinstance(i, (Circle, Segments)))
        return circle.centre[0], cone

    # ISO 5456-2: the frustum's view from its small (left) end stands on the right in first angle, on the left in third.
    assert middle(ISO)[0] > middle(ISO)[1]
    assert middle(ASME)[0] < middle(ASME)[1]


def test_widths_of_lines_are_two_to_one() -> None:
    from casewright.packet.drawing.styles import style_of

    for convention in (ISO, ASME):
        thick, thin = (style_of(r, convention.thick).width for r in (LineRole.OUTLINE, LineRole.EXTENSION))
        assert thick == pytest.approx(2 * thin)  # ISO 128-2, ASME Y14.2


def test_the_same_part_is_the_same_drawing() -> None:
    subject = subjects(project(), setting().rows)[0]
    one, two = (part_drawings(subject, ASME, Cache(), (185.9, 240.0)) for _ in range(2))
    assert one == two


def test_the_reference_end_and_edge_bear_a_triangle_at_the_datum_corner() -> None:
    (drawing,) = part_drawings(subject_of(board(300.0, 120.0, 20.0)), ISO, Cache(), (180.0, 250.0))
    triangles = [i.rings[0] for i in drawing.items if isinstance(i, Fill) and len(i.rings[0]) == 3]
    outline = [e for i in drawing.items if isinstance(i, Segments) and i.role is LineRole.OUTLINE for e in i.ends]
    corner = (min(e[0] for e in outline), min(e[1] for e in outline))  # of face 1: end 0 left, edge 0 below
    on_end = [t for t in triangles if t[0][0] == pytest.approx(corner[0]) == t[1][0] and t[0][1] < corner[1] + 12.0]
    on_edge = [t for t in triangles if t[0][1] == pytest.approx(corner[1]) == t[1][1] and t[0][0] < corner[0] + 12.0]
    assert len(on_end) == len(on_edge) == 1
    assert {"end 0", "edge 0"} <= {t.text for t in drawing.items if isinstance(t, Text)}


def test_drawings_of_the_order_show_where_their_sizes_are_measured_from() -> None:
    made = unframed_setting(project("mm"), "a4")
    lacking = []
    for subject in subjects(made.project, made.rows):
        shown = {s.what for d in part_drawings(subject, ISO, made.project.cache, FIT["a4"]) for s in d.shown}
        lacking += [subject.mark] * len({"datum end0", "datum edge0"} - shown)
    assert len(lacking) <= len(made.rows) / 10  # slender ends full of lines: there the running sizes' 0 says it


def test_edge_views_that_give_sizes_have_a_triangle_on_face_0_where_there_is_room() -> None:
    """On an edge of a 60 mm thick block, drawn at 1:1 or 1:2, there is room for it."""
    hole = Hole(face=Face.EDGE0, u=30.0, v=20.0, diameter=6.0, depth=20.0)
    (picture,) = part_drawings(subject_of(board(90.0, 60.0, 60.0, hole)), ASME, Cache(), (180.0, 230.0))
    words = [i.text for i in picture.items if isinstance(i, Text)]
    triangles = [i for i in picture.items if isinstance(i, Fill) and len(i.rings[0]) == 3]
    assert "face 0" in words
    assert len(triangles) >= 4  # end 0 and edge 0 of the main view, end 0 and face 0 of the edge's


def test_sides_of_the_order_are_drawn_large_enough_for_running_sizes() -> None:
    """At 1:4, on two pictures where one does not hold them: at 1:8 seven places were said in words."""
    made = setting("in", "letter")
    for subject, pictures in drawn_marks(made):
        if subject.name.startswith("side,"):
            assert {p.scale for p in pictures} == {0.25}, subject.mark


def test_the_head_names_the_edges_that_are_banded_and_with_what() -> None:
    """The parts list alone did, two dozen pages before the part."""
    one = case(f'front = "frameless"\n{SIZE}bays = "open"\n')
    for subject in subjects(one, unframed_setting(one, "letter").rows):
        head = [i.text for i in heading(subject, ASME, (1, 8), 180.0).items if isinstance(i, Text)]
        said = " ".join(head)
        for band in subject.part.bands:
            assert f"banded at {face_name(band.face)}" in said or f"and {face_name(band.face)} once it is cut" in said
            assert one.stock[band.item].name in said
        assert ("banded" in said) == bool(subject.part.bands)


def test_the_name_of_an_end_stands_by_its_own_view() -> None:
    """Of a divider bored at both ends, "end 0" stood over the view of end 1: the wrong holes at its foot."""
    size = "width = 1016\ndepth = 305\nheight = 864\ncrown = true\n"
    one = case(f'{size}bays = {{ columns = [{{ rows = ["open", "open"] }}, {{ holds = "open", shelves = 2 }}] }}\n')
    tried = 0
    for subject in subjects(one, unframed_setting(one, "letter").rows):
        if subject.name.startswith("divider"):
            for drawing in part_drawings(subject, ASME, Cache(), (185.9, 240.0)):
                at: dict[str, list[float]] = {}
                for i in drawing.items:
                    if isinstance(i, Text) and (", towards" in i.text or len(i.text) == 1):
                        at.setdefault(i.text.partition(",")[0], []).append(i.at[0])
                plan = plan_of(subject, drawing.scale)
                ends = {c.places[0].face: c.letter for c in plan.callouts if c.places[0].face.axis == 0 and c.letter}
                if len(ends) == 2 and all(face_name(face) in at for face in ends):
                    for face, letter in ends.items():
                        other = next(other for f, other in ends.items() if f is not face)
                        (name,) = at[face_name(face)]
                        tried += 1
                        assert abs(name - at[letter][0]) < abs(name - at[other][0]), (subject.mark, face)
    assert tried


def test_the_profile_of_a_joined_top_is_a_section_at_full_size_with_its_sizes() -> None:
    """Its size stood in a step alone. An ogee of 3/8 in is a round and a hollow of 3/16 in (common practice)."""
    top = 'top = { kind = "panelled", edge = "ogee", edge_size = "3/8 in" }\n'
    one = case(f'{SIZE}bays = "open"\n{top}')
    members = [s for s in subjects(one, unframed_setting(one, "letter").rows) if "member of the top" in s.name]
    assert len(members) >= 3
    for subject in members:
        (drawing,) = part_drawings(subject, ASME, Cache(), (185.9, 240.0))
        said = texts((drawing,))
        assert ("ogee along" in said) == any(f.made_at is MadeAt.ASSEMBLY for f in subject.part.features)
        assert "section, scale 1:1" in said
        assert "run once it is joined" in said
        arcs = [i for i in drawing.items if isinstance(i, Arc)]
        assert [a.radius for a in arcs] == pytest.approx([9.525 / 2] * 2)  # at full size
        sizes = {s.what: s.value for s in drawing.shown if s.what.startswith("profile")}
        assert sizes == pytest.approx({"profile along the face": 9.525, "profile down the side": 9.525})
        for face in ("edge 0", "edge 1", "end 0", "end 1"):
            run = any(
                isinstance(f, EdgeProfile) and face_name(f.side) == face and f.made_at is MadeAt.ASSEMBLY
                for f in subject.part.features
            )
            line = said[said.index("ogee along") : said.index(" above")].rpartition("face")[0]
            assert (face in line) == run, (subject.mark, face)


def test_seats_may_stand_on_a_picture_of_their_own_and_nothing_is_lost() -> None:
    made = setting("in", "letter")
    side = next(s for s, _ in drawn_marks(made) if s.name.startswith("side,"))
    plan = plan_of(side, 0.25)
    apart = seats_apart(plan)
    assert sorted(c.text for p in apart for c in p.callouts) == sorted(c.text for c in plan.callouts)
    for way in ("across", "up"):
        whole = {(v.view.face, mm) for v in plan.views for mm in getattr(v, way)}
        assert {(v.view.face, mm) for p in apart for v in p.views for mm in getattr(v, way)} == whole
    assert [bool(p.seats) for p in apart][-1]


def test_a_seat_that_shares_a_border_with_another_is_pointed_at_within_it() -> None:
    """A leader's dot on a common border would not say of which of the two seats it speaks (ISO 128: a dot within)."""
    made = setting("in", "letter")
    tried = 0
    for subject, _ in drawn_marks(made):
        plan = plan_of(subject, 0.25)
        called_out = [p.points for c in plan.callouts if c.is_seat for p in c.places]
        for met in subject.met:
            u, v = met.face.uv_axes
            rivals = [o for o in subject.met if o is not met and o.face is met.face and met.borders(o)]
            if not rivals or met.narrowest * 0.25 < 1.0:
                continue
            inside = [all(_inside(met.box, p[u], p[v]) for p in points) for points in called_out]
            alone = [not any(_inside(o.box, p[u], p[v]) for p in points for o in rivals) for points in called_out]
            assert any(a and b for a, b in zip(inside, alone, strict=True)), (subject.mark, met.mark)
            tried += 1
    assert tried


def _inside(box: tuple[float, float, float, float], u: float, v: float) -> bool:
    return box[0] < u < box[2] and box[1] < v < box[3]
