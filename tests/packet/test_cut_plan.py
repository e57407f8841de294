"""Cut trees and sticks as orders of work, on small layouts written by hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from tests.packet import demo

from casewright.demand import marks_in, pair_id, paired
from casewright.design.blocks.feet_steps import LONG_ENOUGH
from casewright.layout.model import (
    GRID,
    Axis,
    Cut,
    Laid,
    Rest,
    Saws,
    StickDemand,
    StickEnd,
    StickPart,
    StickPattern,
    StickPiece,
    StickStock,
)  # fmt: skip
from casewright.layouts import LaidOut
from casewright.packet.cut_plan import area_share, cut_plan, part_label
from casewright.packet.drawing.primitives import Circle, LineRole, Segments, Text
from casewright.packet.drawing.recorder import recorded
from casewright.packet.layout_drawing import DrawnPattern, drawn_patterns, short_rips, strip_words
from casewright.packet.parts_list import joined_names, name_stems
from casewright.packet.plate_drawing import plate_picture
from casewright.packet.stick_drawing import stick_picture
from casewright.packet.stick_plan import ends_as_they_lie, stick_cuts, stick_steps

MM = GRID
KERF = 3 * MM


def laid(part: str, x: int, y: int, length: int, width: int) -> Laid:
    return Laid(part=part, x=x * MM, y=y * MM, length=length * MM, width=width * MM, turned=False)


def sheet() -> Cut:
    """A 1000 × 500 plate: ripped twice at 200, the first strip crosscut into A and A, the second B, the rest kept."""
    strip = Cut(
        axis=Axis.CROSSCUT, x=0, y=0, length=1000 * MM, width=200 * MM, lines=(300 * MM, 603 * MM), kerf=KERF,
        pieces=(
            laid("A", 0, 0, 300, 200), laid("A", 303, 0, 300, 200),
            Rest(x=606 * MM, y=0, length=394 * MM, width=200 * MM, keep=False),
        ),
    )  # fmt: skip
    return Cut(
        axis=Axis.RIP, x=0, y=0, length=1000 * MM, width=500 * MM, lines=(200 * MM, 403 * MM), kerf=KERF,
        pieces=(
            strip, laid("B", 0, 203, 1000, 200), Rest(x=0, y=406 * MM, length=1000 * MM, width=94 * MM, keep=True),
        ),
    )  # fmt: skip


def size(_part: str, steps: int, _along: bool) -> str:
    return f"{steps / MM:g}"


def test_lines_of_a_plate_come_before_those_of_its_pieces() -> None:
    plan = cut_plan(sheet(), Saws(kerf=KERF), size)
    assert [(n.number, n.axis, n.at / MM) for n in plan.lines] == [
        (1, Axis.RIP, 201.5), (2, Axis.RIP, 404.5), (3, Axis.CROSSCUT, 301.5), (4, Axis.CROSSCUT, 604.5),
    ]  # fmt: skip
    assert [(s.numbers, s.verb, s.setting, s.gives) for s in plan.steps] == [
        ("1–2", "rip", "200", "strip for A, B; then offcut to keep"),
        ("3–4", "crosscut", "300", "2 × A"),
    ]
    assert [r.keep for r in plan.rests] == [False, True]
    assert area_share(plan.laid, 1000 * MM, 500 * MM) == pytest.approx((2 * 300 * 200 + 1000 * 200) / 500_000)


def test_a_rough_cut_is_set_wider_and_trimmed_later() -> None:
    saws = Saws(kerf=KERF, breakdown_kerf=2 * MM, breakdown_allowance=5 * MM)
    root = Cut(
        axis=Axis.CROSSCUT, x=0, y=0, length=1000 * MM, width=500 * MM, lines=(400 * MM,), kerf=12 * MM, rough=True,
        pieces=(laid("A", 0, 0, 400, 500), Rest(x=412 * MM, y=0, length=588 * MM, width=500 * MM, keep=True)),
    )  # fmt: skip
    plan = cut_plan(root, saws, size)
    assert plan.steps[0].setting == "405"
    assert plan.steps[0].gives == "A; then offcut to keep; trim to 400"
    assert plan.lines[0].at / MM == 406.0  # the saw's own 2 mm lie between 405 and 407


def test_a_rip_on_a_piece_too_short_for_the_fence_says_so() -> None:
    """Common practice: nothing under 12 in (304.8 mm) is ripped by hand along the fence of a table saw."""
    strip = Cut(
        axis=Axis.RIP, x=0, y=0, length=208 * MM, width=100 * MM, lines=(30 * MM,), kerf=KERF,
        pieces=(laid("A", 0, 0, 208, 30), Rest(x=0, y=33 * MM, length=208 * MM, width=67 * MM, keep=False)),
    )  # fmt: skip
    root = Cut(
        axis=Axis.CROSSCUT, x=0, y=0, length=1000 * MM, width=100 * MM, lines=(208 * MM,), kerf=KERF,
        pieces=(strip, Rest(x=211 * MM, y=0, length=789 * MM, width=100 * MM, keep=True)),
    )  # fmt: skip
    least = round(304.8 * MM)
    plan = cut_plan(root, Saws(kerf=KERF), size, least)
    assert [(s.verb, s.short) for s in plan.steps] == [("crosscut", ""), ("rip", "208")]
    assert plan.steps[1].gives == "A; from a piece only 208 long"
    assert not any(s.short for s in cut_plan(root, Saws(kerf=KERF), size, 208 * MM).steps)
    said = short_rips(demo.setting("in", "letter"), plan.steps)
    assert "CAUTION, cut 2:" in said
    assert "12 in" in said
    assert not short_rips(demo.setting("in", "letter"), cut_plan(sheet(), Saws(kerf=KERF), size, least).steps)


def test_strips_of_a_panel_are_called_by_its_mark() -> None:
    assert part_label("L#1/3") == "L-3"
    assert part_label("L#2/3") == "L2-3"
    assert part_label("AW") == "AW"


def test_a_plate_is_drawn_to_scale_with_every_number_and_mark() -> None:
    plan = cut_plan(sheet(), Saws(kerf=KERF), size)
    drawn = plate_picture(1000 * MM, 500 * MM, plan, across=105.0, size=lambda p: "300 × 200", alt="a sheet")
    assert drawn.scale == pytest.approx(0.1)
    seen = recorded(drawn)
    marks = [t.text for t in seen.texts]
    assert sorted(t for t in marks if t.isdigit()) == ["1", "2", "3", "4"]
    assert marks.count("A") == 2
    assert marks.count("B") == 1
    _nothing_overlaps(seen.circles, seen.texts)


def _nothing_overlaps(circles: list[Circle], texts: list[Text]) -> None:
    rings = [c for c in circles if c.radius > 1.0]
    for i, a in enumerate(rings):
        for b in rings[:i]:
            assert (a.centre[0] - b.centre[0]) ** 2 + (a.centre[1] - b.centre[1]) ** 2 >= (a.radius + b.radius) ** 2
    inside = {c.centre for c in rings}
    for text in texts:
        half = 0.25 * text.size * len(text.text), 0.36 * text.size
        for c in rings if text.at not in inside else ():
            dx = max(0.0, abs(text.at[0] - c.centre[0]) - half[0])
            dy = max(0.0, abs(text.at[1] - c.centre[1]) - half[1])
            assert dx * dx + dy * dy >= (c.radius - 0.1) ** 2, (text, c)


def test_a_part_too_small_for_its_mark_gets_a_balloon() -> None:
    tiny = Cut(
        axis=Axis.RIP, x=0, y=0, length=2400 * MM, width=1200 * MM, lines=(10 * MM,), kerf=KERF,
        pieces=(laid("C", 0, 0, 40, 10), Rest(x=0, y=13 * MM, length=2400 * MM, width=1187 * MM, keep=True)),
    )  # fmt: skip
    plan = cut_plan(tiny, Saws(kerf=KERF), size)
    seen = recorded(plate_picture(2400 * MM, 1200 * MM, plan, across=160.0, size=lambda p: "40 × 10", alt=""))
    mark = next(t for t in seen.texts if t.text == "C")
    assert any(c.centre == mark.at and c.radius > 2.0 for c in seen.circles)


# --- sticks ---------------------------------------------------------------------------------------


def stick(share: bool = False) -> tuple[StickPattern, StickDemand]:
    mitred = StickPart(id="M", length=400 * MM, count=2, left=StickEnd.MITRE, right=StickEnd.MITRE, left_run=20 * MM,
                       right_run=20 * MM)  # fmt: skip
    square = StickPart(id="S", length=300 * MM, count=2)
    demand = StickDemand(
        parts=(mitred, square), stock=(StickStock(id="x@2400", length=2400 * MM),), kerf=KERF, end_trim=6 * MM,
        share_mitres=share, keep_length=200 * MM,
    )  # fmt: skip
    pieces = [("S", 6, False), ("S", 309, False), ("M", 612, False), ("M", 1015 - 20 * share, share)]
    cut = tuple(
        StickPiece(part=p, start=at * MM, length=(400 if p == "M" else 300) * MM, flipped=f) for p, at, f in pieces
    )
    return StickPattern(stock="x@2400", pieces=cut, rest=970 * MM), demand


def test_square_ends_share_a_cut_and_mitres_do_not() -> None:
    pattern, demand = stick()
    cuts = stick_cuts(pattern, demand)
    assert [c.at // MM for c in cuts] == [6, 306, 609, 612, 1012, 1015, 1415]
    assert [c.mitre for c in cuts] == [False, False, False, True, True, True, True]
    steps = stick_steps(pattern, demand, lambda p: p.lower(), lambda p: ("", "") if p == "S" else ("45°", "45°"))
    assert [(s.numbers, s.gives, s.setting) for s in steps] == [("1–3", "2 × S", "s"), ("4–7", "2 × M", "m")]
    assert [s.verb for s in steps] == ["square", "both ends 45°"]


def test_the_steps_say_which_end_is_mitred_as_the_piece_lies() -> None:
    assert ends_as_they_lie(("", "mitre 45°"), False) == "left square, right mitre 45°"
    assert ends_as_they_lie(("", "mitre 45°"), True) == "left mitre 45°, right square; turned end for end"


def test_parallel_mitres_share_a_cut_where_the_section_allows_it() -> None:
    pattern, demand = stick(share=True)
    assert len(stick_cuts(pattern, demand)) == 6


def test_a_stick_shows_marks_and_numbers() -> None:
    pattern, demand = stick()
    drawn = stick_picture(pattern, demand, 2400 * MM, across=170.0, size=lambda p: "12", alt="a stick")
    seen = recorded(drawn)
    texts = [t.text for t in seen.texts]
    assert texts.count("S") == 2
    assert texts.count("M") == 2
    assert "keep" in texts
    assert [t for t in texts if t.isdigit() and t != "12"] == ["1", "2", "3", "4", "5", "6", "7"]
    _nothing_overlaps(seen.circles, [t for t in seen.texts if not t.text.isdigit()])


@pytest.mark.parametrize(
    ("names", "joined"),
    [
        (("left side", "right side"), "side, left and right"),
        (("top",), "top"),
        (("applied moulding, bottom", "applied moulding, top"), "applied moulding, bottom and top"),
        (("drawer bottom",), "drawer bottom"),
        (tuple(f"foot, {a} {b}" for a in ("front", "rear") for b in ("left", "right")), "foot"),
        (("rail", "shelf"), "rail; shelf"),
    ],
)
def test_names_of_equal_parts_are_joined(names: tuple[str, ...], joined: str) -> None:
    assert joined_names(names) == joined


def test_stems_leave_places_out() -> None:
    assert name_stems(("slide, case member, left", "slide, case member, right")) == ("slide, case member",)


def test_the_names_of_strips_are_told_as_far_as_they_are_on_the_board() -> None:
    """A board of one top spoke of the strips of a second one that the order does not have."""
    assert strip_words(["A", "B"]) == ""
    assert strip_words(["N#1/1", "N#1/2"]) == " N-1 is strip 1 of the glue-up N."
    assert strip_words(["N#1/1", "N#2/3"]) == " N-1 is strip 1 of the glue-up N, N2-1 that of N number 2."


def test_short_feet_are_cut_off_in_pairs_as_their_steps_say() -> None:
    """The stick plan crosscut eight feet of 115 mm one by one, while the steps kept them in pairs."""
    project = demo.project()
    (laid,) = (one for one in project.layouts if any(w.name.startswith("foot") for w in one.need.wanted))
    (foot,) = (w for w in laid.need.wanted if w.name.startswith("foot"))
    assert foot.part.rough[0] < LONG_ENOUGH
    assert any("in pairs, as laid out" in step.text for piece in project.assembly.pieces for step in piece.steps)
    pieces = [p for pattern in laid.layout.patterns for p in pattern.pieces for _ in range(pattern.times)]
    feet = [p for p in pieces if foot.mark in marks_in(p.part)]
    assert [p.part for p in feet] == [pair_id(foot.mark, foot.mark)] * (foot.count // 2)
    for pair in feet:  # both blanks and the cut that parts them are in it
        assert pair.length >= 2 * round(foot.part.rough[0] * MM) + laid.need.demand.kerf - 2
    drawn = [d for d in drawn_patterns(demo.setting(), laid) if any("+" in step.gives for step in d.steps)]
    assert drawn
    for one in drawn:
        dashed = [i for i in one.picture.items if isinstance(i, Segments) and i.role is LineRole.HIDDEN]
        assert len(dashed) == sum(p.part in {f.part for f in feet} for p in _pattern_of(laid, one).pieces)
        assert all("not parted yet" in step.verb for step in one.steps if "+" in step.gives)
        assert "floor ends outwards" in one.before


def _pattern_of(laid: LaidOut, drawn: DrawnPattern) -> StickPattern:
    return laid.layout.patterns[int(drawn.file.rpartition("-")[2]) - 1]


def test_every_short_piece_is_in_one_pair_or_the_last_by_itself() -> None:
    laid = demo.project().layouts
    (foot,) = (w for one in laid for w in one.need.wanted if w.name.startswith("foot"))
    for counts in ((8,), (3, 1), (3, 2), (1,), (2, 5, 4)):
        wanted = [replace(foot, mark=chr(65 + i), count=n) for i, n in enumerate(counts)]
        parts = paired(wanted, 100)
        found = Counter(mark for p in parts for mark in marks_in(p.id) * p.count)
        assert found == {w.mark: w.count for w in wanted}
        assert sum(p.count for p in parts if not p.parted) == sum(counts) % 2
