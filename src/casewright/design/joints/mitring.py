"""Mitred corners of boards: the cuts, and the slots of a spline.

Common practice: the spline lies nearer to the inner corner, where the wood behind it is deepest.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.features.base import Feature
from casewright.design.features.mitres import MitreSlot
from casewright.design.features.shaping import EndCut
from casewright.design.frames import Vec, sind
from casewright.design.parts import Placed
from casewright.design.sections import mitre_cut

INNER_SHARE = 0.35  # place of a spline on the mitred face, from the inner corner, as a share of its width


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreEnd:
    """The mitred end of one board: its cut, and the slot in it where there is a spline."""

    placed: Placed
    cut: EndCut
    slot: MitreSlot | None = None

    @property
    def features(self) -> tuple[tuple[str, Feature], ...]:
        """Cut and slot, by path."""
        cuts: tuple[Feature, ...] = (self.cut,) if self.slot is None else (self.cut, self.slot)
        return tuple((self.placed.path, c) for c in cuts)

    @property
    def mouth(self) -> Vec:
        """The middle of the slot's mouth, piece frame. Raises ValueError where there is none."""
        if self.slot is None:
            raise ValueError(f"{self.placed.path} has no slot for a spline")
        return self.placed.frame.point(self.slot.axis(self.placed.part.blank)[0])


def mitred_end(placed: Placed, corner: Vec, normal: Vec, joint: str = "") -> MitreEnd:
    """Return the mitred end of a board; the cut passes through the line at `corner`, `normal` points off the wood."""
    cut = mitre_cut(placed.frame, placed.part.blank, corner, normal)
    return MitreEnd(placed=placed, cut=replace(cut, joint=joint))


def with_slot(end: MitreEnd, inner: Vec, width: float, depth: float, joint: str = "") -> MitreEnd:
    """Return the end with a slot right through for a spline, near the board's side that faces `inner`."""
    side = end.placed.face_towards(inner)
    thickness = end.placed.part.blank.size[side.axis]
    slot = MitreSlot(
        face=end.cut.face,
        at=end.cut.at,
        mitre=end.cut.mitre,
        bevel=end.cut.bevel,
        level=side,
        offset=INNER_SHARE * mitre_width(thickness, 90.0 - abs(end.cut.mitre or end.cut.bevel)),
        width=width,
        depth=depth,
        joint=joint,
    )
    return replace(end, slot=slot)


def mitre_width(thickness: float, half_angle: float) -> float:
    """Return how wide a mitred face is, where the mitre stands at `half_angle` degrees to the board's side."""
    return thickness / sind(half_angle)
