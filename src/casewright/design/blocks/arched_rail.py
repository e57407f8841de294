"""An arch in the lower edge of a face frame's bottom rail, between corner posts or feet, or under a wall case.

Common practice: an arc of a circle, straight pieces left at both ends for the joints; the rail stays high enough in its
middle to cover the edge of the bottom behind it. Sawn outside the line and trimmed to it before the frame is glued.
"""

from __future__ import annotations

from casewright.design.blocks.shell import Shell
from casewright.design.blocks.step_words import SAW
from casewright.design.draft import Draft
from casewright.design.features.curves import arch
from casewright.design.parts import Placed
from casewright.design.sequence import Sequence
from casewright.design.sites import DIRECTIONS, Span, world_box
from casewright.findings import Severity

RAIL = "frame/rail.bottom"
FREE_BELOW = ("posts", "feet", "wall")  # stands that leave the rail's lower edge free
COVERS = 3.0  # mm that the rail reaches below the bottom behind it
BEHIND = ("block.front.left", "block.front.right", "foot.front.left/wood", "foot.front.right/wood")
UNDER_A_STILE = 40.0  # mm of the rail that screw and dowel of a centre stile need over the arch
CLEAR = 5.0  # mm from those to the arch


def arch_suits(d: Draft, rise: float, stand: str, *, framed: bool, based: bool) -> bool:
    """True where the rail may be arched as ordered; `based` says that a moulding covers it. Else it is found."""
    if not rise or (framed and not based and stand in FREE_BELOW):
        return True
    why = "there is no face frame" if not framed else "a base moulding covers it" if based else "it stands on its base"
    _found(d, f"the bottom rail is not arched: {why}", rise, 0.0, "arch = 0, or a stand of posts or feet without base")
    return False


def arched_rail(s: Shell, rise: float) -> None:
    """Cut the arch; the frame, what the case stands on and its bottom are placed already."""
    if not rise:
        return
    d, rail, p = s.d, s.d.at(RAIL), s.d.practice
    lo, hi = world_box(rail)
    x = _span(d, p["arch.ends"])
    under = s.floor - s.thick  # of the bottom
    left = UNDER_A_STILE if _bears_a_stile(d, hi[2]) else p["rail.least"]
    most = min(under - COVERS - lo[2], hi[2] - lo[2] - left, (x[1] - x[0]) / 2)
    if rise > most:
        text = f"an arch of {rise:.0f} mm: the rail has {max(0.0, most):.0f} mm for it, below the bottom and its joints"
        _found(d, text, rise, max(0.0, most), "a lower arch, or a wider bottom rail (bottom_rail_visible)")
        return
    d.let("arch.rise", rise, rule="as ordered")
    d.let("arch.span", x[1] - x[0], "rail.length", rule="between what stands behind the rail, less straight ends")
    d.cut(rail, arch(rail.part.blank, rail.face_towards(DIRECTIONS["down"]), _along(rail, x), rise))


def _bears_a_stile(d: Draft, upper: float) -> bool:
    """True where a centre stile stands on the rail, whose upper edge lies at this height."""
    names = (path.removeprefix(d.path + "/") for path in d.under("frame"))
    return any(abs(world_box(d.at(n))[0][2] - upper) < 1.0 for n in names if n.startswith("frame/stile["))


def _span(d: Draft, ends: float) -> Span:
    """Return the span of the arch (x): the opening less its straight ends, clear of blocks and feet."""
    half = d.led["rail.length"] / 2 - ends
    for name in BEHIND:
        if d.has(name):
            low, high = world_box(d.at(name))
            half = min(half, min(abs(low[0]), abs(high[0])) - CLEAR)
    return (-half, half)


def _along(rail: Placed, x: Span) -> Span:
    """Return a span of the piece (x) along the rail's blank."""
    a, b = (rail.frame.local_point((at, 0.0, 0.0))[0] for at in x)
    return (min(a, b), max(a, b))


def _found(d: Draft, message: str, value: float, limit: float, remedy: str) -> None:
    d.find(
        "frame.arch",
        Severity.STOP,
        "arch",
        message,
        value=value,
        limit=limit,
        source="common practice: the rail covers the edge of the bottom, and its ends keep their joints",
        remedy=remedy,
    )


def saw_arch(q: Sequence, d: Draft) -> None:
    """Plan the arch of the rail, before the frame is joined; silent where there is none."""
    if "arch.rise" not in d.led:
        return
    q.work(
        f"Saw the arch of the bottom rail, {d.led['arch.rise']:g} mm high over {d.led['arch.span']:.0f} mm, with a "
        "jigsaw or on the band saw, outside the line; trim it to the line and sand it fair, the rail still loose",
        (SAW,),
    )
