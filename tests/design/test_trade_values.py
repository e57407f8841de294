"""Numbers of the trade notes, read off what is built: each test names its rule (common practice)."""

from __future__ import annotations

import pytest
from tests.design.drawer_harness import BACK, WET, harness, shop_with
from tests.design.harness import WET as ROOM
from tests.design.harness import done
from tests.design.test_step_order import HEAD, SHOP
from tests.design.test_tops import fixed
from tests.laws.orders import project_of

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.features.cuts import Groove
from casewright.design.features.openings import Slot
from casewright.design.joints.pockets import joint_count
from casewright.design.sites import world_box
from casewright.solids.collide import placed_boxes
from casewright.stock.model import Slide

SPEC = DrawerSpec(gap=3.0, frame_margin=16.0, front=FrontKind.SLAB, moisture=WET)
HEIGHT, DEPTH = 180.0, 420.0
CHERRY = 0.00248  # tangential coefficient, black cherry (Wood Handbook Table 13-5)
SHANK = 0.164 * 25.4  # of a #8 screw


def spans(piece: PieceDesign, name: str) -> tuple[tuple[float, float], ...]:
    """Where a thing of the piece reaches: (low, high) by axis."""
    lo, hi = world_box(piece.by_path()[f"{piece.path}/{name}"])
    return tuple(zip(lo, hi, strict=True))


KINDS = ("case", "bedside")
BEDSIDE = 'format = 1\ntitle = "bedside"\nunits = "mm"\n[[piece]]\nkind = "bedside"\nhanded = "left"\n'


def moulded(kind: str) -> PieceDesign:
    """A piece with crown and base moulding on tapered feet, its overhangs left to the design."""
    grid = 'bays = { rows = ["open"] }\nstand = { kind = "feet" }\n'
    size = "width = 500\ndepth = 420\nheight = 680\n"
    order = f"{HEAD}{grid}" if kind == "case" else f"{BEDSIDE}{size}"
    return project_of(f"{order}crown = true\nbase = true\n", SHOP).assembly.pieces[0]


def test_rule_14_a_drawer_box_leaves_6_below_and_10_above() -> None:
    low, high = spans(harness(SPEC, height=HEIGHT), "drawer[c1,r1]/side.left")[2]
    assert low == pytest.approx(6.0)
    assert HEIGHT - high == pytest.approx(10.0)


def test_rule_13_a_slide_ends_6_mm_before_the_back() -> None:
    """The longest in stock that does: a case half a mm shallower gets the next shorter one."""
    stocked = {s.id: s for s in shop_with().sizes.all("slide", Slide)}
    slide = stocked["slide-14"]
    front = spans(harness(SPEC), "drawer[c1,r1]/face/front")[1]
    just = front[1] + slide.set_back + slide.length + 6.0 + BACK
    for depth, chosen in ((just, "slide-14"), (just - 0.5, "slide-12")):
        piece = harness(SPEC, depth=depth)
        member = piece.by_path()["box/drawer[c1,r1].slide_case.left"]
        assert getattr(member.thing, "item", "") == chosen
        assert placed_boxes((member,), Cache())[0][4] <= depth - BACK - 6.0 + 1e-3


def test_rule_15_a_sheet_bottom_has_a_play_of_1_5_between_the_groove_floors() -> None:
    piece = harness(SPEC)
    g = "drawer[c1,r1]"
    left, right, bottom = (spans(piece, f"{g}/{n}") for n in ("side.left", "side.right", "bottom"))
    side = piece.by_path()[f"box/{g}/side.left"].part
    (groove,) = {f.depth for f in side.features if isinstance(f, Groove)}
    assert (right[0][0] - left[0][1]) + 2 * groove - (bottom[0][1] - bottom[0][0]) == pytest.approx(1.5)
    # It slips into grooves that are wider than it measures, and lies on their lower walls.
    for name in ("side.left", "side.right", "box_front", "box_back"):
        wall = piece.by_path()[f"box/{g}/{name}"].part
        (wide,) = {min(f.u1 - f.u0, f.v1 - f.v0) for f in wall.features if isinstance(f, Groove)}
        assert wide - (bottom[2][1] - bottom[2][0]) == pytest.approx(0.2), "fit.slip"
    front, back = spans(piece, f"{g}/box_front"), spans(piece, f"{g}/box_back")
    assert (back[1][0] - front[1][1]) + 2 * groove - (bottom[1][1] - bottom[1][0]) == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("width", "screws"), [(37.9, 1), (38, 2), (90, 2), (90.5, 3), (165, 3), (165.5, 4), (240, 4), (240.5, 5)]
)
def test_rule_8_screws_of_a_frame_joint(width: float, screws: int) -> None:
    """Under 38 mm one, 38 to 90 two, one more for each further 75 mm."""
    assert joint_count(width, shop_with().practice) == screws


@pytest.mark.parametrize("kind", KINDS)
def test_rule_29_a_top_overhangs_the_crown_by_6_mm(kind: str) -> None:
    piece = moulded(kind)
    # A crown leans in its blank: what it reaches is measured on its solid.
    placed = tuple(piece.by_path()[f"{piece.path}/{n}"] for n in ("top", "crown/front", "crown/left"))
    top, front, side = placed_boxes(placed, Cache())
    assert front[1] - top[1] == pytest.approx(6.0, abs=0.05), "in front"
    assert side[0] - top[0] == pytest.approx(6.0, abs=0.05), "at the side"


@pytest.mark.parametrize("kind", KINDS)
def test_rule_31_a_base_moulding_ends_at_the_underside_of_the_body(kind: str) -> None:
    piece = moulded(kind)
    under = spans(piece, "side.left")[2][0]
    assert under > 50.0
    for side in ("left", "front", "right"):
        assert spans(piece, f"base/{side}")[2][0] == pytest.approx(under)
    assert spans(piece, "foot.front.left/wood")[2][1] == pytest.approx(under)


def test_rule_24_a_screw_starts_in_its_slot_where_the_moisture_of_the_fitting_day_puts_it() -> None:
    """Behind it there is room for what the top still grows to the damp end, before it for what it will shrink."""
    d, _ = fixed("solid")
    piece = done(d)
    rear = piece.by_path()["bench/stretcher.rear"]
    front = next(f for f in piece.fasteners if f.joint == "bench/top~stretcher.front")
    screw = next(f for f in piece.fasteners if f.joint == "bench/top~stretcher.rear")
    y = screw.frame.origin[1]
    distance = y - front.frame.origin[1]
    outlines = [f.outline.box for f in rear.part.features if isinstance(f, Slot)]
    # Of the slots, the one that the screw stands in, its two ends along y of the piece.
    ends = [sorted(rear.frame.point((0.0, v, 0.0))[1] for v in (box[1], box[3])) for box in outlines]
    low, high = next((a, b) for a, b in ends if a < y < b)
    grows, shrinks = (CHERRY * abs(to - ROOM.fitted) * distance for to in (ROOM.damp, ROOM.dry))
    assert high - (y + SHANK / 2) == pytest.approx(grows + 1.5, abs=0.02)
    assert (y - SHANK / 2) - low == pytest.approx(shrinks + 1.5, abs=0.02)
    assert grows > shrinks + 0.2, "or the middle of the slot would do"
