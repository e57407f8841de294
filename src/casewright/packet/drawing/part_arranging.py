"""How the views of a part stand on a sheet: folded out from the main one, ends beside it or in a row of their own."""

from __future__ import annotations

from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import box_of
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import XY, Text
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.section_outline import Section
from casewright.packet.drawing.sized_part_view import DrawnView

APART = 7.0  # mm between views beyond their rows
EDGE = 2.0  # mm of empty paper at the border


def arranged(
    views: list[DrawnView], section: Section | None, convention: Convention, growth: float, fit: XY, beside: bool
) -> XY:
    """Give every view its place, the lowest row at y = 0; return the width and height of all. Raises NoRoom.

    Ends stand beside the main view, or in a row of their own below all (`beside` False).
    """
    gap = APART + growth
    by = {v.where: v for v in views}
    order = ["above", "main", "below", "far"] if convention.third_angle else ["below", "main", "above", "far"]
    stack = [by[w] for w in order if w in by]
    sides = ("left", "right") if convention.third_angle else ("right", "left")
    before, after = (by.get(s) if beside else None for s in sides)
    main = views[0]
    left = max(max(v.depth[Side.LEFT], _past(v)[0]) for v in stack) + EDGE
    if before is not None:
        left = max(
            left, before.depth[Side.LEFT] + before.width + before.depth[Side.RIGHT] + gap + main.depth[Side.LEFT] + EDGE
        )
    loose: list[DrawnView | Section] = [by[s] for s in sides if s in by and not beside]
    loose += [section] if section is not None else []
    right, y = _row_of_loose(loose, gap)
    for v in reversed(stack):
        y += v.depth[Side.BELOW]
        v.at = (left, y)
        y += v.height + v.depth[Side.ABOVE] + gap
    right = max(right, *(left + v.width + max(v.depth[Side.RIGHT], _past(v)[1]) for v in stack))
    if before is not None:
        before.at = (left - main.depth[Side.LEFT] - gap - before.width - before.depth[Side.RIGHT], main.at[1])
    if after is not None:
        after.at = (left + main.width + main.depth[Side.RIGHT] + gap + after.depth[Side.LEFT], main.at[1])
        right = max(right, after.at[0] + after.width + after.depth[Side.RIGHT])
    if right + EDGE > fit[0]:
        raise NoRoom("the views are wider than the paper")
    return (right + EDGE, y)


def _past(view: DrawnView) -> XY:
    """Return how far texts of the rows below and above a view reach past its left and right ends."""
    boxes = [box_of(i) for i in view.items if isinstance(i, Text)]
    return (max((-b[0] for b in boxes), default=0.0), max((b[2] - view.width for b in boxes), default=0.0))


def _row_of_loose(loose: list[DrawnView | Section], gap: float) -> XY:
    """Place views that stand in a row of their own; return how far right and up the row reaches."""
    x = EDGE
    base = max((v.depth[Side.BELOW] for v in loose), default=0.0)
    for v in loose:
        v.at = (x + v.depth[Side.LEFT], base)
        x = v.at[0] + v.width + v.depth[Side.RIGHT] + 3 * gap
    top = max((base + v.height + v.depth[Side.ABOVE] + gap for v in loose), default=0.0)
    return (x - 3 * gap if loose else 0.0, top)
