"""What the blocks of a door share: its specification, and the leaf as a box."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.sites import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSpec:
    """What the order says of one door, mm: gap around its wood, member widths, hinges.

    `hinge` is the side that they are on (−1 left), `host` the frame member that they sit on.
    """

    gap: float
    stile: float
    rail: float
    hinge: int
    hinges: int
    host: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The door as a box: its name, spans, thickness, groove."""

    g: str
    x: Span
    z: Span
    t: float
    groove: float
    depth: float

    @property
    def middle(self) -> float:
        """Where its middle lies across, mm."""
        return (self.x[0] + self.x[1]) / 2

    def outer(self, sign: int, inset: float = 0.0) -> float:
        """Return the x of its left (−1) or right (1) edge, or a line `inset` mm inside it."""
        return self.x[0] + inset if sign < 0 else self.x[1] - inset
