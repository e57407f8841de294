"""How the top of a whole case is fixed: screws in slots, buttons, figure-eight plates, as ordered."""

from __future__ import annotations

import pytest
from tests.design.harness import agrees_with_kernel
from tests.design.test_case_backs import loud
from tests.design.test_cases import CHERRY, SIZE, box, built, case

from casewright.design.assembly import JointKind
from casewright.design.features.cuts import Groove
from casewright.stock.reading import load_stock

GRID = 'bays = { columns = ["door", { holds = "open", shelves = 1 }] }\n'
CASES = {
    "framed": (f"{SIZE}{GRID}crown = true\n", ""),
    "frameless": (f'front = "frameless"\n{SIZE}{GRID}fronts = {{ mount = "overlay" }}\n', ""),
    "posts": (f'{SIZE}{GRID}stand = {{ kind = "posts" }}\n', ""),
    "solid": (f'{SIZE}bays = {{ columns = ["open", {{ holds = "open", shelves = 1 }}] }}\n', CHERRY),
}


@pytest.mark.parametrize("what", CASES)
def test_buttons_sit_in_slots_of_the_sides(what: str) -> None:
    text, before = CASES[what]
    project = case(f'{text}top = {{ fixing = "buttons" }}', before)
    piece = built(project)
    assert not loud(project)
    buttons = [p for p in piece.placed if "/button." in p.path]
    assert {p.path.partition("[")[0] for p in buttons} == {"case/button.side.left", "case/button.side.right"}
    item = load_stock().buttons["button-38"]
    slots = [f for f in piece.by_path()["case/side.left"].part.features if isinstance(f, Groove)]
    assert len(slots) == len(buttons) / 2
    for slot in slots:
        # the tongue's own thickness and its play; as long as the button is wide, and what the top moves besides
        sizes = sorted((slot.u1 - slot.u0, slot.v1 - slot.v0))
        assert sizes[0] == pytest.approx(item.tongue_thickness + 1.0, abs=1e-3)
        assert sizes[1] > item.width + 2.0
        thick = piece.by_path()["case/side.left"].part.blank.thickness
        assert slot.depth == pytest.approx(min(item.tongue_length + 1.0, thick / 2), abs=1e-3)
    kinds = {j.id.removeprefix("case/"): j.kind for j in piece.joints}
    assert kinds["top~stretcher.front"] is JointKind.SCREWS, "the front stays put"


@pytest.mark.parametrize("what", ["framed", "frameless", "posts"])
def test_figure_plates_lie_in_cleats_along_the_sides(what: str) -> None:
    """Plates want side grain for their screws: neither a sheet's edge nor the end grain of a solid side has it."""
    text, before = CASES[what]
    project = case(f'{text}top = {{ fixing = "figure plates" }}', before)
    piece = built(project)
    assert not loud(project)
    agrees_with_kernel(piece, 8)
    low, high = box(piece, "top_cleat.left")
    assert low[0] == pytest.approx(box(piece, "side.left")[1][0])
    assert high[2] == pytest.approx(box(piece, "top")[0][2])
    assert low[1] == pytest.approx(box(piece, "stretcher.front")[1][1])
    assert high[1] == pytest.approx(box(piece, "stretcher.rear")[0][1])
    plates = [j for j in piece.joints if j.kind is JointKind.FIGURE_PLATES and j.b == "case/top"]
    assert len(plates) >= 4


def codes(text: str) -> set[str]:
    return {f.code for f in case(text).assembly.pieces[0].findings if f.stops}


def test_where_no_side_offers_room_it_is_found() -> None:
    assert codes(f'{SIZE}{GRID}top = {{ kind = "breadboard", fixing = "buttons" }}') == {"top.fixing"}
    drawers = 'width = 600\ndepth = 420\nheight = 800\nbays = { rows = ["drawer", "drawer", "drawer"] }\n'
    assert codes(f'{drawers}top = {{ fixing = "figure plates" }}') == {"top.fixing"}
    assert not codes(f'{drawers}top = {{ fixing = "buttons" }}')


def test_left_to_itself_it_is_screwed_through_the_stretchers_and_says_why() -> None:
    piece = built(case(f"{SIZE}{GRID}"))
    joint = next(j for j in piece.joints if j.id == "case/top~stretcher.rear")
    assert joint.kind is JointKind.SLOTTED_SCREWS
    assert "level part is screwed through" in joint.why
