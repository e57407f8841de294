"""Views, sections and details of the demonstration piece: what is cut, hatched, measured; and that all can be read."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
import shapely
from tests.design.test_cases import SIZE, case
from tests.packet import demo
from tests.packet.demo import project
from tests.solids.things import board, piece, put

from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import JointKind
from casewright.design.parts import Hardware
from casewright.order import load_order
from casewright.packet.drawing.assembled import assembled_drawings, front_drawing
from casewright.packet.drawing.chains_located import Link, located_chains
from casewright.packet.drawing.conventions import ASME, ISO
from casewright.packet.drawing.cutting import Plane, cut_piece
from casewright.packet.drawing.details import detail_drawings, details_of, drawn_details
from casewright.packet.drawing.hatching import Material, material_of
from casewright.packet.drawing.joint_details import PLAIN
from casewright.packet.drawing.like_details import like_details
from casewright.packet.drawing.measured_view import adds_up
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.primitives import LineRole, Polyline, Segments, Text
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.sections import sections_of
from casewright.packet.drawing.stage import Stage
from casewright.packet.drawing.taken_apart import BODY, unit_apart, units_of, whole_apart
from casewright.packet.pages.assembled import assembled
from casewright.packet.pages.setting import PaperName, Setting, unframed_setting
from casewright.project import Project
from casewright.shop import built_in_shop
from casewright.solids.view import LEFT_SIDE, PLAN
from casewright.units import INCHES

FIT = (180.0, 228.0)


@cache
def plain_setting() -> Setting:
    return unframed_setting(project(), "letter")


def stage(convention=ASME) -> Stage:  # type: ignore[no-untyped-def]
    made = plain_setting()
    first = made.pieces[0]
    return Stage(
        piece=first, cache=made.project.cache, style=made.project.style, convention=convention,
        marks=made.marks_of(first),
    )  # fmt: skip


@pytest.mark.parametrize("convention", [ISO, ASME], ids=lambda c: c.name)
def test_views_sections_and_details_can_all_be_read(convention) -> None:  # type: ignore[no-untyped-def]
    drawings = [*assembled_drawings(stage(convention), FIT), *detail_drawings(stage(convention), FIT)]
    assert len(drawings) >= 9
    for drawing in drawings:
        assert overlaps(drawing) == (), drawing.alt
        assert drawing.width <= FIT[0] + 1e-6
        assert drawing.height <= FIT[1] + 1e-6


def test_every_chain_of_the_design_is_shown_once_with_its_printed_sizes() -> None:
    shown = [s for d in assembled_drawings(stage(), FIT) for s in d.shown]
    names = [s.what for s in shown]
    for chain in located_chains(stage().piece, Cache(), project().style):
        for link in chain.links:
            assert any(s.what == link.name and s.text == link.text for s in shown), link
    assert "overall.width" in names
    assert "overall.depth" in names


@pytest.mark.parametrize(("system", "paper"), [("in", "letter"), ("mm", "a4")])
def test_a_view_says_where_printed_sizes_do_not_add_up(system: str, paper: PaperName) -> None:
    """The sums are those of the printed texts, each chain with its total, wherever that is printed."""
    made = demo.setting(system, paper)
    first, style = made.pieces[0], made.printer.style
    shown = Stage(
        piece=first, cache=made.project.cache, style=style, convention=ASME, marks=made.marks_of(first),
    )  # fmt: skip
    told = set()
    for drawing in assembled_drawings(shown, FIT):
        texts = {s.what: s.text for s in drawing.shown}
        is_off = any(
            sum(Fraction(n) for k in chain.links for n in k.text.split())
            != sum(Fraction(n) for n in chain.total.text.split())
            for chain in located_chains(first, Cache(), style)
            if len(chain.links) > 1 and all(texts.get(k.name) == k.text for k in chain.links)
        )
        says = "do not add" in " ".join(t.text for t in drawing.items if isinstance(t, Text))
        assert says or not is_off, drawing.alt
        told.add(says)
    assert told == {True, False}


def test_sizes_that_add_up_are_not_called_rounded() -> None:
    def row(*texts: str) -> dict[Side, list[list[Link]]]:
        links = [Link(10.0 * i, 10.0 * i + 10.0, str(i), text) for i, text in enumerate(texts)]
        return {Side.BELOW: [links, [Link(0.0, 10.0 * len(texts), "whole", "1 1/2")]]}

    assert adds_up(row("1/2", "1/2", "1/2"), {})
    assert not adds_up(row("1/2", "15/32", "1/2"), {})
    assert not adds_up({Side.BELOW: row("1/2", "15/32", "1/2")[Side.BELOW][:1]}, {0: [Link(0.0, 30.0, "w", "1 1/2")]})
    assert adds_up({**row("1/2", "1/2", "1/2"), Side.LEFT: [[Link(0.0, 5.0, "a", "1"), Link(5.0, 30.0, "b", "9")]]}, {})


def test_chains_lie_where_the_parts_are() -> None:
    # From the order: feet 4 in (101.6 mm), the mattress at 27 in (685.8 mm), between them the body and the top.
    top = stage().piece.by_path()[f"{stage().piece.path}/top"].part.blank.thickness
    chains = {c.id.split("/")[1]: c for c in located_chains(stage().piece, Cache(), project().style)}
    ends = [(round(k.low, 3), round(k.high, 3)) for k in chains["chain.height"].links]
    assert ends == [(0.0, 101.6), (101.6, round(685.8 - top, 3)), (round(685.8 - top, 3), 685.8)]
    assert all(c.sure for c in chains.values())


def test_a_cut_has_the_area_of_what_it_cuts() -> None:
    thing = piece(
        put("p/a", board(400.0, 80.0, 40.0), (0.0, 0.0, 0.0)), put("p/b", board(100.0, 50.0, 20.0), (0.0, 0.0, 60.0))
    )
    cut = cut_piece(thing, Plane(LEFT_SIDE, -50.0), Cache())
    areas = {p.placed.path: p.area.area for p in cut.parts}
    assert areas == pytest.approx({"p/a": 80.0 * 40.0, "p/b": 50.0 * 20.0})
    assert [material_of(p) for p in cut.parts] == [Material.END_GRAIN, Material.END_GRAIN]
    level = cut_piece(thing, Plane(PLAN, 20.0), Cache())
    assert [(p.placed.path, material_of(p)) for p in level.parts] == [("p/a", Material.LONG_GRAIN)]


def test_what_stands_before_the_plane_is_taken_away() -> None:
    thing = piece(
        put("p/a", board(100.0, 50.0, 20.0), (0.0, 0.0, 0.0)),
        put("p/high", board(100.0, 50.0, 20.0), (0.0, 200.0, 80.0)),
    )
    cut = cut_piece(thing, Plane(PLAN, 10.0), Cache())
    assert cut.beyond[:, [1, 3]].max() < 100.0


def test_cut_parts_do_not_overlap() -> None:
    for section in sections_of(stage().piece, stage().cache):
        cut = cut_piece(stage().piece, section.plane, stage().cache, without=stage().piece.excluded)
        wood = [p.area for p in cut.parts if p.grain is not None]
        tree = shapely.STRtree(wood)
        for i, area in enumerate(wood):
            for j in tree.query(area):
                if j > i:
                    assert area.intersection(wood[j]).area < 1.0


def test_hatching_stays_inside_what_is_cut() -> None:
    section = next(d for d in assembled_drawings(stage(), FIT) if "Section" in d.alt)
    hatch = [e for i in section.items if isinstance(i, Segments) and i.role is LineRole.HATCH for e in i.ends]
    assert len(hatch) > 100


def test_every_kind_of_joint_that_is_not_plain_has_a_detail() -> None:
    names = [d.name for d in details_of(stage())]
    placed = stage().piece.by_path()
    for joint in stage().piece.joints:
        if joint.kind not in PLAIN and joint.kind is not JointKind.HARDWARE:
            assert any(n.startswith(joint.kind.value) for n in names), joint
        elif joint.kind is JointKind.HARDWARE and all(
            isinstance(placed[p].thing, Hardware) for p in (joint.a, joint.b)
        ):
            assert any(placed[joint.a].name.split(",")[0].split(" ")[0] in n for n in names), joint
    assert any("moulding, of section" in n for n in names)
    assert any("touch-dimmer" in n for n in names)


def test_a_joint_detail_measures_how_far_its_parts_reach_into_each_other() -> None:
    # From the order and common practice: 10 mm stub tenons, doors 3/4 in thick with a groove a third of that wide.
    at = stage()
    tenon = next(d for d in details_of(at) if d.name.startswith("stub tenon"))
    sizes = {s.name: round(s.high - s.low, 2) for s in (*tenon.across, *tenon.up)}
    deep = {v for n, v in sizes.items() if " in " in n}
    assert len(deep) == 2
    assert all(5.0 < v < 12.0 for v in deep)


@pytest.mark.parametrize("fit", [(110.0, 120.0), (95.0, 150.0)])
def test_no_detail_is_lost_however_small_the_sheet(fit) -> None:  # type: ignore[no-untyped-def]
    wanted = {(d.name, k.text) for d in details_of(stage()) for k in (*d.across, *d.up)}
    drawings = detail_drawings(stage(), fit)
    for name, size in wanted:
        assert any(name in d.alt and any(s.text == size for s in d.shown) for d in drawings), (name, size)
    assert all(any(d.name in shown.alt for shown in drawings) for d in details_of(stage()))
    for shown in drawings:
        assert overlaps(shown) == ()
        assert shown.width <= fit[0] + 1e-6
        assert shown.height <= fit[1] + 1e-6


def test_no_detail_shows_a_sliver_of_a_part_or_ends_a_part_that_goes_on_with_a_thick_line() -> None:
    """A side 18 mm thick of which 1 mm was in the window passed for a thin sheet; a stile seemed to end there.

    ISO 128 (partial views; from memory): what goes on beyond the view ends at a thin line drawn free-hand.
    """
    drawings = detail_drawings(stage(), FIT)
    for detail in details_of(stage()):
        x0, y0, x1, y1 = detail.box
        cut_off = 0
        for part in detail.cut.parts:
            seen = part.area.intersection(shapely.box(*detail.box))
            if part.grain is None or seen.area < 0.02:
                continue
            for i in (0, 1):
                low, high = part.area.bounds[i], part.area.bounds[i + 2]
                ended = low < detail.box[i] - 0.1 or high > detail.box[i + 2] + 0.1
                if ended and (detail.across or detail.up):
                    assert seen.bounds[i + 2] - seen.bounds[i] > 5.9, (detail.name, part.placed.name)
            cut_off += not shapely.box(*detail.box).covers(part.area)
        view = next(d for d in drawings if f"Detail: {detail.name}" in d.alt)
        wide, high = (x1 - x0) * view.scale, (y1 - y0) * view.scale
        wavy = [i for i in view.items if isinstance(i, Polyline) and i.role is LineRole.BEYOND and len(i.points) > 4]
        assert wavy or not cut_off, detail.name
        for item in view.items:
            if isinstance(item, Polyline) and item.role is LineRole.SECTION:
                xs, ys = (max(c) - min(c) for c in zip(*item.points, strict=True))
                assert xs < wide - 0.2 or ys < high - 0.2 or not item.closed, detail.name


def test_the_whole_is_taken_apart_in_units_and_every_mark_stands_on_a_unit() -> None:
    at = stage()
    units = units_of(at.piece, at.marks)
    pictures = whole_apart(at.piece, at.cache, at.marks, FIT)
    assert [t.text for p in pictures for t in p.items if isinstance(t, Text)] == [str(u.number) for u in units]
    drawn: set[str] = set()
    for unit in units:
        pictures += (shown := unit_apart(at.piece, at.cache, at.marks, unit, (88.0, 100.0)))
        said = [t.text for p in shown for t in p.items if isinstance(t, Text)]
        assert sorted(said) == sorted({at.marks[p] for p in unit.paths if p in at.marks})
        drawn |= set(said)
    assert all(overlaps(p) == () for p in pictures)
    assert drawn == set(at.marks.values())


def test_columns_alike_are_measured_once_and_their_rails_named_in_order() -> None:
    """Two columns of three rows each between the same rails: one row of heights (common practice: dimension once)."""
    chest = Project(load_order(demo.ORDER.with_name("six-drawer-chest.toml"), BUILT_IN.kinds), built_in_shop())
    (piece_,) = chest.assembly.pieces
    places = [
        (c.axis, *((round(link.low, 2), round(link.high, 2)) for link in c.links))
        for c in located_chains(piece_, Cache(), chest.style)
    ]
    assert len(places) == len(set(places))
    assert any("one after the other in the order that they are named" in step.text for step in piece_.steps)
    at = Stage(piece=piece_, cache=Cache(), style=chest.style, convention=ASME, marks={})
    assert front_drawing(at, FIT).scale == pytest.approx(1 / 12), "48 in with its rows of sizes, 1 in for a foot"


def test_details_of_mouldings_say_which_they_show() -> None:
    names = [detail.name for detail in details_of(stage()) if "of section" in detail.name]
    assert {name.partition(",")[0] for name in names} == {"base moulding", "applied moulding", "crown moulding"}


def test_details_that_an_earlier_piece_shows_are_named_with_their_marks() -> None:
    """Two pieces alike: the second has the views, and says of every detail where it is; one that differs is drawn."""
    made = demo.setting()
    left = made.pieces[0]
    second = replace(left, title="Second")
    twin = demo.with_findings(())
    vars(twin)["assembly"] = replace(twin.assembly, pieces=(left, second))
    one, two = assembled(replace(made, project=twin, twins={})).pieces
    details = drawn_details(stage(), FIT)
    assert one.like == ()
    assert [d.name for d in two.like] == [d.name for d in details]
    assert all(d.other == left.title for d in two.like)
    assert all(d.words == d.name for d in two.like), "equal marks need no list"
    names = [f.name for page in two.figures.pages for f in page.figures]
    assert not any(n.startswith("Detail:") for n in names)
    assert names.count("Details that other pieces show") == 1
    for detail in details:
        assert detail.shows_what(detail)
        assert not detail.shows_what(replace(detail, sizes=(*detail.sizes, "1")))
        grown = replace(detail, outlines=tuple(o.buffer(0.5) for o in detail.outlines))
        assert not detail.shows_what(grown)
        assert len(detail.marks) <= len(detail.outlines)
    said = replace(two.like[0], marks=("B", "C"), there=("A", "D")).words
    assert said == f"{two.like[0].name}: B and C for A and D"
    shown = like_details({left.title: [d.words for d in two.like]}, ASME, FIT[0])
    assert overlaps(shown) == ()
    texts = " ".join(t.text for t in shown.items if isinstance(t, Text))
    assert all(d.words in texts for d in two.like)


def test_units_part_every_thing_of_the_piece_but_repeats() -> None:
    at = stage()
    units = units_of(at.piece, at.marks)
    paths = [p for u in units for p in u.paths]
    assert len(paths) == len(set(paths))
    assert len(at.piece.placed) == sum(len(u.paths) * len(u.alike) for u in units)
    assert units[0].name == BODY


def test_a_detail_gives_no_size_twice() -> None:
    """A panel of 19 mm flush with a frame of 3/4 in was "3/4" beside "3/4"."""
    top = 'top = { kind = "panelled", thickness = "3/4 in" }\nroles = { top_panel = "mdf-19" }\n'
    one = case(f'{SIZE}bays = "open"\n{top}')
    made = unframed_setting(one, "letter")
    at = Stage(
        piece=made.pieces[0], cache=one.cache, style=INCHES, convention=ASME, marks=made.marks_of(made.pieces[0])
    )
    (detail,) = (d for d in details_of(at) if "panel in groove" in d.name and "of the top" in d.name)
    drawn = next(d for d in detail_drawings(at, FIT) if detail.name in d.alt)
    thick = [s for s in drawn.shown if s.text == "3/4" and s.what.endswith("size up")]
    assert len(thick) == 1
