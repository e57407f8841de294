"""A moulding as it lies on the mitre saw, seen along its length: flat on its back, or nested against the fence as on the wall.

The operator stands on the left, the fence on the right. A crown stands upside down when it is nested, its upper edge on the table.
"""

from __future__ import annotations

from casewright.design.outlines import Outline
from casewright.design.sections import blank_section, installed
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import width_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.placing import Label, NoRoom, Raster, place_label, shifted
from casewright.packet.drawing.primitives import Fill, LineRole, Picture, Primitive, Segments
from casewright.packet.drawing.section_outline import outline_lines
from casewright.stock.model import Stick

BED = 5.0  # mm on paper: thickness of table and fence
AROUND = 8.0  # mm on paper beside the moulding
LARGEST = 34.0  # mm on paper
GREY = (205, 205, 205)


def nested_picture(stick: Stick, convention: Convention) -> Picture:
    """Return a moulding nested: its back towards the fence as towards the wall, a crown upside down."""
    outline = installed(stick)
    _, low, reach, high = outline.box
    turned = stick.spring > 0
    lying = outline.mapped(lambda p: (reach - p[0], high - p[1] if turned else p[1] - low))
    edge = "upper edge on the table" if turned else "lower edge on the table"
    return _on_saw(lying, f"nested, {edge}", stick, convention)


def flat_picture(stick: Stick, upper_to_fence: bool, convention: Convention) -> Picture:
    """Return a moulding flat on its back, its upper or its lower edge against the fence."""
    outline, width, _ = blank_section(stick)
    lying = outline if upper_to_fence else outline.mapped(lambda p: (width - p[0], p[1]))
    edge = "upper" if upper_to_fence else "lower"
    return _on_saw(lying, f"flat, {edge} edge to the fence", stick, convention)


def _on_saw(lying: Outline, words: str, stick: Stick, convention: Convention) -> Picture:
    """Return an outline in saw coordinates (towards the fence, up) between table and fence."""
    x0, y0, x1, y1 = lying.box
    ratio = convention.scale_for(min(1.0, LARGEST / max(x1 - x0, y1 - y0)))
    k = ratio[0] / ratio[1]
    wide, high = (x1 - x0) * k, (y1 - y0) * k
    em = convention.em
    width = max(wide + 2 * AROUND + BED + width_of("fence", em) + 4.0, width_of(words, em) + 8.0)
    height = high + AROUND + BED + 6.0 * em
    left, table = (width - wide - BED) / 2 - 5.0, BED + 3.6 * em
    fence = left + wide
    top = table + max(high + AROUND / 2, 18.0)
    items: list[Primitive] = [
        Fill((((2.0, table - BED), (fence + BED, table - BED), (fence + BED, table), (2.0, table)),), GREY),
        Fill((((fence, table), (fence + BED, table), (fence + BED, top), (fence, top)),), GREY),
        Segments(((2.0, table, fence, table), (fence, table, fence, top)), LineRole.OUTLINE),
        *(shifted(i, left - x0 * k, table - y0 * k) for i in outline_lines(lying, k, LineRole.SECTION)),
    ]
    raster = Raster(width, max(height, top + 2.0))
    raster.ink(items)
    solid = ((2.0, table - BED), (fence + BED, table - BED), (fence + BED, table), (2.0, table))
    raster.fill(raster.solid, solid)
    raster.fill(raster.solid, ((fence, table), (fence + BED, table), (fence + BED, top), (fence, top)))
    for text, near in (
        (words, (width / 2, em)), ("table", (left + wide / 3, table - BED - 0.8 * em)), ("fence", (fence + BED + 8.0, table + 9.0)),
    ):  # fmt: skip
        items.append(place_label(raster, Label(text, near, em, 40.0)))
    picture = Picture(width, raster.height, tuple(items), f"{stick.name} on the saw: {words}", k, convention.thick)
    if overlaps(picture):
        raise NoRoom(words)
    return picture
