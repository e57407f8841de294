"""Wood movement: the numbers against the handbook's, each fault found at its place, sound pieces let alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.seeding import (
    case,
    changed,
    found,
    one,
    project_of,
    subject_at,
    text_of,
    told,
    with_joint,
    with_part,
    with_placed,
)

from casewright.checks import movement_joints, movement_panels, movement_stock
from casewright.checks.model import Subject
from casewright.checks.woods import Timber, coefficients, length
from casewright.design.assembly import JointKind, PieceDesign
from casewright.design.blocks.top import Moisture
from casewright.design.features.cuts import Rabbet
from casewright.design.features.edges import EdgeProfile
from casewright.design.features.openings import Slot
from casewright.design.mirror import mirror_finding, mirror_piece
from casewright.design.parts import Part
from casewright.findings import Severity
from casewright.stock import emc

DEMO = project_of(text_of("lantern-hill"))
SUBJECT = subject_at(DEMO, "bedside.left")
PIECE = SUBJECT.piece
P = PIECE.path
CHECKS = (movement_joints.CHECK, movement_panels.CHECK, movement_stock.CHECK)
SOLID_DOOR = case('width = 700\ndepth = 400\nheight = 900\nfronts = { door = "solid panel" }', '{ holds = "door" }')


def in_room(subject: Subject, dry: float, damp: float, fitted: float) -> Subject:
    """The same piece in a room of other moisture contents, %."""
    return replace(subject, moisture=Moisture(dry=dry, damp=damp, fitted=fitted))


# --- sound pieces ---


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.code)
@pytest.mark.parametrize(
    "example", ["lantern-hill", "six-drawer-chest", "low-bookcase", "console", "window-seat", "solid-case"]
)
def test_sound_pieces_are_let_alone(check: object, example: str) -> None:
    project = project_of(text_of(example))
    for piece in project.assembly.pieces:
        assert told(found(check, project.subject(piece.path))) == set()  # type: ignore[arg-type]


# --- numbers from outside ---


def test_the_top_moves_as_the_handbook_says() -> None:
    """WH Eq. 13-2 and Table 13-5 (black cherry C_T 0.00248), Eq. 4-5 at 70 °F: 30 % → 6.17, 60 % → 11.0 (Table 4-2)."""
    top = SUBJECT.by_path[f"{P}/top"]
    assert coefficients(SUBJECT, top) == pytest.approx((0.0, 0.00248, 0.00126), abs=1e-9)
    assert SUBJECT.moisture.dry == pytest.approx(6.2, abs=0.1)
    assert SUBJECT.moisture.damp == pytest.approx(11.0, abs=0.1)
    t = Timber(in_room(SUBJECT, 7.0, 11.0, 9.0))
    # derived: a cherry top of 20 in, flat-sawn, 7 → 11 %, moves 0.198 in
    twenty = 20 * 25.4
    assert t.moves[top.path][1] * twenty * t.range / 25.4 == pytest.approx(0.198, abs=0.001)
    assert length(t.spans[top.path][1]) == pytest.approx(400.87, abs=0.01)
    assert emc(21, 30) == SUBJECT.moisture.dry


def test_the_reading_names_the_part_that_moves_most_and_what_a_percent_does() -> None:
    finding = one(found(movement_stock.CHECK, SUBJECT), "movement.reading")
    assert finding.severity is Severity.NOTE
    assert finding.related == (f"{P}/top",)
    # by hand: 400.87 mm × 0.00248
    assert "0.99 mm" in finding.message
    assert finding.value == pytest.approx(emc(21, 45))


def test_nothing_is_said_of_moisture_where_nothing_moves() -> None:
    sheet = project_of(text_of("tall-cupboard"))
    assert found(movement_stock.CHECK, in_room(subject_at(sheet), 8.0, 8.0, 8.0)) == ()


# --- slots ---


def shortened(piece: PieceDesign, joint: str, to: float) -> PieceDesign:
    """The stretcher's slots of a joint cut to a width, as by a wrong bit: closed around their middles."""

    def edit(part: Part) -> Part:
        features = []
        for f in part.features:
            if isinstance(f, Slot):
                u0, v0, u1, v1 = f.outline.box
                middle = ((u0 + u1) / 2, (v0 + v1) / 2)
                share = to / max(u1 - u0, v1 - v0)
                f = replace(
                    f,
                    outline=replace(
                        f.outline,
                        vertices=tuple(
                            (middle[0] + (u - middle[0]) * share, middle[1] + (v - middle[1]) * share, b)
                            for u, v, b in f.outline.vertices
                        ),
                    ),
                )
            features.append(f)
        return replace(part, features=tuple(features))

    return with_part(piece, joint, edit)


