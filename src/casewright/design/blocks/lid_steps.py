"""The steps of a lid that lifts up: made on the bench, finished with its hinges off, then hung and held."""

from __future__ import annotations

from casewright.design.assembly import Caution
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.step_words import BACKWARDS, DOWNWARDS, LEFTWARDS, RIGHTWARDS, UPWARDS, by
from casewright.design.draft import Draft
from casewright.design.sequence import Sequence
from casewright.stock.sundries import Sundry, needs

FINGERS = Caution(
    text=(
        "Prop the lid until both stays are on: a falling lid crushes fingers. A seat or chest that a child can climb "
        "into needs stays that hold the lid anywhere, no latch, and air that gets in with the lid closed."
    ),
)


def bench_lid(s: Sequence, d: Draft, moved: float) -> None:
    """Make the lid on the bench; silent where there is none."""
    if not d.has("lid/panel"):
        return
    battens = _battens(d)
    if battens:
        s.bring(["lid/panel"], "Lay the lid face down on a blanket", into="lid")
        s.bring(
            battens,
            "Screw the battens on without glue: tight near the hinges, free in their slots before them",
            into="lid",
            moves=by(UPWARDS, moved / 2),
        )


def _battens(d: Draft) -> list[str]:
    middle = [f"middle[{i}]" for i in range(1, 20)]
    return [n for n in (f"lid/batten.{h}" for h in (*(h for _, h in HANDS), *middle)) if d.has(n)]


def hang_lid_steps(s: Sequence, d: Draft, moved: float) -> None:
    """Fix the strip, hang the finished lid on it, set the stays."""
    if not d.has("lid/panel"):
        return
    s.bring(["lid_strip"], "Screw the strip down from below, flush at the back", moves=by(DOWNWARDS, moved))
    own = [n for n in (f"lid/hinge[{i}]" for i in range(1, 20)) if d.has(n)]
    case = [n for n in (f"lid.hinge[{i}]" for i in range(1, 20)) if d.has(n)]
    if not _battens(d):
        s.bring(["lid/panel"], "Lay the finished lid face down on a blanket", into="lid")
    s.bring(own, "Screw the hinges to the lid", into="lid", moves=by(DOWNWARDS, 60.0))
    members = [p.removeprefix(d.path + "/") for p in d.under("lid")]
    s.bring(
        members,
        "Lay the lid before the strip, its gap set with shims",
        moves=by(DOWNWARDS, moved),
        needs=needs(Sundry.SHIMS),
    )
    s.bring(case, "Screw the hinges' other leaves to the strip", moves=by(BACKWARDS, 60.0), cautions=(FINGERS,))
    for stay, way in (("lid_stay.left", LEFTWARDS), ("lid_stay.right", RIGHTWARDS)):
        if d.has(stay):
            s.bring(
                [stay],
                "Screw the stay to its side, then to the lid; set it so that the lid stays wherever it is let go",
                moves=by(way, 60.0),
                cautions=(FINGERS,),
            )
