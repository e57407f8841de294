"""Outlines from drawings: what ezdxf writes is read back, SVG paths keep their arcs, and bad drawings say why."""

from __future__ import annotations

import contextlib
import io
import math
import random
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from casewright.shop.outline_file import read_outline
from casewright.shop.outline_joining import OutlineError, joined
from casewright.shop.outline_svg import svg_loops
from casewright.stock.loops import Loop, backwards, loop_area, loop_box, sides
from casewright.stock.sections import sound_loop

QUARTER = math.tan(math.pi / 8)  # bulge of 90°: tan(θ/4)
OGEE = [(0.0, 0.0, 0.0), (14.0, 0.0, 0.0), (14.0, 5.0, 0.3), (9.0, 16.0, -0.3), (4.0, 27.0, 0.0), (0.0, 27.0, 0.0)]


def drawing(unit: int = 4) -> Any:
    """Return a new drawing; unit 4 is mm, 1 inches, 0 none ($INSUNITS)."""
    made = ezdxf.new("R2010")
    made.header["$INSUNITS"] = unit
    return made


def save(made: Any, folder: Path, name: str = "a.dxf") -> None:
    text = io.StringIO()
    made.write(text)
    (folder / name).write_text(text.getvalue(), encoding="utf-8")


def refused(folder: Path, name: str = "a.dxf", **given: str) -> str:
    with pytest.raises(OutlineError) as caught:
        read_outline(name, folder, **given)
    return f"{caught.value.message}; {caught.value.remedy}"


# --- DXF ---


@pytest.mark.parametrize(("unit", "scale"), [(4, 1.0), (1, 25.4), (5, 10.0)])
def test_a_polyline_with_bulges_is_read_in_its_unit(tmp_path: Path, unit: int, scale: float) -> None:
    made = drawing(unit)
    made.modelspace().add_lwpolyline([(x / scale, y / scale, k) for x, y, k in OGEE], format="xyb", close=True)
    save(made, tmp_path)
    loop = read_outline("a.dxf", tmp_path)
    assert loop_area(loop) == pytest.approx(loop_area(tuple(OGEE)), rel=1e-9)
    assert loop_box(loop) == pytest.approx((0, 0, 14, 27), abs=0.6)


def test_lines_and_arcs_are_joined_whichever_way_they_were_drawn(tmp_path: Path) -> None:
    """A 20 × 10 rectangle with a quarter circle of radius 4 off one corner: 200 − (1 − π/4)·16."""
    made = drawing()
    space = made.modelspace()
    for a, b in (((0, 0), (20, 0)), ((20, 6), (20, 0)), ((16, 10), (0, 10)), ((0, 0), (0, 10))):
        space.add_line(a, b)
    space.add_arc((16, 6), 4, 0, 90)
    save(made, tmp_path)
    loop = read_outline("a.dxf", tmp_path)
    assert loop_area(loop) == pytest.approx(200 - (1 - math.pi / 4) * 16)
    assert [round(k, 6) for *_, k in loop if k] == [round(QUARTER, 6)]


def test_a_circle_and_an_old_polyline_are_outlines(tmp_path: Path) -> None:
    made = drawing()
    made.modelspace().add_circle((5, 5), 3)
    save(made, tmp_path)
    assert loop_area(read_outline("a.dxf", tmp_path)) == pytest.approx(math.pi * 9)
    made = drawing()
    made.modelspace().add_polyline2d([(0, 0), (9, 0), (9, 5), (0, 5)], close=True)
    save(made, tmp_path)
    assert loop_area(read_outline("a.dxf", tmp_path)) == 45


def test_one_layer_is_read_and_words_are_passed_over(tmp_path: Path) -> None:
    made = drawing()
    space = made.modelspace()
    space.add_lwpolyline([(0, 0), (9, 0), (9, 5)], close=True, dxfattribs={"layer": "Profile"})
    space.add_spline([(0, 0), (3, 3), (6, 0)], dxfattribs={"layer": "sketch"})
    space.add_text("crown", dxfattribs={"layer": "Profile"})
    save(made, tmp_path)
    assert loop_area(read_outline("a.dxf", tmp_path, layer="profile")) == 22.5
    assert "SPLINE" in refused(tmp_path)
    assert "layers with something on them: Profile, sketch" in refused(tmp_path, layer="outline")


def _draw_open(space: Any) -> None:
    space.add_lwpolyline([(0, 0), (9, 0), (9, 5)])


def _draw_crossing(space: Any) -> None:
    space.add_lwpolyline([(0, 0), (9, 5), (9, 0), (0, 5)], close=True)


def _draw_two(space: Any) -> None:
    space.add_circle((0, 0), 3)
    space.add_circle((9, 0), 3)


def _draw_fork(space: Any) -> None:
    for end in ((5, 0), (0, 5), (-5, 0)):
        space.add_line((0, 0), end)
    for a, b in (((5, 0), (0, 5)), ((0, 5), (-5, 0))):
        space.add_line(a, b)


def _draw_many(space: Any) -> None:
    space.add_lwpolyline([(math.cos(i / 500), math.sin(i / 500)) for i in range(2500)], close=True)


