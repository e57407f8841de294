"""Doors of every make, hung in a plain box: built, checked by the real checks, mirrored, assembled."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.design.door_box import FRAME, ROOM, SIDE, box, checked, kit_of
from tests.laws.test_laws import joints_close_once, parts_arrive_once

from casewright.design.assembly import MotionKind, PieceDesign
from casewright.design.blocks.door_cups import cups_for, overlay_of
from casewright.design.blocks.door_knives import mortise_depth, pivot_in
from casewright.design.blocks.door_leaf import DoorSpec, Hinging, LeafKind, Meeting
from casewright.design.blocks.front_place import FrontMount, Mount, inset
from casewright.design.blocks.shared_wall import meets, moved_clear
from casewright.design.draft import Draft
from casewright.design.features.holes import Hole
from casewright.design.mirror import mirror_piece
from casewright.design.sites import world_box
from casewright.stock.movement import movement
from casewright.stock.reading import load_stock

STOCK = load_stock()
GAP = 2.25
MOUNTS = {
    ("inset", 0.0): None,
    ("inset", FRAME): None,
    ("overlay", 0.0): FrontMount(kind=Mount.OVERLAY, gap=3.0, laps=(16.5,) * 4, off=1.5),
    ("overlay", FRAME): FrontMount(kind=Mount.OVERLAY, gap=3.0, laps=(12.7,) * 4, off=1.5),
    ("half-overlay", 0.0): FrontMount(kind=Mount.HALF, gap=3.0, laps=(7.5, 7.5, 16.5, 16.5)),
}
LEAVES = (
    (LeafKind.SHEET, ""),
    (LeafKind.SOLID, ""),
    (LeafKind.GLASS, ""),
    (LeafKind.SLAB, "mdf-19"),
    (LeafKind.SLAB, "birch-plywood-18"),
    (LeafKind.SLAB, "poplar-4/4"),
)


def spec_of(kind: LeafKind, hinging: Hinging, meeting: Meeting, mount: str, frame: float, hinge: int = 1) -> DoorSpec:
    """Return the door of one combination; hosts and rails are those of the box."""
    hosts = ("frame/stile.left", "frame/stile.right") if frame else ("", "")
    return DoorSpec(
        gap=GAP,
        stile=57.15,
        rail=57.15,
        hinge=hinge,
        host=hosts[hinge > 0],
        far_host=hosts[hinge < 0],
        kind=kind,
        hinging=hinging,
        meeting=meeting,
        mount=MOUNTS[mount, frame],
        sill="frame/rail.bottom" if frame else "bottom",
        head="frame/rail.top" if frame else "ceiling",
        ceiling="ceiling",
        ceiling_z=(57.15 if frame else SIDE) + 700.0,
    )


def hang(spec: DoorSpec, frame: float = 0.0, slab: str = "", *, width: float = 0.0, height: float = 700.0) -> Built:
    """Return the box with this door."""
    kit = kit_of(("door_slab", slab)) if slab else kit_of()
    d, piece = box(spec, width=width or (720.0 if spec.pair else 350.0), height=height, kit=kit, frame=frame)
    return Built(d, piece)


class Built:
    """A draft with its piece, and what is asked of both."""

    def __init__(self, d: Draft, piece: PieceDesign) -> None:
        self.d, self.piece = d, piece

    @property
    def codes(self) -> set[str]:
        """Codes of the design's own findings."""
        return {f.code for f in self.piece.findings}

    def sound(self) -> None:
        """No finding of design or checks; joints close once; parts arrive once; mirrored twice is the same."""
        assert not checked(self.piece, self.d.practice)
        joints_close_once(self.piece)
        parts_arrive_once(self.piece)
        assert mirror_piece(mirror_piece(self.piece)) == self.piece

    def spans(self, name: str) -> tuple[tuple[float, float], ...]:
        """The spans of a part in x, y and z."""
        lo, hi = world_box(self.d.at(name))
        return tuple(zip(lo, hi, strict=True))


def buildable(kind: LeafKind, slab: str, hinging: Hinging, mount: str) -> bool:
    """Butt and knife hinges need an inset door, and solid edges for their screws."""
    return hinging is Hinging.CUP or (mount == "inset" and slab not in ("mdf-19", "birch-plywood-18"))


COMBINATIONS = [
    (kind, slab, hinging, meeting, mount, frame)
    for (kind, slab), hinging, meeting, (mount, frame) in product(LEAVES, Hinging, Meeting, MOUNTS)
    if buildable(kind, slab, hinging, mount)
]


