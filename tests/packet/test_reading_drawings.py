"""What drawings say, read back from the PDF and compared with the model: marks, counts, diameters, places, sizes.

On every example of the project and on random orders, bedside cabinets and cases: the demonstration order in inches on
Letter and in mm on A4, the others in one of the two by turns, and in both with `--variants 300` or more, and on two
random orders, or fifty with `--variants 750`. What is expected is worked out from the features here, not by the code
that draws them.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

import pytest
from tests.packet import demo
from tests.packet.reading import (
    EXAMPLES,
    THOROUGH,
    Printing,
    chosen,
    context,
    drawings_in,
    example,
    random_seeds,
    random_setting,
)

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import Tenon
from casewright.design.features.edges import EdgeProfile
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Recess
from casewright.design.parts import Part
from casewright.packet.pages.setting import UNFRAMED, Setting
from casewright.packet.typesetting import typeset
from casewright.solids.collide import placed_boxes
from casewright.units import LengthStyle, Role, format_length

SIXTY_FOURTH = 25.4 / 64


@cache
def part_drawings(setting_of: Printing) -> Any:
    """The context of an example's part drawings."""
    return context(example(*setting_of), "part-drawings")


@pytest.fixture(scope="module")
def drawn(variants: int) -> list[tuple[Setting, Any]]:
    """Every setting with the context of its part drawings."""
    found = [(example(*one), part_drawings(one)) for one in chosen(variants)]
    random_ones = [random_setting(seed) for seed in random_seeds(variants)]
    return found + [(setting, context(setting, "part-drawings")) for setting in random_ones]


def test_the_examples_are_found() -> None:
    assert demo.ORDER in EXAMPLES


def test_every_mark_is_drawn_with_its_count_hand_and_cut_size(drawn: list[tuple[Setting, Any]]) -> None:
    for setting, made in drawn:
        assert made.lacking == ()
        texts = by_mark(made)
        assert set(texts) == {row.mark for row in setting.rows}
        counts: Counter[str] = Counter()
        for piece in setting.pieces:
            for placed in piece.placed:
                mark = setting.project.mark_of(placed)
                if mark is not None:
                    counts[mark.label] += piece.count
        for row in setting.rows:
            said = demo.plain(" ".join(texts[row.mark]))
            assert f"{counts[row.mark]} wanted" in said
            assert (f"mirror image of {row.mirror_of}" in said) == bool(row.mirror_of)
            size = " × ".join(p.text.removesuffix(f" {setting.printer.unit}") for p in row.printed)
            assert demo.plain(f"cut to {size} {setting.printer.unit}") in said, (row.mark, size)


def test_every_bench_hole_is_drawn_with_its_diameter_and_both_places(drawn: list[tuple[Setting, Any]]) -> None:
    for setting, made in drawn:
        style, texts = setting.printer.style, by_mark(made)
        for row in setting.rows:
            said = demo.plain(" ".join(texts[row.mark]))
            for hole in holes_of(row.part):
                assert f"Ø {bit(hole.diameter, style)}" in said, (row.mark, hole)
                for mm in (hole.u, hole.v):
                    assert re.search(rf"(?<![\d/]){re.escape(size(mm, style))}(?![\d/])", said), (row.mark, hole, mm)


def test_every_number_of_a_part_drawing_is_one_of_the_model(drawn: list[tuple[Setting, Any]]) -> None:
    for setting, made in drawn:
        style, texts, seats = setting.printer.style, by_mark(made), seats_by_mark(setting)
        for row in setting.rows:
            allowed = {size(mm, style) for mm in numbers_of(row.part) | seats.get(row.mark, set())}
            allowed |= {p.text.removesuffix(f" {style.system}") for p in row.printed}
            # A recess that starts at the datum ends where it is wide: rounded up, as its width is.
            boxes = [f.outline.box for f in row.part.features if isinstance(f, Recess)]
            allowed |= {format_length(mm, Role.HOUSING, style, unit=False) for box in boxes for mm in box[2:]}
            # The shoulder of a tenon that starts at the datum is its length, which is rounded down.
            tenons = [f.length for f in row.part.features if isinstance(f, Tenon)]
            allowed |= {format_length(mm, Role.INSERT, style, unit=False) for mm in tenons}
            for text in texts[row.mark]:
                if re.fullmatch(r"\d[\d /-]*(?:\.\d+)?", text):
                    assert text in allowed or text == "0", (row.mark, text, sorted(allowed))


def test_sides_say_where_what_butts_against_them_stands(drawn: list[tuple[Setting, Any]]) -> None:
    """Heights above a side's lower end of what it is joined to and that does not reach into it, from the solids."""
    found = 0
    for setting, made in drawn:
        texts = by_mark(made)
        for piece in setting.pieces:
            for mark, other, height in butted(setting, piece):
                said = texts[mark]
                place = re.escape(size(height, setting.printer.style))  # a running size, or said in the call-out
                assert re.search(rf"(?<![\d/]){place}(?![\d/])", demo.plain(" ".join(said))), (piece.path, mark, other)
                assert any(re.search(rf"seat of (\w+ or )*{other}\b", text) for text in said), (mark, other)
                found += 1
    assert found


