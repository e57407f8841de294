"""How a moulding lies on the mitre saw, seen along the fence: table below, fence on the left, section true."""

from __future__ import annotations

from casewright.design.outlines import Outline, Point2
from casewright.design.sections import blank_section, installed
from casewright.packet.drawing.lettering import em_for, width_of
from casewright.packet.drawing.primitives import XY, Fill, LineRole, Picture, Primitive, Segments, Text, Tone
from casewright.packet.drawing.raster import shifted
from casewright.packet.drawing.section_outline import outline_lines
from casewright.stock.model import Stick

WOOD: Tone = (228, 228, 228)
EDGE, ROOM = 3.0, 7.0  # mm around the section, and what fence and table stand over it
LETTER = 2.5  # mm: height of capitals
EM = em_for(LETTER)
CHORD = 0.05  # mm of wood: chord error of the filled area, whose outline is true arcs


def nested_picture(stick: Stick, k: float) -> Picture:
    """Return the moulding against the fence as against the wall, a crown upside down; `k` is paper : wood."""
    outline = installed(stick)
    _, low, _, high = outline.box

    def stood(p: Point2) -> Point2:
        return (p[0], high - p[1]) if stick.spring > 0 else (p[0], p[1] - low)

    how = "upside down" if stick.spring > 0 else "standing on its lower edge"
    return _picture(outline.mapped(stood), k, f"{stick.name} on the mitre saw, {how}, its back to the fence")


def flat_picture(stick: Stick, k: float, *, outer: bool = False) -> Picture:
    """Return the moulding flat on its back, its upper edge to the fence, or its outer one, y 0 of the blank."""
    outline, width, _ = blank_section(stick)
    if not outer:
        outline = outline.mapped(lambda p: (width - p[0], p[1]))
    return _picture(outline, k, f"{stick.name} on the mitre saw, flat on its back")


def _picture(outline: Outline, k: float, alt: str) -> Picture:
    _, _, wide, high = outline.box
    x, y = EDGE + 2.4, EDGE + 2.4
    width = max(x + wide * k + ROOM + EDGE, x + width_of("table", EM) + EDGE)
    height = max(y + high * k + ROOM, y + width_of("fence", EM) + 1.0)
    ring: tuple[XY, ...] = tuple((x + px * k, y + py * k) for px, py in outline.points(CHORD))
    items: list[Primitive] = [Fill((ring,), WOOD)]
    items += [shifted(i, x, y) for i in outline_lines(outline, k, LineRole.OUTLINE)]
    fence, table = (x - 0.4, y - 0.4, x - 0.4, height - 1.0), (x - 0.4, y - 0.4, width - 1.0, y - 0.4)
    items.append(Segments((fence, table), LineRole.SECTION))
    items.append(Text((x - 2.9, (y + height) / 2), "fence", EM, turn=90.0))
    items.append(Text(((x + width) / 2, y - 2.9), "table", EM))
    return Picture(width, height, tuple(items), alt, k)
