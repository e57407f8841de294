"""DXF files: part drawings as they are on paper, and outlines at full size for a machine or a template.

Everything is written from features and primitives, never from meshes: circles are CIRCLE, arcs ARC or the bulge of an
LWPOLYLINE. Layers say what is done: `OUTLINE`, `HOLE_D4.366_THROUGH`, `CUT_9.000_DEEP`; where profiles and leaning
planes run out on the face: `RUN_OUT_ROUNDOVER_6.000_DEEP`. $INSUNITS is set; the same input gives the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Literal

import shapely

from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.cuts import RectCut
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.openings import Recess, ShapedEdge
from casewright.design.features.shaping import EndCut, Taper
from casewright.design.frames import cosd, sind
from casewright.design.outlines import Outline, Point2, rectangle
from casewright.design.parts import Part
from casewright.packet.drawing.primitives import (
    Anchor,
    Arc,
    Circle,
    Fill,
    Leader,
    LineRole,
    Picture,
    Polyline,
    Segments,
    Text,
    arrow_head,
)  # fmt: skip
from casewright.packet.run_outs import run_outs

if TYPE_CHECKING:
    from ezdxf.document import Drawing

Units = Literal["mm", "in"]
INSUNITS = {"in": 1, "mm": 4}  # DXF reference, $INSUNITS
MM = {"in": 25.4, "mm": 1.0}
CAP = 0.66  # em: DXF gives the height of capitals
EPS = 1e-6
# AutoCAD colour index and line type by role; everything else is black and continuous.
DASHED = {
    LineRole.HIDDEN: "DASHED",
    LineRole.HIDDEN_LEADER: "DASHED",
    LineRole.CENTRE: "CENTER",
    LineRole.SEAT: "PHANTOM",
    LineRole.PLANE: "CENTER",
}


def drawing_dxf(picture: Picture) -> bytes:
    """Return a drawing as it is on paper, in mm, a layer for each role of line; texts are TEXT."""
    document = _document("mm")
    space = document.modelspace()
    for item in picture.items:
        _put(space, item, document)
    return _bytes(document)


def outline_dxf(part: Part, face: Face, units: Units) -> bytes:
    """Return one face of a part at full size: its outline, and what is made from that face on the bench, by layer.

    Seen from outside the face, end 0 on the left. Raises ValueError for an end or edge.
    """
    if face.axis != 2:
        raise ValueError(f"outlines are of face 0 or face 1, got {face.value}")
    document = _document(units)
    space = document.modelspace()
    k = 1.0 / MM[units]
    flip = not face.high

    def place(p: Point2) -> Point2:
        return (p[0] * k, (part.blank.width - p[1] if flip else p[1]) * k)

    _polygon(space, outline_of(part), place, "OUTLINE", document)
    for feature in part.features:
        if feature.made_at is MadeAt.BENCH and (feature.face is face or _is_through(feature, part.blank, face)):
            _feature(space, feature, part.blank, place, k, document)
        if feature.made_at is MadeAt.BENCH:
            for run_out in run_outs(feature, part.blank, face):
                points = [(*place((x, y)), -b if flip else b) for x, y, b in run_out.places]
                space.add_lwpolyline(points, format="xyb", dxfattribs={"layer": _layer(document, run_out.layer)})
    return _bytes(document)


def outline_of(part: Part) -> tuple[Point2, ...]:
    """Return the outline of a part's face in blank x, y: the blank less mitred ends, tapered edges and notches, mm."""
    shape = shapely.box(0.0, 0.0, part.blank.length, part.blank.width)
    for feature in part.features:
        if feature.made_at is MadeAt.BENCH:
            off = _taken_off(feature, part.blank)
            shape = shape.difference(off) if off is not None else shape
    ring = shapely.get_coordinates(shapely.simplify(shape, EPS).exterior).tolist()[:-1]
    if shapely.LinearRing(ring).is_ccw:
        return tuple((x, y) for x, y in ring)
    return tuple((x, y) for x, y in reversed(ring))


