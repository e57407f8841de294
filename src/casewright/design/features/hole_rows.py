"""Rows of equal holes: shelf-pin holes, dowel holes, the 32 mm system."""

from __future__ import annotations

from dataclasses import field

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.holes import Hole
from casewright.design.volumes import Volume
from casewright.units.grid import record


@record
class HoleRow:
    """`count` holes square to `face`, `pitch` apart; the one nearest to the origin is at (u, v).

    `along` is the blank's axis that the row runs along (0 x, 1 y, 2 z). `depth` None is right through.
    """

    face: Face
    u: float
    v: float
    along: int
    count: int
    pitch: float
    diameter: float
    depth: float | None = None
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a row that is none, or that does not run along its face."""
        if self.along not in self.face.uv_axes or self.count < 2 or self.pitch <= 0:
            raise ValueError("a row of holes runs along its face and has two or more, a pitch apart")
        if self.diameter <= 0 or (self.depth is not None and self.depth <= 0):
            raise ValueError(f"holes need a diameter and depth above 0, got {self.diameter}, {self.depth}")

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """Where the holes are, (u, v) of each."""
        first = self.along == self.face.uv_axes[0]
        steps = [i * self.pitch for i in range(self.count)]
        return tuple((self.u + s, self.v) if first else (self.u, self.v + s) for s in steps)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The holes one by one."""
        return tuple(
            Hole(face=self.face, u=u, v=v, diameter=self.diameter, depth=self.depth, made_at=self.made_at)
            for u, v in self.places
        )

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """The shaft of each hole."""
        return tuple(volume for hole in self.holes for volume in hole.lower(blank))

    def carry(self, turn: Turn, blank: Blank) -> HoleRow:
        """Carry both ends; the row starts from the one that is now nearer to the origin."""
        u, v = min(turn.place(self.face, place, blank) for place in (self.places[0], self.places[-1]))
        return HoleRow(
            face=turn.face(self.face),
            u=u,
            v=v,
            along=turn.order.index(self.along),
            count=self.count,
            pitch=self.pitch,
            diameter=self.diameter,
            depth=self.depth,
            made_at=self.made_at,
            joint=self.joint,
        )

    def describe(self) -> str:
        """The trade's name."""
        return "row of holes"


def pin_rows(
    face: Face, x: tuple[float, float], y: tuple[float, ...], diameter: float, depth: float, pitch: float = 32.0
) -> tuple[HoleRow, ...]:
    """Return rows of shelf-pin holes along the grain: as many as fit from x[0] to x[1], one row at each of `y`.

    Raises ValueError where not even two fit.
    """
    count = int((x[1] - x[0] + 1e-6) // pitch) + 1
    return tuple(
        HoleRow(face=face, u=x[0], v=v, along=0, count=count, pitch=pitch, diameter=diameter, depth=depth) for v in y
    )


def spread(length: float, inset: float, spacing: float) -> tuple[float, ...]:
    """Return places along a joint of `length`: the outer ones `inset` from its ends, at most `spacing` apart.

    One in the middle where there is no room for two.
    """
    between = length - 2 * inset
    if between <= 1e-6:
        return (length / 2,)
    gaps = max(1, -int(-(between - 1e-6) // spacing))
    return tuple(inset + between * i / gaps for i in range(gaps + 1))
