"""The law of all drawings of a piece, on random bedsides and random cases: everything can be read, nothing is lost.

Ten pieces in an ordinary run; `--variants 1000` tries more than a hundred and sixty.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import pytest
from tests.laws.case_orders import random_case
from tests.laws.orders import random_order

from casewright.cache import Cache
from casewright.catalogue import BUILT_IN
from casewright.design.assembly import PieceDesign
from casewright.order import order_from_text
from casewright.order.errors import OrderError
from casewright.packet.drawing.assembled import assembled_drawings
from casewright.packet.drawing.details import detail_drawings, details_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.primitives import Picture, Text
from casewright.packet.drawing.sections import sections_of
from casewright.packet.drawing.stage import Stage
from casewright.packet.drawing.taken_apart import unit_apart, units_of, whole_apart
from casewright.packet.pages.part_drawings import convention_of, drawn_marks
from casewright.packet.pages.setting import Setting, unframed_setting
from casewright.project import Project
from casewright.shop import built_in_shop
from casewright.units import INCHES, MILLIMETRES

SHARE = 6  # of the variants that the laws of designs are tried on, one in so many is drawn
TRIES = 40  # random orders until one can be built
COLUMN = (88.0, 74.0)  # mm: where a unit stands among others


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    if "seed" in metafunc.fixturenames:
        metafunc.parametrize("seed", range(max(1, metafunc.config.getoption("--variants") // SHARE)))


@lru_cache(maxsize=2)
def built(seed: int) -> tuple[Setting, PieceDesign]:
    """Return a random piece that can be built, a bedside or a case by turns, on both papers by turns."""
    rng = random.Random(seed)
    shop, paper = replace(built_in_shop(), style=INCHES), "letter"
    if seed // 2 % 2:
        shop, paper = replace(shop, style=MILLIMETRES), "a4"
    for _ in range(TRIES):
        text = random_case(rng) if seed % 2 else random_order(rng)
        try:
            project = Project(order_from_text(text, BUILT_IN.kinds), shop, Cache())
        except OrderError:
            continue
        if project.assembly.pieces and project.assembly.pieces[0].placed:
            return unframed_setting(project, paper), project.assembly.pieces[0]  # type: ignore[arg-type]
    pytest.fail(f"no piece of seed {seed} could be built")


def staged(setting: Setting, piece: PieceDesign) -> Stage:
    return Stage(
        piece=piece, cache=setting.project.cache, style=setting.printer.style, convention=convention_of(setting),
        marks=setting.marks_of(piece),
    )  # fmt: skip


def test_every_drawing_of_a_random_piece_can_be_read(seed: int) -> None:
    setting, piece = built(seed)
    stage, (width, height) = staged(setting, piece), setting.paper.inside
    page = (width, height - 40.0)
    units = units_of(piece, stage.marks)
    apart = [
        *whole_apart(piece, stage.cache, stage.marks, page),
        *(p for u in units for p in unit_apart(piece, stage.cache, stage.marks, u, page if u is units[0] else COLUMN)),
    ]
    views = assembled_drawings(stage, (width, height - 13.0))
    details = detail_drawings(stage, (width, height - 13.0))
    for shown in (*apart, *views, *details):
        assert overlaps(shown) == (), shown.alt
        assert shown.width <= width + 1e-6
        assert shown.height <= height + 1e-6
    assert {t for p in apart for t in said(p)} >= set(stage.marks.values())
    names = {s.name for s in sections_of(piece, stage.cache)}
    assert all(any(f"Section {name}–{name}" in p.alt for p in views) for name in names)
    assert not names & set(stage.marks.values())
    assert all(any(d.name in p.alt for p in details) for d in details_of(stage))


def test_every_part_drawing_of_a_random_piece_can_be_read(seed: int) -> None:
    """As the packet draws them: upright or lying, over the page or half of it, shortened, at any scale."""
    setting, _ = built(seed)
    width, height = setting.paper.inside
    for subject, drawings in drawn_marks(setting):
        assert drawings, subject.mark
        for shown in drawings:
            assert overlaps(shown) == (), shown.alt
            assert shown.width <= width + 1e-6
            assert shown.height <= height + 1e-6
        assert subject.size[0] in {t for p in drawings for t in said(p)}
        for shown in drawings:  # holes and seats may stand on pictures of their own: there both have their places
            places = Counter((s.what, s.value) for s in shown.shown if s.what.endswith((" across", " up")))
            assert set(places.values()) <= {1}, (subject.mark, places)


def said(picture: Picture) -> Iterator[str]:
    return (i.text for i in picture.items if isinstance(i, Text))
