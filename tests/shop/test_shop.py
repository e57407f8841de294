"""The shop: practice values, roles and measured stock, which file is used, and messages for a wrong file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from casewright.findings import Severity
from casewright.shop import (
    ROLES,
    ShopError,
    built_in_shop,
    find_shop,
    library_practice,
    load_shop,
    shop_from_text,
    thickness_of,
)
from casewright.shop.sizes import stock_sizes
from casewright.stock import load_stock
from casewright.stock.model import Slide
from casewright.units.grid import key_of


def problems(text: str) -> str:
    with pytest.raises(ShopError) as caught:
        shop_from_text(text)
    assert caught.value.findings
    return str(caught.value)


# --- the built-in shop ---


def test_the_built_in_shop_serves_every_role() -> None:
    shop = load_shop()
    assert shop is built_in_shop()
    assert shop.name == "Fernbrook Workshop"
    assert {r.role for r in ROLES} == dict(shop.roles).keys()
    for role in ROLES:
        assert all(isinstance(item, role.kinds) for item in shop.sizes.items(role.role))
    assert shop.findings == ()


def test_sizes_are_the_measured_ones() -> None:
    sizes = load_shop().sizes
    assert sizes.sheet("case").thickness == 18.0
    assert thickness_of(sizes.board("top")) == 25.4
    assert sizes.stick("crown").spring == 45
    assert len(sizes.all("slide", Slide)) == 7
    assert sizes.species(sizes.board("top")).name == "Cherry, black"
    assert sizes.screw("screw-8x45").length == 45


def test_kerfs_are_common_ones() -> None:
    """Full kerf 1/8 in, thin kerf 3/32 in (common practice)."""
    machines = load_shop().machines
    assert machines.kerf("table saw") == 3.175
    assert machines.kerf("panel saw", "mitre saw") == 2.38125
    assert machines.kerf("panel saw") == 0
    assert machines.of("sander") is None


@pytest.mark.parametrize("ask", ["case", "nothing"])
def test_asking_for_a_role_that_is_not_so_served_is_the_callers_error(ask: str) -> None:
    with pytest.raises(KeyError, match=ask):
        load_shop().sizes.stick(ask)


# --- practice ---


def test_practice_has_the_trade_rules() -> None:
    """Side-mount slides: 12.7 mm a side, +0.8/−0 (common practice), so a box is opening − 25.4 … 27.0 mm."""
    practice = load_shop().practice
    assert 25.4 <= 2 * practice["drawer.side_clearance"] <= 27.0
    assert practice["pocket.angle"] == 15.0
    assert practice.rule("pocket.angle").unit == "deg"
    for rule in practice.rules:
        assert rule.note
        assert rule.source
        assert rule.basis


def test_an_unknown_practice_value_is_the_callers_error() -> None:
    with pytest.raises(KeyError, match=r'did you mean "drawer.side_clearance"'):
        library_practice()["drawer.side_clearence"]


def test_a_shop_overrides_practice_in_either_spelling() -> None:
    shop = shop_from_text(
        'format = 1\nunits = "in"\n[practice]\n"gap.inset" = "3/32"\n'
        '[practice.top]\nslot_extra = { value = "4 mm", note = "mine" }\n'
    )
    assert shop.practice["gap.inset"] == 2.38125
    assert shop.practice.rule("top.slot_extra").note == "mine"
    assert shop.practice.rule("top.slot_extra").given_by == "shop.toml"
    assert shop.practice["back.play"] == library_practice()["back.play"]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('drawer.side_clearance = "9 mm"', "at least 12.7 mm"),
        ("drawer.side_clearance = -1", "at least"),
        ('drawer.side_clearance = "wide"', "no number"),
        ("drawer.side_clearance = true", "expected a length"),
        ('pocket.angle = "90 deg"', "at most 30 deg"),
        ('top.slot = "1 mm"', 'no practice value "top.slot"'),
        ('back.rabbet_share = "half"', "expected a number"),
        ("back.rabbet_share = inf", "expected a number"),
        ('gap.inset = { vlaue = "2 mm" }', "expected a value"),
    ],
)
def test_wrong_practice_says_what_is_right(line: str, says: str) -> None:
    said = problems(f"format = 1\n[practice]\n{line}\n")
    assert "shop.toml:3" in said
    assert says in said


# --- slices ---


def test_a_new_price_changes_no_slice_but_prices() -> None:
    text = 'format = 1\n[measured]\n"birch-plywood-18" = "18.1 mm"\n'
    before, after = shop_from_text(text), shop_from_text(text + '[prices]\n"birch-plywood-18" = 120.0\n')
    assert after.prices.of("birch-plywood-18") is not None
    assert before.prices != after.prices
    for name in ("sizes", "practice", "machines", "hours"):
        assert key_of(getattr(before, name)) == key_of(getattr(after, name))


def test_a_measured_thickness_changes_sizes() -> None:
    thin = shop_from_text('format = 1\n[measured]\n"birch-plywood-18" = "18.0 mm"\n')
    thick = shop_from_text(
        'format = 1\n[measured]\n"poplar-4/4" = "20 mm"\n'
        '"birch-plywood-18" = { thickness = "18.6 mm", lot = "spring" }\n'
    )
    assert thick.sizes.sheet("case").thickness == 18.6
    assert thick.sizes.sheet("case").lot == "spring"
    assert thickness_of(thick.sizes.board("face_frame")) == 20
    assert key_of(thin.sizes) != key_of(thick.sizes)


def test_stock_known_by_nominal_size_is_to_be_measured_first() -> None:
    shop = shop_from_text('format = 1\n[measured]\n"birch-plywood-18" = "18.0 mm"\n')
    assert all(f.code == "stock.measure_first" and f.severity is Severity.WARN for f in shop.findings)
    items = {f.path.rsplit(".", 1)[1] for f in shop.findings}
    assert items == {"birch-plywood-6", "multi-ply-birch-12", "mdf-19", "mdf-6"}


def test_sizes_do_not_depend_on_the_order_of_roles() -> None:
    shop = load_shop()
    backwards = dict(reversed(shop.roles))
    assert stock_sizes(load_stock(), backwards, shop.measured) == shop.sizes


# --- which file ---


def test_which_shop_file_is_used(tmp_path: Path) -> None:
    order = tmp_path / "order.toml"
    option = tmp_path / "other.toml"
    assert find_shop(None, "", order).path is None
    assert find_shop(None, "", order).why == "built in"
    (tmp_path / "shop.toml").write_text('format = 1\nname = "Ours"\n', encoding="utf-8")
    beside = find_shop(None, "", order)
    assert (beside.path, beside.why) == (tmp_path / "shop.toml", "beside the order")
    assert find_shop(None, "named.toml", order).path == tmp_path / "named.toml"
    assert find_shop(None, "named.toml", order).why == "order"
    assert find_shop(option, "named.toml", order).path == option
    assert beside.path is not None
    shop = load_shop(beside.path, beside.why)
    assert (shop.name, shop.file, shop.found) == ("Ours", "shop.toml", "beside the order")
    assert shop.roles == load_shop().roles
    assert shop.machines == replace(load_shop().machines)


# --- wrong files ---


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('format = 1\nuntis = "in"\n', 'shop.toml:2 untis: unknown key "untis"; did you mean "units"?'),
        ("format = 2\n", "got 2; expected 1"),
        ("", '"format" is missing'),
        ('format = 1\n[roles]\ncase = "birch-plywood-8"\n', 'shop.toml:3 roles.case: no stock item "birch-plywood-8"'),
        ('format = 1\n[roles]\ntop = "slide-10"\n', "is a slide; expected a sheet or board"),
        ('format = 1\n[roles]\ncasse = "mdf-19"\n', 'did you mean "case"?'),
        ("format = 1\n[roles]\ncase = []\n", "names no stock item"),
        ('format = 1\n[measured]\n"mdf-19" = "3x"\n', 'shop.toml:3 measured.mdf-19.thickness: got "3x"'),
        ('format = 1\n[measured]\n"pva" = 3\n', "neither a sheet nor a board"),
        ('format = 1\n[measured]\n"mdf-199" = 3\n', 'did you mean "mdf-19"?'),
        ('format = 1\n[prices]\n"mdf-199" = 3.0\n', 'did you mean "mdf-19"?'),
        ('format = 1\n[[machine]]\nname = "a"\nkind = "table sow"\n', 'did you mean "table saw"?'),
        (
            'format = 1\n[[machine]]\nname = "a"\nkind = "drill"\nkerf = -1\n',
            "shop.toml:5 machine[1].kerf: got -1; must not",
        ),
        ("format = 1\n[hours]\nper_day = 25.0\n", "less than or equal to 24"),
        ('format = 1\n[print]\nlengths = "in"\ndivision = 2.5\n', "whole number of parts"),
    ],
)
def test_a_wrong_shop_file_says_what_is_right(text: str, says: str) -> None:
    assert says in problems(text)


def test_every_problem_is_told_at_once() -> None:
    said = problems('format = 1\n[roles]\ncase = "x"\n[practice]\nx = 1\n[prices]\ny = 1.0\n')
    assert len(said.splitlines()) == 3
