"""Drawings onto pages: each on the first page that has room for it, as high up as it fits, nearly in their order.

What a page has taken is kept as a skyline (the lower border of what stands, as steps from left to right), which leaves
no room unseen that is open from below. A drawing that is wider than all room beside others starts further down; one
that no page has room for starts a page.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from casewright.packet.pages.drawings import Drawing

APART, BESIDE = 7.0, 8.0  # mm between two drawings, one below the other and side by side
TITLE = 14.0  # mm that the title takes on the first page
LOOK_BACK = 12  # pages that a drawing may go back to, where it fits
SLACK = 0.01  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing with its bookmark."""

    name: str
    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedFigure:
    """A figure on a page: mm to the right and down from the upper left of what the page shows."""

    x: float
    y: float
    name: str
    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class FigurePage:
    """One page, read from above; `height` is how far down its figures reach, mm."""

    height: float
    figures: tuple[PlacedFigure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FigurePages:
    """Drawings page by page."""

    pages: tuple[FigurePage, ...]


@dataclass(slots=True)
class _Page:
    """A page while it is filled. The skyline has steps (from x, y down to which it is taken), to `width`."""

    width: float
    height: float
    steps: list[tuple[float, float]]
    figures: list[PlacedFigure] = field(default_factory=list)

    def take(self, figure: Figure) -> bool:
        """Place a figure as high as it fits, of equal places the leftmost; return False where none fits."""
        place = self.place(figure)
        if place is None:
            return False
        y, x = place
        self.figures.append(PlacedFigure(x=x, y=y, name=figure.name, drawing=figure.drawing))
        self._raise(x, x + figure.drawing.width + BESIDE, y + figure.drawing.height + APART)
        return True

    def place(self, figure: Figure) -> tuple[float, float] | None:
        """Return how far down and to the right a figure would stand; None where it does not fit."""
        wide = figure.drawing.width
        places = [(self._top(x, x + wide), x) for x, _ in self.steps if x + wide <= self.width + SLACK]
        best = min(places, default=None)
        return best if best is not None and best[0] + figure.drawing.height <= self.height + SLACK else None

    def depth_of(self, figures: Sequence[Figure]) -> float | None:
        """Return how far down the first of some figures would stand, taken one after another; None if not all fit."""
        trial = replace(self, steps=list(self.steps), figures=[])
        place = trial.place(figures[0])
        return place[0] if place is not None and all(trial.take(f) for f in figures) else None

    def _top(self, left: float, right: float) -> float:
        """Return how far down the page is taken between two x."""
        ends = [x for x, _ in self.steps[1:]] + [self.width]
        taken = zip(self.steps, ends, strict=True)
        return max(y for (x, y), end in taken if x < right - SLACK and end > left + SLACK)

    def _raise(self, left: float, right: float, y: float) -> None:
        """Let the page be taken down to y between two x."""
        beyond = max(s for s in self.steps if s[0] <= right + SLACK)[1]
        kept = [s for s in self.steps if s[0] < left - SLACK or s[0] > right + SLACK]
        self.steps = sorted([*kept, (left, y), *([(right, beyond)] if right < self.width - SLACK else [])])

    def done(self) -> FigurePage:
        """Return the page, its figures in the order in which one reads."""
        ordered = tuple(sorted(self.figures, key=lambda f: (f.y, f.x)))
        return FigurePage(height=max(f.y + f.drawing.height for f in ordered), figures=ordered)


def packed(figures: Iterable[Figure], inside: tuple[float, float], first: float = TITLE) -> FigurePages:
    """Return drawings packed onto pages of (width, height) mm, `first` mm of the first one taken by its title."""
    pages = [_Page(*inside, [(0.0, first)])]
    for figure in figures:
        if not any(page.take(figure) for page in pages[-LOOK_BACK:]):
            pages.append(_begun(figure, inside))
    return FigurePages(pages=tuple(page.done() for page in pages if page.figures))


def packed_after(
    ordered: Sequence[Figure], loose: Sequence[Figure], inside: tuple[float, float], first: float = TITLE
) -> FigurePages:
    """Return drawings in their order, then others in that one of a few orders which takes the fewest pages.

    The loose ones come by height, by width, or by surface, the large ones first; of equal numbers of pages, by height.
    """
    orders = (
        sorted(loose, key=lambda f: -f.drawing.height),
        sorted(loose, key=lambda f: -f.drawing.width),
        sorted(loose, key=lambda f: -f.drawing.height * f.drawing.width),
    )
    return min((packed([*ordered, *order], inside, first) for order in orders), key=lambda found: len(found.pages))


def packed_closely(figures: Iterable[Figure], inside: tuple[float, float], first: float = TITLE) -> FigurePages:
    """Return drawings on fewer pages than `packed` does, out of their order: for drawings that are looked up.

    After the first one the higher ones come before the others, each to the page that it fills best (best fit
    decreasing). Pages come in the order of their first drawing. Drawings of one name stay on one page, or where that
    does not hold them on pages that follow each other.
    """
    given = list(figures)
    if not given:  # a draft of an order whose design stopped has none
        return FigurePages(pages=())
    pages = [_Page(*inside, [(0.0, first)])]
    following: dict[int, _Page] = {}  # by the identity of the page before
    named: dict[str, list[Figure]] = {}
    for figure in given:
        named.setdefault(figure.name, []).append(figure)
    head, *rest = named.values()
    for together in [head, *sorted(rest, key=lambda fs: -sum(f.drawing.height for f in fs))]:
        fits = [(depth, -n) for n, page in enumerate(pages) if (depth := page.depth_of(together)) is not None]
        if fits:
            page = pages[-max(fits)[1]]
            for figure in together:
                page.take(figure)
            continue
        before: _Page | None = None
        for figure in together:
            if before is not None and before.take(figure):
                continue
            page = _begun(figure, inside)
            pages.append(page)
            if before is not None:
                following[id(before)] = page
            before = page
    order = {figure.name: number for number, figure in reversed(list(enumerate(given)))}
    later = {id(page) for page in following.values()}
    starts = [page for page in pages[1:] if id(page) not in later]
    out: list[_Page] = []
    for page in [pages[0], *sorted(starts, key=lambda page: min(order[f.name] for f in page.figures))]:
        out.append(page)
        while id(out[-1]) in following:
            out.append(following[id(out[-1])])
    return FigurePages(pages=tuple(page.done() for page in out if page.figures))


def _begun(figure: Figure, inside: tuple[float, float]) -> _Page:
    """Return a new page with a figure; one that is larger than the paper is shown cut off rather than lost."""
    page = _Page(*inside, [(0.0, 0.0)])
    if not page.take(figure):
        page.figures.append(PlacedFigure(x=0.0, y=0.0, name=figure.name, drawing=figure.drawing))
    return page
