"""A lid that lifts up, solid or of sheet, on a plain box: built, checked, mirrored, and held by stays that bear it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.design.door_box import BACK, ROOM, SIDE, checked, kit_of
from tests.laws.test_laws import joints_close_once, parts_arrive_once

from casewright.design.assembly import JointKind, MotionKind, PieceDesign
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.lid import LidSpec, lid
from casewright.design.blocks.lid_steps import bench_lid, hang_lid_steps
from casewright.design.draft import Draft
from casewright.design.frames import rotation_about, sub
from casewright.design.kit import Kit
from casewright.design.mirror import mirror_piece
from casewright.design.sequence import Sequence
from casewright.design.sites import centred, world_box
from casewright.stock.reading import load_stock

STOCK = load_stock()
SPEC = LidSpec(overhang_front=20.0, clear_from=SIDE, floor_z=80.0)


def seat(spec: LidSpec, kit: Kit, *, width: float = 1000.0, depth: float = 420.0, height: float = 440.0) -> Built:
    """Return a box without a top, closed in front, with its lid."""
    body = Body(width=width, depth=depth, z0=0.0, z1=height, frame=0.0, side=SIDE, back=BACK)
    d = Draft(path="seat", practice=kit.practice)
    sheet = kit.material("case")
    for sign, hand in HANDS:
        y = (0.0, depth)
        d.box_part(f"side.{hand}", hand, sheet, side_x(sign, width / 2, SIDE), y, (0.0, height), grain="z", thick="x")
    inner = (
        ("front", (0.0, SIDE), (0.0, height), "y"),
        ("bottom", (SIDE, body.inner_back), (spec.floor_z - SIDE, spec.floor_z), "z"),
        ("stretcher.rear", (body.inner_back - 90.0, body.inner_back), (height - SIDE, height), "z"),
    )
    for name, y, z, thick in inner:
        d.box_part(name, name, sheet, centred(body.inside), y, z, grain="x", thick=thick)
        for _, hand in HANDS:
            side, part = d.at(f"side.{hand}"), d.at(name)
            d.joint(f"{name}~side.{hand}", JointKind.GLUE, side, part, part.frame.origin, glued=True)
    lid(d, kit, body, spec, ROOM)
    s = Sequence(d)
    s.bring(["side.left", "side.right", "front", "bottom", "stretcher.rear"], "Stand the box")
    bench_lid(s, d, 1000.0)
    hang_lid_steps(s, d, 1000.0)
    return Built(d, d.finish(kind="seat", title="Seat", width=width, depth=depth, height=height))


class Built:
    """A draft with its piece."""

    def __init__(self, d: Draft, piece: PieceDesign) -> None:
        self.d, self.piece = d, piece

    def sound(self) -> None:
        """No finding; joints close once; parts arrive once; mirrored twice is the same."""
        assert not checked(self.piece, self.d.practice)
        joints_close_once(self.piece)
        parts_arrive_once(self.piece)
        assert mirror_piece(mirror_piece(self.piece)) == self.piece


SOLID, SHEET = ("lid", "cherry-5/4"), ("lid", "birch-plywood-18")


@pytest.mark.parametrize("stock", [SOLID, SHEET, ("lid", "mdf-19")])
@pytest.mark.parametrize("width", [450.0, 1000.0, 1400.0])
def test_a_lid_goes_together(stock: tuple[str, str], width: float) -> None:
    seat(SPEC, kit_of(stock), width=width, depth=380.0).sound()


def test_a_lid_turns_up_about_a_line_along_the_case() -> None:
    built = seat(SPEC, kit_of(SOLID))
    (swing,) = built.piece.motions
    assert swing.kind is MotionKind.SWING
    assert swing.direction == (-1.0, 0.0, 0.0)
    lo, _ = world_box(built.d.at("lid/panel"))
    top = lo[2] + built.d.led["lid.thickness"]
    front = sub((lo[0], lo[1], top), swing.origin)
    turned = rotation_about(swing.direction, 90.0).point(front)
    assert turned[2] > 300.0, "its front edge goes up"
    mirrored = mirror_piece(built.piece).motions[0]
    assert mirrored.direction == swing.direction, "a mirrored lid opens upwards too"


def test_two_stays_bear_the_lid() -> None:
    # Moment at the hinge line = weight × half of the depth (statics); cherry about 0.50 × 1120 = 560 kg/m³ at 12 % MC.
    built = seat(SPEC, kit_of(SOLID), width=700.0, depth=420.0)
    led = built.d.led
    density = built.d.at("lid/panel").part.mass_density
    assert 500.0 < density < 620.0
    volume = led["lid.length"] * led["lid.width"] * led["lid.thickness"] * 1e-9
    least = volume * density * 9.81 * led["lid.width"] / 2000.0
    item = next(p.thing.item for p in built.piece.placed if p.path.endswith("lid_stay.left"))  # type: ignore[union-attr]
    torque = STOCK.lid_stays[item].torque
    assert 2 * torque >= least
    weaker = [s.torque for s in STOCK.lid_stays.values() if 0 < s.torque < torque]
    assert not weaker or 2 * max(weaker) < 1.4 * least, "the weakest that bears lid, battens and hinges"


def test_a_lid_too_heavy_for_its_stays_is_refused() -> None:
    built = seat(SPEC, kit_of(SOLID), width=2400.0, depth=600.0)
    assert {f.code for f in built.piece.findings} == {"lid.stay"}
    assert built.piece.findings[0].value > 20.0  # type: ignore[operator]


def test_fingers_get_under_the_lid() -> None:
    built = seat(replace(SPEC, overhang_front=5.0), kit_of(SOLID))
    assert {f.code for f in built.piece.findings} == {"lid.finger"}
    assert not built.d.has("lid/panel")


def test_a_low_case_has_no_room_for_stays() -> None:
    built = seat(SPEC, kit_of(SOLID), height=220.0)
    assert {f.code for f in built.piece.findings} == {"lid.stay_room"}


def test_all_movement_of_a_solid_lid_goes_to_the_front() -> None:
    built = seat(SPEC, kit_of(SOLID))
    kinds = {j.id.rpartition(".")[2]: j.kind for j in built.piece.joints if "/batten." in j.id}
    assert kinds == {"back": JointKind.SCREWS, "front": JointKind.SLOTTED_SCREWS}
    assert not [j for j in built.piece.joints if "batten" in j.id and j.glued]


@settings(max_examples=16)
@given(
    width=st.floats(420, 1800),
    depth=st.floats(320, 560),
    height=st.floats(300, 600),
    front=st.floats(15, 40),
    stock=st.sampled_from((SOLID, SHEET)),
)
def test_lids_of_any_size_go_together_or_say_why(
    width: float, depth: float, height: float, front: float, stock: tuple[str, str]
) -> None:
    built = seat(replace(SPEC, overhang_front=front), kit_of(stock), width=width, depth=depth, height=height)
    if built.d.stopped:
        assert all(f.remedy and f.limit is not None for f in built.piece.findings)
    else:
        built.sound()