def butted(setting: Setting, piece: PieceDesign) -> Iterator[tuple[str, str, float]]:
    """Give mark of an upright panel, mark of what lies against it, and that one's height above its lower end."""
    boxes = dict(zip((p.path for p in piece.placed), placed_boxes(piece.placed, Cache()).tolist(), strict=True))
    joined = {path: {j.b if j.a == path else j.a: j.id for j in piece.joints if path in (j.a, j.b)} for path in boxes}
    for placed in piece.placed:
        if not re.fullmatch(r".*/side\.(left|right)", placed.path) or "drawer" in placed.path:
            continue
        x0, _, z0, x1, _, z1 = boxes[placed.path]
        for path in sorted(joined[placed.path].keys() & boxes.keys()):
            other = boxes[path]
            inner = placed.face_towards((1.0 if other[0] > x0 else -1.0, 0.0, 0.0))
            joint = "@/" + joined[placed.path][path].partition("/")[2]
            if any(f.joint == joint and f.face is inner and f.made_at is MadeAt.BENCH for f in placed.part.features):
                continue  # dowel holes, a dado: they have their own sizes
            mark = setting.project.mark_of(piece.by_path()[path])
            level = re.search(r"/(bottom|shelf|stretcher)[^/]*$", path)
            against = min(abs(other[0] - x1), abs(other[3] - x0)) < 0.01
            if level and mark is not None and against and z0 + 1 < other[2] and other[5] < z1 - 1:
                yield setting.project.mark_of(placed).label, mark.label, other[2] - z0  # type: ignore[union-attr]


def seats_by_mark(setting: Setting) -> dict[str, set[float]]:
    """Return where the blanks of what each mark is joined to begin and end along its own blank, from both its ends."""
    out: dict[str, set[float]] = {}
    for piece in setting.pieces:
        by_path = {p.path: p for p in piece.placed if isinstance(p.thing, Part)}
        for joint in piece.joints:
            for one, other in ((joint.a, joint.b), (joint.b, joint.a)):
                mark = setting.project.mark_of(by_path[one]) if one in by_path and other in by_path else None
                if mark is None:
                    continue
                own, met = by_path[one], by_path[other]
                for corner in ((0.0, 0.0, 0.0), met.part.blank.size):
                    at = own.frame.local_point(met.frame.point(corner))
                    for mm, end in zip(at, own.part.blank.size, strict=True):
                        out.setdefault(mark.label, set()).update((mm, end - mm))
    return out


def test_drawings_are_on_the_pages_as_the_model_has_them(variants: int) -> None:
    for order, system, paper in chosen(variants):
        setting = example(order, system, paper)
        contexts = [("part-drawings", part_drawings((order, system, paper)))]
        if order == demo.ORDER or variants >= THOROUGH:
            contexts.append(("assembled", context(setting, "assembled")))
            assert_overall_sizes(setting, contexts[-1][1])
        frame = replace(
            UNFRAMED, paper=setting.paper.name, title="read back", shop="Fernbrook Workshop", date=demo.DATE
        )
        text = " ".join(demo.texts(typeset(frame, contexts)))
        for _, made in contexts:
            for said in [t for drawing in drawings_in(made) for t in drawing.texts]:
                assert demo.as_set(said.text) in text, (order.name, said)


def assert_overall_sizes(setting: Setting, made: Any) -> None:
    for piece, shown in zip(setting.shown_whole, made.pieces, strict=True):
        words = {t.text for d in drawings_in(shown) for t in d.texts}
        assert shown.whole
        for mm in (piece.width, piece.depth, piece.height):
            assert size(mm, setting.printer.style) in words, (piece.path, mm)


def by_mark(made: Any) -> dict[str, list[str]]:
    """The texts of each mark's drawings."""
    out: dict[str, list[str]] = {}
    for page in made.figures.pages:
        for figure in page.figures:
            out.setdefault(figure.name.partition(":")[0], []).extend(t.text for t in figure.drawing.texts)
    return out


def holes_of(part: Part) -> list[Hole]:
    """The single holes that the bench makes."""
    return [f for f in part.features if isinstance(f, Hole) and f.made_at is MadeAt.BENCH]


def size(mm: float, style: LengthStyle) -> str:
    return format_length(mm, Role.FREE, style, unit=False)


def bit(mm: float, style: LengthStyle) -> str:
    """A diameter as its bit is sold: in 64ths of an inch where it is one, else in mm to 0.1."""
    if style.system == "in" and abs(mm / SIXTY_FOURTH - round(mm / SIXTY_FOURTH)) < 1e-3:
        return format_length(mm, Role.FREE, replace(style, division=64.0, feet=False), unit=False)
    return f"{mm:.1f}".rstrip("0").rstrip(".") + (" mm" if style.system == "in" else "")


def numbers_of(part: Part) -> set[float]:
    """Every length that a part or one of its bench features has, middles, and what is left beside along each axis."""
    found = set(part.blank.size)
    for feature in part.features:
        # The section at full size of an edge's profile stands here though a joined top gets it later.
        if feature.made_at is MadeAt.BENCH or isinstance(feature, EdgeProfile):
            lengths = {abs(v) for v in floats_in(feature)}
            if isinstance(feature, HoleRow):
                lengths |= {v for hole in feature.holes for v in (hole.u, hole.v)}
            if isinstance(feature, Recess):
                x0, y0, x1, y1 = feature.outline.box
                lengths |= {(x0 + x1) / 2, (y0 + y1) / 2}
            found |= lengths | {abs(s - v) for s in part.blank.size for v in lengths}
    return found


def floats_in(value: Any) -> list[float]:
    if isinstance(value, float):
        return [value]
    if isinstance(value, tuple):
        return [v for item in value for v in floats_in(item)]
    if is_dataclass(value):
        return [v for field in fields(value) for v in floats_in(getattr(value, field.name))]
    return []
