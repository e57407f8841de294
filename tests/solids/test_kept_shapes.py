"""What is worked out in a shorter way says the same as the longer one: shapes kept before they are bored, contacts."""

from __future__ import annotations

import pytest
from tests.checks.seeding import project_of, subject_at, text_of

from casewright.cache import Cache
from casewright.design.parts import Part
from casewright.solids.evaluate import solid_of
from casewright.solids.touch import LEAST_AREA, touch, touches

SUBJECT = subject_at(project_of(text_of("lantern-hill")))


def test_a_part_bored_after_it_was_shaped_is_the_same_solid() -> None:
    kept = Cache()
    feet = [p.thing for p in SUBJECT.piece.placed if "foot." in p.path and isinstance(p.thing, Part)]
    assert len({f.key for f in feet}) == 4, "their bores lie elsewhere"
    for slack in (None, 0.01):
        for foot in feet:
            whole, bored = solid_of(foot.lowered(), slack), solid_of(foot.lowered(), slack, kept)
            assert bored.body.volume() == pytest.approx(whole.body.volume(), rel=1e-9)
            assert (bored.low, bored.high) == (whole.low, whole.high)
            assert (whole.body - bored.body).volume() == pytest.approx(0.0, abs=1e-3)


def test_touching_is_an_area_of_contact() -> None:
    piece, cache, by_path = SUBJECT.piece, Cache(), SUBJECT.by_path
    answers = set()
    for joint in piece.joints:
        a, b = by_path[joint.a], by_path[joint.b]
        for off in ((0.0, 0.0, 0.0), (0.0, 0.0, 0.5)):
            at = a.frame.relative(b.frame.moved(off))
            full = touch(a.thing, b.thing, at, cache)
            enough = full is not None and full.area >= LEAST_AREA
            assert touches(a.thing, b.thing, at, cache) is enough, joint.id
            answers.add(enough)
    assert answers == {True, False}
