"""STEP files read back by the kernel: names, colours, places, volumes against the model; the same bytes.

With `--variants 300` or more every piece of every example is written and read.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.packet.reading import EXAMPLES, THOROUGH, example
from tests.solids.things import cabinet

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.packet import step
from casewright.packet.drawing.tones import tone_of
from casewright.packet.step import StepUnavailable, step_of
from casewright.packet.step_styles import ordered_styles
from casewright.solids.measure import volume_of

pytest.importorskip("OCP")


def read(data: bytes, folder: Path):  # type: ignore[no-untyped-def]
    from OCP.STEPCAFControl import STEPCAFControl_Reader
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFApp import XCAFApp_Application
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    path = folder / "piece.step"
    path.write_bytes(data)
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    XCAFApp_Application.GetApplication_s().InitDocument(document)
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    assert reader.ReadFile(str(path)).name == "IFSelect_RetDone"
    assert reader.Transfer(document)
    return document, XCAFDoc_DocumentTool.ShapeTool_s(document.Main())


def test_solids_come_back_with_their_volume_name_and_place(tmp_path: Path, variants: int) -> None:
    assert_read_back(cabinet(), {"p/top": "C"}, tmp_path)
    for order in EXAMPLES if variants >= THOROUGH else ():
        setting = example(order, "in", "letter")
        for piece in setting.pieces:
            assert_read_back(piece, setting.marks_of(piece), tmp_path)


def assert_read_back(piece: PieceDesign, marks: dict[str, str], folder: Path) -> None:
    """Write a piece, read it and compare name, volume and lower corner of every thing in it."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib
    from OCP.BRepGProp import BRepGProp
    from OCP.collections import Sequence_TDF_Label
    from OCP.GProp import GProp_GProps
    from OCP.TDataStd import TDataStd_Name
    from OCP.XCAFDoc import XCAFDoc_ShapeTool

    _, tool = read(step_of(piece, marks=marks), folder)
    roots = Sequence_TDF_Label()
    tool.GetFreeShapes(roots)
    parts = Sequence_TDF_Label()
    XCAFDoc_ShapeTool.GetComponents_s(roots.Value(1), parts)
    found = {}
    for i in range(1, parts.Length() + 1):
        name = TDataStd_Name()
        assert parts.Value(i).FindAttribute(TDataStd_Name.GetID_s(), name)
        props, box = GProp_GProps(), Bnd_Box()
        shape = XCAFDoc_ShapeTool.GetShape_s(parts.Value(i))
        BRepGProp.VolumeProperties_s(shape, props)
        BRepBndLib.AddOptimal_s(shape, box, False, False)
        found[name.Get().ToExtString()] = (props.Mass(), _corner(box))
    assert len(found) == len(piece.placed)
    cache = Cache()
    for placed in piece.placed:
        mark = f"{marks[placed.path]} " if placed.path in marks else ""
        volume, low = found[f"{mark}{placed.name} ({placed.path})"]
        assert volume == pytest.approx(volume_of(placed.thing, cache), rel=1e-4)
        if not all(abs(c) < 1e-9 or abs(abs(c) - 1.0) < 1e-9 for c in (*placed.frame.x, *placed.frame.y)):
            continue  # the box of something that stands askew is not that of its corners
        corners = [placed.frame.point(p) for p in _box(placed.thing, cache)]
        assert low == pytest.approx([min(c[i] for c in corners) for i in range(3)], abs=0.02)


def _corner(box):  # type: ignore[no-untyped-def]
    low = box.CornerMin()
    return (low.X(), low.Y(), low.Z())


def _box(thing, cache):  # type: ignore[no-untyped-def]
    from casewright.solids.evaluate import solid

    s = solid(thing, cache)
    return [(x, y, z) for x in (s.low[0], s.high[0]) for y in (s.low[1], s.high[1]) for z in (s.low[2], s.high[2])]


def test_colours_come_back(tmp_path: Path) -> None:
    from OCP.collections import Sequence_TDF_Label
    from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
    from OCP.XCAFDoc import XCAFDoc_ColorSurf, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

    document, tool = read(step_of(cabinet()), tmp_path)
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    labels = Sequence_TDF_Label()
    tool.GetShapes(labels)
    seen = set()
    for i in range(1, labels.Length() + 1):
        colour = Quantity_Color()
        if colours.GetColor(XCAFDoc_ShapeTool.GetShape_s(labels.Value(i)), XCAFDoc_ColorSurf, colour):
            values = colour.Values(Quantity_TOC_sRGB)
            seen.add(tuple(round(v * 255) for v in values))
    assert seen == {tone_of(p.thing) for p in cabinet().placed}


def test_the_same_piece_is_the_same_file() -> None:
    first = step_of(cabinet(), stamp="2026-11-02T00:00:00")
    assert first == step_of(cabinet(), stamp="2026-11-02T00:00:00")
    assert b"2026-11-02T00:00:00" in first


def test_without_colours_a_file_is_left_as_it_is() -> None:
    assert ordered_styles("DATA;\nENDSEC;\n") == "DATA;\nENDSEC;\n"


def test_without_the_extra_a_clear_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(step, "is_available", lambda: False)
    with pytest.raises(StepUnavailable, match=r"pip install 'casewright\[step\]'"):
        step_of(cabinet())
