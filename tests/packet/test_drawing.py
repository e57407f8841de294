"""Primitives, the SVG backend and the recorder."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from casewright.packet.drawing.primitives import (
    Anchor,
    Arc,
    Circle,
    Fill,
    Leader,
    LineRole,
    Picture,
    Polyline,
    Segments,
    Text,
    text_width,
)  # fmt: skip
from casewright.packet.drawing.recorder import recorded
from casewright.packet.drawing.styles import STYLES
from casewright.packet.drawing.svg import svg_of

SVG = "{http://www.w3.org/2000/svg}"
EVERYTHING = Picture(
    100.0,
    50.0,
    (
        Fill((((10.0, 10.0), (30.0, 10.0), (30.0, 30.0)),), (200, 100, 50)),
        Segments(((0.0, 0.0, 10.0, 5.0), (20.0, 0.0, 20.004, 5.0)), LineRole.VISIBLE),
        Segments(((1.0, 1.0, 2.0, 2.0),), LineRole.HIDDEN),
        Polyline(((0.0, 0.0), (5.0, 0.0), (5.0, 5.0)), LineRole.VISIBLE, closed=True),
        Circle((50.0, 25.0), 4.0, LineRole.VISIBLE),
        Arc((50.0, 25.0), 10.0, 0.0, 270.0, LineRole.CENTRE),
        Leader(((60.0, 40.0), (70.0, 20.0))),
        Circle((60.0, 40.0), 3.0, LineRole.LEADER, (255, 255, 255)),
        Text((60.0, 40.0), "A & <B>", 3.2),
        Text((5.0, 45.0), "23 17/32", 3.0, Anchor.START, 90.0),
    ),
    "everything",
)


def test_each_style_is_one_path() -> None:
    root = ET.fromstring(svg_of(EVERYTHING))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "50mm", "0 0 100 50")
    assert root.find(f"{SVG}title").text == "everything"
    lines = [p for p in root.findall(f"{SVG}path") if p.get("fill") == "none"]
    assert len(lines) == len({LineRole.VISIBLE, LineRole.HIDDEN, LineRole.CENTRE, LineRole.LEADER})
    visible = next(p for p in lines if p.get("stroke-width") == "0.25")
    # y runs down in SVG; two decimals; a full circle is two half arcs.
    assert visible.get("d") == ("M0 50L10 45M20 50L20 45M0 50L5 50L5 45ZM46 25A4 4 0 1 0 54 25A4 4 0 1 0 46 25Z")


def test_dashes_follow_the_role() -> None:
    root = ET.fromstring(svg_of(EVERYTHING))
    dashed = [p.get("stroke-dasharray") for p in root.findall(f"{SVG}path") if p.get("stroke-dasharray")]
    assert dashed == ["1.4 0.7", "4 0.8 0.6 0.8"]


def test_an_arc_of_three_quarters_is_a_large_one_and_runs_counter_clockwise() -> None:
    picture = Picture(100.0, 50.0, (Arc((50.0, 25.0), 10.0, 0.0, 270.0, LineRole.CENTRE),))
    # From (60, 25) over the top to (50, 15), which is (50, 35) downwards; sweep flag 0 is counter-clockwise there.
    assert "M60 25A10 10 0 1 0 50 35" in svg_of(picture)


def test_texts_are_escaped_anchored_and_turned() -> None:
    root = ET.fromstring(svg_of(EVERYTHING, font="Some Font"))
    assert root.get("font-family") == "Some Font"
    first, second = root.findall(f"{SVG}text")
    assert (first.text, first.get("text-anchor")) == ("A & <B>", "middle")
    assert second.get("transform") == "rotate(-90 5 5)"


def test_fills_keep_their_order_and_share_a_path_only_side_by_side() -> None:
    ring = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))
    red, blue = (255, 0, 0), (0, 0, 255)
    fills = (Fill((ring,), red), Fill((ring,), red), Fill((ring,), blue), Fill((ring,), red))
    paths = ET.fromstring(svg_of(Picture(10.0, 10.0, fills))).findall(f"{SVG}path")
    assert [p.get("fill") for p in paths] == ["#ff0000", "#0000ff", "#ff0000"]


def test_the_recorder_keeps_everything_in_order() -> None:
    kept = recorded(EVERYTHING)
    assert [t.text for t in kept.texts] == ["A & <B>", "23 17/32"]
    assert len(kept.fills) == 1
    assert len(kept.circles) == 3  # with the dot of the leader
    assert [line.role for line in kept.lines].count(LineRole.VISIBLE) == 2


def test_every_role_has_a_style() -> None:
    assert set(STYLES) == set(LineRole)


def test_widths_of_texts_are_no_less_than_a_wide_font_needs() -> None:
    assert text_width("23 17/32", 3.0) == pytest.approx(0.62 * 3.0 * 8)