def test_slots_that_are_too_short_stop() -> None:
    short = shortened(PIECE, f"{P}/stretcher.rear", 6.5)
    finding = one(found(movement_joints.CHECK, SUBJECT, short), "movement.slot")
    assert (finding.severity, finding.path) == (Severity.STOP, f"{P}/top~stretcher.rear")
    # by hand: 0.00248 × 278.85 mm × (10.98 − 6.18) % = 3.3 mm are needed; 6.5 − 4.17 mm of shank are there
    assert finding.limit == pytest.approx(3.32, abs=0.02)
    assert finding.value == pytest.approx(6.5 - 4.17, abs=0.05)


def test_a_wetter_room_outgrows_the_slots() -> None:
    hits = found(movement_joints.CHECK, in_room(SUBJECT, 5.0, 20.0, 8.5))
    assert ("movement.slot", f"{P}/top~stretcher.rear") in told(hits, Severity.STOP)


def test_a_screw_at_the_wrong_place_of_its_slot_is_a_warning() -> None:
    moved = []
    for f in PIECE.fasteners:
        shifted = f.joint == f"{P}/top~stretcher.rear"
        moved.append(replace(f, frame=f.frame.moved((0.0, 2.4, 0.0))) if shifted else f)
    finding = one(found(movement_joints.CHECK, SUBJECT, replace(PIECE, fasteners=tuple(moved))), "movement.slot")
    assert (finding.severity, finding.path) == (Severity.WARN, f"{P}/top~stretcher.rear")


def test_slots_that_were_forgotten_stop() -> None:
    bare = with_part(
        PIECE,
        f"{P}/stretcher.rear",
        lambda part: replace(part, features=tuple(f for f in part.features if not isinstance(f, Slot))),
    )
    assert ("movement.slot", f"{P}/top~stretcher.rear") in told(
        found(movement_joints.CHECK, SUBJECT, bare), Severity.STOP
    )


def test_a_top_with_slots_everywhere_has_no_fixed_line() -> None:
    adrift = with_joint(PIECE, f"{P}/top~stretcher.front", lambda j: replace(j, kind=JointKind.SLOTTED_SCREWS))
    hits = found(movement_joints.CHECK, SUBJECT, adrift)
    assert ("movement.adrift", f"{P}/top~stretcher.rear") in told(hits, Severity.WARN)


# --- held across the grain ---


def test_a_top_screwed_tight_at_both_ends_is_pinned() -> None:
    tight = with_joint(PIECE, f"{P}/top~stretcher.rear", lambda j: replace(j, kind=JointKind.SCREWS))
    finding = one(found(movement_joints.CHECK, SUBJECT, tight), "movement.pinned")
    assert finding.path == f"{P}/top"
    assert finding.severity is Severity.WARN
    assert finding.value == pytest.approx(0.00248 * 278.85 * 4.8, rel=0.02)
    worse = one(found(movement_joints.CHECK, in_room(SUBJECT, 5.0, 16.0, 8.0), tight), "movement.pinned")
    assert worse.severity is Severity.STOP


