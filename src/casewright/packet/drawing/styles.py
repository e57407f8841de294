"""How each role of line looks on paper."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.packet.drawing.primitives import LineRole, Tone

BLACK: Tone = (0, 0, 0)
GREY: Tone = (110, 110, 110)


@dataclass(frozen=True, slots=True)
class LineStyle:
    """Width in mm, dash pattern in mm (empty: solid), tone."""

    width: float
    dash: tuple[float, ...] = ()
    tone: Tone = BLACK


# Widths step by about √2 and hidden, centre and trail lines have their own dash, as ISO 128-2 asks.
STYLES: dict[LineRole, LineStyle] = {
    LineRole.GRAIN: LineStyle(0.13, (), GREY),
    LineRole.HIDDEN: LineStyle(0.18, (1.4, 0.7), GREY),
    LineRole.TRAIL: LineStyle(0.18, (2.4, 0.8, 0.4, 0.8), GREY),
    LineRole.VISIBLE: LineStyle(0.25),
    LineRole.CUT: LineStyle(0.35),
    LineRole.CENTRE: LineStyle(0.18, (4.0, 0.8, 0.6, 0.8)),
    LineRole.DIMENSION: LineStyle(0.18),
    LineRole.HIDDEN_LEADER: LineStyle(0.18, (1.0, 0.6)),
    LineRole.LEADER: LineStyle(0.18),
}