@pytest.mark.parametrize(("kind", "slab", "hinging", "meeting", "mount", "frame"), COMBINATIONS)
def test_every_door_goes_together(
    kind: LeafKind, slab: str, hinging: Hinging, meeting: Meeting, mount: str, frame: float
) -> None:
    built = hang(spec_of(kind, hinging, meeting, mount, frame), frame, slab)
    built.sound()
    leaves = 1 if meeting is Meeting.SINGLE else 2
    swings = [m for m in built.piece.motions if m.kind is MotionKind.SWING]
    assert len(swings) == leaves
    assert all(90.0 <= m.reach <= 170.0 for m in swings)
    bolts = [p for p in built.piece.placed if "/bolt." in p.path]
    assert len(bolts) == (2 if leaves == 2 and (hinging is not Hinging.CUP or "astragal" in meeting) else 0)


@pytest.mark.parametrize(
    ("kind", "slab", "hinging", "mount"),
    [
        (LeafKind.SHEET, "", Hinging.BUTT, "overlay"),
        (LeafKind.SHEET, "", Hinging.KNIFE, "half-overlay"),
        (LeafKind.SLAB, "mdf-19", Hinging.BUTT, "inset"),
        (LeafKind.SLAB, "birch-plywood-18", Hinging.KNIFE, "inset"),
    ],
)
def test_what_cannot_hang_says_what_would(kind: LeafKind, slab: str, hinging: Hinging, mount: str) -> None:
    built = hang(spec_of(kind, hinging, Meeting.SINGLE, mount, 0.0), 0.0, slab)
    assert built.codes <= {"door.hinge_overlay", "door.hinge_sheet"}
    assert built.d.stopped
    assert all("cup hinges" in f.remedy for f in built.piece.findings)


# --- sizes ---


def test_an_inset_pair_has_three_gaps_across() -> None:
    # A door pair has three gaps across, two up (common practice).
    built = hang(spec_of(LeafKind.SHEET, Hinging.BUTT, Meeting.GAP, "inset", 0.0))
    led = built.d.led
    left, right = led["door[c1,r1].left.width"], led["door[c1,r1].right.width"]
    assert left == right
    assert left + right + 3 * GAP == pytest.approx(720.0, abs=1e-5)
    assert led["door[c1,r1].left.height"] + 2 * GAP == pytest.approx(700.0, abs=1e-5)


def test_a_solid_panel_neither_binds_nor_drops_out() -> None:
    # Movement of poplar: yellow-poplar C_T = 0.00289 per 1 % MC (Wood Handbook, Table 13-5); ΔD = D·C·ΔM, Eq. 13-2.
    # Trade rule: free on each side ½ × growth + 0.5 mm; still 4 mm in the groove at the dry end.
    built = hang(spec_of(LeafKind.SOLID, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0), width=420.0)
    led, g = built.d.led, "door[c1,r1]"
    width, seat, depth = led[f"{g}.panel.width"], led[f"{g}.panel.seat_width"], led[f"{g}.groove.depth"]
    wood = STOCK.boards["poplar-4/4"].species
    assert STOCK.species[wood].tangential_coefficient == 0.00289
    grown = width + movement(width, 0.00289, ROOM.fitted, ROOM.damp)
    shrunk = width + movement(width, 0.00289, ROOM.fitted, ROOM.dry)
    assert 0.9 <= seat - grown <= 1.2, "0.5 mm on each side at the damp end"
    assert (shrunk - (seat - 2 * depth)) / 2 >= 4.0, "4 mm in each groove at the dry end"


def test_a_wide_solid_panel_in_a_hard_climate_is_refused() -> None:
    spec = spec_of(LeafKind.SOLID, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0)
    wild = replace(ROOM, dry=4.0, damp=18.0, fitted=10.0)
    d, _ = box(spec, width=900.0, height=700.0, kit=kit_of(), wet=wild)
    assert {f.code for f in d.findings} == {"door.panel_moves"}


def test_solid_panels_are_held_in_their_middle_alone() -> None:
    built = hang(spec_of(LeafKind.SOLID, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0))
    panel = f"{built.piece.path}/door[c1,r1]/panel"
    held = [f for f in built.piece.fasteners if panel in f.parts]
    assert len(held) == 2
    assert all(abs(f.frame.origin[0]) < 1e-6 for f in held)
    assert not [j for j in built.piece.joints if panel in (j.a, j.b) and j.glued]