def _taken_off(feature: Feature, blank: Blank) -> shapely.Polygon | None:
    """Return what a feature takes off the outline of the face, right through."""
    far = 4 * (blank.length + blank.width)
    match feature:
        case EndCut() if feature.mitre and not feature.bevel:
            side = 1.0 if feature.face.high else -1.0
            n = (side * cosd(feature.mitre), sind(feature.mitre))
            return _half_plane((feature.at, blank.width / 2), n, far)
        case Taper() if feature.face.axis == 1:
            edge = blank.width if feature.face.high else 0.0
            end = blank.length if feature.towards.high else 0.0
            inner = edge - feature.inset if feature.face.high else edge + feature.inset
            run = (end - feature.start, inner - edge)
            out = 1.0 if feature.face.high else -1.0
            n = (-run[1], run[0]) if (run[0] > 0) == (out > 0) else (run[1], -run[0])
            return _half_plane((feature.start, edge), n, far)
        case RectCut() if (
            feature.face.axis == 2 and feature.depth >= blank.thickness - EPS and _on_border(feature, blank)
        ):
            return shapely.box(feature.u0, feature.v0, feature.u1, feature.v1)
        case ShapedEdge():
            return shapely.Polygon(feature.outline.points())
        case _:
            return None


def _on_border(cut: RectCut, blank: Blank) -> bool:
    return cut.u0 <= EPS or cut.v0 <= EPS or cut.u1 >= blank.length - EPS or cut.v1 >= blank.width - EPS


def _half_plane(at: Point2, normal: Point2, far: float) -> shapely.Polygon:
    size = (normal[0] ** 2 + normal[1] ** 2) ** 0.5
    nx, ny = normal[0] / size * far, normal[1] / size * far
    return shapely.Polygon(
        (
            (at[0] - ny, at[1] + nx),
            (at[0] + ny, at[1] - nx),
            (at[0] + ny + nx, at[1] - nx + ny),
            (at[0] - ny + nx, at[1] + nx + ny),
        )
    )


def _is_through(feature: Feature, blank: Blank, face: Face) -> bool:
    """True for what is made from the opposite face and comes out at this one."""
    if feature.face is not face.opposite:
        return False
    depth = getattr(feature, "depth", 0.0)
    return (isinstance(feature, (Hole, HoleRow)) and depth is None) or (depth or 0.0) >= blank.thickness - EPS


def _feature(space: Any, feature: Feature, blank: Blank, place: Any, k: float, document: Drawing) -> None:
    match feature:
        case Hole():
            _hole(space, feature, blank, place, k, document)
        case HoleRow():
            for hole in feature.holes:
                _hole(space, hole, blank, place, k, document)
        case ShapedEdge():
            return  # a part of the outline
        case Recess():
            _outline(space, feature.outline, place, _cut_layer(feature.depth, blank), document)
        case RectCut():
            box = rectangle(
                max(0.0, feature.u0), max(0.0, feature.v0), min(blank.length, feature.u1), min(blank.width, feature.v1)
            )
            _outline(space, box, place, _cut_layer(feature.depth, blank), document)
        case PocketHole():
            layer = _layer(document, f"POCKET_HOLE_D{feature.pocket_diameter:.3f}_{feature.angle:g}DEG")
            space.add_point(place((feature.u, feature.v)), dxfattribs={"layer": layer})
        case _:
            return


def _hole(space: Any, hole: Hole, blank: Blank, place: Any, k: float, document: Drawing) -> None:
    through = hole.depth is None or hole.depth >= blank.thickness - EPS
    depth = "THROUGH" if through else f"{hole.depth:.3f}_DEEP"
    rounds = [(hole.diameter, f"HOLE_D{hole.diameter:.3f}_{depth}")]
    if hole.bore_diameter > 0:
        rounds.append((hole.bore_diameter, f"COUNTERBORE_D{hole.bore_diameter:.3f}_{hole.bore_depth:.3f}_DEEP"))
    if hole.countersink > hole.diameter:
        rounds.append((hole.countersink, f"COUNTERSINK_D{hole.countersink:.3f}_{hole.sink_angle:g}DEG"))
    for diameter, name in rounds:
        at = place((hole.u, hole.v))
        space.add_circle(at, diameter / 2 * k, dxfattribs={"layer": _layer(document, name)})


def _cut_layer(depth: float, blank: Blank) -> str:
    return "CUT_THROUGH" if depth >= blank.thickness - EPS else f"CUT_{depth:.3f}_DEEP"


