"""Drawers of every kind in a plain box: they keep the laws, and the trade's own numbers."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.design.drawer_harness import SIDE, WET, found, harness, shop_with
from tests.laws.test_laws import joints_close_once, parts_arrive_once, printed_sizes_fit, tips_stay_inside

from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blocks.drawer_spec import Corner, DrawerSpec, FrontKind, Guidance
from casewright.design.blocks.front_place import FrontMount, Mount
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Slot
from casewright.design.mirror import mirror_piece
from casewright.design.parts import Placed
from casewright.design.sites import world_box
from casewright.shop import shop_from_text
from casewright.stock.reading import load_stock

STOCKS = {
    "sheet": shop_with(),
    "thick": shop_with(drawer_side="multi-ply-birch-15"),
    "solid box": shop_with(drawer_side="maple-4/4", drawer_bottom="basswood-4/4"),
    "solid front": shop_with(drawer_front="cherry-4/4"),
    "banded front": shop_with(drawer_front="cherry-plywood-18"),
    "solid case": shop_with(case="cherry-panel-19"),
    "soft runners": shop_with(drawer_runner="batten-square-19"),
}
MOUNTS = {
    "inset": None,
    "overlay": FrontMount(kind=Mount.OVERLAY, gap=3.0, off=1.5, laps=(16.5, 16.5, 10.0, 10.0)),
    "half-overlay": FrontMount(kind=Mount.HALF, gap=3.0, laps=(7.5, 7.5, 8.0, 8.0)),
}
SPEC = DrawerSpec(gap=3.0, frame_margin=16.0, front=FrontKind.SLAB, moisture=WET)
CORNERS = (Corner.AUTO, Corner.RABBET, Corner.DOWELS, Corner.POCKETS)


def buildable(guidance: Guidance, front: FrontKind, stock: str, corner: Corner) -> bool:
    """False for what the trade's rules forbid: each has its own test below."""
    if front is FrontKind.APPLIED and stock == "solid front":
        return False
    if guidance is Guidance.UNDER_MOUNT and stock == "solid box":
        return False
    return corner is not Corner.POCKETS or stock == "thick"


# Every guidance with every front, mount, kind of case and stock; the corners and the number of columns go round.
# A front that laps over the whole of a member has no neighbour on it.
COMBINATIONS = [
    (guidance, front, mount, framed, stock, CORNERS[i % 4], 2 if i % 3 == 2 and mount != "overlay" else 1)
    for i, (guidance, front, mount, framed, stock) in enumerate(
        product(Guidance, FrontKind, MOUNTS, (False, True), STOCKS)
    )
    if buildable(guidance, front, stock, CORNERS[i % 4])
]


def keeps_the_laws(piece: PieceDesign) -> None:
    joints_close_once(piece)
    parts_arrive_once(piece)
    printed_sizes_fit(piece)
    tips_stay_inside(piece)
    assert mirror_piece(mirror_piece(piece)) == piece


def part(piece: PieceDesign, name: str) -> Placed:
    return piece.by_path()[f"box/{name}"]


def sizes_of(piece: PieceDesign) -> dict[str, float]:
    return {s.name: s.value for s in piece.sizes}


def codes(piece: PieceDesign) -> set[str]:
    return {f.code for f in piece.findings}


@pytest.mark.parametrize("guidance", Guidance)
@pytest.mark.parametrize("front", FrontKind)
def test_every_combination_can_be_built(guidance: Guidance, front: FrontKind) -> None:
    tried = 0
    for g, f, mount, framed, stock, corner, columns in COMBINATIONS:
        if g is not guidance or f is not front:
            continue
        # Runners leave the box wide: only stiles that reach past its sides by a driver's room take the front's screws.
        member = 66.0 if g is Guidance.RUNNERS else SPEC.member
        spec = replace(SPEC, guidance=g, front=f, mount=MOUNTS[mount], corner=corner, pulls=(columns,), member=member)
        width, height = (420.0 if columns == 1 else 820.0), (240.0 if framed else 200.0)
        piece = harness(spec, framed=framed, columns=columns, width=width, height=height, shop=STOCKS[stock])
        said = found(piece, STOCKS[stock])
        assert not said, (mount, framed, stock, corner, columns, [(x.code, x.path, x.message) for x in said])
        keeps_the_laws(piece)
        tried += 1
    assert tried >= 20


