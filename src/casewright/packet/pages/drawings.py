"""A picture as a page takes it: lines and areas as SVG, texts apart, so that the page sets them in its own type."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.packet.drawing.primitives import Picture, Text
from casewright.packet.drawing.svg import svg_of


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnText:
    """A text on a drawing: mm from the upper left corner, size in mm, "start", "middle" or "end", degrees."""

    x: float
    y: float
    text: str
    size: float
    anchor: str
    turn: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing on a page, mm; `alt` says in words what it shows."""

    svg: str
    width: float
    height: float
    alt: str
    texts: tuple[DrawnText, ...]


def drawing_of(picture: Picture) -> Drawing:
    """Return a picture as a page takes it."""
    lines = replace(picture, items=tuple(i for i in picture.items if not isinstance(i, Text)), alt="")
    texts = tuple(_text(i, picture.height) for i in picture.items if isinstance(i, Text))
    return Drawing(svg=svg_of(lines), width=picture.width, height=picture.height, alt=picture.alt, texts=texts)


def _text(item: Text, height: float) -> DrawnText:
    return DrawnText(
        x=round(item.at[0], 3),
        y=round(height - item.at[1], 3),
        text=item.text,
        size=round(item.size, 3),
        anchor=item.anchor.value,
        turn=item.turn,
    )
