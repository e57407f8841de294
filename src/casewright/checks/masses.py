"""Masses and centres of gravity, from the solids: parts by density, hardware by its listed mass.

Solids are cut as they will be; a centroid is that of the closed mesh (the sum of its tetrahedra). mm and kg.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Vec, add, rotation_about, scale, sub
from casewright.design.parts import Hardware, Part, Placed
from casewright.solids.evaluate import placed_points, solid, solid_mesh


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass in kg with its centre of gravity, mm in the piece."""

    mass: float
    centre: Vec

    def moved(self, by: Vec) -> Mass:
        """Return it moved."""
        return Mass(mass=self.mass, centre=add(self.centre, by))

    def turned(self, origin: Vec, axis: Vec, degrees: float) -> Mass:
        """Return it turned about a line."""
        turn = rotation_about(axis, degrees)
        return Mass(mass=self.mass, centre=add(origin, turn.direction(sub(self.centre, origin))))


@dataclass(frozen=True, slots=True)
class Volumed:
    """Volume in mm³ and centroid of a thing in its own frame."""

    volume: float
    centroid: Vec


def total(masses: Iterable[Mass]) -> Mass:
    """Return the sum of masses with their common centre; nothing weighs 0 at the origin."""
    mass, moment = 0.0, (0.0, 0.0, 0.0)
    for m in masses:
        mass += m.mass
        moment = add(moment, scale(m.centre, m.mass))
    return Mass(mass=mass, centre=scale(moment, 1.0 / mass) if mass > 0 else (0.0, 0.0, 0.0))


def volumed(thing: Part | Hardware, cache: Cache) -> Volumed:
    """Return volume and centroid of a thing's solid."""

    def measure() -> Volumed:
        points, triangles = solid_mesh(thing, cache)
        a, b, c = (points[triangles[:, i]] for i in range(3))
        bx, by, bz = b.T
        cx, cy, cz = c.T
        sixfold = a[:, 0] * (by * cz - bz * cy) + a[:, 1] * (bz * cx - bx * cz) + a[:, 2] * (bx * cy - by * cx)
        whole = float(sixfold.sum())
        if abs(whole) < 1e-9:
            return Volumed(0.0, (0.0, 0.0, 0.0))
        middle = sixfold @ (a + b + c) / (4.0 * whole)
        return Volumed(whole / 6.0, (float(middle[0]), float(middle[1]), float(middle[2])))

    return cache.made("centroid", thing.key, measure)


def masses(piece: PieceDesign, cache: Cache) -> dict[str, Mass]:
    """Return the mass of every placed thing of a piece by its path."""
    out = {}
    for placed in piece.placed:
        own = volumed(placed.thing, cache)
        if isinstance(placed.thing, Part):
            mass = own.volume * 1e-9 * placed.thing.mass_density
        else:
            mass = placed.thing.mass
        out[placed.path] = Mass(mass=mass, centre=placed.frame.point(own.centroid))
    return out


@dataclass(frozen=True, slots=True)
class Stand:
    """The lines on the floor about which a piece tips: y of the front and of the rear one, and the floor's z."""

    front: float
    rear: float
    floor: float


def stand(piece: PieceDesign, cache: Cache) -> Stand | None:
    """Return where a piece stands: what lies within 1 mm of its lowest point. None for a piece without parts."""
    low = {p.path: _lowest(p, cache) for p in piece.placed}
    if not low:
        return None
    floor = min(low.values())
    fronts, rears = [], []
    for placed in piece.placed:
        if low[placed.path] < floor + 1.0:
            at = placed_points(solid_mesh(placed.thing, cache)[0], placed.frame)
            down = at[at[:, 2] < floor + 1.0]
            if len(down):
                fronts.append(float(down[:, 1].min()))
                rears.append(float(down[:, 1].max()))
    return Stand(min(fronts), max(rears), floor) if fronts else None


def _lowest(placed: Placed, cache: Cache) -> float:
    """Return the lowest z of the box of a placed thing."""
    s = solid(placed.thing, cache)
    z = placed.frame.point((0.0, 0.0, 0.0))[2]
    axes = (placed.frame.x[2], placed.frame.y[2], placed.frame.z[2])
    return z + sum(min(s.low[i] * axes[i], s.high[i] * axes[i]) for i in range(3))
