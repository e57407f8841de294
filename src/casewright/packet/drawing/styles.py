"""How each role of line looks on paper."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.packet.drawing.primitives import BLACK, LineRole, Tone

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
    LineRole.HATCH: LineStyle(0.13, (), GREY),
    LineRole.HIDDEN: LineStyle(0.18, (1.4, 0.7), GREY),
    LineRole.SEAT: LineStyle(0.18, (3.0, 0.7, 0.5, 0.7, 0.5, 0.7)),  # adjacent parts: long dash, two short ones
    LineRole.TRAIL: LineStyle(0.18, (2.4, 0.8, 0.4, 0.8), GREY),
    LineRole.VISIBLE: LineStyle(0.25),
    LineRole.BEYOND: LineStyle(0.25),
    LineRole.OUTLINE: LineStyle(0.5),
    LineRole.SECTION: LineStyle(0.7),
    LineRole.PLANE: LineStyle(0.5, (5.0, 1.2, 1.0, 1.2)),
    LineRole.CUT: LineStyle(0.35),
    LineRole.CENTRE: LineStyle(0.18, (4.0, 0.8, 0.6, 0.8)),
    LineRole.EXTENSION: LineStyle(0.18),
    LineRole.DIMENSION: LineStyle(0.18),
    LineRole.HIDDEN_LEADER: LineStyle(0.18, (1.0, 0.6)),
    LineRole.LEADER: LineStyle(0.18),
}

# Measured drawings have two widths, thick : thin = 2 : 1 (ISO 128-2, ASME Y14.2); pictures keep theirs.
THICK = (LineRole.OUTLINE, LineRole.SECTION, LineRole.PLANE)
THIN = (LineRole.EXTENSION, LineRole.DIMENSION, LineRole.LEADER, LineRole.BEYOND, LineRole.HATCH)


def style_of(role: LineRole, thick: float) -> LineStyle:
    """Return how a role looks in a drawing whose thick lines are `thick` mm wide."""
    style = STYLES[role]
    if role in THICK:
        return replace(style, width=thick)
    return replace(style, width=thick / 2) if role in THIN else style
