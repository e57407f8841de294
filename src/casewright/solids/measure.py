"""Volumes and masses.

Planes are exact and every arc is replaced by facets of the same area, so a volume is exact wherever
a curved surface is whole or cut square to its axis. Elsewhere facets are at most 0.01 mm from the
arc and lie on both sides of it: the error is below 0.01 mm × the area of the curved surface.
"""

from __future__ import annotations

from casewright.cache import Cache
from casewright.design.parts import Hardware, Part
from casewright.solids.evaluate import solid


def volume_of(thing: Part | Hardware, cache: Cache) -> float:
    """Return the volume of a part or of a hardware item's bodies, mm³."""
    return float(solid(thing, cache).body.volume())


def mass_of(thing: Part | Hardware, cache: Cache) -> float:
    """Return the mass in kg: volume × density for a part, the listed mass for hardware."""
    if isinstance(thing, Hardware):
        return thing.mass
    return volume_of(thing, cache) * 1e-9 * thing.mass_density