def test_a_mirrored_drawer_is_as_sound() -> None:
    for guidance in Guidance:
        mirrored = mirror_piece(harness(replace(SPEC, guidance=guidance), framed=True, height=220.0))
        assert not found(mirrored)


@settings(max_examples=24)
@given(
    guidance=st.sampled_from(list(Guidance)),
    framed=st.booleans(),
    width=st.floats(260.0, 900.0),
    height=st.floats(150.0, 380.0),
    depth=st.floats(330.0, 700.0),
    stock=st.sampled_from(["sheet", "thick", "solid box"]),
)
def test_any_size_is_built_or_found(
    guidance: Guidance, framed: bool, width: float, height: float, depth: float, stock: str
) -> None:
    piece = harness(
        replace(SPEC, guidance=guidance), framed=framed, width=width, height=height, depth=depth, shop=STOCKS[stock]
    )
    if not piece.placed:
        assert codes(piece) <= {
            "drawer.too_low", "drawer.no_slide", "drawer.bottom_thick", "drawer.bottom_shrinks", "drawer.front_screws",
        }  # fmt: skip
        return
    assert not [f for f in found(piece, STOCKS[stock]) if f.severity.value == "stop"]
    keeps_the_laws(piece)


# --- side-mount slides -------------------------------------------------------------------------------


@pytest.mark.parametrize("framed", [False, True])
def test_side_mount_slides_have_their_room(framed: bool) -> None:
    # Ball-bearing side-mount slides: 12.7 mm a side, +0.8/−0, so box = opening − 25.4 … 27.0 mm (common practice).
    piece = harness(SPEC, framed=framed)
    opening = sizes_of(piece)["rail.length" if framed else "inside.width"]
    left, right = (world_box(part(piece, f"drawer[c1,r1]/side.{h}")) for h in ("left", "right"))
    box = right[1][0] - left[0][0]
    assert 25.4 <= opening - box <= 27.0
    assert left[0][0] + opening / 2 >= 12.7


def test_blocking_is_flush_with_the_opening_and_never_proud() -> None:
    # +0/−0.4 mm (common practice).
    piece = harness(SPEC, framed=True)
    edge = sizes_of(piece)["rail.length"] / 2
    block = world_box(part(piece, "drawer[c1,r1].blocking.left"))
    assert 0.0 <= -edge - block[1][0] <= 0.4
    assert block[0][0] == pytest.approx(-420.0 / 2 + SIDE), "it reaches the side"


def test_without_a_frame_there_is_no_blocking() -> None:
    piece = harness(SPEC)
    assert not [p for p in piece.by_path() if "blocking" in p]
    ends = {j.b for j in piece.joints if j.id.endswith("slide_case.left~wood")}
    assert ends == {"box/side.left"}


def test_screws_of_two_drawers_pass_each_other_in_their_divider() -> None:
    piece = harness(SPEC, columns=2, width=820.0)
    screws = [f for f in piece.fasteners if "box/divider" in f.parts]
    assert len(screws) >= 6
    rows = {(round(f.frame.z[0]), round(f.frame.origin[2], 3)) for f in screws}
    assert len(rows) == 2, "each drawer has its own row"
    assert len({z for _, z in rows}) == 2


# --- under-mount slides ------------------------------------------------------------------------------


def test_under_mount_slides_ask_for_their_box() -> None:
    # Usual under-mount slides: inside width = opening − 42 mm, sides up to 16 mm, bottom 13 mm up, back notched at
    # both lower corners (common practice; the maker's own sheet decides).
    piece = harness(replace(SPEC, guidance=Guidance.UNDER_MOUNT))
    s = sizes_of(piece)
    g = "drawer[c1,r1]"
    assert s["inside.width"] - s[f"{g}.box.inside"] == pytest.approx(42.0, abs=1e-3)
    side, bottom = world_box(part(piece, f"{g}/side.left")), world_box(part(piece, f"{g}/bottom"))
    assert bottom[0][2] - side[0][2] == pytest.approx(13.0)
    assert side[0][2] == pytest.approx(14.0), "room under the box"
    cuts = [f.describe() for f in part(piece, f"{g}/box_back").part.features]
    assert cuts.count("notch") == 2
    hooks = [f for f in part(piece, f"{g}/box_back").part.features if isinstance(f, Hole) and f.diameter == 6.0]
    assert len(hooks) == 2