def _draw_turned_over(space: Any) -> None:
    space.add_circle((0, 0), 3, dxfattribs={"extrusion": (0, 0, -1)})


@pytest.mark.parametrize(
    ("draw", "says"),
    [
        (_draw_open, "open at (0.000, 0.000) mm and (9.000, 5.000) mm"),
        (_draw_crossing, "crosses or touches itself at 4.5 2.5"),
        (_draw_two, "holds 2 closed outlines; expected one"),
        (_draw_fork, "more than two lines meet"),
        (_draw_many, "more than 2,000 lines"),
        (_draw_turned_over, "turned-over plane"),
        (lambda space: None, "holds no closed outlines"),
    ],
)
def test_a_drawing_that_is_no_outline_says_why(tmp_path: Path, draw: Any, says: str) -> None:
    made = drawing()
    draw(made.modelspace())
    save(made, tmp_path)
    assert says in refused(tmp_path)


def test_the_unit_must_be_known_and_agree(tmp_path: Path) -> None:
    made = drawing(0)
    made.modelspace().add_circle((0, 0), 3)
    save(made, tmp_path)
    assert 'add outline_unit = "mm" or "in"' in refused(tmp_path)
    assert loop_area(read_outline("a.dxf", tmp_path, unit="in")) == pytest.approx(math.pi * 9 * 25.4**2)
    assert 'got the unit "yard"' in refused(tmp_path, unit="yard")
    made.header["$INSUNITS"] = 4
    save(made, tmp_path)
    assert "says that its unit is mm" in refused(tmp_path, unit="in")
    made.header["$INSUNITS"] = 14
    save(made, tmp_path)
    assert "code 14" in refused(tmp_path)


def test_files_outside_the_folder_or_beyond_reason_are_refused(tmp_path: Path) -> None:
    inner = tmp_path / "shop"
    inner.mkdir()
    made = drawing()
    made.modelspace().add_circle((0, 0), 3)
    save(made, tmp_path)
    assert "outside the folder" in refused(inner, "../a.dxf")
    assert "outside the folder" in refused(inner, str(tmp_path / "a.dxf"))
    (inner / "link.dxf").symlink_to(tmp_path / "a.dxf")
    assert "outside the folder" in refused(inner, "link.dxf")
    assert 'no file "b.dxf"' in refused(inner, "b.dxf")
    assert "no name of a file" in refused(inner, "a\0.dxf")
    (inner / "big.dxf").write_bytes(b"0\n" * 1_000_001)
    assert "larger than 2,000,000 bytes" in refused(inner, "big.dxf")
    (inner / "a.txt").write_text("x", encoding="utf-8")
    assert "neither a .dxf nor a .svg" in refused(inner, "a.txt")
    (inner / "dir.dxf").mkdir()
    assert "no file" in refused(inner, "dir.dxf")
    (inner / "bin.dxf").write_bytes(b"AutoCAD Binary DXF\r\n\x1a\x00")
    assert "binary" in refused(inner, "bin.dxf")
    with pytest.raises(OutlineError, match="no folder"):
        read_outline("a.dxf", None)


def test_a_damaged_drawing_never_brings_the_reader_down(tmp_path: Path) -> None:
    made = drawing()
    made.modelspace().add_lwpolyline(OGEE, format="xyb", close=True)
    save(made, tmp_path)
    whole = (tmp_path / "a.dxf").read_bytes()
    chance = random.Random(7)
    told = []
    for _ in range(40):
        lines = whole.split(b"\n")
        for _ in range(chance.choice((1, 5, 60))):
            at = chance.randrange(len(lines))
            lines[at] = chance.choice((b"", b"0", b"nan", b"-1e400", b"ENDSEC", b"\xff\xfe", b"10", b"LWPOLYLINE"))
        (tmp_path / "b.dxf").write_bytes(b"\n".join(lines[: chance.randrange(1, len(lines))]))
        try:
            assert loop_area(read_outline("b.dxf", tmp_path)) > 0
        except OutlineError as said:
            told.append(said.message)
    assert len(told) > 10
    assert all(told)


# --- SVG ---


