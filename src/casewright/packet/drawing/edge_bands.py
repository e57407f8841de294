"""Banded edges of cut sheets: a dark strip along the edge, so that it is told from the raw edge beside it.

A band is 0.4 to 2 mm thick and would be no more than a line at most scales. It is drawn as thick as it is, and `LEAST`
on paper where that is less; the core's plies then end at it, as they end at the outline where the edge is raw.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from casewright.design.frames import Vec, dot
from casewright.design.parts import Band, Part, Placed
from casewright.packet.drawing.cutting import CutPart, Plane

LEAST = 1.0  # mm on paper
FLAT = 0.2  # sine: an edge that is cut more nearly along its face than that has no strip
FAR = 1e5  # mm: beyond every piece


def band_areas(part: CutPart, plane: Plane, k: float) -> tuple[BaseGeometry, ...]:
    """Return the strips of a cut part that stand for its bands, in the view's mm; `k` is paper : piece."""
    thing = part.placed.thing
    if not isinstance(thing, Part):
        return ()
    strips = (_strip(part, thing, band, plane, max(band.thickness, LEAST / k)) for band in thing.bands)
    return tuple(strip for strip in strips if strip is not None and strip.area > 1e-6)


def _strip(part: CutPart, thing: Part, band: Band, plane: Plane, deep: float) -> BaseGeometry | None:
    """Return what of a cut area lies within `deep` of a banded edge, its band counted in."""
    out, at = _outside(part.placed, thing, band)
    view = plane.view
    flat = np.array((dot(out, view.right), dot(out, view.up)))
    size = float(np.hypot(*flat))
    if size < 1 - FLAT:
        return None
    # The edge in the view: points p with flat · p = reach, less what the plane's own place adds along the normal.
    reach = (dot(at, out) + band.thickness - dot(out, plane.normal) * plane.at - deep) / size
    way = flat / size
    across = np.array((-way[1], way[0]))
    start = way * reach
    beyond = shapely.Polygon(
        [start - across * FAR, start + across * FAR, start + across * FAR + way * FAR, start - across * FAR + way * FAR]
    )
    return part.area.intersection(beyond)


def _outside(placed: Placed, thing: Part, band: Band) -> tuple[Vec, Vec]:
    """Return the direction out of a banded edge of the blank, and a point on it, in the piece's frame."""
    axis, high = band.face.axis, band.face.high
    along = (placed.frame.x, placed.frame.y, placed.frame.z)[axis]
    out: Vec = along if high else (-along[0], -along[1], -along[2])
    corner = [0.0, 0.0, 0.0]
    corner[axis] = thing.blank.size[axis] if high else 0.0
    return out, placed.frame.point((corner[0], corner[1], corner[2]))