# --- wooden runners ----------------------------------------------------------------------------------


@pytest.mark.parametrize("framed", [False, True])
def test_wooden_runners_guide_carry_and_keep_the_box_down(framed: bool) -> None:
    # 1.0 to 1.6 mm of play on each side; a kicker close above the sides (common practice).
    piece = harness(replace(SPEC, guidance=Guidance.RUNNERS), framed=framed, height=240.0)
    g = "drawer[c1,r1]"
    side, runner = world_box(part(piece, f"{g}/side.left")), world_box(part(piece, f"{g}.runner.left"))
    kicker = world_box(part(piece, f"{g}.kicker.left"))
    guide = world_box(part(piece, f"{g}.blocking.left" if framed else "side.left"))[1][0]
    assert 1.0 <= side[0][0] - guide <= 1.6 + 0.4
    assert runner[1][2] == pytest.approx(side[0][2]), "the side rests on the runner"
    assert runner[1][0] >= side[1][0], "under the whole side"
    assert 1.0 <= kicker[0][2] - side[1][2] <= 3.0
    stop = world_box(part(piece, f"{g}.stop.left"))
    assert stop[0][1] == pytest.approx(side[1][1]), "an inset front stops flush"


def test_an_overlay_front_is_its_own_stop() -> None:
    piece = harness(replace(SPEC, guidance=Guidance.RUNNERS, mount=MOUNTS["overlay"]), height=240.0)
    assert not [p for p in piece.by_path() if ".stop." in p]


def test_soft_runners_get_a_wear_strip() -> None:
    # Side hardness, Wood Handbook Table 5-3: yellow poplar 2,400 N, hard maple 6,400 N.
    spec = replace(SPEC, guidance=Guidance.RUNNERS)
    soft, hard = harness(spec, shop=STOCKS["soft runners"], height=240.0), harness(spec, height=240.0)
    assert not [p for p in hard.by_path() if ".wear." in p]
    strip, side = (world_box(part(soft, f"drawer[c1,r1]{n}.left")) for n in (".wear", "/side"))
    assert strip[1][2] == pytest.approx(side[0][2])
    assert part(soft, "drawer[c1,r1].wear.left").part.stock == "edging-maple-19"


# --- boxes -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stock", "load", "kind", "word"),
    [
        ("sheet", 0.0, JointKind.RABBET, "thin"),
        ("thick", 0.0, JointKind.POCKET_SCREWS, "thick enough"),
        ("thick", 30.0, JointKind.DOWEL, "30 kg"),
    ],
)
def test_corners_choose_by_thickness_and_load_and_say_why(stock: str, load: float, kind: JointKind, word: str) -> None:
    piece = harness(replace(SPEC, load=load), shop=STOCKS[stock])
    corners = [j for j in piece.joints if j.id.startswith("box/drawer[c1,r1]/box_") and j.kind is kind]
    assert len(corners) == 4
    assert all(word in j.why for j in corners)


def test_a_solid_bottom_moves_front_to_back() -> None:
    # ΔD = D · C · ΔM (Wood Handbook Eq. 13-2), American basswood C_T = 0.00330 (Table 13-5).
    shop = STOCKS["solid box"]
    piece = harness(SPEC, shop=shop)
    g, basswood = "drawer[c1,r1]", 0.00330
    assert load_stock().species["basswood-american"].tangential_coefficient == basswood
    bottom, back = part(piece, f"{g}/bottom"), world_box(part(piece, f"{g}/box_back"))
    lo, hi = world_box(bottom)
    growth = basswood * (WET.damp - WET.fitted) * (hi[1] - lo[1])
    assert back[1][1] - hi[1] >= growth - 1e-3, "at the damp end it does not stand out behind the box"
    assert lo[2] < back[0][2] == pytest.approx(hi[2]), "it slides in under the back"
    assert bottom.frame.x == (1.0, 0.0, 0.0), "grain from side to side"
    (joint,) = [j for j in piece.joints if j.id == f"box/{g}/bottom~box_back"]
    assert (joint.kind, joint.glued) == (JointKind.SLOTTED_SCREWS, False)
    (screw,) = [f for f in piece.fasteners if f.joint == joint.id]
    (slot,) = [f for f in bottom.part.features if isinstance(f, Slot)]
    u = [v[0] for v in slot.outline.vertices], [v[1] for v in slot.outline.vertices]
    across = max(u, key=lambda c: max(c) - min(c))
    # Held at the front: towards the damp end the slot's front end comes nearer to the screw.
    swells = basswood * (WET.damp - WET.fitted) * (screw.frame.origin[1] - lo[1])
    assert screw.frame.origin[1] - lo[1] - min(across) >= swells
    assert max(across) > bottom.part.blank.width, "open to the rear"