@pytest.mark.parametrize(("height", "deep"), [(560.0, False), (700.0, True)])
def test_tenons_are_long_above_600_mm_unless_a_sheet_is_glued_in(height: float, deep: bool) -> None:
    # Stub tenons (10–12 mm) only with a glued sheet panel or doors up to 600 mm high; else ≥ 25 mm (trade rule).
    for kind in (LeafKind.SOLID, LeafKind.GLASS):
        built = hang(spec_of(kind, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0), height=height)
        assert (built.d.led["door[c1,r1].tenon.length"] >= 25.0) is deep
    sheet = hang(spec_of(LeafKind.SHEET, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0), height=height)
    assert sheet.d.led["door[c1,r1].tenon.length"] <= 12.0


def test_glass_has_room_and_stays_covered() -> None:
    built = hang(spec_of(LeafKind.GLASS, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0))
    led, g = built.d.led, "door[c1,r1]"
    play = led[f"{g}.panel.seat_width"] - led[f"{g}.panel.width"]
    assert play == pytest.approx(3.0, abs=1e-5)
    assert led[f"{g}.groove.depth"] - play >= 4.0, "still covered where it lies against one side"
    pane = next(p for p in built.piece.placed if p.path.endswith("/glass"))
    # Float glass weighs 2.5 kg for each m² and mm (common knowledge).
    area = led[f"{g}.panel.width"] * led[f"{g}.panel.height"] / 1e6
    assert pane.thing.mass == pytest.approx(2.5 * 4 * area, rel=1e-6)  # type: ignore[union-attr]


def test_a_solid_slab_is_kept_narrow_and_moves_along_its_battens() -> None:
    spec = spec_of(LeafKind.SLAB, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0)
    wide = hang(spec, slab="poplar-4/4", width=500.0)
    assert wide.codes == {"door.slab_wide"}
    narrow = hang(spec, slab="poplar-4/4", width=300.0)
    slab = f"{narrow.piece.path}/door[c1,r1]/slab"
    across = [j for j in narrow.piece.joints if "batten" in j.id and slab in (j.a, j.b)]
    assert len(across) == 6
    assert not [j for j in across if j.glued]
    assert sum(j.kind.name == "SLOTTED_SCREWS" for j in across) == 4


def test_bands_count_in_the_size_of_a_slab() -> None:
    spec = spec_of(LeafKind.SLAB, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0)
    banded, bare = hang(spec, slab="birch-plywood-18"), hang(spec, slab="mdf-19")
    name = "door[c1,r1]/slab"
    part = banded.d.at(name).part
    assert len(part.bands) == 4
    assert part.finished == pytest.approx((733.0, 383.0, 18.0), abs=1e-5)
    assert not bare.d.at(name).part.bands, "edges of fibreboard are filled under paint"


# --- hinges ---


def test_cup_hinges_follow_crank_distance_and_plate() -> None:
    # Overlay = 13 − crank + distance of the cup − height of the plate (common practice: full, half and inset hinges
    # have cranks of about 0, 9 and 18 mm; each mm of the cup's distance is one of overlay, of the plate one less).
    for hinge in STOCK.cup_hinges.values():
        if hinge.host == "wall":
            usual = overlay_of(hinge, 5.0, 2.0)
            assert usual == pytest.approx(13.0 - hinge.crank + 5.0 - 2.0), hinge.id
        for edge, plate in product((hinge.bore_from_edge_least, hinge.bore_from_edge_most), hinge.plates):
            overlay = overlay_of(hinge, edge, plate)
            found = cups_for((hinge,), overlay, hinge.host)
            assert any(c.edge == pytest.approx(edge) and c.plate == plate for c in found)


