"""Joints between two boards on the bench: what they cut, what they drive, and that the parts then fit."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from tests.design.harness import agrees_with_kernel, bench, kit_of, put, sound

from casewright import Project, load_order
from casewright.design.assembly import JointKind
from casewright.design.blocks.joining import Corner, Making, entry_depth, join, mitre, out_of_sight
from casewright.design.features.cuts import Dado, Groove, HalfLap, Notch, Rabbet, Tenon
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.mitres import MitreSlot
from casewright.design.features.openings import Mortise
from casewright.design.joints.auto import (
    REASONS,
    Abilities,
    Case,
    Load,
    Member,
    NoJointError,
    Shown,
    able,
    choose,
    objection,
)
from casewright.design.joints.dowelling import dowel_count, dowel_setting
from casewright.design.joints.meeting import meeting
from casewright.design.parts import Form
from casewright.shop import load_shop
from casewright.shop.slices import Machine, Machines
from casewright.stock.model import Dowel

KIT = kit_of()
T = KIT.sheet("case").thickness
P = KIT.practice
PLAIN = Making()


def side_and_shelf(kind: JointKind, how: Making = PLAIN, z: float = 300.0, depth: float = 280.0):
    """A side 300 deep and 600 high, and a shelf that stands against it or in it."""
    d = bench()
    side = put(d, "side.left", "case", (-T, 0.0), (0.0, 300.0), (0.0, 600.0), "z", "x")
    reach = entry_depth(kind, T, P)
    shelf = put(d, "shelf", "case", (-reach, 400.0), (0.0, depth), (z, z + T), "x", "z")
    join(d, KIT, "shelf~side.left", side, shelf, kind, how)
    return d


def test_meeting_finds_the_face_and_its_line() -> None:
    d = side_and_shelf(JointKind.GLUE)
    m = meeting(d.at("side.left"), d.at("shelf"))
    assert (m.axis, m.drive, m.reach) == (0, (1.0, 0.0, 0.0), 0.0)
    assert (m.length, m.thickness) == (280.0, pytest.approx(T))
    assert m.line()[1] == pytest.approx((0.0, 280.0, 300.0 + T / 2))
    with pytest.raises(ValueError, match="does not meet"):
        meeting(d.at("side.left"), put(d, "far", "case", (700.0, 900.0), (0.0, 9.0), (0.0, 9.0), "x", "z"))


@pytest.mark.parametrize(
    "kind",
    [JointKind.BUTT_SCREWS, JointKind.POCKET_SCREWS, JointKind.DOWEL, JointKind.DADO, JointKind.GLUE],
)
def test_a_shelf_in_a_side_is_sound_however_it_is_joined(kind: JointKind) -> None:
    piece = sound(side_and_shelf(kind))
    agrees_with_kernel(piece, 2)


def test_a_dado_is_as_wide_as_the_shelf_and_the_slip_above_it() -> None:
    piece = sound(side_and_shelf(JointKind.DADO))
    (cut,) = piece.by_path()["bench/side.left"].part.features
    assert isinstance(cut, Dado)
    # 1/4 to 1/3 of the stock (fact book section 7, common practice).
    assert T / 4 <= cut.depth <= T / 3 + 1e-6
    assert cut.u1 - cut.u0 == pytest.approx(T + P["fit.slip"], abs=1e-5)
    assert cut.u0 == pytest.approx(300.0), "the shelf bears on the lower wall"


def test_a_stopped_dado_does_not_show_in_front() -> None:
    piece = sound(side_and_shelf(JointKind.DADO, out_of_sight(P)))
    (cut,) = piece.by_path()["bench/side.left"].part.features
    (notch,) = piece.by_path()["bench/shelf"].part.features
    assert isinstance(cut, Dado)
    assert isinstance(notch, Notch)
    side = piece.by_path()["bench/side.left"]
    front = side.frame.local_point((0.0, 0.0, 0.0))[1]
    edge = min(abs(cut.v0 - front), abs(cut.v1 - front))
    assert edge == pytest.approx(10.0)
    agrees_with_kernel(piece, 2)


def test_a_rabbet_at_the_end_and_a_groove_along_the_grain() -> None:
    rabbet = sound(side_and_shelf(JointKind.RABBET, Making(slack="down"), z=600.0 - T))
    assert [type(f) for f in rabbet.by_path()["bench/side.left"].part.features] == [Rabbet]
    d = bench()
    side = put(d, "side.left", "case", (-T, 0.0), (0.0, 300.0), (0.0, 600.0), "z", "x")
    panel = put(d, "panel", "back", (-6.0, 300.0), (200.0, 205.4), (0.0, 600.0), "z", "y")
    join(d, KIT, "panel~side.left", side, panel, JointKind.GROOVE, Making(slack="back"))
    assert [type(f) for f in sound(d).by_path()["bench/side.left"].part.features] == [Groove]


def frame(kind: JointKind, reach: float):
    d = bench()
    stile = put(d, "stile", "face_frame", (0.0, 60.0), (0.0, 20.0), (0.0, 500.0), "z", "y")
    rail = put(d, "rail", "face_frame", (60.0 - reach, 400.0), (0.0, 20.0), (200.0, 270.0), "x", "y")
    join(d, KIT, "rail~stile", stile, rail, kind, Making(opens="front"))
    return sound(d)


def test_mortise_and_tenon_proportions() -> None:
    """Tenon a third of the stock, 1 to 1-1/4 in long in 19 mm frames (fact book section 7, common practice)."""
    reach = entry_depth(JointKind.TENON, 60.0, P)
    assert 25.0 <= reach <= 32.0
    piece = frame(JointKind.TENON, reach)
    (tenon,) = piece.by_path()["bench/rail"].part.features
    (mortise,) = piece.by_path()["bench/stile"].part.features
    assert isinstance(tenon, Tenon)
    assert isinstance(mortise, Mortise)
    thick = min(tenon.u1 - tenon.u0, tenon.v1 - tenon.v0)
    assert thick == pytest.approx(20.0 / 3, abs=1e-5)
    assert mortise.depth == pytest.approx(reach + P["tenon.spare"])
    assert mortise.outline.area == pytest.approx(thick * (70.0 - 2 * P["tenon.shoulder"]), rel=1e-5)
    agrees_with_kernel(piece, 2)


def test_a_mortise_near_the_end_is_told() -> None:
    d = bench()
    stile = put(d, "stile", "face_frame", (0.0, 60.0), (0.0, 20.0), (0.0, 500.0), "z", "y")
    rail = put(d, "rail", "face_frame", (35.0, 400.0), (0.0, 20.0), (430.0, 500.0), "x", "y")
    join(d, KIT, "rail~stile", stile, rail, JointKind.TENON)
    (finding,) = d.finish(kind="t", title="t", width=1.0, depth=1.0, height=1.0).findings
    assert (finding.code, finding.value) == ("tenon.end", pytest.approx(6.0))


def test_half_laps_take_half_of_each() -> None:
    piece = frame(JointKind.HALF_LAP, 60.0)
    for name in ("stile", "rail"):
        (lap,) = piece.by_path()[f"bench/{name}"].part.features
        assert isinstance(lap, HalfLap)
        assert lap.depth == pytest.approx(10.0)
    agrees_with_kernel(piece, 2)


def test_dowels_stand_apart_and_stay_blind() -> None:
    """Diameter 1/3 to 1/2 of the stock, 3 to 4 in apart, 1-1/2 diameters deep at least (fact book section 7)."""
    piece = sound(side_and_shelf(JointKind.DOWEL))
    dowels = sorted(f.frame.origin[1] for f in piece.fasteners)
    assert len(dowels) == dowel_count(280.0, P) == 4
    gaps = [b - a for a, b in pairwise(dowels)]
    assert max(gaps) <= P["dowel.spacing"] + 1e-6
    assert len({round(g, 3) for g in gaps}) == 1
    radius = piece.fasteners[0].shank_radius
    assert T / 3 - 0.3 <= 2 * radius <= T / 2
    for name, room in (("side.left", T), ("shelf", 400.0)):
        holes = [f for f in piece.by_path()[f"bench/{name}"].part.features if isinstance(f, Hole)]
        assert len(holes) == 4
        assert all(3 * radius - 1e-6 <= (h.depth or 0.0) <= room - P["fastener.point_cover"] + 1e-6 for h in holes)
    deep = [f.depth for p in piece.placed for f in p.part.features if isinstance(f, Hole)]
    assert sum(d for d in deep if d) / 4 == pytest.approx(piece.fasteners[0].length + P["dowel.spare"])


def test_no_dowel_fits_thin_sheets() -> None:
    assert dowel_setting(KIT.all("frame_dowel", Dowel), 9.0, 9.0, 200.0, P) is None


def mitred(spline: str):
    d = bench()
    t = 20.0
    front = put(d, "front", "bracket_foot", (0.0, 150.0), (0.0, t), (0.0, 100.0), "x", "y")
    side = put(d, "side", "bracket_foot", (150.0 - t, 150.0), (0.0, 200.0), (0.0, 100.0), "y", "x")
    corner = Corner(at=(150.0, 0.0, 0.0), along=(1.0, 0.0, 0.0), onward=(0.0, 1.0, 0.0), z=(0.0, 100.0))
    mitre(d, KIT, "front~side", front, side, corner, spline)
    return d


def test_a_mitre_with_a_spline_closes_and_holds_the_spline() -> None:
    piece = sound(mitred("spline"))
    agrees_with_kernel(piece, 3)
    slots = [f for p in piece.placed for f in p.part.features if isinstance(f, MitreSlot)]
    assert len(slots) == 2
    spline = piece.by_path()["bench/spline"].part.blank
    assert 0.0 < 2 * slots[0].depth - spline.length < 2.5
    assert slots[0].width - spline.thickness == pytest.approx(P["fit.slip"])
    kinds = {j.kind for j in piece.joints}
    assert kinds == {JointKind.SPLINE_MITRE, JointKind.GLUE}
    assert {j.kind for j in sound(mitred("")).joints} == {JointKind.MITRE}


def test_unknown_kinds_are_refused() -> None:
    with pytest.raises(ValueError, match="is not made by join"):
        side_and_shelf(JointKind.INSERT)


def test_glued_joints_say_so() -> None:
    piece = sound(side_and_shelf(JointKind.BUTT_SCREWS))
    assert all(j.glued for j in piece.joints)
    assert not any(j.glued for j in sound(side_and_shelf(JointKind.SCREWS)).joints)
    free = side_and_shelf(JointKind.DADO, replace(Making(), glued=False))
    assert not any(j.glued for j in sound(free).joints)


# --- which kind ---

SHEET = Member(form=Form.SHEET, thickness=18.0)
BOARD = Member(form=Form.BOARD, thickness=20.0, end=True)
WANTED = (JointKind.BUTT_SCREWS, JointKind.POCKET_SCREWS, JointKind.DADO, JointKind.DOWEL)


@pytest.mark.parametrize(
    ("case", "kind", "says"),
    [
        (Case(a=SHEET, b=SHEET), JointKind.BUTT_SCREWS, "heads are hidden or filled"),
        (Case(a=SHEET, b=SHEET, outer=Shown.CLEAR), JointKind.POCKET_SCREWS, "heads would show"),
        (
            Case(a=SHEET, b=SHEET, outer=Shown.CLEAR, shop=Abilities(pocket_jig=False)),
            JointKind.DADO,
            "the shop has no pocket jig",
        ),
        (
            Case(a=SHEET, b=SHEET, outer=Shown.CLEAR, pockets_hidden=False, border=True),
            JointKind.DOWEL,
            "it would be a rabbet",
        ),
        (Case(a=SHEET, b=BOARD, load=Load.HEAVY), JointKind.DADO, "end grain alone"),
        (Case(a=SHEET, b=replace(SHEET, thickness=12.0)), JointKind.DADO, "the edge of a 12 mm sheet splits"),
    ],
)
def test_the_first_joint_that_can_be_made(case: Case, kind: JointKind, says: str) -> None:
    chosen = choose(WANTED, case)
    assert chosen.kind is kind
    assert says in chosen.why


def test_no_joint_says_what_ruled_each_out() -> None:
    wide = Case(a=SHEET, b=SHEET, crossing=True, outer=Shown.CLEAR, pockets_hidden=False)
    with pytest.raises(NoJointError, match="across the grain") as none:
        choose(WANTED, wide)
    assert [kind for kind, _ in none.value.ruled_out] == list(WANTED)


def test_every_kind_that_is_chosen_has_a_reason_and_can_be_made_somewhere() -> None:
    best = {
        JointKind.TENON: Case(a=replace(BOARD, end=False), b=BOARD),
        JointKind.STUB_TENON: Case(a=replace(BOARD, end=False), b=BOARD),
        JointKind.HALF_LAP: Case(a=BOARD, b=BOARD),
        JointKind.RABBET: Case(a=SHEET, b=SHEET, border=True),
        JointKind.GLUE: Case(a=SHEET, b=SHEET, load=Load.LIGHT),
        JointKind.PINS: Case(a=SHEET, b=SHEET, load=Load.LIGHT),
    }
    for kind, reason in REASONS.items():
        chosen = choose([kind], best.get(kind, Case(a=SHEET, b=SHEET)))
        assert (chosen.kind, chosen.why) == (kind, reason)
    assert objection(JointKind.TENON, Case(a=SHEET, b=BOARD)) is not None
    assert objection(JointKind.HARDWARE, Case(a=SHEET, b=BOARD)) == "hardware screws is not chosen by itself"


def test_a_shop_is_able_to_do_what_its_machines_do() -> None:
    bare = Machines(machines=(Machine(name="drill press", kind="drill"),), lift_one=25.0, lift_two=45.0)
    assert able(bare) == Abilities(saw=False, router=False, drill=True, pocket_jig=False)
    assert able(load_shop().machines) == Abilities()


def test_screws_of_a_corner_block_keep_out_of_the_pockets_of_its_rail() -> None:
    """A hole that opens in a pocket wanders as it is bored (common practice); here is room beside them."""
    project = Project(load_order(Path(__file__).parents[2] / "examples" / "lantern-hill.toml"), load_shop())
    rail = next(p for p in project.assembly.pieces[0].placed if p.path.endswith("frame/rail.bottom"))
    pockets = [f for f in rail.part.features if isinstance(f, PocketHole)]
    holes = [f for f in rail.part.features if isinstance(f, Hole) and "block" in f.joint]
    assert len(pockets) == 6
    assert len(holes) == 4
    for hole in holes:
        beside = [p for p in pockets if abs(p.u - hole.u) < p.run]
        assert all(abs(p.v - hole.v) > (p.pocket_diameter + hole.diameter) / 2 for p in beside)
