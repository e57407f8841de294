"""Orders: the sample, defaults, and one clear message for each thing that can be wrong."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from casewright.order import (
    Order,
    OrderError,
    load_order,
    order_from_text,
    practice_for,
    shop_findings,
    sizes_for,
)
from casewright.order.pieces import PIECES
from casewright.order.pieces.bedside import BedsideOrder
from casewright.shop import load_shop

SAMPLE = Path(__file__).resolve().parents[2] / "examples" / "lantern-hill.toml"
LEAST = 'format = 1\ntitle = "t"\n[[piece]]\nkind = "bedside"\n'


def problems(text: str) -> str:
    with pytest.raises(OrderError) as caught:
        order_from_text(text, PIECES)
    assert caught.value.findings
    assert all(f.stops for f in caught.value.findings)
    return str(caught.value)


def only_piece(order: Order) -> BedsideOrder:
    (piece,) = order.pieces
    assert isinstance(piece, BedsideOrder)
    return piece


# --- good orders ---


def test_the_sample_order() -> None:
    order = load_order(SAMPLE, PIECES)
    piece = only_piece(order)
    assert piece.hands == ("left", "right")
    assert piece.height == order.room.mattress_height
    assert piece.device is not None
    assert piece.device.wood_over == 4.0
    assert order.due == "2026-11-20"
    line = SAMPLE.read_text(encoding="utf-8").splitlines().index("[[piece]]") + 1
    assert piece.place == f"lantern-hill.toml:{line}"


def test_the_least_order_takes_every_default() -> None:
    piece = only_piece(order_from_text(LEAST, PIECES))
    assert (piece.width, piece.depth, piece.height) == (508.0, 457.2, 660.4)
    assert piece.gap is None
    assert piece.device is None
    assert piece.drawer.applied_frame


def test_a_bare_number_takes_the_unit_of_the_file() -> None:
    assert only_piece(order_from_text(LEAST + "width = 500\n", PIECES)).width == 500
    inches = 'units = "in"\n' + LEAST
    assert only_piece(order_from_text(inches + "width = 20\n", PIECES)).width == 508
    assert only_piece(order_from_text(inches + 'depth = "450 mm"\n', PIECES)).depth == 450


def test_style_is_shared_and_a_piece_may_differ() -> None:
    text = 'format = 1\ntitle = "t"\n[style]\nstile_width = 40\ngap = 3\napplied_frame = false\n'
    text += '[[piece]]\nkind = "bedside"\nname = "a"\n[[piece]]\nkind = "bedside"\nname = "b"\nstile_width = 50\n'
    a, b = order_from_text(text, PIECES).pieces
    assert isinstance(a, BedsideOrder)
    assert isinstance(b, BedsideOrder)
    assert (a.stile_width, b.stile_width) == (40, 50)
    assert (a.gap, b.gap) == (3, 3)
    assert not a.drawer.applied_frame


def test_where_it_stands_in_the_file_does_not_count() -> None:
    a = only_piece(order_from_text(LEAST, PIECES))
    b = only_piece(order_from_text("\n\n" + LEAST, PIECES))
    assert a == b
    assert a.place != b.place


def test_practice_and_roles_of_an_order() -> None:
    shop = load_shop()
    text = 'format = 1\ntitle = "t"\nunits = "in"\n[practice]\ngap.inset = "3/32"\n[roles]\ntop = "walnut-5/4"\n'
    text += '[[piece]]\nkind = "bedside"\n[piece.roles]\ncase = "multi-ply-birch-18"\n'
    order = order_from_text(text, PIECES)
    assert practice_for(order, shop)["gap.inset"] == 2.38125
    assert practice_for(order, shop)["back.play"] == shop.practice["back.play"]
    sizes = sizes_for(order, order.pieces[0], shop)
    assert sizes.board("top").id == "walnut-5/4"
    assert sizes.species(sizes.board("top")).id == "walnut-black"
    assert sizes.sheet("case").id == "multi-ply-birch-18"
    assert sizes.sheet("back") == shop.sizes.sheet("back")
    plain = order_from_text(LEAST, PIECES)
    assert sizes_for(plain, plain.pieces[0], shop) is shop.sizes


def test_the_result_says_which_shop_was_used_and_what_to_measure() -> None:
    shop = load_shop()
    order = order_from_text(LEAST, PIECES)
    (used,) = shop_findings(order, shop)
    assert "the built-in shop was used, Fernbrook Workshop" in used.message
    unmeasured = replace(shop, measured=())
    text = 'format = 1\ntitle = "t"\n[[piece]]\nkind = "bedside"\nroles.back = "birch-plywood-12"\n'
    codes = [f.code for f in shop_findings(order_from_text(text, PIECES), unmeasured)]
    assert codes.count("stock.measure_first") >= 4


def test_accepted_findings_are_kept() -> None:
    text = LEAST + '[[accept]]\ncode = "a.b"\npath = "bedside.left"\nvalue = 3.0\nreason = "seen and wanted"\n'
    (accepted,) = order_from_text(text, PIECES).accepted
    assert (accepted.code, accepted.value, accepted.place) == ("a.b", 3.0, "order.toml:5")


# --- wrong orders ---


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ('width = "2x in"', 'order.toml:5 piece[1].width: got "2x in": "x" is not a unit of length'),
        ("width = -500", "order.toml:5 piece[1].width: got -500; must be more than 0"),
        ("width = 0", "must be more than 0"),
        ('width = "20 m"', "must be at most 6000 mm"),
        ("width = nan", "finite"),
        ("width = true", "expected a length"),
        ('widht = "20 in"', 'unknown key "widht"; did you mean "width"?'),
        ("top.thicknes = 25", 'piece[1].top.thicknes: unknown key "thicknes"; did you mean "thickness"?'),
        ("top = 25", "piece[1].top: got 25; expected a table"),
        ('handed = "pear"', 'did you mean "pair"?'),
        ("crown = 1", "expected true or false"),
        ('name = "Bed Side"', "piece[1].name"),
        ("count = 0", "greater than or equal to 1"),
        ("count = 1.5", "expected a whole number"),
        ('roles.top = "cherry-5"', 'no stock item "cherry-5"; did you mean "cherry-5/4"?'),
        ('roles.topp = "cherry-5/4"', 'unknown role "topp"; did you mean "top"?'),
        ('title = "a\\u0000b"', "without control characters"),
        ("title = 5", "expected a text in quotes"),
    ],
)
def test_a_wrong_piece_says_where_what_and_what_is_right(lines: str, says: str) -> None:
    assert says in problems(LEAST + lines + "\n")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", '"format" is missing'),
        ('format = 1\ntitle = "t"\n', "order.toml piece: the order has no pieces; add [[piece]] with"),
        ('format = 1\ntitle = "t"\npiece = []\n', "the order has no pieces"),
        ('format = 1\ntitle = "t"\n[piece]\nkind = "bedside"\n', "write [[piece]] in two brackets"),
        ('format = 1\ntitle = "t"\n[[piece]]\n', '"kind" is missing'),
        ('format = 1\ntitle = "t"\n[[piece]]\nkind = "bedsied"\n', 'no piece "bedsied"; did you mean "bedside"?'),
        ('format = 1\ntitle = "t"\n[[piece]]\nkind = 3\n', "no piece"),
        ('format = 1\ntitle = "t"\npiece = [1]\n', "piece[1]: got 1; expected a table"),
        ('format = "1"\ntitle = "t"\n', 'got "1"; expected 1'),
        ('due = "tomorrow"\n' + LEAST, "expected a date such as"),
        ("[room]\nhumidity_low = 70\n", "humidity_low ≤ humidity_fitting"),
        ("[room]\nhumidity_low = 0\n", "order.toml:2 room.humidity_low"),
        (LEAST + '[[piece]]\nkind = "bedside"\n', 'the name "bedside" is taken'),
        (LEAST + '[[accept]]\ncode = "x"\n', '"reason" is missing'),
        (LEAST + "[practice]\ngap.insett = 2\n", 'order.toml:6 practice.gap.insett: no practice value "gap.insett"'),
        ('format = 1\ntitle = "t"\nunits = "yd"\n', 'expected one of "in", "mm", "cm"'),
        ("a = \n", "is not valid TOML at line 1, column 5"),
        ('a = 1\nb = "x\n', "is not valid TOML at line 2, column 7"),
        ("a = 1\na = 2\n", "is not valid TOML at line 2"),
        ("a = 1\nb = \0", "order.toml:2: holds a NUL byte"),
        ("a = " + "[" * 3000, "order.toml"),
        ("a." * 3000 + "a = 1", "more than 200 points"),
        ("\n".join(f"k{i} = 1" for i in range(5000)), "and 4902 more"),
        ("a = " + "9" * 5000, "order.toml"),
        ("format = 0x" + "f" * 5000, "a number of 20000 bits"),
        (LEAST + "width = 0x" + "f" * 5000, "a number of 20000 bits"),
    ],
)
def test_a_wrong_order_says_where_what_and_what_is_right(text: str, says: str) -> None:
    assert says in problems(text)


def test_every_problem_is_told_at_once() -> None:
    text = 'format = 1\n[[piece]]\nkind = "bedside"\nwidth = -1\ndepht = 3\n[[piece]]\nkind = "bedsid"\n'
    assert len(problems(text).splitlines()) == 4


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "order.toml: there is no such file"),
        ("folder", "is a folder"),
        (b"title = '\xff'\n", "is not UTF-8 (line 1, byte 10)"),
        (b"\xff\xfet\x00i\x00", "is not UTF-8"),
        (b"#" * 1_000_001, "larger than 1,000,000 bytes"),
        (b"format = 1\n\0", "holds a NUL byte"),
    ],
)
def test_a_file_that_cannot_be_read(tmp_path: Path, content: bytes | str | None, says: str) -> None:
    path = tmp_path / "order.toml"
    if content == "folder":
        path.mkdir()
    elif isinstance(content, bytes):
        path.write_bytes(content)
    with pytest.raises(OrderError) as caught:
        load_order(path, PIECES)
    assert says in str(caught.value)


def test_a_name_that_no_file_can_have() -> None:
    with pytest.raises(OrderError, match="cannot be read"):
        load_order("a\0b", PIECES)


def test_line_ends_and_marks_of_other_systems(tmp_path: Path) -> None:
    path = tmp_path / "order.toml"
    path.write_bytes(b"\xef\xbb\xbf" + LEAST.replace("\n", "\r\n").encode())
    assert only_piece(load_order(path, PIECES)) == only_piece(order_from_text(LEAST, PIECES))
