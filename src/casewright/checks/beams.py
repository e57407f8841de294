"""Beams and plates: how much they bend and what stress they bear. N, mm, MPa throughout.

Source: statics of beams, as in any text (δ = 5wL⁴/384EI and so on); the plate's factors are Timoshenko's, Theory of
Plates and Shells, Table 8 (simply supported, uniform load, ν = 0.3; the row at 2.5 by Navier's series).

Key: w load a mm, L span, E modulus of elasticity, I second moment of area, b width, t thickness (height).
"""

from __future__ import annotations

from itertools import pairwise

GRAVITY = 9.80665  # m/s²
# (b/a, α): greatest deflection = α q a⁴ / D, a the shorter side.
PLATE = (
    (1.0, 0.00406),
    (1.1, 0.00485),
    (1.2, 0.00564),
    (1.3, 0.00638),
    (1.4, 0.00705),
    (1.5, 0.00772),
    (1.6, 0.00830),
    (1.7, 0.00883),
    (1.8, 0.00931),
    (1.9, 0.00974),
    (2.0, 0.01013),
    (2.5, 0.01150),
    (3.0, 0.01223),
    (4.0, 0.01282),
    (5.0, 0.01297),
)
PLATE_MOST = 0.01302  # a strip: 5/384
POISSON = 0.3


def second_moment(width: float, thickness: float) -> float:
    """Return I of a rectangle bent about its width, mm⁴."""
    return width * thickness**3 / 12.0


def sag_uniform(load: float, span: float, stiffness: float) -> float:
    """Return the sag at the middle of a simply supported beam: 5wL⁴/(384EI); `load` N/mm, `stiffness` EI."""
    return 5.0 * load * span**4 / (384.0 * stiffness)


def sag_centre(force: float, span: float, stiffness: float) -> float:
    """Return the sag at the middle under a force there: PL³/(48EI)."""
    return force * span**3 / (48.0 * stiffness)


def sag_cantilever(force: float, reach: float, stiffness: float) -> float:
    """Return how far the end of a cantilever goes down under a force there: PL³/(3EI)."""
    return force * reach**3 / (3.0 * stiffness)


def stress(moment: float, width: float, thickness: float) -> float:
    """Return the greatest bending stress of a rectangle, MPa: 6M/(bt²)."""
    return 6.0 * moment / (width * thickness**2)


def longest_span(load: float, stiffness: float, share: float) -> float:
    """Return the span at which a simply supported beam sags its length / `share`."""
    return float((384.0 * stiffness / (5.0 * load * share)) ** (1.0 / 3.0))


def sag_plate(pressure: float, a: float, b: float, thickness: float, elasticity: float) -> float:
    """Return the sag at the middle of a plate held on four sides: α q a⁴/D, `pressure` in MPa."""
    a, b = min(a, b), max(a, b)
    rigidity = elasticity * thickness**3 / (12.0 * (1.0 - POISSON**2))
    return plate_factor(b / a) * pressure * a**4 / rigidity


def plate_factor(ratio: float) -> float:
    """Return α for a ratio of sides of 1 or more, straight between the table's rows."""
    for (r0, a0), (r1, a1) in pairwise(PLATE):
        if ratio <= r1:
            return a0 + (a1 - a0) * (max(ratio, r0) - r0) / (r1 - r0)
    return PLATE_MOST
