"""What the blocks of a door share: its specification, and the leaf as a box."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.sites import Span

IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSpec:
    """What the order says of one door, mm: gap around its wood, member widths, `hinge` side (−1 left)."""

    gap: float
    stile: float
    rail: float
    hinge: int
    hinges: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The door as a box: its name, spans, thickness, groove."""

    g: str
    x: Span
    z: Span
    t: float
    groove: float
    depth: float


def hand_of(sign: int) -> str:
    """Return the name of a side."""
    return "left" if sign < 0 else "right"