def test_solid_walls_leave_room_to_grow() -> None:
    plain, solid = (sizes_of(harness(SPEC, shop=STOCKS[k])) for k in ("sheet", "solid box"))
    g = "drawer[c1,r1]"
    # Sugar maple C_T = 0.00353 (Wood Handbook Table 13-5), 2.5 % from fitting day to the damp end.
    grows = 0.00353 * (WET.damp - WET.fitted) * plain[f"{g}.box.height"]
    assert plain[f"{g}.box.height"] - solid[f"{g}.box.height"] == pytest.approx(grows, abs=1e-3)


def test_nothing_is_glued_across_a_solid_wall() -> None:
    piece = harness(replace(SPEC, guidance=Guidance.RUNNERS), shop=STOCKS["solid case"], height=240.0)
    strips = [j for j in piece.joints if j.b in ("box/side.left", "box/side.right") and j.a.startswith("box/drawer")]
    strips = [j for j in strips if j.kind is not JointKind.HELD]
    assert {j.kind for j in strips} == {JointKind.SCREWS, JointKind.SLOTTED_SCREWS}
    assert not any(j.glued for j in strips)


# --- fronts ------------------------------------------------------------------------------------------


def test_a_solid_front_is_screwed_through_wide_holes() -> None:
    # Cherry C_T = 0.00248 (Wood Handbook Table 13-5): a screw may travel C · ΔM · distance from the pull, either way.
    piece = harness(SPEC, shop=STOCKS["solid front"], height=260.0)
    g = "drawer[c1,r1]"
    front, inner = part(piece, f"{g}/face/front"), part(piece, f"{g}/box_front")
    middle = sum(world_box(front)[i][2] for i in (0, 1)) / 2
    screws = [f for f in piece.fasteners if f.joint.startswith(f"box/{g}/face/front~box.")]
    assert len(screws) == 4
    holes = [f for f in inner.part.features if isinstance(f, Hole) and f.joint.startswith(f"box/{g}/face/front~box.")]
    assert len(holes) == 4
    for screw in screws:
        travel = 0.00248 * (WET.damp - WET.dry) * abs(screw.frame.origin[2] - middle)
        assert min(h.diameter for h in holes) >= 2 * screw.shank_radius + 2 * travel
    assert max(h.diameter for h in holes) < 2 * screws[0].head_radius, "the head bears all round"


def test_a_high_solid_front_has_slots() -> None:
    shop = STOCKS["solid front"]
    wet = replace(WET, dry=4.0, damp=16.0, fitted=16.0)
    piece = harness(replace(SPEC, gap=4.0, moisture=wet), shop=shop, height=420.0)
    kinds = {j.kind for j in piece.joints if "/face/front~box." in j.id}
    assert kinds == {JointKind.SLOTTED_SCREWS}
    assert not found(piece, shop)


def test_bands_count_in_the_size_of_a_front() -> None:
    shop = STOCKS["banded front"]
    piece = harness(SPEC, shop=shop)
    front = part(piece, "drawer[c1,r1]/face/front").part
    s = sizes_of(piece)
    assert len(front.bands) == 4
    assert front.finished[0] == pytest.approx(s["inside.width"] - 2 * 3.0)
    assert front.blank.length == pytest.approx(front.finished[0] - 2 * front.bands[0].thickness)


