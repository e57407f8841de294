"""Moulding sections: from the section as installed to the section of a blank lying flat.

As installed: x out from the wall, y up from the lower edge. In the blank: y across the width, z through the
thickness, the back on z = 0; the width leans from the wall by the spring angle.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.blanks import Blank
from casewright.design.features.shaping import EndCut, end_cut_from_normal
from casewright.design.frames import Frame, Vec, add, cosd, scale, sind, unit
from casewright.design.outlines import Outline, Point2
from casewright.stock.model import Stick

UP: Vec = (0.0, 0.0, 1.0)


def installed(stick: Stick) -> Outline:
    """Return the section as installed."""
    return Outline(vertices=stick.section)


def _turned(stick: Stick) -> tuple[Outline, Point2]:
    c, s = cosd(stick.spring), sind(stick.spring)
    flat = installed(stick).mapped(lambda p: (p[0] * s + p[1] * c, p[0] * c - p[1] * s))
    y0, z0, _, _ = flat.box
    return flat, (y0, z0)


def blank_section(stick: Stick) -> tuple[Outline, float, float]:
    """Return (section in blank y–z, width, thickness) of the stick lying on its back."""
    flat, (y0, z0) = _turned(stick)
    outline = flat.mapped(lambda p: (p[0] - y0, p[1] - z0))
    _, _, width, thick = outline.box
    return outline.canonical_start(), width, thick


def projection(stick: Stick) -> float:
    """Return how far the moulding stands out from the wall, from the drawn section."""
    return installed(stick).box[2]


def drop(stick: Stick) -> float:
    """Return how much of the wall it takes, from the drawn section."""
    _, y0, _, y1 = installed(stick).box
    return y1 - y0


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A straight length of moulding on a wall: foot of the wall line at its start, direction along, outward.

    `out × along` must point up.
    """

    start: Vec
    along: Vec
    out: Vec


def frame_of(stick: Stick, run: Run) -> Frame:
    """Return the frame of a blank mounted on a run, its x = 0 at the run's start.

    The blank's origin is the corner of the box of its turned section.
    """
    c, s = cosd(stick.spring), sind(stick.spring)
    y = unit(add(scale(run.out, s), scale(UP, c)))
    _, (y0, z0) = _turned(stick)
    z = unit(add(scale(run.out, c), scale(UP, -s)))
    return Frame(origin=add(run.start, add(scale(y, y0), scale(z, z0))), x=run.along, y=y)


def thickness_at(section: Outline, y: float) -> float:
    """Return how high a blank's section stands at a place across its width, mm (0 outside it)."""
    points = section.points(0.02)
    crossings = [0.0]
    for i, a in enumerate(points):
        b = points[(i + 1) % len(points)]
        if (a[0] - y) * (b[0] - y) < 0:
            crossings.append(a[1] + (b[1] - a[1]) * (y - a[0]) / (b[0] - a[0]))
    return max(crossings)


def mitre_normal(along: Vec, onward: Vec) -> Vec:
    """Return the unit normal, off the first piece, of the mitre between a run and the run that follows it.

    The mitre plane stands upright on the bisector of the corner.
    """
    return unit(add(along, onward))


def mitre_cut(frame: Frame, blank: Blank, corner: Vec, normal: Vec) -> EndCut:
    """Return the cut of a mounted blank through an upright corner line; `normal` points off the piece."""
    n, c = frame.local_direction(normal), frame.local_point(corner)
    at = c[0] - (n[1] * (blank.width / 2 - c[1]) + n[2] * (blank.thickness / 2 - c[2])) / n[0]
    return end_cut_from_normal(n, at)