def _outline(space: Any, outline: Outline, place: Any, name: str, document: Drawing) -> None:
    layer = _layer(document, name)
    if len(outline.vertices) == 2 and all(abs(v[2] - 1.0) < 1e-9 for v in outline.vertices):
        (ax, ay, _), (bx, by, _) = outline.vertices
        a, b = place((ax, ay)), place((bx, by))
        centre = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        radius = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 / 2
        space.add_circle(centre, radius, dxfattribs={"layer": layer})
        return
    moved = outline.mapped(lambda p: place(p)) if _is_isometry(place) else _scaled(outline, place)
    space.add_lwpolyline(
        [(x, y, b) for x, y, b in moved.vertices], format="xyb", close=True, dxfattribs={"layer": layer}
    )


def _is_isometry(place: Any) -> bool:
    (ax, _), (bx, _) = place((0.0, 0.0)), place((1.0, 0.0))
    return bool(abs(abs(bx - ax) - 1.0) < 1e-12)


def _scaled(outline: Outline, place: Any) -> Outline:
    """Return an outline under a scaling, perhaps mirrored: the bulges stay, turned about where the sense turns."""
    moved = [(*place((x, y)), b) for x, y, b in outline.vertices]
    (_, ay), (_, by) = place((0.0, 0.0)), place((0.0, 1.0))
    if by > ay:
        return Outline(vertices=tuple(moved))
    n = len(moved)
    return Outline(
        vertices=tuple((moved[(i + 1) % n][0], moved[(i + 1) % n][1], moved[i][2]) for i in reversed(range(n)))
    )


def _polygon(space: Any, points: Iterable[Point2], place: Any, name: str, document: Drawing) -> None:
    moved = [place(p) for p in points]
    space.add_lwpolyline(moved, close=True, dxfattribs={"layer": _layer(document, name)})


def _put(space: Any, item: Any, document: Drawing) -> None:
    match item:
        case Segments():
            for a, b, c, d in item.ends:
                space.add_line((a, b), (c, d), dxfattribs=_role(document, item.role))
        case Polyline():
            space.add_lwpolyline(list(item.points), close=item.closed, dxfattribs=_role(document, item.role))
        case Circle():
            space.add_circle(item.centre, item.radius, dxfattribs=_role(document, item.role))
        case Arc():
            space.add_arc(item.centre, item.radius, item.start, item.end, dxfattribs=_role(document, item.role))
        case Text():
            _text(space, item, document)
        case Leader():
            space.add_lwpolyline(list(item.points), dxfattribs=_role(document, LineRole.LEADER))
            if item.arrow:
                _put(space, arrow_head(item.points[-1], item.points[-2], item.arrow), document)
        case Fill() if max(item.tone) < 128:
            for ring in item.rings:
                if len(ring) == 3:
                    space.add_solid([*ring, ring[2]], dxfattribs={"layer": _layer(document, "ARROWS")})
        case _:
            return


def _text(space: Any, item: Text, document: Drawing) -> None:
    from ezdxf.enums import TextEntityAlignment as Align

    align = {Anchor.START: Align.MIDDLE_LEFT, Anchor.MIDDLE: Align.MIDDLE_CENTER, Anchor.END: Align.MIDDLE_RIGHT}
    text = space.add_text(
        item.text, height=item.size * CAP, rotation=item.turn, dxfattribs={"layer": _layer(document, "TEXT")}
    )
    text.set_placement(item.at, align=align[item.anchor])


def _role(document: Drawing, role: LineRole) -> dict[str, Any]:
    name = role.name
    if name not in document.layers:
        document.layers.add(name, linetype=DASHED.get(role, "CONTINUOUS"))
    return {"layer": name}


def _layer(document: Drawing, name: str) -> str:
    if name not in document.layers:
        document.layers.add(name)
    return name


def _document(units: Units) -> Drawing:
    from ezdxf.filemanagement import new

    with _without_clock():
        document = new("R2010", setup=["linetypes"])
    document.header["$INSUNITS"] = INSUNITS[units]
    document.header["$MEASUREMENT"] = 0 if units == "in" else 1
    return document


def _bytes(document: Drawing) -> bytes:
    text = io.StringIO()
    for kind in sorted(document.entitydb.dxf_types_in_use()):  # ezdxf writes classes as its set has them
        document.classes.add_class(kind)
    with _without_clock():
        document.write(text)
    return text.getvalue().encode("utf-8")


@contextmanager
def _without_clock() -> Iterator[None]:
    """Keep ezdxf from stamping the time and a fresh GUID into a file."""
    from ezdxf import options  # type: ignore[attr-defined]

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
