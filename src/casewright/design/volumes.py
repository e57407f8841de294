"""The few kinds of volume that every feature is lowered to.

Solids, STEP files and collision tests know these and nothing else. All are given in the frame of
the blank (or of the hardware item), in millimetres, with an analytic `volume` in mm³ where they
are bounded.
"""

from __future__ import annotations

import math
from typing import TypeAlias

from casewright.design.frames import Frame
from casewright.design.outlines import Outline
from casewright.units.grid import record


@record
class Prism:
    """`outline` in the x–y plane of `frame`, pushed `height` along the frame's z."""

    frame: Frame
    outline: Outline
    height: float

    def validate(self) -> None:
        """Refuse a flat prism."""
        if self.height <= 0:
            raise ValueError(f"a prism needs a height above 0, got {self.height}")

    @property
    def volume(self) -> float:
        """Area times height."""
        return self.outline.area * self.height


@record
class Cone:
    """A cylinder, cone or frustum on the frame's z axis: radius `r0` at z = 0, `r1` at z = `height`."""

    frame: Frame
    r0: float
    r1: float
    height: float

    def validate(self) -> None:
        """Refuse a flat cone or negative radii."""
        if self.height <= 0 or self.r0 < 0 or self.r1 < 0 or self.r0 + self.r1 <= 0:
            raise ValueError(f"a cone needs a height and a radius above 0, got {self.height}, {self.r0}, {self.r1}")

    @property
    def volume(self) -> float:
        """π h (r0² + r0 r1 + r1²) / 3."""
        return math.pi * self.height * (self.r0**2 + self.r0 * self.r1 + self.r1**2) / 3


@record
class HalfSpace:
    """Everything on the positive z side of `frame`'s x–y plane (used only to remove)."""

    frame: Frame


@record
class Loft:
    """The straight blend of two outlines with equally many straight sides, `height` apart along z."""

    frame: Frame
    lower: Outline
    upper: Outline
    height: float

    def validate(self) -> None:
        """Refuse outlines that do not pair up side by side."""
        same = len(self.lower.vertices) == len(self.upper.vertices)
        if not same or any(v[2] for v in self.lower.vertices + self.upper.vertices) or self.height <= 0:
            raise ValueError("a loft needs two straight-sided outlines with equally many sides, and a height")

    @property
    def volume(self) -> float:
        """Prismatoid formula (exact: every section is a linear blend)."""
        mid = Outline(
            vertices=tuple(
                ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, 0.0)
                for a, b in zip(self.lower.vertices, self.upper.vertices, strict=True)
            )
        )
        return self.height * (self.lower.area + 4 * mid.area + self.upper.area) / 6


Volume: TypeAlias = Prism | Cone | HalfSpace | Loft


@record
class Lowered:
    """A part as volumes: `base` plus `additions` less `removals`, all in the blank's frame."""

    base: tuple[Volume, ...]
    removals: tuple[Volume, ...] = ()
    additions: tuple[Volume, ...] = ()
