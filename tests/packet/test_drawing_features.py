"""What is run along edges, seams and rows, as drawings and outline files show it."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import pytest
from tests.solids.things import board

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.curves import arch
from casewright.design.features.cuts import HalfLap
from casewright.design.features.edges import RipBevel, VGroove, chamfer, ogee, roundover
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.mitres import KeySlot, MitreSlot
from casewright.design.features.openings import mortise
from casewright.packet.drawing.conventions import ISO
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.primitives import Text
from casewright.packet.drawing.subject import SizeWords, Subject
from casewright.packet.dxf import outline_dxf, outline_of
from casewright.units import INCHES, MILLIMETRES

MITRE = {"face": Face.END1, "at": 260.0, "mitre": 45.0, "bevel": 0.0, "level": Face.FACE0, "offset": 10.0}
SHOWN: list[tuple[Feature, tuple[str, ...]]] = [
    (RipBevel(face=Face.EDGE1, datum=Face.FACE0, angle=15.0), ("rip bevel 15°", "edge 1", "face 0")),
    (roundover(Face.FACE1, Face.EDGE0, 6.0), ("roundover 6", "face 1 to edge 0")),
    (chamfer(Face.FACE1, Face.EDGE0, 3.0, 5.0, stops=(40.0, 0.0)), ("stopped chamfer 3 × 5", "stops 40 before")),
    (ogee(Face.FACE1, Face.END0, 4.0), ("ogee 8", "face 1 to end 0", "both radii 4")),
    (VGroove(face=Face.FACE1, along=0, at=30.0, depth=2.0), ("V-groove 90°", "30")),
    (HoleRow(face=Face.FACE1, u=40.0, v=37.0, along=0, count=5, pitch=32.0, diameter=5.0, depth=12.0),
     ("row of 5 holes Ø 5", "12 deep", "32 apart", "40", "37")),
    (arch(board(300.0, 100.0, 20.0).blank, Face.EDGE0, (50.0, 250.0), 20.0), ("curved edge", "through")),
    (mortise(Face.EDGE1, (60.0, 100.0), (6.0, 14.0), 30.0, rounded=True), ("mortise 8 × 40", "30 deep")),
    (HalfLap(face=Face.FACE1, u0=100.0, u1=180.0, v0=0.0, v1=100.0, depth=10.0), ("half lap", "80", "10 deep")),
    (MitreSlot(**MITRE, width=4.0, depth=12.0), ("spline slot 4 wide, 12 deep in end 1", "10 from face 0")),  # type: ignore[arg-type]
    (KeySlot(**MITRE, width=3.0, depth=25.0, outer=Face.EDGE0), ("key slot 3 wide, 25 deep", "from edge 0")),  # type: ignore[arg-type]
]  # fmt: skip


@pytest.mark.parametrize(("feature", "says"), SHOWN, ids=lambda v: v.describe() if isinstance(v, Feature) else "")
def test_a_part_drawing_tells_the_feature(feature: Feature, says: tuple[str, ...]) -> None:
    if isinstance(feature, KeySlot):  # made at assembly as a rule; shown where it is made on the bench
        feature = replace(feature, made_at=MadeAt.BENCH)
    part = board(300.0, 100.0, 20.0, feature)
    sizes, words = ("300", "100", "20"), SizeWords(style=MILLIMETRES)
    subject = Subject(part=part, mark="A", name="rail", count=1, stock="poplar", size=sizes, words=words)
    pictures = part_drawings(subject, ISO, Cache(), (180.0, 258.0))
    text = " ".join(t.text for p in pictures for t in p.items if isinstance(t, Text))
    assert all(overlaps(p) == () for p in pictures)
    assert [said for said in says if said not in text] == []


def test_a_row_in_mm_says_so_on_an_inch_drawing_where_its_last_hole_would_wander() -> None:
    """32 mm is 1 1/4 in (31.75) and a quarter of a millimetre: 3.75 mm off at the sixteenth hole."""
    for count, says in ((16, "1 1/4 (32 mm) apart"), (2, "1 1/4 apart")):
        row = HoleRow(face=Face.FACE1, u=40.0, v=37.0, along=0, count=count, pitch=32.0, diameter=5.0, depth=12.0)
        part = board(600.0, 100.0, 20.0, row)
        words = SizeWords(style=INCHES)
        subject = Subject(part=part, mark="A", name="side", count=1, stock="birch", size=("1", "2", "3"), words=words)
        pictures = part_drawings(subject, ISO, Cache(), (180.0, 258.0))
        assert says in " ".join(t.text for p in pictures for t in p.items if isinstance(t, Text))


def test_the_outline_file_has_every_hole_of_a_row_and_a_curved_edge_in_its_outline() -> None:
    row = HoleRow(face=Face.FACE1, u=40.0, v=60.0, along=0, count=5, pitch=32.0, diameter=5.0, depth=12.0)
    part = board(300.0, 100.0, 20.0, row, arch(board(300.0, 100.0, 20.0).blank, Face.EDGE0, (50.0, 250.0), 20.0))
    assert max(y for x, y in outline_of(part) if 149 < x < 151 and y < 50) == pytest.approx(20.0, abs=0.02)
    drawing = ezdxf.read(io.StringIO(outline_dxf(part, Face.FACE1, "mm").decode("utf-8")))
    circles = sorted(c.dxf.center.x for c in drawing.modelspace().query("CIRCLE"))
    assert circles == pytest.approx([40.0 + 32 * i for i in range(5)])