def svg(body: str, head: str = 'width="100mm" height="50mm" viewBox="0 0 100 50"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode()


def loop_of(path: str) -> Loop:
    (loop,) = svg_loops(svg(f'<path d="{path}"/>'), "", None)
    return sound_loop(loop)


@pytest.mark.parametrize(
    ("path", "area"),
    [
        ("M0 0 L10 0 10 5 0 5 Z", 50),
        ("m 0,0 h10 v5 h-10 z", 50),
        ("M0,0 H 10 V 5 H 0 z", 50),
        ("M10 5 A5 5 0 0 1 0 5 A5 5 0 0 1 10 5", 25 * math.pi),
        ("M10,5a5,5,0,01-10,0a5,5,0,0110,0z", 25 * math.pi),  # flags without spaces
        ("M0 0 H10 V5 A5 5 0 0 0 5 10 H0 Z", 100 - 25 * math.pi / 4),
        ("M0 0 H10 V5 A5 5 0 0 1 5 10 H0 Z", 75 + 25 * math.pi / 4),
        ("M5 5 L10 5 A5 5 0 1 1 5 0 Z", 25 * math.pi * 3 / 4),
    ],
)
def test_paths_keep_lines_and_arcs(path: str, area: float) -> None:
    """Areas by hand; an arc of less or more than half a turn, either way."""
    assert loop_area(loop_of(path)) == pytest.approx(area, rel=1e-6)


def test_y_is_turned_up() -> None:
    loop = loop_of("M0 0 H10 V5 Z")  # the sharp corners are at the upper left and the lower right
    assert {(x, y) for x, y, _ in loop} == {(0.0, 0.0), (10.0, 0.0), (10.0, -5.0)}


def test_curves_become_lines_close_to_them() -> None:
    """Parabola through (0, 0), (10, 0) with control (5, 10): its area is 2/3 of the triangle on the control point."""
    assert loop_area(loop_of("M0 0 Q5 10 10 0 Z")) == pytest.approx(2 / 3 * 50, rel=6e-3)
    cubic = loop_of("M0 0 C 3.333333 6.666667 6.666667 6.666667 10 0 Z")  # the same parabola
    assert loop_area(cubic) == pytest.approx(2 / 3 * 50, rel=6e-3)
    wave = svg_loops(svg('<path d="M0 10 Q5 0 10 10 T20 10 V20 H0 Z"/>'), "", None)
    assert loop_area(sound_loop(wave[0])) == pytest.approx(200, rel=6e-3)  # what one half takes the other gives


@pytest.mark.parametrize(
    ("head", "scale"),
    [
        ('width="100mm" height="50mm" viewBox="0 0 100 50"', 1.0),
        ('width="100mm" viewBox="0 0 200 100"', 0.5),
        ('width="4in" viewBox="0 0 4 2"', 25.4),
        ("", 25.4 / 96),
        ('width="96"', 25.4 / 96),
    ],
)
def test_the_scale_is_that_of_width_and_view_box(head: str, scale: float) -> None:
    (loop,) = svg_loops(svg('<rect x="1" y="1" width="20" height="10"/>', head), "", None)
    assert abs(loop_area(loop)) == pytest.approx(200 * scale**2)


def test_elements_by_id_and_hidden_ones() -> None:
    body = '<defs><path d="M0 0 H1 V1 Z"/></defs><g id="a"><circle cx="5" cy="5" r="2"/></g>'
    body += '<polygon points="0,0 4,0 4,3"/>'
    assert len(svg_loops(svg(body), "", None)) == 2
    assert abs(loop_area(svg_loops(svg(body), "a", None)[0])) == pytest.approx(4 * math.pi)


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ('<path d="M0 0 H10 V5"/>', "is open"),
        ('<path d="M0 0 A5 3 0 0 1 10 0 Z"/>', "ellipse"),
        ('<path d="H10"/>', "cannot be read"),
        ('<path d="M0 0 L10"/>', "lacks numbers"),
        ('<path d="M0 0 L1 1 Z 5"/>', "too many"),
        ('<path d="M0 0 H1e99 V1 Z"/>', "1e99"),
        ('<path transform="scale(2)" d="M0 0 H1 V1 Z"/>', "transform"),
        ('<rect width="5%" height="3"/>', "5%"),
        ('<rect width="5" height="3" rx="1"/>', "round corners"),
        ("<path", "not an SVG file"),
    ],
)
def test_wrong_svg_says_why(body: str, says: str) -> None:
    with pytest.raises(OutlineError, match=says):
        svg_loops(svg(body), "", None)


def test_entities_are_refused_unread() -> None:
    bomb = b'<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]><svg>&b;</svg>'
    with pytest.raises(OutlineError, match="entities"):
        svg_loops(bomb, "", None)


@given(st.text(alphabet="MLHVAZmlhvazCQ 0123456789.-e,", max_size=40))
def test_any_path_data_is_read_or_refused(data: str) -> None:
    with contextlib.suppress(OutlineError):
        assert all(len(loop) > 1 for loop in svg_loops(svg(f'<path d="{data}"/>'), "", None))


# --- loops ---


@given(st.permutations(range(6)), st.lists(st.booleans(), min_size=6, max_size=6))
def test_sides_in_any_order_and_direction_make_the_same_loop(order: list[int], flips: list[bool]) -> None:
    own = sides(tuple(OGEE))
    shuffled = [(own[i][1], own[i][0], -own[i][2]) if flip else own[i] for i, flip in zip(order, flips, strict=True)]
    (loop,) = joined(shuffled)
    assert abs(loop_area(loop)) == pytest.approx(loop_area(tuple(OGEE)))


def test_backwards_twice_is_the_same() -> None:
    loop = tuple(OGEE)
    assert loop_area(backwards(loop)) == pytest.approx(-loop_area(loop))
    assert sound_loop(backwards(loop)) == backwards(backwards(loop))
    assert {v[:2] for v in backwards(loop)} == {v[:2] for v in loop}
