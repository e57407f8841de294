"""Hardware on both faces of one upright: what is screwed on later goes around what is screwed on already.

Screws in a fitting's own holes stand where they stand. Each keeps a box of wood for itself: lines of screws are spread
around these boxes, and a hinge or slide on the other face of the same upright moves up or down until it is clear.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from casewright.design.draft import Draft
from casewright.design.frames import add, scale
from casewright.design.joints.base import Box
from casewright.design.joints.screws import ScrewLine
from casewright.design.parts import Placed
from casewright.design.sites import along, bounds, world_box

STEP = 2.0  # mm: by which a fitting is moved to find a place
MOST_STEPS = 60


def screw_boxes(line: ScrewLine) -> list[Box]:
    """Return the box around the shank of each screw of a line whose places are given."""
    way, _ = along(line.start, line.end)
    r = line.screw.diameter / 2
    out = []
    for at in line.forced:
        start = add(line.start, scale(way, at))
        lo, hi = bounds([start, add(start, scale(line.drive, line.sunk + line.screw.length))])
        wide = [0.0 if w else r for w in line.drive]
        out.append(
            (
                (lo[0] - wide[0], lo[1] - wide[1], lo[2] - wide[2]),
                (hi[0] + wide[0], hi[1] + wide[1], hi[2] + wide[2]),
            )
        )
    return out


def keep_screws(d: Draft, name: str, line: ScrewLine, *owners: Placed) -> None:
    """Keep the wood of a fitting's own screws free of others."""
    for i, (lo, hi) in enumerate(screw_boxes(line)):
        d.keep_out(f"{name}.room[{i + 1}]", lo, hi, *owners)


def taken_in(d: Draft, wall: Placed) -> list[Box]:
    """Return the boxes that are kept free in an upright, with the clearance of fasteners."""
    low, high = world_box(wall)
    c = d.practice["fastener.clearance"]
    return [
        ((k.lo[0] - c, k.lo[1] - c, k.lo[2] - c), (k.hi[0] + c, k.hi[1] + c, k.hi[2] + c))
        for k in d.keepouts
        if not k.of and all(k.lo[i] < high[i] - 1e-6 and k.hi[i] > low[i] + 1e-6 for i in range(3))
    ]


def meets(boxes: Sequence[Box], taken: Sequence[Box]) -> bool:
    """True where one of the boxes enters one that is taken."""
    return any(
        all(lo[i] < high[i] - 1e-6 and hi[i] > low[i] + 1e-6 for i in range(3))
        for lo, hi in boxes
        for low, high in taken
    )


def moved_clear(
    boxes: Callable[[float], Sequence[Box]], taken: Sequence[Box], wanted: float, span: tuple[float, float]
) -> float:
    """Return the place nearest to `wanted` in `span` whose boxes are clear; `wanted` where there is none."""
    for step in range(MOST_STEPS):
        for way in (1.0, -1.0):
            z = wanted + way * step * STEP
            if span[0] - 1e-6 <= z <= span[1] + 1e-6 and not meets(boxes(z), taken):
                return z
    return wanted
