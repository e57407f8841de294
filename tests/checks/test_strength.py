"""Strength: beams against an independent calculation and published shelf lengths, then each fault at its place."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from tests.checks.seeding import (
    case,
    found,
    one,
    project_of,
    subject_at,
    text_of,
    told,
    with_joint,
    with_part,
    without_joints,
)

from casewright.checks import racking, strength_feet, strength_sag
from casewright.checks.beams import (
    GRAVITY,
    longest_span,
    plate_factor,
    sag_cantilever,
    sag_centre,
    sag_uniform,
    second_moment,
    stress,
)
from casewright.checks.model import Subject
from casewright.checks.woods import elasticity
from casewright.design.assembly import JointKind
from casewright.design.mirror import mirror_finding, mirror_piece
from casewright.findings import Severity

CHECKS = (strength_sag.CHECK, strength_feet.CHECK, racking.CHECK)
PSI = 0.006894757293168361
INCH = 25.4
PSF = 47.880259e-6  # MPa
DEMO = subject_at(project_of(text_of("lantern-hill")), "bedside.left")
P = DEMO.piece.path


# --- beams against a matrix of finite elements, written here ---


def bent(
    span: float, stiffness: float, loads: dict[int, float], n: int, *, clamped: bool = False
) -> NDArray[np.float64]:
    """Deflections of the n + 1 nodes of an Euler–Bernoulli beam (Hermite elements), by the direct stiffness method."""
    h = span / n
    k = (
        np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
        * stiffness
        / h**3
    )
    whole = np.zeros((2 * n + 2, 2 * n + 2))
    for i in range(n):
        whole[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += k
    force = np.zeros(2 * n + 2)
    for node, load in loads.items():
        force[2 * node] += load
    held = [0, 1] if clamped else [0, 2 * n]
    free = [i for i in range(2 * n + 2) if i not in held]
    out = np.zeros(2 * n + 2)
    out[free] = np.linalg.solve(whole[np.ix_(free, free)], force[free])
    return out[::2]


@given(
    span=st.floats(200, 2000),
    width=st.floats(40, 600),
    thick=st.floats(4, 40),
    e=st.floats(1500, 15000),
    load=st.floats(0.01, 2),
)
def test_beams_agree_with_finite_elements(span: float, width: float, thick: float, e: float, load: float) -> None:
    ei = e * second_moment(width, thick)
    n = 40
    lumped = dict.fromkeys(range(1, n), load * span / n)
    assert sag_uniform(load, span, ei) == pytest.approx(bent(span, ei, lumped, n)[n // 2], rel=2e-3)
    assert sag_centre(100.0, span, ei) == pytest.approx(bent(span, ei, {n // 2: 100.0}, n)[n // 2], rel=1e-6)
    assert sag_cantilever(100.0, span, ei) == pytest.approx(bent(span, ei, {n: 100.0}, n, clamped=True)[n], rel=1e-6)


@pytest.mark.parametrize("ratio", [1.0, 1.25, 1.7, 2.5, 4.0])
def test_plates_agree_with_naviers_series(ratio: float) -> None:
    """Navier's double sine series for a simply supported plate under uniform load."""
    a, b = 1.0, ratio
    total = 0.0
    for m in range(1, 60, 2):
        for n in range(1, 60, 2):
            sign = (-1) ** ((m - 1) // 2 + (n - 1) // 2)
            total += sign / (m * n * ((m / a) ** 2 + (n / b) ** 2) ** 2)
    series = 16.0 * total / np.pi**6
    assert plate_factor(ratio) == pytest.approx(series, rel=0.02)
    assert plate_factor(50.0) == pytest.approx(5 / 384, rel=1e-3)


@pytest.mark.parametrize(
    ("million_psi", "inches", "pounds", "published"),
    [
        # Architectural Woodwork Standards (2009) 4.4.14.10.11 and .13: greatest lengths in inches at L/144
        (0.95, 0.75, 40, 40),
        (0.95, 0.75, 50, 37),
        (0.95, 1.0, 40, 53),
        (0.95, 1.0, 50, 49),
        (1.82, 0.75, 40, 49),
        (1.82, 0.75, 50, 46),
    ],
)
def test_published_shelf_lengths(million_psi: float, inches: float, pounds: float, published: float) -> None:
    stiffness = million_psi * 1e6 * PSI * second_moment(1.0, inches * INCH)
    span = longest_span(pounds * PSF, stiffness, 144.0) / INCH
    assert published <= span < published + 1.0, "the table is cut to the inch"
    assert sag_uniform(pounds * PSF, span * INCH, stiffness) == pytest.approx(span * INCH / 144.0)


def test_an_ash_shelf_by_hand() -> None:
    """Derived: ash 11 × 3/4 × 30 in under 25 lb/ft sags 0.0327 in (E 1.74 × 10⁶ psi)."""
    ei = 1.74e6 * PSI * second_moment(11 * INCH, 0.75 * INCH)
    load = 25 * 4.4482216152605 / (12 * INCH)
    assert sag_uniform(load, 30 * INCH, ei) / INCH == pytest.approx(0.0327, abs=0.0001)
    assert stress(100.0, 6.0, 10.0) == pytest.approx(1.0)


def test_stiffness_is_the_species_or_the_sheets() -> None:
    """WH Table 4-3: yellow-poplar 1.58 × 10⁶ psi; AWS: plywood 0.95 × 10⁶ psi."""
    assert elasticity(DEMO, DEMO.by_path[f"{P}/frame/rail.top"].part) == pytest.approx(1.58e6 * PSI, rel=1e-6)
    assert elasticity(DEMO, DEMO.by_path[f"{P}/side.left"].part) == pytest.approx(0.95e6 * PSI, rel=1e-3)
    solid = DEMO.by_path[f"{P}/top"].part
    assert elasticity(DEMO, solid, along=False) < 0.1 * elasticity(DEMO, solid)


# --- sound pieces ---


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.code)
@pytest.mark.parametrize(
    "example", ["lantern-hill", "six-drawer-chest", "low-bookcase", "console", "window-seat", "wall-cupboard"]
)
def test_sound_pieces_are_let_alone(check: object, example: str) -> None:
    project = project_of(text_of(example))
    for piece in project.assembly.pieces:
        assert told(found(check, project.subject(piece.path))) == set()  # type: ignore[arg-type]