def test_a_cup_is_bored_where_the_hinge_asks() -> None:
    # 35 mm bore, 12 mm deep, 22.5 mm from the edge to its middle at a distance of 5 mm; screws 45 × 9.5 mm (32 mm
    # system, common practice). Lap 16.5 mm: half a millimetre more than the hinge's 16, so the cup stands at 5.5.
    built = hang(spec_of(LeafKind.SLAB, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0), slab="mdf-19")
    slab = built.d.at("door[c1,r1]/slab")
    part = next(p for p in built.piece.placed if p.path == slab.path).part
    bores = [f for f in part.features if isinstance(f, Hole) and f.diameter == 35.0]
    assert [f.depth for f in bores] == [12.0, 12.0]
    edge = built.spans("door[c1,r1]/slab")[0][1]
    middles = {p.frame.origin[0] for p in built.piece.placed if p.path.endswith(".cup") and "hinge[" in p.path}
    assert {round(edge - m, 4) for m in middles} == {23.0}
    screws = [f for f in built.piece.fasteners if ".cup~door" in f.joint]
    assert {round(edge - f.frame.origin[0], 4) for f in screws} == {32.5}
    heights = sorted(f.frame.origin[2] for f in screws)
    assert heights[1] - heights[0] == pytest.approx(45.0, abs=1e-5)
    assert built.d.led["door[c1,r1].cup.plate_line"] == 37.0


def test_the_plate_of_an_inset_door_stands_back_by_its_thickness() -> None:
    # 32 mm system: first row 37 mm behind the front edge, an inset door's thickness further back.
    built = hang(spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "inset", 0.0))
    assert built.d.led["door[c1,r1].cup.plate_line"] == pytest.approx(37.0 + 19.05, abs=1e-5)


@pytest.mark.parametrize(("stile", "through"), [(57.15, False), (28.15, True)])
def test_behind_a_frame_the_plate_stands_on_a_block(stile: float, through: bool) -> None:
    # Behind a frame a block flush with the opening (trade rule); a thin one is bored, and the screws hold in the wall.
    spec = spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "inset", FRAME)
    d, piece = box(replace(spec, ceiling=""), width=350.0, height=700.0, kit=kit_of(), frame=FRAME, stile=stile)
    Built(d, piece).sound()
    (x0, x1), _, _ = Built(d, piece).spans("door[c1,r1].hinge[1].block")
    assert (x0, x1) == pytest.approx((175.0, 175.0 + stile - SIDE), abs=1e-5)
    screws = [f for f in piece.fasteners if "hinge[1].plate~wall" in f.joint]
    assert len(screws) == 2
    assert all(("box/side.right" in f.parts) is through for f in screws)
    assert all(not through or f.tip[0] - x1 >= 10.0 for f in screws), "10 mm of thread in the wall"


def test_a_lap_that_no_hinge_gives_is_refused() -> None:
    spec = spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0)
    odd = replace(spec, mount=FrontMount(kind=Mount.OVERLAY, gap=3.0, laps=(30.0,) * 4))
    built = hang(odd)
    assert built.codes == {"door.cup_overlay"}
    assert built.piece.findings[0].limit == 19.0, "13 + 6 of distance on a plate of 0 mm"


def test_a_stile_must_hold_cup_and_groove() -> None:
    # Stile ≥ distance + 35 + 3 + groove, about 53 mm (trade rule).
    spec = spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0)
    built = hang(replace(spec, stile=50.0, rail=50.0))
    assert built.codes == {"door.cup_stile"}
    assert built.piece.findings[0].limit == pytest.approx(5.5 + 35 + 3 + 11, abs=1e-5)


@pytest.mark.parametrize(("height", "count"), [(800.0, 2), (1500.0, 3), (1900.0, 4), (2200.0, 5)])
def test_number_of_hinges_follows_the_height(height: float, count: int) -> None:
    # Usual chart of cup hinges: 2 to 900 mm, 3 to 1600, 4 to 2000, 5 to 2400, if the weight allows (from memory).
    spec = spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0)
    built = hang(replace(spec, ceiling=""), width=400.0, height=height - 33.0)
    assert not built.codes
    assert len([p for p in built.piece.placed if p.path.endswith(".plate")]) == count


def test_a_heavy_door_takes_more_hinges_and_too_heavy_a_one_none() -> None:
    spec = replace(spec_of(LeafKind.SLAB, Hinging.CUP, Meeting.SINGLE, "overlay", 0.0), ceiling="")
    heavy = hang(spec, slab="mdf-19", width=560.0, height=1500.0)
    cups = [p for p in heavy.piece.placed if p.path.endswith(".plate")]
    mass = heavy.d.at("door[c1,r1]/slab").part.mass_density * 1533e-3 * 593e-3 * 19e-3
    assert len(cups) == math.ceil(mass / 4.0) > 3, "4 kg for each hinge"
    few = hang(replace(spec, hinges=2), slab="mdf-19", width=560.0, height=1500.0)
    assert few.codes == {"door.hinge_load"}


