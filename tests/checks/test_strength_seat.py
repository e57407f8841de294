"""A seat's lid bears a sitter: by hand, and what happens without what carries it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.seeding import changed, found, one, project_of, subject_at, text_of

from casewright.checks import strength_seat

CASE = project_of(text_of("window-seat"))


def test_the_window_seat_is_quiet() -> None:
    assert not found(strength_seat.CHECK, subject_at(CASE))


def test_a_lid_that_lies_on_its_sides_alone_bends_as_a_beam_does() -> None:
    subject = subject_at(CASE)
    alone = replace(subject.piece, placed=tuple(p for p in subject.piece.placed if not p.path.endswith("/rail.top")))
    bend = one(found(strength_seat.CHECK, subject, alone), "strength.seat")
    lid = subject.by_path["seat/lid/panel"].part.blank
    # PL³/48EI; cherry 10,300 MPa (Wood Handbook Table 5-3a, 12 % moisture).
    inertia = lid.width * lid.thickness**3 / 12
    assert bend.value == pytest.approx(100 * 9.80665 * 1064.0**3 / (48 * 10_300 * inertia), rel=0.02)
    assert bend.limit == pytest.approx(1064.0 / 300, rel=0.01)


def test_a_long_thin_lid_is_found() -> None:
    text = changed(text_of("window-seat"), ("width = 1100", "width = 1900"))
    subject = subject_at(project_of(text))
    thin = replace(
        subject.piece,
        placed=tuple(
            replace(p, thing=replace(p.part, blank=replace(p.part.blank, thickness=9.0)))
            if p.path == "seat/lid/panel"
            else p
            for p in subject.piece.placed
            if "batten" not in p.path
        ),
    )
    assert one(found(strength_seat.CHECK, subject, thin), "strength.seat").path == "seat/lid/panel"
