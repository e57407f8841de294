"""The demonstration pair against the trade's own numbers."""

from __future__ import annotations

import pytest
from tests.laws.test_laws import DEMO

from casewright import Project, load_order, load_shop
from casewright.design.assembly import JointKind
from casewright.design.features.openings import Slot
from casewright.design.ledger import why
from casewright.design.sites import world_box
from casewright.stock.movement import emc, movement
from casewright.stock.reading import load_stock


@pytest.fixture(scope="module")
def project() -> Project:
    return Project(load_order(DEMO), load_shop())


def sizes_of(project: Project) -> dict[str, float]:
    return {s.name: s.value for s in project.assembly.pieces[0].sizes}


def test_drawer_box_leaves_the_slides_their_room(project: Project) -> None:
    # Ball-bearing side-mount slides: box = opening − 25.4 … 27.0 mm, 12.7 mm a side, never less (common practice).
    piece = project.assembly.pieces[0]
    g = f"{piece.path}/drawer[c1,r1]"
    left, right = (world_box(piece.by_path()[f"{g}/side.{h}"]) for h in ("left", "right"))
    box = right[1][0] - left[0][0]
    opening = sizes_of(project)["rail.length"]
    assert 25.4 <= opening - box <= 27.0
    assert (opening - box) / 2 >= 12.7


def test_back_follows_its_rule(project: Project) -> None:
    # Back = inside + 2 × rabbet depth − 1 mm; rabbet as wide as the back is thick, half the side deep.
    s = sizes_of(project)
    assert s["back.width"] == pytest.approx(s["inside.width"] + 2 * s["back.rabbet_depth"] - 1.0, abs=1e-5)
    assert s["back.rabbet_depth"] == pytest.approx(s["side.thickness"] / 2)


def test_slots_allow_the_movement_of_the_wood(project: Project) -> None:
    # Slot = C × (MC range of the room) × distance from the fixed line + shank + 3 mm (common practice); the
    # change of size itself is the Wood Handbook's ΔD = D·C·(M_F − M_I), Eq. 13-2, black cherry C_T = 0.00248.
    s = sizes_of(project)
    room = project.order.room
    dry, damp = emc(room.temperature, room.humidity_low), emc(room.temperature, room.humidity_high)
    cherry = next(w for w in load_stock().species.values() if w.name.lower().startswith("cherry"))
    assert cherry.tangential_coefficient == 0.00248
    expected = movement(s["top.fixed_to_slot"], 0.00248, dry, damp)
    assert s["top.movement"] == pytest.approx(expected, abs=1e-3)
    assert s["top.slot"] == pytest.approx(expected + 0.164 * 25.4 + 3.0, abs=1e-3)  # #8 shank
    rear = project.assembly.pieces[0].by_path()["bedside.left/stretcher.rear"].part
    slots = [f for f in rear.features if isinstance(f, Slot)]
    assert len(slots) >= 2


def test_gap_is_finished_gap_plus_film_plus_swelling(project: Project) -> None:
    s = sizes_of(project)
    assert s["door[c1,r2].gap"] == pytest.approx(s["gap.finished"] + s["gap.film"] + s["gap.swelling"], abs=1e-5)
    assert 0.2 <= s["gap.film"] <= 0.3, "two faces of paint, 0.2–0.3 mm together (common practice)"


def test_hinge_mortises_fill_the_gap(project: Project) -> None:
    # Gap = closed thickness − both mortises (common practice).
    s = sizes_of(project)
    hinge = load_stock().hinges["butt-51"]
    assert hinge.closed - 2 * s["door[c1,r2].hinge.mortise"] == pytest.approx(s["door[c1,r2].gap"], abs=1e-5)


def test_every_screw_through_a_side_is_covered_by_a_moulding(project: Project) -> None:
    piece = project.assembly.pieces[0]
    s = sizes_of(project)
    covered = [
        (s["foot.height"], s["foot.height"] + s["base.height"]),
        (s["foot.height"] + s["body.height"] - s["crown.drop"], s["foot.height"] + s["body.height"]),
    ]
    outside = [f for f in piece.fasteners if f.head_radius and abs(abs(f.frame.origin[0]) - s["body.width"] / 2) < 0.1]
    assert outside
    for f in outside:
        z, r = f.frame.origin[2], f.head_radius
        assert any(lo <= z - r and z + r <= hi for lo, hi in covered), f.path


def test_the_module_has_its_wood_and_its_way_out(project: Project) -> None:
    piece = project.assembly.pieces[0]
    s = sizes_of(project)
    assert s["device.wood_over"] == 4.0
    module = piece.by_path()[f"{piece.path}/device"]
    top = world_box(piece.by_path()[f"{piece.path}/top"])
    assert top[1][2] - module.frame.origin[2] == pytest.approx(4.0, abs=1e-5)
    names = {f.describe() for f in piece.by_path()[f"{piece.path}/top"].part.features}
    assert {"recess", "channel"} <= names


def test_joints_choose_for_themselves_and_say_why(project: Project) -> None:
    joints = {j.id.partition("/")[2]: j for j in project.assembly.pieces[0].joints}
    assert joints["bottom~side.left"].kind is JointKind.POCKET_SCREWS, "above the base moulding nothing covers a screw"
    assert joints["base_rail~side.left"].kind is JointKind.BUTT_SCREWS
    assert "moulding" in joints["bottom~side.left"].why


def test_why_traces_a_size_to_what_was_ordered(project: Project) -> None:
    piece = project.assembly.pieces[0]
    chain = [size.name for size in why(piece.sizes, "bottom.length")]
    assert chain[0] == "bottom.length"
    assert {"inside.width", "body.width", "overall.width", "side.thickness"} <= set(chain)


def test_without_mouldings_no_screw_shows(project: Project) -> None:
    from casewright.catalogue import BUILT_IN
    from casewright.order import order_from_text

    text = DEMO.read_text(encoding="utf-8").replace("crown = true", "crown = false")
    text = text.replace("base = true", "base = false\nbottom_rail_visible = 3").replace("bottom_rail_visible = 1", "")
    bare = Project(order_from_text(text, BUILT_IN.kinds), load_shop())
    assert not bare.stops
    piece = bare.assembly.pieces[0]
    half = {s.name: s.value for s in piece.sizes}["body.width"] / 2
    assert not [f for f in piece.fasteners if abs(abs(f.frame.origin[0]) - half) < 0.5], (
        "a screw head in a painted side"
    )
