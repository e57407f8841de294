"""Where a drawer box stands: what its walls, bottom, slides and front share."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.sites import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """Where a drawer box stands: spans of the whole box, the thickness of its walls and bottom, mm.

    `groove_up` is where the bottom lies above the box's lower edge; `back_low` the z of the back's lower edge, which
    a solid bottom passes under.
    """

    name: str
    x: Span
    y: Span
    z: Span
    wood: float
    bottom: float
    groove_up: float
    back_low: float

    @property
    def middle(self) -> float:
        """Where its middle lies across, mm."""
        return (self.x[0] + self.x[1]) / 2

    @property
    def depth(self) -> float:
        """Front to back."""
        return self.y[1] - self.y[0]

    def outer(self, sign: int, inset: float = 0.0) -> float:
        """Return the x of its left (−1) or right (1) outer face, or a plane `inset` mm inside it."""
        return self.x[0] + inset if sign < 0 else self.x[1] - inset
