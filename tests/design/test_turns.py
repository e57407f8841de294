"""Laws of blanks, turns, features and marks, tried on random features and sampled points."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon

from casewright.design.blanks import HALF_TURNS, MIRROR_LENGTH, QUARTER_TURNS, Blank, Face, Turn
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.curves import arch, bracket, shaped_edge
from casewright.design.features.cuts import Dado, Groove, HalfLap, Notch, Rabbet, Tenon
from casewright.design.features.edges import RipBevel, VGroove, chamfer, edge_cove, ogee, roundover
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.mitres import KeySlot, MitreSlot
from casewright.design.features.openings import Recess, Slot, mortise
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.marks import label
from casewright.design.outlines import circle, obround, polygon, rounded_rectangle
from casewright.design.parts import Form, Part
from casewright.design.volumes import Cone, HalfSpace, Loft, Prism, Volume

SQUARE = Blank(length=300.0, width=60.0, thickness=60.0)
BOARD = Blank(length=300.0, width=120.0, thickness=20.0)
ROOM = 12.0

sizes = st.floats(3.0, 8.0).map(lambda v: round(v, 3))


@st.composite
def features(draw: st.DrawFn, blank: Blank) -> Feature:
    """One feature that lies well inside a blank of at least 20 mm each way."""
    face = draw(st.sampled_from(list(Face)))
    du, dv, depth = blank.extent(face)
    u, v = draw(st.floats(ROOM - 3, du - ROOM + 3)), draw(st.floats(min(8.0, dv / 2), max(dv - 8.0, dv / 2)))
    a, b, deep = draw(sizes), draw(sizes), min(draw(sizes), depth / 2)
    end = draw(st.sampled_from([Face.END0, Face.END1]))
    side = draw(st.sampled_from([Face.EDGE0, Face.EDGE1, Face.FACE0, Face.FACE1]))
    cut = draw(st.sampled_from([Rabbet, Groove, Dado, HalfLap, Notch]))
    choice = draw(st.integers(0, 14))
    if choice > 8:
        return draw(run_features(blank, face, side, end, a, b))
    if choice == 0:
        return cut(face=face, u0=u - a, u1=u + a, v0=max(0.0, v - b), v1=min(dv, v + b), depth=deep)
    if choice == 1:
        return Hole(face=face, u=u, v=v, diameter=a, depth=deep, countersink=a + 3, bore_diameter=a + 4, bore_depth=2.0)
    if choice == 2:
        return Recess(face=face, outline=rounded_rectangle(u - a, v - b, u + a, v + b, 2.0), depth=deep)
    if choice == 3:
        return Slot(face=face, outline=obround((u - a, v), (u + a, v), 3.0), depth=depth)
    if choice == 4:
        return EndCut(face=end, at=150.0, mitre=draw(st.floats(-50, 50)), bevel=draw(st.floats(-50, 50)))
    if choice == 5:
        return Taper(face=side, towards=end, start=draw(st.floats(50, 200)), inset=a)
    if choice == 6:
        return Cove(face=side, at=draw(st.floats(40, 250)), radius=8.0, depth=a)
    if choice == 7:
        return Tenon(face=end, u0=10.0, u1=40.0, v0=6.0, v1=13.0, length=20.0)
    way = draw(st.sampled_from([(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]))
    return PocketHole(
        face=face, u=u, v=v, du=way[0], dv=way[1], angle=15.0, diameter=4.0, pocket_diameter=9.5, shoulder=8.0, run=30.0
    )  # fmt: skip


@st.composite
def run_features(draw: st.DrawFn, blank: Blank, face: Face, side: Face, end: Face, a: float, b: float) -> Feature:
    """One of the features that run along something: edges, seams, rows, curves, mitres."""
    _, _, depth = blank.extent(face)
    neighbour = draw(st.sampled_from([f for f in Face if f.axis != face.axis]))
    beside = draw(st.sampled_from([f for f in Face if f.axis not in (0, side.axis)]))
    edge = draw(st.sampled_from([Face.EDGE0, Face.EDGE1]))
    along = draw(st.sampled_from(face.uv_axes))
    stops = draw(st.sampled_from([(0.0, 0.0), (4.0, 9.0)]))
    mitre = draw(st.sampled_from([(45.0, 0.0), (-45.0, 0.0), (30.0, 0.0), (0.0, 45.0), (0.0, -60.0), (20.0, 35.0)]))
    made = draw(
        st.sampled_from(
            [
                RipBevel(face=side, datum=beside, angle=5 * a, inset=1.0),
                chamfer(face, neighbour, a, b, stops=stops),
                roundover(face, neighbour, a, 1.0, stops=stops),
                edge_cove(face, neighbour, a),
                ogee(face, neighbour, a),
                VGroove(face=face, along=along, at=20.0, depth=a, angle=70.0, stop0=stops[0], stop1=stops[1]),
                HoleRow(face=face, u=12.0, v=9.0, along=along, count=3, pitch=11.0, diameter=a, depth=b),
                mortise(face, (15.0, 30.0), (12.0, 12.0 + a), min(2 * b, depth / 2), rounded=draw(st.booleans())),
                arch(blank, edge, (20.0, 20.0 + 25 * a), a),
                bracket(blank, edge, 30.0, 12.0 + a, 8.0),
                shaped_edge(blank, edge, ((0.0, 0.0, 0.2), (90.0, a, -0.3), (200.0, b, 0.0), (300.0, 2.0, 0.0))),
                MitreSlot(
                    face=end, at=150.0, mitre=mitre[0], bevel=mitre[1], level=side, offset=15.0, width=a, depth=b,
                    stop0=stops[0], stop1=stops[1],
                ),
            ]
        )
    )  # fmt: skip
    if isinstance(made, MitreSlot) and draw(st.booleans()):
        outer = draw(st.sampled_from([f for f in Face if f.axis not in (0, side.axis)]))
        leans = EndCut(face=end, at=150.0, mitre=mitre[0], bevel=mitre[1]).normal()[outer.axis]
        if leans:
            return KeySlot(
                face=end, at=150.0, mitre=mitre[0], bevel=mitre[1], level=side, offset=15.0, width=a, depth=b + 10,
                outer=outer,
            )  # fmt: skip
    return made


def inside(volume: Volume, p: tuple[float, float, float]) -> float:
    """Signed distance-like value of a point in a volume: > 0 inside, < 0 outside (exact sign, rough size)."""
    q = volume.frame.local_point(p)
    if isinstance(volume, HalfSpace):
        return q[2]
    if isinstance(volume, Prism):
        flat = Polygon(volume.outline.points(0.001))
        d = flat.exterior.distance(Point(q[0], q[1])) * (1 if flat.contains(Point(q[0], q[1])) else -1)
        return min(d, q[2], volume.height - q[2])
    if isinstance(volume, Cone):
        r = volume.r0 + (volume.r1 - volume.r0) * q[2] / volume.height
        return min(r - math.hypot(q[0], q[1]), q[2], volume.height - q[2])
    assert isinstance(volume, Loft)
    raise AssertionError("no feature lowers to a loft yet")


def removed(feature: Feature, blank: Blank, p: tuple[float, float, float]) -> float:
    return max(inside(v, p) for v in feature.lower(blank))


points = st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))


@pytest.mark.parametrize("turn", [*HALF_TURNS, *QUARTER_TURNS, MIRROR_LENGTH])
@given(data=st.data())
def test_a_carried_feature_removes_the_carried_wood(turn: Turn, data: st.DataObject) -> None:
    blank = SQUARE
    feature = data.draw(features(blank))
    carried = feature.carry(turn, blank)
    for share in data.draw(st.lists(points, min_size=20, max_size=20)):
        p = (share[0] * blank.length, share[1] * blank.width, share[2] * blank.thickness)
        before, after = removed(feature, blank, p), removed(carried, blank, turn.point(p, blank))
        if abs(before) > 0.01:  # on the surface itself the two roundings may differ
            assert (before > 0) == (after > 0)


@given(data=st.data())
def test_marks_know_turned_parts_and_tell_mirror_images(data: st.DataObject) -> None:
    several = tuple(data.draw(st.lists(features(SQUARE), max_size=3)))
    part = Part(form=Form.STICK, stock="poplar", blank=SQUARE, features=several)
    for turn in (*HALF_TURNS, *QUARTER_TURNS):
        assert part.turned(turn).bench_key() == part.bench_key()
    assert part.mirrored().mirrored() == part
    assert part.mirrored().mirrored().bench_key() == part.bench_key()


def test_a_handed_part_has_another_mark_unless_a_turn_carries_it_over() -> None:
    handed = Part(
        form=Form.SHEET, stock="x", blank=BOARD,
        features=(Hole(face=Face.FACE1, u=30.0, v=20.0, diameter=5.0, depth=6.0),
                  Hole(face=Face.FACE1, u=100.0, v=50.0, diameter=8.0, depth=6.0)),
    )  # fmt: skip
    assert handed.mirrored().bench_key() != handed.bench_key()
    through = Part(
        form=Form.SHEET, stock="x", blank=BOARD, features=(Hole(face=Face.FACE1, u=30.0, v=60.0, diameter=5.0),)
    )
    assert through.mirrored().bench_key() == through.bench_key()


def test_features_made_at_assembly_do_not_count_for_marks() -> None:
    hole = Hole(face=Face.FACE1, u=30.0, v=20.0, diameter=5.0, made_at=MadeAt.ASSEMBLY)
    plain = Part(form=Form.SHEET, stock="x", blank=BOARD)
    drilled = Part(form=Form.SHEET, stock="x", blank=BOARD, features=(hole,))
    assert plain.bench_key() == drilled.bench_key()
    assert plain.key != drilled.key


def test_labels() -> None:
    assert [label(i) for i in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_outline_areas_and_centroids_against_geometry() -> None:
    # Circle πr², semicircle centroid 4r/3π from its diameter (any mechanics handbook).
    assert circle(3.0, 4.0, 5.0).area == pytest.approx(math.pi * 25)
    half = polygon([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)])
    assert half.centroid == pytest.approx((2 / 3, 1 / 3))
    from casewright.design.outlines import Outline

    semicircle = Outline(vertices=((-2.0, 0.0, 0.0), (2.0, 0.0, 1.0)))
    assert semicircle.area == pytest.approx(math.pi * 2)
    assert semicircle.centroid == pytest.approx((0.0, 4 * 2 / (3 * math.pi)))
    assert semicircle.box == pytest.approx((-2.0, 0.0, 2.0, 2.0), abs=1e-9)


@given(st.floats(0, 360), st.floats(-100, 100), st.booleans())
def test_an_outline_keeps_its_area_under_any_isometry(angle: float, shift: float, flip: bool) -> None:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    outline = rounded_rectangle(0.0, 0.0, 30.0, 20.0, 4.0)
    k = -1.0 if flip else 1.0
    moved = outline.mapped(lambda p: (c * p[0] * k - s * p[1] + shift, s * p[0] * k + c * p[1]))
    assert moved.area == pytest.approx(outline.area, rel=1e-6)
    shell = Polygon(moved.points(0.001))
    assert shell.area == pytest.approx(600 - (4 - math.pi) * 16, rel=1e-4)
