"""How wood takes up moisture from the air, and how it moves.

Key: h relative humidity as a fraction; T temperature in °C; W, K, K1, K2 the constants of the
two-hydrate Hailwood–Horrobin equation. Moisture content (MC) in percent of ovendry mass.
Source: USDA Wood Handbook FPL-GTR-190 (2010), Eq. 4-5 (metric constants after FPL-RN-0268) and Eq. 13-2.
"""

from __future__ import annotations

LEAST_MC, MOST_MC = 6.0, 14.0  # the range in which the coefficients hold
FIBRE_SATURATION = 30.0  # % MC, used by the handbook's formulas


def emc(temperature: float, humidity: float) -> float:
    """Return the equilibrium moisture content in % at `temperature` °C and `humidity` % relative humidity.

    Raises ValueError outside −10 to 100 °C, or where humidity is not from 0 to below 100 %.
    """
    if not -10 <= temperature <= 100:
        raise ValueError(f"the equation holds for -10 to 100 °C, got {temperature}")
    if not 0 <= humidity < 100:
        raise ValueError(f"relative humidity must be from 0 to below 100 %, got {humidity}")
    t, h = temperature, humidity / 100
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 7.36e-4 * t - 2.73e-6 * t * t
    k1 = 6.27 - 9.38e-3 * t - 3.03e-4 * t * t
    k2 = 1.91 + 4.07e-2 * t - 2.93e-4 * t * t
    kh = k * h
    hydrate = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
    return 1800 / w * (kh / (1 - kh) + hydrate)


def movement(size: float, coefficient: float, mc_from: float, mc_to: float) -> float:
    """Return how much `size` (mm, across the grain) grows from `mc_from` to `mc_to` % MC; below zero it shrinks.

    ΔD = D × C × (M_F − M_I); the coefficients hold from 6 to 14 % MC (Eq. 13-2).
    """
    return size * coefficient * (mc_to - mc_from)


def coefficient_from_shrinkage(shrinkage: float, saturation: float = FIBRE_SATURATION) -> float:
    """Return the coefficient per 1 % MC that follows from total `shrinkage` in % green to ovendry.

    C = S/(100 F) / (1 − S (F − 10)/(100 F)), F = `saturation`: the change per 1 % MC, related to the
    size at 10 % MC.
    """
    rate = shrinkage / (100 * saturation)
    return rate / (1 - rate * (saturation - 10))
