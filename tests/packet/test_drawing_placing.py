"""Laws of the placer: nothing overlaps, over random drawings and random parts; and what examines them sees faults."""

from __future__ import annotations

import random
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.packet.random_parts import random_subject

from casewright.cache import Cache
from casewright.packet.drawing.conventions import ASME, ISO
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.part_drawing import part_drawings
from casewright.packet.drawing.placing import Label, NoRoom, Note, place_label, place_notes
from casewright.packet.drawing.primitives import (
    WHITE,
    Anchor,
    Circle,
    Leader,
    LineRole,
    Picture,
    Polyline,
    Primitive,
    Segments,
    Text,
)  # fmt: skip
from casewright.packet.drawing.raster import Raster
from casewright.packet.drawing.rows import Side, Span, Stop, chain_row, running_row, spread

EM = ISO.em


def paper(*items: Primitive) -> Picture:
    return Picture(200.0, 150.0, items)


def kinds(picture: Picture) -> list[str]:
    return [f.kind for f in overlaps(picture)]


def test_texts_on_texts_and_on_lines_are_found() -> None:
    text = Text((50.0, 50.0), "23 17/32", EM)
    assert kinds(paper(text)) == []
    assert kinds(paper(text, Text((53.0, 50.0), "a", EM))) == ["text on text"]
    assert kinds(paper(text, Segments(((40.0, 50.5, 60.0, 50.5),), LineRole.EXTENSION))) == ["text on line"]
    # The letters are 2.5 mm high: a line 1.5 mm from their middle is 0.25 mm away, one at 1.6 is 0.35.
    assert kinds(paper(text, Segments(((40.0, 51.5, 60.0, 51.5),), LineRole.OUTLINE))) == ["text on line"]
    assert kinds(paper(text, Segments(((40.0, 51.6, 60.0, 51.6),), LineRole.OUTLINE))) == []


def test_a_leader_comes_from_the_further_side_where_the_nearer_has_a_view_that_its_note_does_not_speak_of() -> None:
    def leader(*foreign: tuple[float, float, float, float]) -> Leader:
        sheet = Raster(220.0, 150.0)
        for x0, y0, x1, y1 in ((0, 0, 220, 55), (0, 90, 220, 150), (60, 55, 150, 90)):
            sheet.fill(sheet.solid, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
        note = Note(("a note",), ((95.0, 72.0),), EM, foreign=foreign)
        return next(i for i in place_notes(sheet, [note]) if isinstance(i, Leader))

    assert leader().points[0][0] < 60.0
    assert leader((70.0, 60.0, 90.0, 84.0)).points[0][0] > 150.0


def test_turned_texts_are_examined_as_they_stand() -> None:
    upright = Text((50.0, 50.0), "23 17/32", EM, Anchor.START, 90.0)
    assert kinds(paper(upright, Segments(((55.0, 40.0, 55.0, 70.0),), LineRole.OUTLINE))) == []
    assert kinds(paper(upright, Segments(((45.0, 55.0, 55.0, 55.0),), LineRole.OUTLINE))) == ["text on line"]


def test_small_texts_texts_off_the_paper_and_crossing_leaders_are_found() -> None:
    assert kinds(paper(Text((50.0, 50.0), "a", 3.0))) == ["text too small"]
    assert kinds(paper(Text((199.0, 50.0), "top", EM))) == ["off the paper"]
    crossing = (Leader(((10.0, 10.0), (50.0, 50.0))), Leader(((10.0, 50.0), (50.0, 10.0))))
    assert kinds(paper(*crossing)) == ["leaders cross"]


def test_a_balloon_covers_the_lines_under_it() -> None:
    line = Polyline(((0.0, 50.0), (100.0, 50.0)), LineRole.VISIBLE)
    ball = Circle((50.0, 50.0), 4.0, LineRole.LEADER, WHITE)
    assert kinds(paper(line, ball, Text((50.0, 50.0), "A", EM))) == []


@given(st.integers(0, 10**6))
@settings(max_examples=120, deadline=None)
def test_notes_and_labels_on_a_random_drawing_can_all_be_read(seed: int) -> None:
    rng = random.Random(seed)
    lines = tuple(
        (x, y, min(190.0, x + rng.uniform(-40, 40)), min(140.0, max(0.0, y + rng.uniform(-30, 30))))
        for x, y in ((rng.uniform(30, 150), rng.uniform(20, 120)) for _ in range(rng.randint(1, 25)))
    )
    items: list[Primitive] = [Segments(lines, LineRole.OUTLINE)]
    raster = Raster(200.0, 150.0)
    raster.ink(items)
    try:
        for _ in range(rng.randint(0, 8)):
            near = (rng.uniform(40, 150), rng.uniform(30, 110))
            items.append(place_label(raster, Label(rng.choice("abc"), near, EM, 60.0)))
        notes = [
            Note(
                ("2× Ø 11/64 through", "3/8 from face 0")[: rng.randint(1, 2)],
                ((rng.uniform(30, 170), rng.uniform(20, 130)),),
                EM,
            )
            for _ in range(rng.randint(1, 7))
        ]
        items += place_notes(raster, notes)
    except NoRoom:
        return  # said, not hidden: the caller makes the sheet larger
    assert overlaps(paper(*items)) == ()
    assert sum(isinstance(i, Leader) for i in items) == len(notes)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=9), st.floats(0.5, 12), st.randoms(use_true_random=False))
