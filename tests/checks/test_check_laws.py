"""Laws of the checks over random orders: more load, thicker boards, deeper stands, mirrors, more room."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.seeding import case, project_of, subject_at

from casewright.checks import strength_feet, strength_sag
from casewright.checks.beams import sag_uniform
from casewright.checks.masses import stand
from casewright.checks.model import Subject, run_checks
from casewright.checks.stability_model import standing
from casewright.design.mirror import mirror_piece, swap_hands
from casewright.findings import Severity

STRENGTH = (strength_sag.CHECK, strength_feet.CHECK)
WIDTHS = st.sampled_from((500, 700, 900, 1200, 1600))
DEPTHS = st.sampled_from((280, 360, 460))
BAYS = st.sampled_from(('{ holds = "open", shelves = 2 }', '{ rows = ["drawer", { holds = "pair", shelves = 1 }] }'))
FEW = settings(max_examples=6, deadline=None)


def subject(width: int, depth: int, bays: str, roles: str = "") -> Subject:
    rows = f"width = {width}\ndepth = {depth}\nheight = 800"
    return subject_at(project_of(case(rows, bays, roles=roles)))


def stops(s: Subject) -> set[tuple[str, str]]:
    return {(f.code, f.path) for f in run_checks(STRENGTH, s) if f.severity is Severity.STOP}


@FEW
@given(width=WIDTHS, depth=DEPTHS, bays=BAYS, loads=st.tuples(st.floats(5, 100), st.floats(1, 4)))
def test_more_load_never_removes_a_stop(width: int, depth: int, bays: str, loads: tuple[float, float]) -> None:
    s = subject(width, depth, bays)
    light, heavy = (replace(s, use=replace(s.use, top_load=loads[0] * f)) for f in (1.0, loads[1]))
    assert stops(light) <= stops(heavy)


@FEW
@given(width=WIDTHS, depth=DEPTHS)
def test_a_thicker_shelf_never_sags_more(width: int, depth: int) -> None:
    bays = '{ holds = "open", shelves = 2 }'
    found = []
    for sheet in ("birch-plywood-18", "multi-ply-birch-24"):
        s = subject(width, depth, bays, roles=f'shelf = "{sheet}"')
        loose = [f.value for f in run_checks((strength_sag.CHECK,), s) if "/loose[" in f.path and f.value is not None]
        found.append(max(loose, default=0.0))
    assert found[1] <= found[0] + 1e-9
    assert sag_uniform(1.0, width, 2.0) <= sag_uniform(1.0, width, 1.0)


@FEW
@given(width=WIDTHS, depth=st.sampled_from((460, 560)), forward=st.floats(1.0, 60.0))
def test_a_stand_further_forward_never_tips_sooner(width: int, depth: int, forward: float) -> None:
    s = subject(width, depth, '{ rows = ["drawer", "drawer"] }')
    upright = standing(s)
    assert upright is not None
    base = stand(s.piece, s.cache)
    assert base is not None
    wider = replace(upright, stand=replace(upright.stand, front=upright.stand.front - forward))
    assert wider.moment(wider.opens) >= upright.moment(upright.opens)
    assert wider.hung(wider.opens, 0.0) >= upright.hung(upright.opens, 0.0)


@FEW
@given(width=WIDTHS, depth=st.sampled_from((460, 560)), wall=st.floats(0.0, 60.0))
def test_a_mirrored_piece_has_mirrored_findings(width: int, depth: int, wall: float) -> None:
    from casewright.checks import fit_around

    s = subject(width, depth, '{ columns = ["drawer", { holds = "door", shelves = 1 }] }')
    s = replace(s, around=replace(s.around, wall_left=wall))
    mirrored = replace(s, piece=mirror_piece(s.piece), around=s.around.mirrored())
    checks = (*STRENGTH, fit_around.CHECK)
    here = {(f.code, f.severity, swap_hands(f.path, s.piece.cells)) for f in run_checks(checks, s)}
    assert here == {(f.code, f.severity, f.path) for f in run_checks(checks, mirrored)}


@FEW
@given(wall=st.floats(0.0, 60.0), more=st.floats(0.0, 200.0))
def test_more_room_beside_a_piece_never_adds_a_finding(wall: float, more: float) -> None:
    from casewright.checks import fit_around

    s = subject(900, 460, '"pair"')
    near, far = (replace(s, around=replace(s.around, wall_left=w, wall_right=w)) for w in (wall, wall + more))
    codes = [{(f.code, f.path) for f in run_checks((fit_around.CHECK,), x)} for x in (near, far)]
    assert codes[1] <= codes[0]
