"""A shop's own stock: items like others, profiles from points or a drawing, and messages for what is wrong."""

from __future__ import annotations

import math
import re
from pathlib import Path

import ezdxf
import pytest

from casewright.catalogue import BUILT_IN
from casewright.order import order_from_text, sizes_for
from casewright.shop import Shop, ShopError, load_shop, shop_from_text
from casewright.stock import load_stock
from casewright.stock.loops import loop_area, loop_box

ROOT = Path(__file__).parent.parent.parent


def shop(text: str, units: str = "mm", folder: Path | None = None) -> Shop:
    return shop_from_text(f'format = 1\nunits = "{units}"\n{text}', folder=folder)


def problems(text: str, folder: Path | None = None) -> str:
    with pytest.raises(ShopError) as caught:
        shop(text, folder=folder)
    return str(caught.value)


SHEET = """
[stock.sheets.my-ply]
name = "maple plywood of the yard"
like = "birch-plywood-18"
nominal = 18
measured = 17.6
price = 90.0
"""


def test_an_item_is_like_another_but_for_what_it_says() -> None:
    own = shop(SHEET + '[roles]\ncase = "my-ply"\n')
    sheet = own.sizes.sheet("case")
    library = load_stock().sheets["birch-plywood-18"]
    assert (sheet.id, sheet.thickness, sheet.name) == ("my-ply", 17.6, "maple plywood of the yard")
    assert (sheet.length, sheet.width, sheet.material) == (library.length, library.width, library.material)
    assert (sheet.source, sheet.basis) == ("shop file", "set by the user")
    price = own.prices.of("my-ply")
    assert price is not None
    assert (price.amount, price.per, price.basis) == (90.0, "sheet", "set by the user")
    assert not any("my-ply" in f.path for f in own.findings)
    assert "my-ply" not in load_stock().sheets


def test_lengths_are_in_the_unit_of_the_file_and_templates_in_mm() -> None:
    inches = shop(SHEET.replace("18\n", "0.75\n").replace("17.6", '"11/16"'), units="in").stock.sheets["my-ply"]
    assert (inches.nominal, inches.measured, inches.length) == (19.05, 17.4625, 2438.4)
    text = '[stock.slides.my-slide]\nlike = "side-mount"\nname = "x"\nlength = 12\ntravel = 12\nmass = 0.25\n'
    slide = shop(text + "case_holes = [2, 8]\ndrawer_holes = [2, 8]\nprice = 9.0\n", units="in").stock.slides[
        "my-slide"
    ]
    assert (slide.length, slide.case_holes, slide.clearance, slide.mass) == (304.8, (50.8, 203.2), 12.7, 0.25)


def test_every_kind_can_be_added_by_copying_an_item_of_the_library() -> None:
    text = ""
    for kind, items in load_stock().tables.items():
        text += f'[stock.{kind}.own-{kind.replace("_", "-")}]\nlike = "{next(iter(items))}"\nname = "own"\n'
    own = shop(text).stock
    for kind, items in load_stock().tables.items():
        copied = own.tables[kind][f"own-{kind.replace('_', '-')}"]
        first = next(iter(items.values()))
        for field in type(first).__dataclass_fields__:
            if field not in ("id", "name", "source", "basis"):
                assert getattr(copied, field) == getattr(first, field)
        assert copied.id in own.prices


def test_own_stock_serves_orders_that_name_it() -> None:
    own = shop(SHEET)
    text = (ROOT / "examples" / "lantern-hill.toml").read_text(encoding="utf-8")
    text = text + '\n[roles]\ncase = "my-ply"\n' if "[roles]" not in text else text
    order = order_from_text(text, BUILT_IN.kinds, stock=own.stock)
    assert sizes_for(order, order.pieces[0], own).sheet("case").thickness == 17.6


def test_a_file_beside_the_shop_gives_a_profile(tmp_path: Path) -> None:
    """A quarter hollow of radius 16 off a 19 mm square, drawn far from the origin and clockwise: 361 − 64π mm²."""
    drawing = ezdxf.new("R2010")
    drawing.header["$INSUNITS"] = 4
    quarter = math.tan(math.pi / 8)
    points = [(100, 0, 0), (100, 19, 0), (119, 19, 0), (119, 16, quarter), (103, 0, 0)]
    drawing.modelspace().add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "cove"})
    (tmp_path / "drawings").mkdir()
    drawing.saveas(tmp_path / "drawings" / "cove.dxf")
    (tmp_path / "shop.toml").write_text(
        'format = 1\n[stock.sticks.my-cove]\nlike = "cove-19"\nname = "own cove"\n'
        'outline = "drawings/cove.dxf"\nlayer = "cove"\nprice = 3.0\n[roles]\ncrown = "my-cove"\n',
        encoding="utf-8",
    )
    stick = load_shop(tmp_path / "shop.toml").sizes.stick("crown")
    assert loop_area(stick.section) == pytest.approx(361 - 64 * math.pi, abs=1e-3)
    assert loop_box(stick.section) == pytest.approx((0, 0, 19, 19), abs=1e-6)


def test_a_profile_from_points_is_put_to_its_wall() -> None:
    text = '[stock.sticks.my-bead]\nlike = "poplar"\nname = "bead"\nuse = "bead"\nspring = 0\nprice = 1.0\n'
    own = shop(text + "section = [[5, 5], [5, 25], [15, 25], [15, 5]]\n")
    assert loop_box(own.stock.sticks["my-bead"].section) == (0, 0, 10, 20)
    assert loop_area(own.stock.sticks["my-bead"].section) == 200