def test_a_glued_top_is_a_cross_grain_glue_line_with_its_width() -> None:
    glued = with_joint(
        PIECE,
        f"{P}/top~stretcher.front",
        lambda j: replace(j, kind=JointKind.GLUE, glued=True, a=f"{P}/side.left"),
    )
    finding = one(found(movement_joints.CHECK, SUBJECT, glued), "movement.glue")
    assert finding.path == f"{P}/top~stretcher.front"
    assert finding.severity is Severity.STOP
    assert finding.related == (f"{P}/top", f"{P}/side.left")
    assert "344 mm" in finding.message  # the top over the side: 362.8 − 19.05
    assert finding.value == pytest.approx(0.00248 * 343.7 * 4.8, rel=0.02)


def test_a_moulding_glued_across_a_solid_side_is_named_as_one() -> None:
    solid = with_part(PIECE, f"{P}/side.left", lambda part: replace(part, stock="cherry-4/4"))
    sizes = replace(SUBJECT, sizes=subject_at(project_of(text_of("solid-case"))).sizes)
    hits = found(movement_joints.CHECK, sizes, solid)
    at_side = {h for h in told(hits) if h[0] == "movement.moulding"}
    assert at_side == {("movement.moulding", f"{P}/{run}/left~side.left") for run in ("base", "crown")}


def test_narrow_glue_lines_and_sheet_goods_are_let_alone() -> None:
    """4 in of poplar rail against a stile: 0.00289 × 101.6 × 4.8 % = 1.4 mm, less than practice allows."""
    assert found(movement_joints.CHECK, SUBJECT) == ()
    in_swamp = found(movement_joints.CHECK, in_room(SUBJECT, 5.0, 18.0, 9.0))
    assert ("movement.glue", f"{P}/frame/rail.bottom~stile.left") in told(in_swamp, Severity.WARN)


# --- panels, fronts, the wall ---


def test_a_solid_panel_has_room_and_hold() -> None:
    subject = subject_at(project_of(SOLID_DOOR))
    assert told(found(movement_panels.CHECK, subject)) == set()


def test_a_panel_without_room_and_one_that_drops_out() -> None:
    subject = subject_at(project_of(SOLID_DOOR))
    tight = found(movement_panels.CHECK, in_room(subject, 6.0, 22.0, 8.5))
    assert ("movement.panel_tight", "case/door[c1,r1]/panel") in told(tight, Severity.STOP)
    dry = found(movement_panels.CHECK, in_room(subject, 2.0, 14.0, 14.0))
    assert ("movement.panel_drop", "case/door[c1,r1]/panel") in told(dry)


def test_a_panel_that_was_cut_wide_fills_its_grooves() -> None:
    subject = subject_at(project_of(SOLID_DOOR))
    path = "case/door[c1,r1]/panel"

    def wider(part: Part) -> Part:
        # A rabbet is measured from the blank's edges: the far one moves with the edge, as a wider cut would.
        blank = replace(part.blank, width=part.blank.width + 8.0)
        return replace(part, blank=blank, features=tuple(f for f in part.features if not isinstance(f, Rabbet)))

    panel = subject.by_path[path]
    shift = panel.frame.direction((0.0, -4.0, 0.0))
    wide = with_placed(with_part(subject.piece, path, wider), path, lambda p: replace(p, frame=p.frame.moved(shift)))
    finding = one(found(movement_panels.CHECK, subject, wide), "movement.panel_tight")
    assert (finding.path, finding.severity) == (path, Severity.STOP)


def test_gaps_are_told_at_both_ends_of_the_year_and_bind_in_a_swamp() -> None:
    finding = one(found(movement_panels.CHECK, SUBJECT), "movement.front")
    assert (finding.severity, finding.path) == (Severity.NOTE, f"{P}/door[c1,r2]")
    # by hand: two poplar stiles of 50.8 mm, C_T 0.00289; 10.98 − 8.46 % is 0.74 mm, half of it to each gap of 2.62 mm
    assert finding.value == pytest.approx(2.618 - 0.00289 * 101.6 * (10.98 - 8.46) / 2, abs=0.02)
    assert "2.2 mm at the damp end" in finding.message
    assert "3.0 mm at the dry end" in finding.message
    bound = one(found(movement_panels.CHECK, in_room(SUBJECT, 6.0, 30.0, 8.0)), "movement.front")
    assert bound.severity is Severity.STOP
    close = one(found(movement_panels.CHECK, in_room(SUBJECT, 6.0, 21.5, 8.0)), "movement.front")
    assert close.severity is Severity.WARN


