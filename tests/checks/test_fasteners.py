"""What screws bear, against the published figures; the sound examples; mirrored pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks import fault_edits as do
from tests.checks.seeding import project_of, subject_at, text_of

from casewright.catalogue import BUILT_IN
from casewright.checks import (
    assembly_arrival,
    assembly_tools,
    fastener_bite,
    fastener_edge,
    fastener_grain,
    fastener_meets,
    fastener_point,
    fit_doors,
    fit_drawers,
    fit_pulls,
    fit_room,
    fit_shelf,
    gaps_tolerance,
    handed_pairs,
    looks_edges,
    looks_grain,
    looks_heights,
    motion,
    visible_fasteners,
)
from casewright.checks.fastener_load import SHARE, lateral, withdrawal
from casewright.checks.model import run_checks
from casewright.design.mirror import mirror_piece, swap_hands
from casewright.findings import Severity

POUND = 4.448222  # N
INCH = 25.4
OWN = (
    motion, assembly_arrival, assembly_tools, fastener_point, fastener_bite, fastener_edge, fastener_meets,
    fastener_grain, visible_fasteners, fit_drawers, fit_doors, fit_pulls, fit_room, fit_shelf, gaps_tolerance,
    handed_pairs, looks_edges, looks_grain, looks_heights,
)  # fmt: skip
CHECKS = tuple(module.CHECK for module in OWN)


@pytest.mark.parametrize(
    ("gravity", "pounds"),
    [(0.60, 927.0), (0.42, 454.0)],  # Wood Handbook Eq. 8-10: a #8 screw, an inch of thread in ash, in yellow-poplar
)
def test_withdrawal_is_the_handbooks(gravity: float, pounds: float) -> None:
    ultimate = withdrawal(gravity, 0.164 * INCH, INCH) * SHARE
    assert ultimate == pytest.approx(pounds * POUND, rel=0.005)


def test_withdrawal_at_the_share_of_the_timber_code() -> None:
    # NDS 12.2: 2,850 G² D lb per inch of thread; the published example G 0.45, #10 (0.190 in) gives 109 lb/in.
    assert withdrawal(0.45, 0.190 * INCH, INCH) == pytest.approx(109.65 * POUND, rel=0.01)


def test_lateral_bearing_is_the_tables() -> None:
    # Wood Handbook Table 8-4: p = K D², K 3,360, 4,640 and 6,400 lb for hardwoods of G 0.33, 0.48 and 0.57.
    for gravity, k in ((0.42, 3360.0), (0.50, 4640.0), (0.60, 6400.0)):
        assert lateral(gravity, INCH) * 1.6 == pytest.approx(k * POUND, rel=0.005)


@pytest.mark.parametrize("example", ["lantern-hill", "six-drawer-chest", "tall-cupboard", "window-seat"])
def test_sound_examples_raise_no_stop(example: str) -> None:
    subject = subject_at(project_of(text_of(example)))
    assert [f for f in run_checks(CHECKS, subject) if f.severity is Severity.STOP] == []


def test_the_demonstration_piece_raises_no_warning() -> None:
    subject = subject_at(project_of(text_of("lantern-hill")))
    assert [f for f in run_checks(CHECKS, subject) if f.severity is not Severity.NOTE] == []


@pytest.mark.parametrize(
    "edit",
    [
        do.longer("drawer[c1,r1].blocking.left~side.left.screw[1]", 9.0),
        do.comes("back", (0.0, 500.0, 0.0)),
        do.motion("door[c1,r2].swing", lambda m: replace(m, origin=(m.origin[0], m.origin[1] + 14.0, m.origin[2]))),
    ],
    ids=["point", "arrival", "swing"],
)
def test_a_mirrored_piece_has_the_mirrored_findings(edit: do.Edit) -> None:
    subject = edit(subject_at(project_of(text_of("lantern-hill"))))
    mirrored = replace(subject, piece=mirror_piece(subject.piece))
    here = {(f.code, swap_hands(f.path, subject.piece.cells)) for f in run_checks(CHECKS, subject)}
    there = {(f.code, f.path) for f in run_checks(CHECKS, mirrored)}
    assert here == there
    assert here


def test_more_in_the_drawer_never_removes_a_stop() -> None:
    subject = subject_at(project_of(text_of("six-drawer-chest")))
    counts = []
    for fill in (0.1, 1.0, 3.0, 9.0):
        found = run_checks((fit_drawers.CHECK,), do.practice("tipping.fill", fill)(subject))
        counts.append(sum(f.severity is Severity.STOP for f in found))
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]


def test_every_check_of_these_modules_is_in_the_catalogue() -> None:
    assert {c.code for c in CHECKS} <= {c.code for c in BUILT_IN.checks}