STICK = '[stock.sticks.a]\nlike = "poplar"\nname = "x"\nuse = "bead"\nspring = 0\nprice = 1.0\n'


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[stock.sheet.a]\nx = 1\n", 'no kind of stock "sheet"; did you mean "sheets"?'),
        ('[stock.sheets."My Ply"]\nx = 1\n', "use small letters"),
        ("[stock.sheets.mdf-19]\nx = 1\n", 'the library has "mdf-19"'),
        (SHEET.replace("birch-plywood-18", "birch-plywod"), 'is called "birch-plywod"; did you mean "birch-plywood"?'),
        (SHEET.replace("nominal", "nominel"), 'unknown key "nominel"; did you mean "nominal"?'),
        (SHEET.replace("= 18\n", '= "18 parsecs"\n'), "my-ply.nominal"),
        (SHEET.replace("= 18\n", "= -18\n"), "must be more than 0"),
        (SHEET.replace("= 18\n", "= 1e9\n"), "check the number and its unit"),
        (SHEET.replace("= 18\n", "= true\n"), "expected a length"),
        (SHEET.replace("90.0", "-1"), "not negative"),
        (SHEET.replace('"maple plywood of the yard"', "3"), "expected a text in quotes"),
        (SHEET.replace("maple plywood of the yard", r"a\u0007b"), "control characters"),
        ('[stock.sheets.a]\nname = "x"\nprice = 1.0\n', '"density" is missing'),
        ('[stock.sheets.a]\nname = "x"\nlike = "mdf"\nnominal = 19\n', '"price" is missing (for one sheet)'),
        ('[stock.boards.a]\nlike = "cherry-4/4"\nname = "x"\nspecies = "elm-americn"\n', 'did you mean "elm-american"'),
        ('[stock.hinges.a]\nlike = "butt-51"\nname = "x"\nscrew = "screw-6x9"\n', 'no screw "screw-6x9"'),
        ('[stock.hinges.a]\nlike = "butt-51"\nname = "x"\nholes = [[1, 2, 3]]\n', "expected 2 values"),
        ('[stock.boards.a]\nlike = "cherry-4/4"\nname = "x"\nquarters = 4.5\n', "expected a whole number"),
        (STICK + "section = [[0, 0], [9, 0]]\n", "needs three points"),
        (STICK + "section = [[0, 0], [9, 5], [9, 0], [0, 5]]\n", "crosses or touches itself at 4.5 2.5"),
        (STICK + "section = [[0, 0], [9, 0], [9, 0], [0, 5]]\n", "points 2 and 3 are the same"),
        (STICK + "section = [[0, 0], [900, 0], [0, 5]]\n", "900 × 5 mm; expected 2 to 400 mm"),
        (STICK + "section = [[0, 0], [9], [0, 5]]\n", "point 2 is [9]"),
        (STICK + 'section = [[0, 0], [9, 0, "x"], [0, 5]]\n', "point 2: got"),
        (STICK + "section = [[0, 0], [9, 0, 1e5], [0, 5]]\n", "bulge 100000"),
        (STICK + 'section = [[0, 0], [9, 0], [0, 5]]\noutline = "a.dxf"\n', "given twice|no folder"),
        (STICK + "outline = 3\n", "expected a text"),
        (STICK + 'layer = "x"\n', '"outline" is missing'),
        (STICK + 'outline = "a.dxf"\n', "cannot be found: this text has no folder"),
        (STICK.replace("spring = 0", "spring = 95") + "section = [[0, 0], [9, 0], [0, 5]]\n", "below 90"),
        (SHEET + SHEET.replace("sheets", "boards").replace("birch-plywood-18", "cherry-4/4"), "given twice"),
    ],
)
def test_wrong_stock_says_what_is_right(text: str, says: str) -> None:
    said = problems(text)
    assert any(part in said for part in says.split("|")), said
    assert said.startswith("shop.toml:")


def test_every_problem_of_an_item_is_told_at_once() -> None:
    said = problems('[stock.sheets.a]\nname = 3\nmaterial = 4\nprice = 1.0\nlike = "mdf"\nnominal = 5\n')
    assert len(said.splitlines()) == 2


def test_too_many_items_are_refused() -> None:
    items = "".join(f'[stock.sheets.a{i}]\nlike = "mdf-19"\nname = "x"\n' for i in range(501))
    assert "more than 500" in problems(items)


def test_the_example_of_the_reference_is_read(tmp_path: Path) -> None:
    page = (ROOT / "docs" / "shop.md").read_text(encoding="utf-8")
    found = re.search(r"```toml\n(\[stock.*?)```", page, re.DOTALL)
    assert found is not None
    drawing = ezdxf.new()
    drawing.header["$INSUNITS"] = 1
    drawing.modelspace().add_lwpolyline([(0, 0), (1, 1), (0, 1)], close=True, dxfattribs={"layer": "profile"})
    drawing.saveas(tmp_path / "crown.dxf")
    own = shop(found[1], folder=tmp_path)
    assert own.stock.sheets["shop-maple-18"].thickness == 17.6
    assert loop_box(own.stock.sticks["drawn-crown"].section) == pytest.approx((0, 0, 25.4, 25.4))
    assert own.prices.of("drawn-crown") is not None
