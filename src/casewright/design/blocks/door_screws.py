"""Screws of a door's fittings that go through more than the two parts of their joint."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import Joint
from casewright.design.features.holes import Hole
from casewright.design.joints.base import Detail, Resolution, Site
from casewright.design.joints.screws import ScrewLine
from casewright.design.sites import entry


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughPacking:
    """Screws of a fitting (part a) through a thin block, bored clear, into the wall behind it (part b)."""

    line: ScrewLine
    packing: str

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the screws and bore the block for each."""
        made = self.line.resolve(joint, site)
        holes = []
        for fastener in made.fasteners:
            face, at, _ = entry(site.placed[self.packing], fastener.frame.origin, self.line.drive)
            hole = Hole(face=face, u=at[0], v=at[1], diameter=self.line.screw.clearance, joint=joint.id)
            holes.append((self.packing, hole))
        through = tuple(replace(f, parts=(*f.parts, self.packing)) for f in made.fasteners)
        return replace(made, fasteners=through, features=(*made.features, *holes))


@dataclass(frozen=True, slots=True, kw_only=True)
class IntoTenons:
    """Screws into a glued frame that may meet the tenons inside its stile: `tenons` are the paths of the rails."""

    line: Detail
    tenons: tuple[str, ...]

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Place the screws and name the rails among the parts that they enter."""
        made = self.line.resolve(joint, site)
        return replace(made, fasteners=tuple(replace(f, parts=(*f.parts, *self.tenons)) for f in made.fasteners))
