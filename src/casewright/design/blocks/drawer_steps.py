"""The steps of one drawer: box and front on the bench, the dry hang, the hang after the finish.

A piece calls them in its own order; each asks the draft what the drawer consists of, and is silent where there is no
drawer of that name (`g`, "drawer[c1,r1]"). `moved` is a distance in mm that clears the piece.
"""

from __future__ import annotations

from casewright.design.blocks.body import HANDS
from casewright.design.blocks.step_words import BACKWARDS, FORWARDS, LEFTWARDS, PINS, by
from casewright.design.draft import Draft
from casewright.design.sequence import Sequence


def bring_case_members(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Fix what a drawer needs in the case before the back closes it: blocking."""
    blocking = [n for n in (f"{g}.blocking.{h}" for _, h in HANDS) if d.has(n)]
    if blocking:
        s.bring(
            blocking,
            "Plane the blocking to the opening, a little behind its edge and never proud; glue and screw it",
            moves=by(FORWARDS, moved),
        )


def bench_drawer(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Make the drawer box and its front, each on the bench."""
    if not d.has(f"{g}/side.left"):
        return
    s.bring([f"{g}/side.left"], "Lay the left drawer side down, groove up", into=g)
    s.bring(
        [f"{g}/box_front", f"{g}/box_back"],
        "Glue box front and back into its rabbets and pin them",
        into=g,
        moves=by(LEFTWARDS, moved / 2),
    )
    s.bring([f"{g}/bottom"], "Slide the bottom into its grooves, dry", into=g, moves=by(LEFTWARDS, moved))
    s.bring([f"{g}/side.right"], "Close the box; compare the diagonals", into=g, moves=by(LEFTWARDS, moved / 2))
    _bench_front(s, d, g)


def _bench_front(s: Sequence, d: Draft, g: str) -> None:
    face = f"{g}/face"
    s.drill("Bore the pull's holes through the front before any moulding goes on it")
    s.bring([f"{face}/front"], "Lay the front face up", into=face)
    for side in ("left", "bottom", "right", "top"):
        if d.has(f"{face}/applied.{side}"):
            s.bring(
                [f"{face}/applied.{side}"],
                "Glue and pin the applied frame, mitres tight",
                into=face,
                moves=by(BACKWARDS, 80.0),
                cautions=(PINS,),
            )


def dry_hung(d: Draft, g: str) -> list[str]:
    """Return what of a drawer is hung dry, to settle its gaps, and comes off again for the finish: all but the pull."""
    if not d.has(f"{g}/side.left"):
        return []
    names = [f"{g}.slide_case.{hand}" for _, hand in HANDS] + [f"{g}/slide_drawer.{hand}" for _, hand in HANDS]
    return names + [n for n in drawer_members(d, g) if n not in names and not n.endswith("/pull")]


def hang_drawer(s: Sequence, d: Draft, g: str, moved: float) -> None:
    """Hang the finished drawer: slides, box, front, pull."""
    if not d.has(f"{g}/side.left"):
        return
    members = [f"{g}.slide_case.{h}" for _, h in HANDS]
    s.bring(members, "Screw the case members to the blocking", moves=by(BACKWARDS, moved))
    s.bring(
        [f"{g}/slide_drawer.{h}" for _, h in HANDS],
        "Screw the drawer members to the box",
        into=g,
        moves=by(BACKWARDS, 60.0),
    )
    s.bring(
        [n for n in drawer_members(d, g) if not n.startswith(f"{g}/face")],
        "Slide the box in",
        moves=by(BACKWARDS, moved),
    )
    s.bring(
        [n for n in drawer_members(d, f"{g}/face") if not n.endswith("/pull")],
        "Screw the front on from inside, the gaps as they were set",
        moves=by(BACKWARDS, moved / 2),
    )
    s.bring([f"{g}/face/pull"], "Bolt the pull on", moves=by(BACKWARDS, 80.0))


def drawer_members(d: Draft, g: str) -> list[str]:
    """Return the names of everything in a group of the piece."""
    return [p.removeprefix(d.path + "/") for p in d.under(g)]