def test_a_top_as_deep_as_the_case_meets_the_wall() -> None:
    deep = with_placed(PIECE, f"{P}/top", lambda p: replace(p, frame=p.frame.moved((0.0, 5.5, 0.0))))
    finding = one(found(movement_panels.CHECK, SUBJECT, deep), "movement.wall")
    assert (finding.path, finding.severity) == (f"{P}/top", Severity.WARN)
    assert finding.value == pytest.approx(0.0, abs=0.05)


def test_a_top_fixed_at_the_rear_wanders_in_front() -> None:
    kinds = {
        f"{P}/top~stretcher.front": JointKind.SLOTTED_SCREWS,
        f"{P}/top~stretcher.rear": JointKind.SCREWS,
    }
    turned = replace(PIECE, joints=tuple(replace(j, kind=kinds.get(j.id, j.kind)) for j in PIECE.joints))
    finding = one(found(movement_panels.CHECK, SUBJECT, turned), "movement.fixed_line")
    assert (finding.path, finding.severity) == (f"{P}/top", Severity.WARN)


def test_a_seam_without_a_chamfer_prints() -> None:
    plain = PIECE
    for name in ("frame/stile.left", "side.left"):
        plain = with_part(
            plain,
            f"{P}/{name}",
            lambda part: replace(part, features=tuple(f for f in part.features if not isinstance(f, EdgeProfile))),
        )
    hits = told(found(movement_stock.CHECK, SUBJECT, plain), Severity.WARN)
    assert ("movement.seam", f"{P}/side.left~frame/stile.left") in hits
    assert all("left" in path for _, path in hits)


def test_boards_of_unknown_movement_are_said_to_be_unchecked() -> None:
    woods = tuple(replace(w, tangential_coefficient=None) if w.id == "cherry-black" else w for w in SUBJECT.sizes.woods)
    unknown = replace(SUBJECT, sizes=replace(SUBJECT.sizes, woods=woods))
    finding = one(found(movement_stock.CHECK, unknown), "movement.unknown")
    assert (finding.path, finding.severity) == (f"{P}/top", Severity.WARN)


# --- laws ---


def test_a_mirrored_piece_has_mirrored_findings() -> None:
    swamp = in_room(SUBJECT, 5.0, 20.0, 8.5)
    for check in CHECKS:
        own = found(check, swamp)
        mirrored = found(check, swamp, mirror_piece(PIECE))
        assert {(f.code, f.path, f.message) for f in mirrored} == {
            (f.code, f.path, f.message) for f in (mirror_finding(g, PIECE.cells) for g in own)
        }


def test_a_wider_range_of_moisture_never_removes_a_stop() -> None:
    before: set[tuple[str, str]] = set()
    for damp in (11.0, 13.0, 16.0, 20.0, 25.0):
        now = {h for c in CHECKS for h in told(found(c, in_room(SUBJECT, 6.0, damp, 8.5)), Severity.STOP)}
        assert before <= now
        before = now
    assert before


def test_a_damp_room_in_the_order_is_built_for() -> None:
    """The builder reckons slots and gaps for the room of the order; the check agrees from the finished parts."""
    text = changed(
        text_of("lantern-hill"),
        ("humidity_low = 30 ", "humidity_low = 25 "),
        ("humidity_high = 60 ", "humidity_high = 72 "),
    )
    subject = subject_at(project_of(text))
    stops = {h for c in CHECKS for h in told(found(c, subject), Severity.STOP)}
    assert stops == set()
