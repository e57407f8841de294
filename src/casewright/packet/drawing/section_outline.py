"""The section of a bought profile as a small view of its own, with true arcs, its two sizes, at full size or larger."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from casewright.design.outlines import Outline, arc_circle
from casewright.design.parts import Part
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import LINE, box_of
from casewright.packet.drawing.primitives import XY, Anchor, Arc, LineRole, Primitive, Segments, Shown, Text
from casewright.packet.drawing.rows import Side, Span, chain_row
from casewright.packet.drawing.subject import Subject

LARGEST = 60.0  # mm on paper


@dataclass(slots=True)
class Section:
    """A section on paper before it has its place; what `_Drawn` is for views."""

    width: float
    height: float
    items: list[Primitive]
    depth: dict[Side, float] = field(default_factory=lambda: dict.fromkeys(Side, 0.0))
    at: XY = (0.0, 0.0)


def outline_lines(outline: Outline, k: float, role: LineRole, *, swap: bool = False) -> list[Primitive]:
    """Return an outline at a scale as straight lines and true arcs; `swap` puts y to the right and x up."""
    straight = []
    out: list[Primitive] = []
    for a, b, bulge in outline.sides:
        if not bulge:
            p, q = ((a[1], a[0]), (b[1], b[0])) if swap else (a, b)
            straight.append((p[0] * k, p[1] * k, q[0] * k, q[1] * k))
            continue
        (cx, cy), r = arc_circle(a, b, bulge)
        ends = [math.degrees(math.atan2(p[1] - cy, p[0] - cx)) for p in (a, b)]
        start, end = ends if bulge > 0 else ends[::-1]
        if swap:  # the plane mirrored about x = y: angles t → 90 − t, and the sense turns
            start, end, cx, cy = 90.0 - end, 90.0 - start, cy, cx
        out.append(Arc((cx * k, cy * k), r * k, start % 360.0, end % 360.0, role))
    return [Segments(tuple(straight), role), *out] if straight else out


def outline_items(part: Part, convention: Convention, subject: Subject, shown: list[Shown]) -> Section:
    """Return the section of a part's blank, thickness to the right and width up, with both sizes."""
    blank = part.blank
    assert blank.section is not None
    ratio = convention.scale_for(min(2.0, LARGEST / max(blank.width, blank.thickness)))
    k = ratio[0] / ratio[1]
    width, height = blank.thickness * k, blank.width * k
    items = outline_lines(blank.section, k, LineRole.OUTLINE, swap=True)
    section = Section(width, height, items)
    for row in (
        chain_row(Side.LEFT, 0.0, [Span(0.0, height, subject.size[1])], convention, 4.0),
        chain_row(Side.BELOW, 0.0, [Span(0.0, width, subject.size[2])], convention, 5.0),
    ):
        section.items += row.items
        section.depth[row.side] = row.depth
    captions = [
        Text((width + 5.0, height / 2 + up * LINE * convention.em), words, convention.em, Anchor.START)
        for up, words in ((0.5, "← face 1"), (-0.5, f"section, scale {ratio[0]}:{ratio[1]}"))
    ]
    section.items += captions
    section.width = max(box_of(c)[2] for c in captions)
    shown += [Shown("width", blank.width, subject.size[1]), Shown("thickness", blank.thickness, subject.size[2])]
    return section
