"""Where profiles, grooves and leaning planes run out on a broad face: lines for an outline at full size.

A sawn or planed plane meets the face in one line; a profile along an edge ends on the face at a distance from it; a
cove or V-groove across the face has two borders. Where such a cut runs along the thickness (a rounded corner, a hollow
in an edge) its section lies in the face, and its true arc is given.

Places are (x, y) of the blank in mm, with the bulge of the way to the next (DXF: tan of a quarter of its angle).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.design.blanks import Blank, Face
from casewright.design.features.base import Feature
from casewright.design.features.edges import EdgeProfile, RipBevel, VGroove
from casewright.design.features.shaping import Cove, EndCut, Taper
from casewright.design.volumes import HalfSpace

EPS = 1e-6

Place = tuple[float, float, float]  # x, y, bulge


@dataclass(frozen=True, slots=True)
class RunOut:
    """A run of lines and arcs on a face, and its layer, which says what is made and how deep."""

    layer: str
    places: tuple[Place, ...]


def run_outs(feature: Feature, blank: Blank, face: Face) -> Iterator[RunOut]:
    """Give what a feature leaves on a broad face beside its outline; nothing for what is shown otherwise."""
    match feature:
        case EndCut() if not feature.bevel:
            return  # square to the face: the outline has it
        case Taper() if feature.face.axis == 1:
            return
        case EndCut() | RipBevel() | Taper():
            yield from _plane(feature, blank, face)
        case EdgeProfile():
            yield from _profile(feature, blank, face)
        case VGroove() if feature.face is face:
            name = layer_name(f"V-groove {feature.depth:.3f} deep {feature.angle:g}deg")
            stops = (feature.stop0, feature.stop1)
            for at in (feature.at - feature.width / 2, feature.at, feature.at + feature.width / 2):
                yield RunOut(name, _along(blank, feature.along, at, stops))
        case Cove() if feature.face is face:
            name = layer_name(f"cove R{feature.radius:.3f} {feature.depth:.3f} deep")
            for at in (feature.at - feature.width / 2, feature.at + feature.width / 2):
                yield RunOut(name, _along(blank, 1, at, (0.0, 0.0)))
        case Cove() if feature.face.axis == 1:
            yield _hollow(feature, blank)
        case _:
            return


def layer_name(words: str) -> str:
    """Return words as the name of a DXF layer."""
    return re.sub(r"[^A-Z0-9.]+", "_", words.upper()).strip("_")


def _along(blank: Blank, axis: int, at: float, stops: tuple[float, float]) -> tuple[Place, ...]:
    """Return a line along an axis of the face, at a place on its other one; it keeps off the ends by `stops`."""
    low, high = stops[0], blank.size[axis] - stops[1]
    return ((low, at, 0.0), (high, at, 0.0)) if axis == 0 else ((at, low, 0.0), (at, high, 0.0))


def _plane(feature: EndCut | RipBevel | Taper, blank: Blank, face: Face) -> Iterator[RunOut]:
    """Give the line in which a sawn plane meets a face, within the blank."""
    z = blank.thickness if face.high else 0.0
    for volume in feature.lower(blank):
        assert isinstance(volume, HalfSpace)  # what end cuts, bevels and tapers are
        n, o = volume.frame.z, volume.frame.origin
        ends = _clipped(n[0], n[1], n[0] * o[0] + n[1] * o[1] + n[2] * (o[2] - z), blank)
        if ends is not None:
            yield RunOut(layer_name(f"run-out {feature.describe()}"), ends)


def _clipped(a: float, b: float, c: float, blank: Blank) -> tuple[Place, ...] | None:
    """Return the line a x + b y = c within the blank's face, from its lower x (or y) on; None where it passes by."""
    size = math.hypot(a, b)
    if size < EPS:
        return None
    at, way = (a * c / size**2, b * c / size**2), (b / size, -a / size)
    low, high = -math.inf, math.inf
    for i, most in ((0, blank.length), (1, blank.width)):
        if abs(way[i]) < EPS:
            if not -EPS <= at[i] <= most + EPS:
                return None
            continue
        reach = sorted(((0.0 - at[i]) / way[i], (most - at[i]) / way[i]))
        low, high = max(low, reach[0]), min(high, reach[1])
    if high - low < EPS:
        return None
    one, two = ((round(at[0] + t * way[0], 9), round(at[1] + t * way[1], 9), 0.0) for t in (low, high))
    return (one, two) if (one[0], one[1]) <= (two[0], two[1]) else (two, one)


def _profile(feature: EdgeProfile, blank: Blank, face: Face) -> Iterator[RunOut]:
    """Give the line where an edge profile ends on a face, or its section where it runs along the thickness."""
    run, drop = feature.sizes
    if 2 not in (feature.face.axis, feature.side.axis):
        yield RunOut(layer_name(f"{feature.shape} section"), _corner_section(feature, blank))
        return
    if face is feature.face:
        border, reach, deep = feature.side, run, drop
    elif face is feature.side:
        border, reach, deep = feature.face, drop, run
    else:
        return
    at = blank.size[border.axis] - reach if border.high else reach
    name = layer_name(f"run-out {feature.shape} {deep:.3f} deep")
    yield RunOut(name, _along(blank, 1 - border.axis, at, (feature.stop0, feature.stop1)))


def _corner_section(feature: EdgeProfile, blank: Blank) -> tuple[Place, ...]:
    """Return the curve of a corner that is shaped along the thickness."""
    out = []
    for a, b, bulge in feature.curve:
        at = [0.0, 0.0]
        for border, inward in ((feature.side, a), (feature.face, b)):
            at[border.axis] = blank.size[border.axis] - inward if border.high else inward
        out.append((at[0], at[1], bulge))
    turned = (feature.side.axis == 1) != (feature.side.high != feature.face.high)
    return tuple((x, y, -bulge if turned else bulge) for x, y, bulge in out)


def _hollow(cove: Cove, blank: Blank) -> RunOut:
    """Return the arc of a hollow across an edge, as a face shows it."""
    half = cove.width / 2
    edge = blank.width if cove.face.high else 0.0
    angle = 2 * math.asin(min(1.0, half / cove.radius))
    bulge = math.tan(angle / 4)
    arc = ((cove.at - half, edge, bulge if cove.face.high else -bulge), (cove.at + half, edge, 0.0))
    return RunOut(layer_name(f"cove R{cove.radius:.3f} section"), arc)
