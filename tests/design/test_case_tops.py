"""How the top of a whole case is fixed: screws in slots, buttons, figure-eight plates, as ordered."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.seeding import found, subject_at, with_part
from tests.design.harness import agrees_with_kernel
from tests.design.test_case_backs import loud
from tests.design.test_cases import CHERRY, SIZE, box, built, case

from casewright.checks import movement_joints
from casewright.design.assembly import JointKind
from casewright.design.features.cuts import Groove
from casewright.design.features.openings import Slot
from casewright.order.errors import OrderError
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
    # with a third tie in the middle, the cleats of a shallow case would have a plate's screw and their own in one place
    shallow = "width = 960\ndepth = 326\nheight = 1290\n" + GRID
    assert codes(f'{shallow}top = {{ kind = "solid", fixing = "figure plates", fixed = "middle" }}') == {"top.fixing"}
    assert not codes(f'{drawers}top = {{ fixing = "buttons" }}')


def test_left_to_itself_it_is_screwed_through_the_stretchers_and_says_why() -> None:
    piece = built(case(f"{SIZE}{GRID}"))
    joint = next(j for j in piece.joints if j.id == "case/top~stretcher.rear")
    assert joint.kind is JointKind.SLOTTED_SCREWS
    assert "level part is screwed through" in joint.why


@pytest.mark.parametrize("fixing", ["auto", "buttons", "figure plates"])
@pytest.mark.parametrize("line", ["front", "middle", "rear"])
def test_the_order_says_where_a_solid_top_stays_put(line: str, fixing: str) -> None:
    """Rule of the trade (common practice): one fixed line, stated; elsewhere slots of C × range × distance + 3 mm.

    Cherry: C_T = 0.00248 a % (Wood Handbook, table 13-5). The overhang covers crown and reveal at the dry end.
    """
    text, before = CASES["framed"]
    project = case(f'{text}top = {{ fixing = "{fixing}", fixed = "{line}" }}', before)
    piece = built(project)
    assert not loud(project)
    kinds = {
        j.id.removeprefix("case/top~stretcher."): j for j in piece.joints if j.id.startswith("case/top~stretcher.")
    }
    assert {name for name, j in kinds.items() if j.kind is JointKind.SCREWS} == {line}
    assert ("middle" in kinds) == (line == "middle")
    assert f"the {line} stays put" in kinds[line].why
    shanks = {name: next(f for f in piece.fasteners if f.joint == j.id).frame.origin[1] for name, j in kinds.items()}
    dry, damp, fitted = project.moisture.dry, project.moisture.damp, project.moisture.fitted
    for name in kinds.keys() - {line}:
        slots = [f for f in piece.by_path()[f"case/stretcher.{name}"].part.features if isinstance(f, Slot)]
        u0, v0, u1, v1 = slots[0].outline.box
        length = max(u1 - u0, v1 - v0)
        moves = 0.00248 * (damp - dry) * abs(shanks[name] - shanks[line])
        assert length == pytest.approx(moves + 4.2 + 3.0, abs=0.3), name
    front = 0.00248 * (fitted - dry) * {"front": 0.0, "middle": 210.0, "rear": 420.0}[line]
    top, crown = box(piece, "top"), box(piece, "crown/front")
    assert crown[0][1] - top[0][1] >= front + 3.0, "crown.reveal is left at the dry end"
    text = next(s.text for s in piece.steps if s.text.startswith("Lay the top on where it was bored"))
    assert {"front": "at the front", "middle": "in the middle", "rear": "at the rear"}[line] in text


def test_slots_forgotten_before_a_rear_line_are_found() -> None:
    project = case(f'{CASES["framed"][0]}top = {{ fixed = "rear" }}')
    piece = project.assembly.pieces[0]
    bare = with_part(
        piece,
        "case/stretcher.front",
        lambda part: replace(part, features=tuple(f for f in part.features if not isinstance(f, Slot))),
    )
    stops = [f.path for f in found(movement_joints.CHECK, subject_at(project), bare) if f.stops]
    assert stops == ["case/top~stretcher.front"]


def test_an_overhang_that_the_dry_end_eats_up_is_found() -> None:
    text = f'{CASES["framed"][0]}top = {{ fixed = "rear", overhang_front = 29.5 }}'
    told = [f for f in case(text).assembly.pieces[0].findings if f.code.startswith("top.")]
    assert [(f.code, f.path) for f in told] == [("top.overhang", "case/top.overhang_front")]
    assert "at the dry end" in told[0].message


def test_a_sheet_has_no_line_to_choose() -> None:
    with pytest.raises(OrderError, match="hardly move"):
        case(f'{CASES["framed"][0]}top = {{ kind = "banded", fixed = "rear" }}')
