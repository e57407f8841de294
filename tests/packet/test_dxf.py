"""DXF files read back with ezdxf: circles and arcs, places and sizes against the features; units; the same bytes.

Of the demonstration order; with `--variants 300` or more of every example.
"""

from __future__ import annotations

import io
import math

import ezdxf
import pytest
from tests.packet.demo import setting
from tests.packet.reading import EXAMPLES, THOROUGH, example
from tests.solids.things import board, every_feature

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.base import MadeAt
from casewright.design.features.edges import RipBevel, roundover
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Recess
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.outlines import rounded_rectangle
from casewright.packet.drawing.conventions import ASME
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.primitives import Text
from casewright.packet.drawing.subject import subjects
from casewright.packet.dxf import drawing_dxf, outline_dxf
from casewright.packet.parts_list import PartRow
from casewright.packet.standing import bench_part
from casewright.solids.evaluate import solid


def read(data: bytes):  # type: ignore[no-untyped-def]
    return ezdxf.read(io.StringIO(data.decode()))


@pytest.fixture(scope="module")
def rows(variants: int) -> list[PartRow]:
    """Every mark whose outlines are read."""
    given = [example(order, "in", "letter") for order in EXAMPLES] if variants >= THOROUGH else [setting()]
    return [row for one in given for row in one.rows]


def test_outlines_are_as_long_and_as_wide_as_the_parts(rows: list[PartRow]) -> None:
    cache = Cache()
    for row in rows:
        if row.part.lowered().additions:
            continue  # a band is glued onto what the outline shows
        made = solid(bench_part(row.part), cache)
        for face in (Face.FACE0, Face.FACE1):
            places = outline_points(outline_dxf(row.part, face, "mm"))
            xs, ys = zip(*places, strict=True)
            low, high = made.low, made.high
            assert (min(xs), max(xs)) == pytest.approx((low[0], high[0]), abs=0.02), (row.mark, row.name)
            assert max(ys) - min(ys) == pytest.approx(high[1] - low[1], abs=0.02), (row.mark, row.name)


@pytest.mark.parametrize(("units", "code", "mm"), [("mm", 4, 1.0), ("in", 1, 25.4)])
def test_every_hole_of_every_mark_is_a_circle_at_its_place(rows, units, code: int, mm: float) -> None:  # type: ignore[no-untyped-def]
    for row in rows:
        for face in (Face.FACE0, Face.FACE1):
            document = read(outline_dxf(row.part, face, units))
            assert document.header["$INSUNITS"] == code  # DXF reference: 1 inches, 4 millimetres
            holes = [
                f for f in row.part.features if isinstance(f, Hole) and f.face is face and f.made_at is MadeAt.BENCH
            ]
            circles = [
                (c.dxf.center.x * mm, c.dxf.center.y * mm, 2 * c.dxf.radius * mm)
                for c in document.modelspace().query("CIRCLE")
            ]
            drilled = [f for f in row.part.features if isinstance(f, HoleRow) and f.face is face]
            for hole in [*holes, *(h for f in drilled if f.made_at is MadeAt.BENCH for h in f.holes)]:
                y = hole.v if face is Face.FACE1 else row.part.blank.width - hole.v
                assert any(c == pytest.approx((hole.u, y, hole.diameter), abs=1e-6) for c in circles)


def outline_points(data: bytes) -> list[tuple[float, float]]:
    line = next(e for e in read(data).modelspace().query("LWPOLYLINE") if e.dxf.layer == "OUTLINE")
    return sorted((round(x, 3), round(y, 3)) for x, y in line.get_points("xy"))


def test_mitres_and_tapers_are_in_the_outline() -> None:
    mitred = board(200.0, 40.0, 20.0, EndCut(face=Face.END1, at=180.0, mitre=45.0))
    # 45° through (180, 20), its outward normal leaning to +y: the long point is at y = 0.
    assert outline_points(outline_dxf(mitred, Face.FACE1, "mm")) == [
        (0.0, 0.0),
        (0.0, 40.0),
        (160.0, 40.0),
        (200.0, 0.0),
    ]
    tapered = board(200.0, 40.0, 20.0, Taper(face=Face.EDGE1, towards=Face.END0, start=50.0, inset=10.0))
    assert outline_points(outline_dxf(tapered, Face.FACE1, "mm")) == [
        (0.0, 0.0), (0.0, 30.0), (50.0, 40.0), (200.0, 0.0), (200.0, 40.0),
    ]  # fmt: skip


