"""STEP files of a piece by the extra `casewright[step]`: exact solids, names and colours, one assembly (AP214, XCAF).

The same lowered volumes as everywhere else, evaluated by Open CASCADE: planes, cylinders, cones and true arcs, no
facets. Equal parts share one solid. mm. The time stamp and file name in the header are the caller's, so the same input
gives the same bytes.
"""

from __future__ import annotations

import importlib.util
import math
import re
import tempfile
from collections.abc import Mapping
from itertools import count
from pathlib import Path
from typing import Any

from casewright.design.assembly import PieceDesign
from casewright.design.frames import Frame
from casewright.design.outlines import Outline, arc_circle
from casewright.design.volumes import Cone, HalfSpace, Loft, Lowered, Prism, Volume
from casewright.packet.drawing.tones import ToneOf, tone_of
from casewright.packet.errors import PacketError
from casewright.packet.step_styles import ordered_styles

_USAGE = re.compile(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+',(.*?)\);\n", re.DOTALL)
FAR = 10_000.0  # mm: how far a half-space reaches
FUZZY = 1e-5  # mm within which two edges of a boolean operation count as one


class StepUnavailable(PacketError):  # noqa: N818 (reads as what it is)
    """The library that STEP files need is not installed."""


def is_available() -> bool:
    """True where the extra is installed."""
    return importlib.util.find_spec("OCP") is not None


def needs_step() -> None:
    """Raise StepUnavailable where the extra is not installed."""
    if not is_available():
        raise StepUnavailable(
            "--step needs the library that writes STEP files, which is not installed here; "
            "install it with pip install 'casewright[step]', or leave --step out"
        )


def step_of(
    piece: PieceDesign,
    *,
    marks: Mapping[str, str] | None = None,
    stamp: str = "1970-01-01T00:00:00",
    tones: ToneOf = tone_of,
) -> bytes:
    """Return a piece as a STEP file; names are "mark name (path)". `stamp` is the time of its header, ISO 8601.

    Raises StepUnavailable where the extra is not installed.
    """
    needs_step()
    document = _document()
    tool, colours = _tools(document)
    root = tool.NewShape()
    _name(root, piece.title)
    made: dict[tuple[str, tuple[int, int, int]], Any] = {}
    for placed in piece.placed:
        tone = tones(placed.thing)
        key = (placed.thing.key, tone)
        if key not in made:
            made[key] = tool.AddShape(shape_of(placed.thing.lowered()), False)
            _name(made[key], placed.name)
            _colour(colours, made[key], tone)
        mark = (marks or {}).get(placed.path, "")
        component = tool.AddComponent(root, made[key], _location(placed.frame))
        _name(component, f"{mark} {placed.name} ({placed.path})".strip())
    tool.UpdateAssemblies()
    return _written(document, stamp, piece.title)


def shape_of(lowered: Lowered) -> Any:
    """Return (base ∪ additions) − removals as an Open CASCADE shape."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse

    bodies = [_shape(v) for v in lowered.base + lowered.additions]
    whole = _boolean(BRepAlgoAPI_Fuse(), bodies[0], bodies[1:])
    return _boolean(BRepAlgoAPI_Cut(), whole, [_shape(v) for v in lowered.removals])


def _boolean(operation: Any, whole: Any, tools: list[Any]) -> Any:
    """Return the result of one operation with all its tools at once, which is several times faster than one by one.

    Without a tolerance, curved cuts that meet at a corner (profiles around a top) come out wrong.
    """
    from OCP.collections import List_TopoDS_Shape

    if not tools:
        return whole
    arguments, others = List_TopoDS_Shape(), List_TopoDS_Shape()
    arguments.Append(whole)
    for tool in tools:
        others.Append(tool)
    operation.SetArguments(arguments)
    operation.SetTools(others)
    operation.SetFuzzyValue(FUZZY)
    operation.Build()
    return operation.Shape()


def _shape(volume: Volume) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
    from OCP.BRepPrimAPI import (
        BRepPrimAPI_MakeBox,
        BRepPrimAPI_MakeCone,
        BRepPrimAPI_MakeCylinder,
        BRepPrimAPI_MakePrism,
    )
    from OCP.gp import gp_Vec

    match volume:
        case Prism():
            face = BRepBuilderAPI_MakeFace(_wire(volume.outline, volume.frame, 0.0)).Face()
            return BRepPrimAPI_MakePrism(face, gp_Vec(*(c * volume.height for c in volume.frame.z))).Shape()
        case Cone() if volume.r0 == volume.r1:
            return BRepPrimAPI_MakeCylinder(_axes(volume.frame), volume.r0, volume.height).Shape()
        case Cone():
            return BRepPrimAPI_MakeCone(_axes(volume.frame), volume.r0, volume.r1, volume.height).Shape()
        case Loft():
            maker = BRepOffsetAPI_ThruSections(True, True)
            maker.AddWire(_wire(volume.lower, volume.frame, 0.0))
            maker.AddWire(_wire(volume.upper, volume.frame, volume.height))
            maker.CheckCompatibility(False)
            return maker.Shape()
        case HalfSpace():
            corner = volume.frame.moved(volume.frame.direction((-FAR, -FAR, 0.0)))
            return BRepPrimAPI_MakeBox(_axes(corner), 2 * FAR, 2 * FAR, FAR).Shape()


def _axes(frame: Frame) -> Any:
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    return gp_Ax2(gp_Pnt(*frame.origin), gp_Dir(*frame.z), gp_Dir(*frame.x))


def _wire(outline: Outline, frame: Frame, height: float) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    def place(x: float, y: float) -> Any:
        return gp_Pnt(*frame.point((x, y, height)))

    maker = BRepBuilderAPI_MakeWire()
    for a, b, bulge in outline.sides:
        if math.dist(a, b) < 1e-7:
            continue  # a side without length makes a face without sense
        if bulge:
            (cx, cy), r = arc_circle(a, b, bulge)
            middle = math.atan2(a[1] - cy, a[0] - cx) + 2 * math.atan(bulge)
            on_arc = place(cx + r * math.cos(middle), cy + r * math.sin(middle))
            maker.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(place(*a), on_arc, place(*b)).Value()).Edge())
        else:
            maker.Add(BRepBuilderAPI_MakeEdge(place(*a), place(*b)).Edge())
    return maker.Wire()


def _location(frame: Frame) -> Any:
    from OCP.gp import gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    move = gp_Trsf()
    x, y, z, o = frame.x, frame.y, frame.z, frame.origin
    move.SetValues(x[0], y[0], z[0], o[0], x[1], y[1], z[1], o[1], x[2], y[2], z[2], o[2])
    return TopLoc_Location(move)


def _document() -> Any:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFApp import XCAFApp_Application

    _silence()
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    XCAFApp_Application.GetApplication_s().InitDocument(document)
    return document


def _tools(document: Any) -> tuple[Any, Any]:
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    return XCAFDoc_DocumentTool.ShapeTool_s(document.Main()), XCAFDoc_DocumentTool.ColorTool_s(document.Main())


def _name(label: Any, text: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(text, True))


def _colour(tool: Any, label: Any, tone: tuple[int, int, int]) -> None:
    from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
    from OCP.XCAFDoc import XCAFDoc_ColorSurf

    tool.SetColor(label, Quantity_Color(*(c / 255 for c in tone), Quantity_TOC_sRGB), XCAFDoc_ColorSurf)


def _written(document: Any, stamp: str, title: str) -> bytes:
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_AsIs

    writer = STEPCAFControl_Writer()
    writer.Transfer(document, STEPControl_AsIs)
    with tempfile.TemporaryDirectory() as folder:  # the kernel writes to files alone
        path = Path(folder) / "piece.step"
        writer.Write(str(path))
        text = path.read_text(encoding="latin-1")
    name = title.replace("'", "''").encode("ascii", "replace").decode()
    head = f"FILE_NAME('{name}','{stamp}',(''),(''),'Casewright','Casewright','');"
    numbers = count(1)  # the kernel goes on counting from file to file
    text = ordered_styles(_USAGE.sub(lambda m: _usage(next(numbers), m[1]), text))
    return re.sub(r"FILE_NAME\(.*?\);", lambda _: head, text, count=1, flags=re.DOTALL).encode("latin-1")


def _usage(number: int, rest: str) -> str:
    on_one_line = re.sub(r"\n\s*", "", rest)
    return f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{number}',\n  {on_one_line});\n"


def _silence() -> None:
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
