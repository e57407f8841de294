"""The order of work that trade notes prescribe: each test names its rule (common practice)."""

from __future__ import annotations

import pytest
from tests.design.drawer_harness import WET, harness

from casewright.design.assembly import PieceDesign
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind


def step_at(piece: PieceDesign, words: str) -> int:
    """Return where the only step stands that says something. Raises AssertionError where there is no or another one."""
    found = [i for i, s in enumerate(piece.steps) if words in s.text]
    assert len(found) == 1, f"{words!r} in {len(found)} steps"
    return found[0]


def brought_at(piece: PieceDesign, name: str) -> int:
    """Return where a part arrives by its own name."""
    return next(i for i, s in enumerate(piece.steps) if f"{piece.path}/{name}" in s.brings)


@pytest.mark.parametrize(
    ("front", "before", "after"),
    [
        (FrontKind.APPLIED, "applied.left", None),
        (FrontKind.SLAB, "front", None),
        (FrontKind.PANEL, None, "block"),
    ],
)
def test_pull_holes_go_through_the_whole_front_and_before_its_moulding(
    front: FrontKind, before: str | None, after: str | None
) -> None:
    """Rule 18: before any moulding; through a framed front once panel and block are in."""
    piece = harness(DrawerSpec(gap=3.0, frame_margin=16.0, front=front, moisture=WET))
    face = "drawer[c1,r1]/face"
    at = step_at(piece, "bore the pull's holes")
    assert before is None or at < brought_at(piece, f"{face}/{before}")
    assert after is None or at > brought_at(piece, f"{face}/{after}")
    moulding = "moulding" in piece.steps[at].text
    assert moulding is (front is FrontKind.APPLIED)
