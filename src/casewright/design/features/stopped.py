"""Rabbets, grooves, dadoes and half laps as a maker gives them: from an edge or an end, right through or stopped.

`stop0` and `stop1` are what stays uncut at the low and the high end of the cut's run (nearer to end0 or edge0 is
low); 0 is right through.
"""

from __future__ import annotations

from typing import TypeAlias, TypeVar

from casewright.design.blanks import Blank, Face
from casewright.design.features.cuts import Dado, Groove, HalfLap, Rabbet, RectCut

Cut = TypeVar("Cut", bound=RectCut)
Span: TypeAlias = tuple[float, float]


def rabbet(
    blank: Blank, face: Face, side: Face, width: float, depth: float, stop0: float = 0.0, stop1: float = 0.0
) -> Rabbet:
    """Return the rabbet in `face` along its border with `side`: `width` from the side, `depth` from the face.

    Raises ValueError where the two are not neighbours.
    """
    cross = _place(blank, face, side, 0.0, width)
    return _cut(Rabbet, blank, face, side.axis, cross, (stop0, stop1), depth)


def groove(
    blank: Blank,
    face: Face,
    side: Face,
    distance: float,
    width: float,
    depth: float,
    stop0: float = 0.0,
    stop1: float = 0.0,
) -> Groove:
    """Return the groove in `face` along `side`, its near wall `distance` from it.

    Raises ValueError where the two are not neighbours.
    """
    cross = _place(blank, face, side, distance, width)
    return _cut(Groove, blank, face, side.axis, cross, (stop0, stop1), depth)


def dado(
    blank: Blank, face: Face, at: float, width: float, depth: float, stop0: float = 0.0, stop1: float = 0.0
) -> Dado:
    """Return the dado across `face`, its near wall `at` from end0. Raises ValueError for an end."""
    cross = _place(blank, face, Face.END0, at, width)
    return _cut(Dado, blank, face, 0, cross, (stop0, stop1), depth)


def half_lap(blank: Blank, face: Face, at: float, length: float, depth: float) -> HalfLap:
    """Return the half lap across `face`, from `at` to `at + length` mm from end0. Raises ValueError for an end."""
    cross = _place(blank, face, Face.END0, at, length)
    return _cut(HalfLap, blank, face, 0, cross, (0.0, 0.0), depth)


def _place(blank: Blank, face: Face, side: Face, distance: float, width: float) -> Span:
    """Return the span of a cut across its run, from the origin corner."""
    if side.axis not in face.uv_axes:
        raise ValueError(f"{side.value} does not border {face.value}")
    size = blank.size[side.axis]
    return (size - distance - width, size - distance) if side.high else (distance, distance + width)


def _cut(kind: type[Cut], blank: Blank, face: Face, axis: int, cross: Span, stops: Span, depth: float) -> Cut:
    """Return a cut that takes `cross` of one axis of its face and runs along the other."""
    u, v = face.uv_axes
    run = (stops[0], blank.size[v if axis == u else u] - stops[1])
    (u0, u1), (v0, v1) = (cross, run) if axis == u else (run, cross)
    return kind(face=face, u0=u0, u1=u1, v0=v0, v1=v1, depth=depth)
