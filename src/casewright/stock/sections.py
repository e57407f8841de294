"""Is a loop a sound outline, of a size that can be; and how a drawn profile is put to its wall."""

from __future__ import annotations

import math

from casewright.stock.loops import Loop, backwards, loop_area, loop_box, loop_points, moved, sides

SAME_POINT = 1e-3  # mm
LEAST_PROFILE, MOST_PROFILE = 2.0, 400.0  # mm, either way
MOST_BULGE = 50.0  # nearer to a full circle than 4.6°, no drawing means an arc


def sound_loop(loop: Loop) -> Loop:
    """Return the loop, counter-clockwise. Raises ValueError where it is no plain closed outline."""
    if len(loop) < 2 or (len(loop) == 2 and not any(k for *_, k in loop)):
        raise ValueError(f"an outline needs three points, or two and an arc; got {len(loop)}")
    for number, (a, b, k) in enumerate(sides(loop), 1):
        if math.dist(a, b) < SAME_POINT:
            raise ValueError(f"points {number} and {number % len(loop) + 1} are the same ({a[0]:g}, {a[1]:g})")
        if abs(k) > MOST_BULGE:
            raise ValueError(
                f"point {number} has the bulge {k:g}; expected tan(θ/4) of its arc, such as 0.4142 for 90°"
            )
    crossing = _crossing(loop)
    if crossing:
        raise ValueError(f"the outline crosses or touches itself {crossing}")
    area = loop_area(loop)
    if abs(area) < SAME_POINT:
        raise ValueError("the outline encloses nothing")
    return loop if area > 0 else backwards(loop)


def profile(loop: Loop) -> Loop:
    """Return a drawn profile as a stick's section: counter-clockwise, its back on x = 0, its lower edge on y = 0.

    Raises ValueError where it is not sound, or of a size that no moulding has.
    """
    sound = sound_loop(loop)
    x0, y0, x1, y1 = loop_box(sound)
    for size in (x1 - x0, y1 - y0):
        if not LEAST_PROFILE <= size <= MOST_PROFILE:
            raise ValueError(
                f"the profile is {x1 - x0:.4g} × {y1 - y0:.4g} mm; expected {LEAST_PROFILE:g} to {MOST_PROFILE:g} mm "
                "either way; check its unit"
            )
    return moved(sound, -x0, -y0)


def _crossing(loop: Loop) -> str:
    """Return where the loop crosses itself, or an empty text. Arcs are looked at as polygons within 0.01 mm."""
    from shapely import Polygon  # only where a user draws an outline
    from shapely.validation import explain_validity

    points = loop_points(loop)
    if len(points) < 3:
        return ""
    said = explain_validity(Polygon(points))
    return "" if said == "Valid Geometry" else f"at {said[said.find('[') + 1 : -1]}" if "[" in said else "somewhere"