@pytest.mark.parametrize("face", [Face.FACE0, Face.FACE1])
@pytest.mark.parametrize(("units", "mm"), [("mm", 1.0), ("in", 25.4)])
def test_rounded_corners_are_true_arcs(face: Face, units, mm: float) -> None:  # type: ignore[no-untyped-def]
    recess = Recess(face=face, outline=rounded_rectangle(50.0, 10.0, 110.0, 50.0, 8.0), depth=6.0)
    document = read(outline_dxf(board(200.0, 60.0, 20.0, recess), face, units))
    line = next(e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer == "CUT_6.000_DEEP")
    bulges = [b for _, _, b in line.get_points("xyb") if b]
    assert bulges == pytest.approx([math.tan(math.pi / 8)] * 4)  # a quarter turn, counter-clockwise
    xs, ys = zip(*((x * mm, y * mm) for x, y in line.get_points("xy")), strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((50.0, 110.0, 10.0, 50.0))


def run_outs_of(part, face: Face = Face.FACE1):  # type: ignore[no-untyped-def]
    lines = read(outline_dxf(part, face, "mm")).modelspace().query("LWPOLYLINE")
    return {e.dxf.layer: [tuple(p) for p in e.get_points("xyb")] for e in lines if e.dxf.layer != "OUTLINE"}


def test_a_roundover_runs_out_at_its_radius_and_a_rounded_corner_is_an_arc() -> None:
    shaped = board(200.0, 60.0, 20.0, roundover(Face.FACE1, Face.EDGE1, 6.0))
    assert run_outs_of(shaped) == {"RUN_OUT_ROUNDOVER_6.000_DEEP": [(0.0, 54.0, 0.0), (200.0, 54.0, 0.0)]}
    assert run_outs_of(shaped, Face.FACE0) == {}
    corner = run_outs_of(board(200.0, 60.0, 20.0, roundover(Face.EDGE1, Face.END1, 10.0)))
    ((points,),) = (tuple(corner.values()),)
    assert sorted((x, y) for x, y, _ in points) == [(190.0, 60.0), (200.0, 50.0)]
    # A quarter circle about (190, 50): its middle lies at 45°, outside the chord.
    (ax, ay, bulge), (bx, by, _) = points
    middle = ((ax + bx) / 2 + bulge / 2 * (by - ay), (ay + by) / 2 - bulge / 2 * (bx - ax))
    assert middle == pytest.approx((190.0 + 10.0 * math.sqrt(0.5), 50.0 + 10.0 * math.sqrt(0.5)))


def test_planes_run_out_where_their_angle_says() -> None:
    ripped = board(200.0, 60.0, 20.0, RipBevel(face=Face.EDGE1, datum=Face.FACE1, angle=30.0))
    away = 20.0 * math.tan(math.radians(30.0))  # over the thickness
    assert run_outs_of(ripped, Face.FACE0)["RUN_OUT_RIP_BEVEL"][0][1] == pytest.approx(away)  # seen from outside
    tapered = board(200.0, 40.0, 20.0, Taper(face=Face.FACE1, towards=Face.END0, start=50.0, inset=5.0))
    assert run_outs_of(tapered) == {"RUN_OUT_TAPER": [(50.0, 0.0, 0.0), (50.0, 40.0, 0.0)]}


@pytest.mark.parametrize("face", [Face.FACE0, Face.FACE1])
def test_hollows_keep_their_width_and_their_arc(face: Face) -> None:
    chord = 2 * math.sqrt(2 * 10.0 * 4.0 - 4.0**2)  # of a circle of 10 mm, 4 mm deep
    across = run_outs_of(board(200.0, 60.0, 20.0, Cove(face=face, at=100.0, radius=10.0, depth=4.0)), face)
    assert set(across) == {"COVE_R10.000_4.000_DEEP"}
    edge = board(200.0, 60.0, 20.0, Cove(face=Face.EDGE1, at=100.0, radius=10.0, depth=4.0))
    (ax, ay, bulge), (bx, _, _) = run_outs_of(edge, face)["COVE_R10.000_SECTION"]
    assert bx - ax == pytest.approx(chord)
    inside = ay - abs(bulge) / 2 * chord if face is Face.FACE1 else ay + abs(bulge) / 2 * chord
    assert ay - bulge / 2 * (bx - ax) == pytest.approx(inside)
    assert abs(inside - ay) == pytest.approx(4.0)


def test_drawings_keep_their_texts_and_circles() -> None:
    made = setting()
    subject = subjects(made.project, made.rows)[5]
    drawing = part_drawings(subject, ASME, made.project.cache, (185.9, 240.0))[0]
    document = read(drawing_dxf(drawing))
    assert {t.dxf.text for t in document.modelspace().query("TEXT")} == {
        t.text for t in drawing.items if isinstance(t, Text)
    }
    assert document.modelspace().query("CIRCLE")
    assert not document.audit().has_errors


def test_the_same_part_is_the_same_file_at_any_time() -> None:
    assert outline_dxf(every_feature(), Face.FACE1, "mm") == outline_dxf(every_feature(), Face.FACE1, "mm")


def test_an_edge_has_no_outline_file() -> None:
    with pytest.raises(ValueError, match="face 0 or face 1"):
        outline_dxf(every_feature(), Face.EDGE0, "mm")
