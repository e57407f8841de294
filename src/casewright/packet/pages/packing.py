"""Drawings onto pages: side by side in strips, strips below each other, nearly in the order in which they come."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from casewright.packet.pages.drawings import Drawing

APART, BESIDE = 9.0, 8.0  # mm between two drawings, one below the other and side by side
TITLE = 13.0  # mm that the title takes on the first page
LOOK_BACK = 6  # strips or pages that a drawing may go back to, where it fits
HIGHER = 1.3  # a drawing may be this much higher than what it is put beside


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing with its bookmark."""

    name: str
    drawing: Drawing


Strip = tuple[Figure, ...]  # side by side


@dataclass(frozen=True, slots=True, kw_only=True)
class FigurePages:
    """Drawings page by page, each page strips of figures; distances in mm."""

    apart: float
    beside: float
    pages: tuple[tuple[Strip, ...], ...]


@dataclass(slots=True)
class _Strip:
    """A strip while it is filled."""

    figures: list[Figure]

    @property
    def width(self) -> float:
        return sum(f.drawing.width + BESIDE for f in self.figures) - BESIDE

    @property
    def height(self) -> float:
        return max(f.drawing.height for f in self.figures)

    def takes(self, figure: Figure, width: float) -> bool:
        beside = self.width + BESIDE + figure.drawing.width <= width
        return beside and figure.drawing.height <= self.height * HIGHER


@dataclass(slots=True)
class _Page:
    """A page while it is filled: mm that are left on it."""

    room: float
    strips: list[_Strip] = field(default_factory=list)


def packed(figures: Iterable[Figure], inside: tuple[float, float]) -> FigurePages:
    """Return drawings packed onto pages of (width, height) mm, a title on the first one."""
    strips: list[_Strip] = []
    for figure in figures:
        strip = next((s for s in strips[-LOOK_BACK:] if s.takes(figure, inside[0])), None)
        if strip is None:
            strips.append(_Strip([figure]))
        else:
            strip.figures.append(figure)
    pages = [_Page(inside[1] - TITLE)]
    for strip in strips:
        page = next((p for p in pages[-LOOK_BACK:] if p.room >= strip.height), None)
        if page is None:
            page = _Page(inside[1])
            pages.append(page)
        page.strips.append(strip)
        page.room -= strip.height + APART
    whole = tuple(tuple(tuple(s.figures) for s in p.strips) for p in pages if p.strips)
    return FigurePages(apart=APART, beside=BESIDE, pages=whole)