def test_hinges_of_two_doors_on_one_divider_miss_each_other() -> None:
    screw = ((0.0, 35.0, 84.0), (16.0, 39.0, 88.0))  # one of the other door's plate, from the other face

    def own(z: float) -> list[tuple[tuple[float, float, float], tuple[float, float, float]]]:
        return [((2.0, 35.0, z + dz - 2.0), (18.0, 39.0, z + dz + 2.0)) for dz in (-16.0, 16.0)]

    moved = moved_clear(own, [screw], 100.0, (60.0, 140.0))
    assert not meets(own(moved), [screw])
    assert abs(moved - 100.0) <= 6.0, "no further than it takes"
    assert moved_clear(own, [screw], 300.0, (260.0, 340.0)) == 300.0, "nothing stands there"


def test_knife_hinges_fill_the_gap_and_clear_the_corner() -> None:
    # Gap = washer + 2 × (leaf − mortise); the front corner turns about the pin on a circle of √(a² + p²).
    built = hang(spec_of(LeafKind.SHEET, Hinging.KNIFE, Meeting.SINGLE, "inset", 0.0))
    item = STOCK.knife_hinges["knife-straight-41"]
    deep = built.d.led["door[c1,r1].knife.mortise"]
    assert item.washer + 2 * (item.leaf_thickness - deep) == pytest.approx(GAP, abs=1e-5)
    assert deep == pytest.approx(mortise_depth(item, GAP), abs=1e-5)
    spec = spec_of(LeafKind.SHEET, Hinging.KNIFE, Meeting.SINGLE, "inset", 0.0)
    across, back = pivot_in(built.d, item, spec)
    assert math.hypot(across, back) - across <= GAP - built.d.practice["door.knife_clear"] + 1e-6


def test_knife_hinges_need_something_above_and_below() -> None:
    spec = replace(spec_of(LeafKind.SHEET, Hinging.KNIFE, Meeting.SINGLE, "inset", 0.0), head="")
    assert hang(spec).codes == {"door.knife_rails"}


def test_an_inset_door_has_its_stop_and_catch_with_a_strike() -> None:
    built = hang(spec_of(LeafKind.SHEET, Hinging.BUTT, Meeting.SINGLE, "inset", 0.0))
    paths = {p.path.partition("/")[2] for p in built.piece.placed}
    assert {"door[c1,r1].stop", "door[c1,r1].catch", "door[c1,r1]/strike"} <= paths
    sprung = hang(spec_of(LeafKind.SHEET, Hinging.CUP, Meeting.SINGLE, "inset", 0.0))
    assert not [p for p in sprung.piece.placed if p.path.endswith(".catch")], "cup hinges hold a door by their spring"


def test_the_astragal_is_on_the_leaf_that_closes_first() -> None:
    built = hang(spec_of(LeafKind.SHEET, Hinging.BUTT, Meeting.ASTRAGAL, "inset", 0.0))
    strip = next(p for p in built.piece.placed if p.path.endswith("/astragal"))
    assert "/door[c1,r1].left/" in strip.path, "the right leaf opens first"
    (x0, x1), _, _ = built.spans("door[c1,r1].left/astragal")
    left, right = built.spans("door[c1,r1].left/stile.right")[0], built.spans("door[c1,r1].right/stile.left")[0]
    assert x0 < left[1] < right[0] < x1
    hung = [s.text for s in built.piece.steps if s.text.startswith("Hang the door")]
    assert len(hung) == 2


# --- random sizes ---


@settings(max_examples=24)
@given(
    width=st.floats(260, 560),
    height=st.floats(420, 1500),
    gap=st.floats(1.8, 3.2),
    stile=st.floats(56, 80),
    kind=st.sampled_from((LeafKind.SHEET, LeafKind.SOLID, LeafKind.GLASS)),
    hinging=st.sampled_from(Hinging),
    side=st.sampled_from((-1, 1)),
)
def test_doors_of_any_size_go_together_or_say_why(
    width: float, height: float, gap: float, stile: float, kind: LeafKind, hinging: Hinging, side: int
) -> None:
    spec = spec_of(kind, hinging, Meeting.SINGLE, "inset", 0.0, side)
    spec = replace(spec, gap=gap, stile=stile, rail=stile, mount=inset(gap), ceiling="")
    built = hang(spec, width=width, height=height)
    if built.d.stopped:
        assert all(f.remedy and f.limit is not None for f in built.piece.findings)
    else:
        built.sound()
