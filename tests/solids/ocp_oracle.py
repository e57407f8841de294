"""The same lowered volumes evaluated by an independent boundary-representation kernel (Open CASCADE).

Arcs stay true arcs and cones true cones here; booleans and volume integrals are the kernel's own.
"""

from __future__ import annotations

import math

from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepGProp import BRepGProp
from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCone, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.collections import List_TopoDS_Shape
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopoDS import TopoDS_Shape, TopoDS_Wire

from casewright.design.frames import Frame
from casewright.design.outlines import Outline, arc_circle
from casewright.design.volumes import Cone, HalfSpace, Loft, Lowered, Prism, Volume

FAR = 10_000.0  # mm: how far a half-space reaches


def shape_of(lowered: Lowered) -> TopoDS_Shape:
    """Return (base ∪ additions) − removals as an Open CASCADE shape."""
    bodies = [_shape(v) for v in lowered.base + lowered.additions]
    whole = bodies[0]
    for body in bodies[1:]:
        whole = _done(BRepAlgoAPI_Fuse(), whole, body)
    for volume in lowered.removals:
        whole = _done(BRepAlgoAPI_Cut(), whole, _shape(volume))
    return whole


def _done(operation: BRepAlgoAPI_Cut | BRepAlgoAPI_Fuse, whole: TopoDS_Shape, tool: TopoDS_Shape) -> TopoDS_Shape:
    """Return the result of one operation; with no tolerance the kernel loses curved cuts that meet at a corner."""
    one, other = List_TopoDS_Shape(), List_TopoDS_Shape()
    one.Append(whole)
    other.Append(tool)
    operation.SetArguments(one)
    operation.SetTools(other)
    operation.SetFuzzyValue(1e-5)
    operation.Build()
    return operation.Shape()


def volume_of_shape(shape: TopoDS_Shape) -> float:
    """Return the volume in mm³."""
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, props)
    return float(props.Mass())


def oracle_volume(lowered: Lowered) -> float:
    """Return the volume of the lowered part in mm³ by the independent kernel."""
    return volume_of_shape(shape_of(lowered))


def _shape(volume: Volume) -> TopoDS_Shape:
    match volume:
        case Prism():
            face = BRepBuilderAPI_MakeFace(_wire(volume.outline, volume.frame, 0.0)).Face()
            z = volume.frame.z
            return BRepPrimAPI_MakePrism(face, gp_Vec(*(c * volume.height for c in z))).Shape()
        case Cone():
            axes = _axes(volume.frame)
            if volume.r0 == volume.r1:
                return BRepPrimAPI_MakeCylinder(axes, volume.r0, volume.height).Shape()
            return BRepPrimAPI_MakeCone(axes, volume.r0, volume.r1, volume.height).Shape()
        case Loft():
            maker = BRepOffsetAPI_ThruSections(True, True)
            maker.AddWire(_wire(volume.lower, volume.frame, 0.0))
            maker.AddWire(_wire(volume.upper, volume.frame, volume.height))
            maker.CheckCompatibility(False)
            return maker.Shape()
        case HalfSpace():
            corner = volume.frame.point((-FAR, -FAR, 0.0))
            axes = gp_Ax2(gp_Pnt(*corner), gp_Dir(*volume.frame.z), gp_Dir(*volume.frame.x))
            return BRepPrimAPI_MakeBox(axes, 2 * FAR, 2 * FAR, FAR).Shape()


def _axes(frame: Frame) -> gp_Ax2:
    return gp_Ax2(gp_Pnt(*frame.origin), gp_Dir(*frame.z), gp_Dir(*frame.x))


def _wire(outline: Outline, frame: Frame, height: float) -> TopoDS_Wire:
    def place(x: float, y: float) -> gp_Pnt:
        return gp_Pnt(*frame.point((x, y, height)))

    maker = BRepBuilderAPI_MakeWire()
    for a, b, bulge in outline.sides:
        if bulge:
            (cx, cy), r = arc_circle(a, b, bulge)
            middle = math.atan2(a[1] - cy, a[0] - cx) + 2 * math.atan(bulge)
            on_arc = place(cx + r * math.cos(middle), cy + r * math.sin(middle))
            maker.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(place(*a), on_arc, place(*b)).Value()).Edge())
        else:
            maker.Add(BRepBuilderAPI_MakeEdge(place(*a), place(*b)).Edge())
    return maker.Wire()