# --- sag ---

BOOKCASE = 'width = {width}\ndepth = 320\nheight = 1000\nfront = "frameless"\n'


def bookcase(width: int, *, roles: str = "", practice: str = "") -> Subject:
    text = case(BOOKCASE.format(width=width), '{ holds = "open", shelves = 1 }', roles=roles, room=practice)
    return subject_at(project_of(text))


def shelf_sag(subject: Subject) -> float:
    hits = [f for f in found(strength_sag.CHECK, subject) if f.path.endswith("/board")]
    return float(hits[0].value or 0.0) if hits else 0.0


def test_a_long_shelf_is_seen_to_sag_and_a_longer_one_is_too_weak() -> None:
    path = "case/loose[c1,r1]/1/board"
    long_case = bookcase(850)
    long = one([f for f in found(strength_sag.CHECK, long_case) if f.path == path], "strength.sag")
    assert long.severity is Severity.WARN
    board = long_case.by_path[path]
    span = long_case.by_path["case/bottom"].part.blank.length
    # by hand: 30 kg/m, EI of the plywood, twice for creep; the pins reach in a little
    w = 30 * GRAVITY / 1000
    by_hand = 2 * 5 * w * span**4 / (384 * 6550 * board.part.blank.width * 18.0**3 / 12)
    assert long.value == pytest.approx(by_hand, rel=0.03)
    assert long.limit == pytest.approx(span / 384, rel=0.01)
    longer = one([f for f in found(strength_sag.CHECK, bookcase(1450)) if f.path == path], "strength.sag")
    assert longer.severity is Severity.STOP
    # Architectural Woodwork Standards: L/144 on the first day; the value is given with creep, and the limit with it
    inside = bookcase(1450).by_path["case/bottom"].part.blank.length
    assert longer.limit == pytest.approx(2 * inside / 144, rel=0.01)
    assert longer.value is not None
    assert longer.limit is not None
    assert longer.value > longer.limit


def test_a_short_shelf_is_let_alone() -> None:
    assert told(found(strength_sag.CHECK, bookcase(600))) == set()


def test_a_heavy_load_on_the_top_is_found_there() -> None:
    rows = BOOKCASE.format(width=1500)
    light, heavy = (
        subject_at(project_of(case(rows, '{ holds = "open" }', room=f"[use]\ntop_load = {kg}"))) for kg in (5, 300)
    )
    assert not any(code == "strength.top" for code, _ in told(found(strength_sag.CHECK, light)))
    finding = one(found(strength_sag.CHECK, heavy), "strength.top")
    assert (finding.path, finding.severity) == ("case/top", Severity.STOP)


