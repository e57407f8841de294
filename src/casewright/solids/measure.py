"""Volumes and masses.

Planes are exact and every arc is replaced by facets of the same area, so a volume is exact wherever
a curved surface is whole or cut square to its axis. Elsewhere facets are at most 0.01 mm from the
arc and lie on both sides of it: the error is below 0.01 mm × the area of the curved surface.
"""

from __future__ import annotations

from casewright.cache import Cache
from casewright.design.parts import Hardware, Part
from casewright.design.volumes import Cone, Lowered, Prism
from casewright.solids.evaluate import solid, solid_of, straight


def volume_of(thing: Part | Hardware, cache: Cache) -> float:
    """Return the volume of a part or of a hardware item's bodies, mm³."""
    return cache.made("volume", thing.key, lambda: _volume(thing, cache))


def mass_of(thing: Part | Hardware, cache: Cache) -> float:
    """Return the mass in kg: volume × density for a part, the listed mass for hardware."""
    if isinstance(thing, Hardware):
        return thing.mass
    return volume_of(thing, cache) * 1e-9 * thing.mass_density


def _volume(thing: Part | Hardware, cache: Cache) -> float:
    lowered = thing.lowered()
    body = solid_of(lowered, equal_area=True) if _curved(lowered) else solid(thing, cache)
    return float(body.body.volume())


def _curved(lowered: Lowered) -> bool:
    volumes = lowered.base + lowered.removals + lowered.additions
    return any(isinstance(v, Cone) or (isinstance(v, Prism) and not straight(v.outline)) for v in volumes)
