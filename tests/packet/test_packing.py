"""Drawings onto pages: nothing over another, and pictures of one mark together."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from casewright.packet.pages.drawings import Drawing
from casewright.packet.pages.packing import APART, Figure, FigurePages, packed, packed_after, packed_closely

INSIDE = (186.0, 245.0)


def figure(name: str, width: float, height: float) -> Figure:
    return Figure(name=name, drawing=Drawing(svg="", width=width, height=height, alt="", texts=()))


def pages_of(found: FigurePages, name: str) -> list[int]:
    return [n for n, page in enumerate(found.pages) for f in page.figures if f.name == name]


@given(st.lists(st.tuples(st.sampled_from("ABCDEFGH"), st.sampled_from((89.0, 186.0)), st.floats(40, 200)), min_size=1))
def test_figures_keep_off_each_other_and_those_of_a_name_stay_together(given: list[tuple[str, float, float]]) -> None:
    figures = [figure(*one) for one in given]
    found = packed_closely(figures, INSIDE, 20.0)
    placed = [f for page in found.pages for f in page.figures]
    assert sorted((f.name, f.drawing.height) for f in placed) == sorted((f.name, f.drawing.height) for f in figures)
    for page in found.pages:
        for i, a in enumerate(page.figures):
            assert a.x + a.drawing.width <= INSIDE[0] + 0.1
            for b in page.figures[i + 1 :]:
                beside = a.x + a.drawing.width <= b.x + 0.1 or b.x + b.drawing.width <= a.x + 0.1
                below = a.y + a.drawing.height <= b.y + 0.1 or b.y + b.drawing.height <= a.y + 0.1
                assert beside or below
    for name in {f.name for f in figures}:
        on = sorted(set(pages_of(found, name)))
        assert on == list(range(on[0], on[-1] + 1)), name


def test_two_pictures_that_fit_on_a_page_share_it() -> None:
    found = packed_closely([figure("A", 186.0, 90.0), figure("B", 186.0, 130.0), figure("C", 186.0, 100.0),
                            figure("B", 186.0, 245.0 - 130.0 - APART)], INSIDE, 20.0)  # fmt: skip
    assert len(set(pages_of(found, "B"))) == 1


def test_a_draft_without_drawings_has_no_pages_of_them() -> None:
    """A design that stops places nothing; the draft still prints what stops it."""
    assert packed_closely([], INSIDE, 20.0) == FigurePages(pages=())


SIZED = st.lists(st.tuples(st.floats(30, 186), st.floats(30, 200)), max_size=12)


@given(SIZED, SIZED)
def test_loose_drawings_follow_the_ordered_ones_on_no_more_pages_than_by_height(
    first: list[tuple[float, float]], then: list[tuple[float, float]]
) -> None:
    ordered = [figure(f"view {i}", *size) for i, size in enumerate(first)]
    loose = [figure(f"detail {i}", *size) for i, size in enumerate(then)]
    found = packed_after(ordered, loose, INSIDE)
    by_height = packed([*ordered, *sorted(loose, key=lambda f: -f.drawing.height)], INSIDE)
    assert len(found.pages) <= len(by_height.pages)
    names = [f.name for page in found.pages for f in page.figures]
    assert sorted(names) == sorted(f.name for f in (*ordered, *loose))
    alone = packed(ordered, INSIDE)  # what is loose moves no drawing that has its order
    for f in ordered:
        assert pages_of(found, f.name) == pages_of(alone, f.name)
