"""Closed outlines of a DXF file: polylines with bulges, lines, arcs and circles on one layer.

The unit is the file's own ($INSUNITS: 1 in, 4 mm, 5 cm, 6 m; 0 is none).
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from typing import Any

from casewright.shop.outline_joining import OutlineError, joined
from casewright.stock.loops import Loop, Side, sides

MOST_SIDES = 2000
BINARY = b"AutoCAD Binary DXF"
IN_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
UNIT_NAMES = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
DRAWN = ("LWPOLYLINE", "POLYLINE", "LINE", "ARC", "CIRCLE")
SILENT = ("TEXT", "MTEXT", "DIMENSION", "POINT", "HATCH", "LEADER", "MULTILEADER", "VIEWPORT", "ATTDEF", "IMAGE")
# What ezdxf raises on a file that is not what it says it is.
BROKEN = (ValueError, KeyError, IndexError, TypeError, AttributeError, AssertionError, RecursionError, OverflowError)


def dxf_loops(raw: bytes, layer: str, scale: float | None) -> list[Loop]:
    """Return the closed loops on `layer` (every layer where it is empty), in mm.

    `scale` is mm for a unit of a file that does not say its own. Raises OutlineError.
    """
    drawing = _drawing(raw)
    size = _millimetres(drawing, scale)
    whole, pieces = [], []
    for entity in _entities(drawing, layer):
        loop, loose = _shape(entity, size)
        whole += [loop] if loop else []
        pieces += loose
        if len(pieces) + sum(map(len, whole)) > MOST_SIDES:
            raise OutlineError(f"the drawing has more than {MOST_SIDES:,} lines and arcs", "keep the outline alone")
    return whole + joined(pieces)


def _drawing(raw: bytes) -> Any:
    """Return the parsed drawing."""
    from ezdxf.filemanagement import read  # imported where a drawing is read: it takes a good part of a second
    from ezdxf.lldxf.const import DXFError

    if raw.startswith(BINARY):
        raise OutlineError("the drawing is a binary DXF file", "save it as an ASCII DXF file")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")  # files before 2007
    try:
        return read(io.StringIO(text.replace("\r\n", "\n")))
    except (DXFError, *BROKEN) as wrong:
        said = (str(wrong).splitlines() or [type(wrong).__name__])[0]
        reason = "".join(c if c.isprintable() else "�" for c in said)[:100]
        raise OutlineError(f"the drawing is not a DXF file that can be read ({reason})", "save it again") from wrong


def _millimetres(drawing: Any, scale: float | None) -> float:
    code = drawing.header.get("$INSUNITS", 0)
    own = IN_MM.get(code)
    if code and own is None:
        raise OutlineError(f"the drawing's unit is code {code} ($INSUNITS)", "save it in mm or inches")
    if own is not None and scale is not None and own != scale:
        raise OutlineError(
            f"the drawing says that its unit is {UNIT_NAMES[code]}",
            "leave the unit out here, or change it in the drawing",
        )
    found = own if own is not None else scale
    if found is None:
        raise OutlineError("the drawing does not say its unit ($INSUNITS)", 'add outline_unit = "mm" or "in"')
    return found


def _entities(drawing: Any, layer: str) -> Iterator[Any]:
    """Yield what is drawn on a layer. Raises OutlineError for an unknown layer or shape."""
    found = list(drawing.modelspace())
    layers = sorted({str(e.dxf.get("layer", "0")) for e in found})
    if layer and layer.lower() not in (name.lower() for name in layers):
        known = ", ".join(layers[:12]) or "none"
        raise OutlineError(f'nothing is drawn on a layer "{layer}"', f"layers with something on them: {known}")
    for entity in found:
        kind = entity.dxftype()
        if (layer and str(entity.dxf.get("layer", "0")).lower() != layer.lower()) or kind in SILENT:
            continue
        if kind not in DRAWN:
            remedy = "explode it" if kind == "INSERT" else "turn it into lines and arcs, or put it on another layer"
            raise OutlineError(f"the drawing holds a {kind}; expected lines, arcs, circles and polylines", remedy)
        yield entity


def _shape(entity: Any, size: float) -> tuple[Loop | None, list[Side]]:
    """Return an entity as a closed loop, or as loose sides, in mm."""
    if tuple(entity.dxf.get("extrusion", (0, 0, 1))) != (0, 0, 1):
        raise OutlineError(
            "something is drawn on a tilted or turned-over plane", "draw it in the x–y plane, seen from z"
        )
    kind = entity.dxftype()
    if kind == "LINE":
        a, b = entity.dxf.start, entity.dxf.end
        return None, [((a.x * size, a.y * size), (b.x * size, b.y * size), 0.0)]
    if kind == "CIRCLE":
        c, r = entity.dxf.center, entity.dxf.radius
        return ((((c.x - r) * size, c.y * size, 1.0), ((c.x + r) * size, c.y * size, 1.0))), []
    if kind == "ARC":
        return None, [_arc(entity, size)]
    return _polyline(_points(entity, kind), bool(entity.is_closed), size)


def _points(entity: Any, kind: str) -> list[tuple[float, float, float]]:
    if kind == "LWPOLYLINE":
        return [(float(x), float(y), float(k)) for x, y, k in entity.get_points("xyb")]
    if not entity.is_2d_polyline:
        raise OutlineError("a polyline is drawn in space", "draw it flat")
    return [(v.dxf.location.x, v.dxf.location.y, float(v.dxf.get("bulge", 0.0))) for v in entity.vertices]


def _polyline(points: list[tuple[float, float, float]], closed: bool, size: float) -> tuple[Loop | None, list[Side]]:
    loop = tuple(_without_repeats((x * size, y * size, k) for x, y, k in points))
    if len(loop) < 2:
        return None, []
    if not closed and math.dist(loop[0][:2], loop[-1][:2]) > 1e-9:
        return None, list(sides(loop)[:-1])
    if math.dist(loop[0][:2], loop[-1][:2]) <= 1e-3:  # closed by hand: the last point repeats the first
        loop = loop[:-1]
    return (loop, []) if len(loop) > 1 else (None, [])


def _without_repeats(points: Iterable[tuple[float, float, float]]) -> Iterator[tuple[float, float, float]]:
    """Leave out points that repeat the one after them, which has their bulge's side to go on."""
    before: tuple[float, float, float] | None = None
    for p in points:
        if before is not None and math.dist(before[:2], p[:2]) > 1e-3:
            yield before
        before = p
    if before is not None:
        yield before


def _arc(entity: Any, size: float) -> Side:
    c, r = entity.dxf.center, entity.dxf.radius
    start, end = math.radians(entity.dxf.start_angle), math.radians(entity.dxf.end_angle)
    sweep = (end - start) % (2 * math.pi) or 2 * math.pi
    a = ((c.x + r * math.cos(start)) * size, (c.y + r * math.sin(start)) * size)
    b = ((c.x + r * math.cos(end)) * size, (c.y + r * math.sin(end)) * size)
    return a, b, math.tan(sweep / 4)