def test_the_rail_glued_along_a_top_panels_edge_bears_with_it() -> None:
    # By hand: chipboard 19 × 322 mm, EI ≈ 440 N·m², 25 kg in the middle of 0.777 m: 5.4 mm, over L/144. A rail of 19 ×
    # 37 mm on edge along it, hardwood of 12 GPa, has EI ≈ 960 N·m² by itself: 1.7 mm.
    rows = (
        "width = 815\ndepth = 367\nheight = 1000\ntop_rail_visible = 37\n"
        'top = { kind = "between" }\nroles = { case = "melamine-white-19mm", shelf = "melamine-white-19mm" }'
    )
    project = project_of(case(rows, '{ rows = ["drawer", "open"] }', room="[use]\ntop_load = 25"))
    hits = found(strength_sag.CHECK, subject_at(project))
    assert not [f for f in hits if f.code == "strength.top" and f.severity is Severity.STOP]


def test_a_wide_drawer_bottom_of_thin_sheet_bellies() -> None:
    text = case('width = 1150\ndepth = 600\nheight = 700\nfront = "frameless"', '{ rows = ["drawer", "drawer"] }')
    hits = told(found(strength_sag.CHECK, subject_at(project_of(text))))
    assert ("strength.drawer_bottom", "case/drawer[c1,r1]/bottom") in hits
    thick = project_of(
        case(
            'width = 1150\ndepth = 600\nheight = 700\nfront = "frameless"',
            '{ rows = ["drawer", "drawer"] }',
            roles='drawer_bottom = "birch-plywood-12"',
        )
    )
    assert not any(code == "strength.drawer_bottom" for code, _ in told(found(strength_sag.CHECK, subject_at(thick))))


def test_a_bottom_under_drawers_bears_nothing_and_one_under_books_sags() -> None:
    rows = 'width = 1100\ndepth = 450\nheight = 700\nfront = "frameless"\nstand = { kind = "wall" }'
    sags = [
        ("strength.sag", "case/bottom") in told(found(strength_sag.CHECK, subject_at(project_of(case(rows, bays)))))
        for bays in ('{ rows = ["open", "drawer"] }', '{ rows = ["drawer", "open"] }')
    ]
    assert sags == [False, True]


def test_weak_pins_are_found() -> None:
    subject = bookcase(1250)
    heavy = replace(
        subject,
        practice=subject.practice.with_rules(
            {"sag.shelf_load": replace(subject.practice.rule("sag.shelf_load"), value=200.0)}
        ),
    )
    finding = one(found(strength_sag.CHECK, heavy), "strength.pins")
    assert finding.path == "case/loose[c1,r1]/1/board"
    assert finding.value is not None
    assert finding.limit is not None
    assert finding.value > finding.limit


# --- racking ---


def test_a_case_without_a_back_racks() -> None:
    subject = bookcase(700)
    backless = replace(subject.piece, placed=tuple(p for p in subject.piece.placed if p.path != "case/back"))
    backless = without_joints(backless, lambda j: "case/back" in (j.a, j.b))
    finding = one(found(racking.CHECK, subject, backless), "racking.open")
    assert (finding.path, finding.severity) == ("case", Severity.STOP)


def test_a_back_that_is_only_laid_in_does_not_hold_the_case() -> None:
    subject = bookcase(700)
    piece = subject.piece
    for joint in piece.joints:
        if "case/back" in (joint.a, joint.b):
            piece = with_joint(piece, joint.id, lambda j: replace(j, kind=JointKind.HELD, glued=False))
    finding = one(found(racking.CHECK, subject, piece), "racking.open")
    assert finding.severity is Severity.STOP


def test_a_face_frame_holds_a_low_case_and_not_a_high_one() -> None:
    def backless(subject: Subject) -> set[tuple[str, str]]:
        piece = without_joints(subject.piece, lambda j: f"{subject.piece.path}/back" in (j.a, j.b))
        return told(found(racking.CHECK, subject, piece))

    assert backless(DEMO) == set()
    tall = subject_at(project_of(case("width = 800\ndepth = 400\nheight = 1100", '{ holds = "open" }')))
    assert backless(tall) == {("racking.open", "case")}


# --- feet, overhang, lids ---


def only_screws(subject: Subject, foot: str) -> Subject:
    """The foot's dowel and glue left out; screws of its block driven up into its end grain in their place."""
    path = f"{P}/{foot}/wood"
    kept = []
    for j in subject.piece.joints:
        if path in (j.a, j.b) and j.kind is JointKind.GLUE:
            continue
        dowel = path in (j.a, j.b) and j.kind is JointKind.DOWEL
        kept.append(replace(j, kind=JointKind.SCREWS, glued=False) if dowel else j)
    return replace(subject, piece=replace(subject.piece, joints=tuple(kept)))


