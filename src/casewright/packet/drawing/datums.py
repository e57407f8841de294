"""The reference end and edge of a part: where its sizes are measured from, each with a black triangle and its name.

The triangle is the datum symbol of ISO 5459 and ASME Y14.5; it stands on the outline of a view, as near to the datum
corner as there is room, and its end or edge is named beside it where a text finds a place. A view of an end that stands
apart has those of edge 0 and face 0, one of an edge those of end 0 and face 0.
"""

from __future__ import annotations

from contextlib import suppress

import numpy as np

from casewright.design.blanks import Face
from casewright.packet.drawing.part_plan import place_on
from casewright.packet.drawing.placing import Label, NoRoom, place_label
from casewright.packet.drawing.primitives import BLACK, XY, Fill, Primitive, Shown
from casewright.packet.drawing.raster import CELL, Raster
from casewright.packet.drawing.sized_part_view import DrawnView
from casewright.packet.drawing.subject import face_name

BASE, HIGH = 3.0, 2.4  # mm: the triangle
FIRST, STEP = 1.8, 0.5  # mm from the corner, and between places that are tried
CLEAR = (0.4, 0.0)  # mm around the triangle that are free of lines, if that can be had
BESIDE, REACH = 7.0, 14.0  # mm from the triangle to its name
WORD, LINE = 15.0, 7.5  # mm: a name is no further off its side than its own length or height
INWARDS: dict[str, XY] = {"left": (1.0, 0.0), "right": (-1.0, 0.0), "below": (0.0, 1.0), "above": (0.0, -1.0)}


def datum_marks(
    raster: Raster,
    main: DrawnView,
    em: float,
    faces: tuple[Face, Face] = (Face.END0, Face.EDGE0),
    named: tuple[Face, ...] = tuple(Face),
) -> tuple[list[Primitive], list[Shown]]:
    """Return the triangles of two faces on a view that shows both from the side, names of `named` ones, and ink them.

    With them comes which faces have a triangle. A side that leaves no room for one inside or outside has none.
    """
    out: list[Primitive] = []
    shown: list[Shown] = []
    sides = {face: place_on(main.planned.view, face) for face in faces}
    names: list[Label] = []
    for face, side in sides.items():
        other = sides[faces[1] if face is faces[0] else faces[0]]
        found = _triangle(raster, main, side, other)
        if found is None:
            continue
        mark, at, way = found
        out.append(mark)
        raster.ink((mark,))
        shown.append(Shown(f"datum {face.value}", 0.0, face_name(face)))
        near = (at[0] + BESIDE * way[0], at[1] + BESIDE * way[1])
        if face in named:
            names.append(Label(face_name(face), near, em, REACH, _beside(main, side)))
    for name in names:
        with suppress(NoRoom):  # without its name the triangle still stands where the running sizes have their 0
            out.append(place_label(raster, name))
    return out, shown


def _beside(main: DrawnView, side: str) -> tuple[float, float, float, float]:
    """Return the box along a side of a view in which a name is plainly that side's."""
    (x, y), w, h = main.at, main.width, main.height

    off = WORD if side in ("left", "right") else LINE
    return {
        "left": (x - off, y, x + off, y + h), "right": (x + w - off, y, x + w + off, y + h),
        "below": (x, y - off, x + w, y + off), "above": (x, y + h - off, x + w, y + h + off),
    }[side]  # fmt: skip


def _triangle(raster: Raster, main: DrawnView, side: str, other: str) -> tuple[Fill, XY, XY] | None:
    """Return a triangle on a side of a view in the first free place from the corner with the other datum side."""
    (x, y), w, h = main.at, main.width, main.height
    inwards, along = INWARDS[side], INWARDS[other]
    corner = (x + w * ("right" in (side, other)), y + h * ("above" in (side, other)))
    run = w if side in ("above", "below") else h
    depth = h if side in ("above", "below") else w
    ways = (inwards, (-inwards[0], -inwards[1])) if depth > 2 * HIGH else ((-inwards[0], -inwards[1]),)
    for way, clear in [(way, clear) for clear in CLEAR for way in ways]:
        for t in np.arange(FIRST, run - FIRST, STEP).tolist():
            at = (corner[0] + along[0] * t, corner[1] + along[1] * t)
            if _is_free(raster, at, along, way, clear):
                a, b = ((at[0] + along[0] * s, at[1] + along[1] * s) for s in (-BASE / 2, BASE / 2))
                tip = (at[0] + way[0] * HIGH, at[1] + way[1] * HIGH)
                return Fill(((a, b, tip),), BLACK), at, way
    return None


def _is_free(raster: Raster, at: XY, along: XY, way: XY, clear: float) -> bool:
    """True where a triangle stands on the outline and nothing else is drawn under it."""
    if not all(_is_line(raster, (at[0] + along[0] * s, at[1] + along[1] * s)) for s in (-BASE / 2, 0.0, BASE / 2)):
        return False
    reach = BASE / 2 + clear
    aside = np.arange(-reach, reach + 0.1, CELL / 2)[:, None]
    off = np.arange(2 * CELL, HIGH + 2 * clear, CELL / 2)[None, :]
    column, row = (np.floor((at[i] + along[i] * aside + way[i] * off) / CELL).astype(np.int64) for i in (0, 1))
    rows, columns = raster.lines.shape
    if row.min() < 0 or column.min() < 0 or row.max() >= rows or column.max() >= columns:
        return False
    return not any(layer[row, column].any() for layer in (raster.lines, raster.texts, raster.leaders))


def _is_line(raster: Raster, at: XY) -> bool:
    row, column = int(at[1] / CELL), int(at[0] / CELL)
    return bool(raster.lines[max(0, row - 1) : row + 2, max(0, column - 1) : column + 2].any())