@settings(deadline=None)
def test_spread_texts_keep_order_and_gaps_and_no_other_places_are_nearer(wanted, pitch, rng) -> None:  # type: ignore[no-untyped-def]
    wanted = sorted(wanted)
    gaps = [pitch] * (len(wanted) - 1)
    found = spread(wanted, gaps)
    assert all(b - a >= pitch - 1e-9 for a, b in pairwise(found))
    cost = sum((f - w) ** 2 for f, w in zip(found, wanted, strict=True))
    for _ in range(20):  # any feasible neighbour costs no less: the problem is convex
        other = [f + rng.uniform(-1, 1) for f in found]
        for i in range(1, len(other)):
            other[i] = max(other[i], other[i - 1] + pitch)
        assert sum((o - w) ** 2 for o, w in zip(other, wanted, strict=True)) >= cost - 1e-6


@pytest.mark.parametrize("convention", [ISO, ASME], ids=lambda c: c.name)
@pytest.mark.parametrize("side", list(Side), ids=lambda s: s.value)
def test_rows_of_random_sizes_can_be_read(convention, side) -> None:  # type: ignore[no-untyped-def]
    for seed in range(25):
        rng = random.Random(seed)
        cuts = sorted({round(rng.uniform(30, 120), 2) for _ in range(rng.randint(2, 8))})
        cuts = [c for i, c in enumerate(cuts) if not i or c - cuts[i - 1] > 0.4]
        texts = [rng.choice(("3/8", "12", "23 17/32", "1 1/16")) for _ in cuts]
        spans = [Span(a, b, t) for a, b, t in zip(cuts, cuts[1:], texts, strict=False)]
        chain = chain_row(side, 80.0, spans, convention, 4.0)
        assert overlaps(Picture(200.0, 200.0, tuple(chain.items))) == (), seed
        running = running_row(side, 80.0, [Stop(c, t) for c, t in zip(cuts, texts, strict=True)], convention)
        assert overlaps(Picture(200.0, 200.0, tuple(running.items))) == (), seed


@pytest.mark.parametrize("block", range(4))
def test_drawings_of_random_parts_can_be_read_and_say_each_size_once(block: int) -> None:
    """Two hundred random parts, on both papers by turns."""
    cache = Cache()
    for seed in range(50 * block, 50 * block + 50):
        convention, fit = ((ISO, (180.0, 258.0)), (ASME, (185.9, 240.0)))[seed % 2]
        subject = random_subject(seed)
        drawings = part_drawings(subject, convention, cache, fit)
        for drawing in drawings:
            assert overlaps(drawing) == ()
            assert drawing.width <= fit[0] + 1e-9
            assert drawing.height <= fit[1] + 1e-9
            run = [s for s in drawing.shown if " " in s.what]
            assert max(Counter((s.what, round(s.value, 3)) for s in run).values(), default=1) == 1
        texts = [t.text for d in drawings for t in d.items if isinstance(t, Text)]
        assert subject.size[0] in texts