def test_a_foot_on_end_grain_screws_alone_stops() -> None:
    finding = one(found(strength_feet.CHECK, only_screws(DEMO, "foot.front.left")), "strength.foot_screws")
    assert (finding.path, finding.severity) == (f"{P}/foot.front.left/wood", Severity.STOP)


def test_a_short_dowel_and_a_thin_one() -> None:
    joint = f"{P}/foot.rear.right/wood~block"
    dowel = next(f for f in DEMO.piece.fasteners if f.joint == joint)
    short = replace(dowel, length=dowel.length - 25.0)
    up = dowel.frame.z[2] > 0
    short = replace(short, frame=short.frame.moved((0.0, 0.0, 25.0 if up else 0.0)))
    fasteners = tuple(short if f == dowel else f for f in DEMO.piece.fasteners)
    hits = told(found(strength_feet.CHECK, DEMO, replace(DEMO.piece, fasteners=fasteners)))
    assert ("strength.foot_hold", f"{P}/foot.rear.right/wood") in hits
    thin = replace(dowel, shank_radius=0.5)
    fasteners = tuple(thin if f == dowel else f for f in DEMO.piece.fasteners)
    hits = told(found(strength_feet.CHECK, DEMO, replace(DEMO.piece, fasteners=fasteners)), Severity.STOP)
    assert hits == {("strength.foot", f"{P}/foot.rear.right/wood")}


def test_a_top_that_stands_far_out_breaks_over_its_edge() -> None:
    text = case("width = 700\ndepth = 600\nheight = 700\ntop = { overhang_front = 200 }", '{ holds = "open" }')
    finding = one(found(strength_feet.CHECK, subject_at(project_of(text))), "strength.overhang")
    assert finding.path.endswith("/top")
    assert finding.severity is Severity.WARN
    assert "at the front" in finding.message, "across the grain; the sides stand out along it"


def test_a_lid_without_stays_falls() -> None:
    subject = subject_at(project_of(text_of("window-seat")))
    bare = replace(subject.piece, placed=tuple(p for p in subject.piece.placed if "lid_stay" not in p.path))
    finding = one(found(strength_feet.CHECK, subject, bare), "strength.lid")
    assert (finding.path, finding.severity) == ("seat/lid/panel", Severity.STOP)
    # by hand: cherry of 560 kg/m³, 1,100 × 377.75 × 22.2 mm, its middle 190 mm before the hinge line, and two battens
    assert finding.value == pytest.approx(5.17 * 9.81 * 0.190 + 2 * 0.150 * 9.81 * 0.175, rel=0.03)
    one_left = replace(
        subject.piece, placed=tuple(p for p in subject.piece.placed if not p.path.endswith("lid_stay.left"))
    )
    heavy = with_part(one_left, "seat/lid/panel", lambda part: replace(part, mass_density=1400.0))
    assert one(found(strength_feet.CHECK, subject, heavy), "strength.lid").limit != 0.0


# --- laws ---


@given(load=st.floats(5, 80), more=st.floats(1.01, 3))
def test_more_load_never_removes_a_stop(load: float, more: float) -> None:
    subject = bookcase(1000)

    def stops(value: float) -> set[tuple[str, str]]:
        rule = replace(subject.practice.rule("sag.shelf_load"), value=value)
        loaded = replace(subject, practice=subject.practice.with_rules({"sag.shelf_load": rule}))
        return told(found(strength_sag.CHECK, loaded), Severity.STOP)

    assert stops(load) <= stops(load * more)


def test_a_thicker_shelf_never_sags_more() -> None:
    sags = [
        shelf_sag(bookcase(1450, roles=f'shelf = "{sheet}"'))
        for sheet in ("birch-plywood-12", "birch-plywood-18", "multi-ply-birch-24")
    ]
    assert sags == sorted(sags, reverse=True)
    assert sags[0] > sags[1]


def test_a_longer_shelf_never_sags_less() -> None:
    sags = [shelf_sag(bookcase(width)) for width in (600, 800, 1000, 1200, 1400)]
    assert sags == sorted(sags)


def test_mirrored_pieces_have_mirrored_findings() -> None:
    broken = only_screws(DEMO, "foot.front.left")
    for check in CHECKS:
        own = {mirror_finding(f, DEMO.piece.cells) for f in found(check, broken)}
        mirrored = set(found(check, broken, mirror_piece(broken.piece)))
        assert {(f.code, f.path, f.message) for f in own} == {(f.code, f.path, f.message) for f in mirrored}