def test_overlay_fronts_lap_and_leave_their_gap() -> None:
    piece = harness(replace(SPEC, mount=MOUNTS["half-overlay"]), columns=2, width=820.0)
    left, right = (world_box(part(piece, f"drawer[c{c},r1]/face/front")) for c in (1, 2))
    # Half of an 18 mm divider less half of a 3 mm gap on either side.
    assert right[0][0] - left[1][0] == pytest.approx(3.0)
    assert left[1][1] == pytest.approx(0.0), "against the case's front edge"


def test_stiles_and_rails_of_a_framed_front_meet_in_its_length() -> None:
    piece = harness(replace(SPEC, front=FrontKind.PANEL), height=240.0)
    s, g = sizes_of(piece), "drawer[c1,r1]"
    # Rail = front − 2 stiles + 2 tenons; panel = sight size + 2 groove depths − play (common practice).
    assert s[f"{g}.rail.length"] == pytest.approx(
        s[f"{g}.front.length"] - 2 * s[f"{g}.front.member"] + 2 * s[f"{g}.front.tenon"]
    )
    assert s[f"{g}.panel.length"] == pytest.approx(s[f"{g}.front.sight"] + 2 * s[f"{g}.front.groove"] - 1.0)


def test_fronts_of_a_run_are_their_own_parts() -> None:
    first, second = (
        part(harness(replace(SPEC, run="chest", run_place=i)), "drawer[c1,r1]/face/front").part for i in (1, 2)
    )
    plain = part(harness(SPEC), "drawer[c1,r1]/face/front").part
    assert len({first.key, second.key, plain.key}) == 3
    assert first.mirrored().run == "chest"


# --- what cannot be built ----------------------------------------------------------------------------

IMPOSSIBLE = {
    "drawer.too_low": (SPEC, {"height": 60.0}, "sheet"),
    "drawer.no_slide": (SPEC, {"depth": 200.0}, "sheet"),
    "drawer.load": (replace(SPEC, load=80.0), {}, "sheet"),
    "drawer.cross_grain": (replace(SPEC, front=FrontKind.APPLIED), {}, "solid front"),
    "drawer.front_binds": (replace(SPEC, gap=0.8), {"height": 400.0}, "solid front"),
    "drawer.moisture": (replace(SPEC, moisture=None), {}, "solid front"),
    "drawer.corner": (replace(SPEC, corner=Corner.POCKETS), {}, "sheet"),
    "drawer.bottom_thick": (replace(SPEC, guidance=Guidance.UNDER_MOUNT), {}, "solid box"),
    "drawer.too_shallow": (replace(SPEC, guidance=Guidance.RUNNERS), {"depth": 190.0}, "sheet"),
    "drawer.sight": (replace(SPEC, front=FrontKind.PANEL), {"height": 130.0}, "sheet"),
    "front.lap": (replace(SPEC, mount=FrontMount(kind=Mount.OVERLAY, gap=3.0, laps=(2.0,) * 4)), {}, "sheet"),
}  # fmt: skip


@pytest.mark.parametrize("code", IMPOSSIBLE)
def test_what_cannot_be_built_is_found_with_its_limit(code: str) -> None:
    spec, size, stock = IMPOSSIBLE[code]
    piece = harness(spec, shop=STOCKS[stock], **size)
    said = [f for f in piece.findings if f.code == code]
    assert said, codes(piece)
    assert not piece.placed
    for f in said:
        assert f.message
        assert f.remedy
        assert f.value is None or f.limit is not None


def test_thick_sides_do_not_go_on_under_mount_slides() -> None:
    shop = shop_with(drawer_side="birch-plywood-18")
    assert "drawer.side_thick" in codes(harness(replace(SPEC, guidance=Guidance.UNDER_MOUNT), shop=shop))


def test_slide_screws_must_not_come_through_a_thin_side() -> None:
    # A #6 × 3/8 in pan head goes 9.0 mm into the side: a shop that wants 4 mm left cannot take 12 mm sides.
    text = 'format = 1\nname = "Fernbrook Workshop"\nunits = "mm"\n[practice]\ndrawer.slide_screw_short = "4 mm"'
    assert "drawer.slide_screw" in codes(harness(SPEC, shop=shop_from_text(text)))
