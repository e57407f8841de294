"""DXF files read back with ezdxf: circles and arcs, places and sizes against the features; units; the same bytes."""

from __future__ import annotations

import io
import math

import ezdxf
import pytest
from tests.packet.demo import setting
from tests.solids.things import board, every_feature

from casewright.design.blanks import Face
from casewright.design.features.base import MadeAt
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Recess
from casewright.design.features.shaping import EndCut, Taper
from casewright.design.outlines import rounded_rectangle
from casewright.packet.drawing.conventions import ASME
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.primitives import Text
from casewright.packet.drawing.subject import subjects
from casewright.packet.dxf import drawing_dxf, outline_dxf


def read(data: bytes):  # type: ignore[no-untyped-def]
    return ezdxf.read(io.StringIO(data.decode()))


@pytest.mark.parametrize(("units", "code", "mm"), [("mm", 4, 1.0), ("in", 1, 25.4)])
def test_every_hole_of_every_mark_is_a_circle_at_its_place(units, code: int, mm: float) -> None:  # type: ignore[no-untyped-def]
    for row in setting().rows:
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
            for hole in holes:
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
