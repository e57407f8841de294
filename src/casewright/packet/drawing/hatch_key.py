"""The key to the hatching of sections: a swatch of each pattern, drawn by what draws the sections."""

from __future__ import annotations

import shapely

from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.hatching import BAND, TONES, Material, filled, pattern
from casewright.packet.drawing.lettering import width_of
from casewright.packet.drawing.primitives import Anchor, LineRole, Picture, Polyline, Primitive, Text

COLUMNS = 3
SWATCH = (11.0, 5.0)  # mm
STRIP = 1.4  # mm: the band on its swatch
GAP, LINE, BESIDE = 6.0, 7.5, 1.5  # mm: between columns, from row to row, and between a swatch and its name

SWATCHES: tuple[tuple[str, Material, bool], ...] = (  # name, pattern, whether its right edge is banded
    *((m.value, m, False) for m in Material if m is not Material.METAL),
    ("banded edge", Material.PLIES, True),
    (Material.METAL.value, Material.METAL, False),
)


def hatch_key(convention: Convention) -> Picture:
    """Return a small picture that says what each pattern of a section means."""
    rows = -(-len(SWATCHES) // COLUMNS)
    wide = [max(width_of(name, convention.em) for name, _, _ in SWATCHES[c::COLUMNS]) for c in range(COLUMNS)]
    lefts = [1.0 + sum(wide[:c]) + c * (SWATCH[0] + BESIDE + GAP) for c in range(COLUMNS)]
    items: list[Primitive] = []
    for i, (name, material, banded) in enumerate(SWATCHES):
        x, y = lefts[i % COLUMNS], 1.0 + LINE * (rows - 1 - i // COLUMNS)
        items += _swatch(material, x, y, banded)
        items.append(Text((x + SWATCH[0] + BESIDE, y + SWATCH[1] / 2), name, convention.em, Anchor.START))
    width = lefts[-1] + SWATCH[0] + BESIDE + wide[-1] + 1.0
    height = LINE * (rows - 1) + SWATCH[1] + 2.0
    alt = "key to the hatching of sections: " + ", ".join(name for name, _, _ in SWATCHES)
    return Picture(width, height, tuple(items), alt, 1.0, convention.thick)


def _swatch(material: Material, x: float, y: float, banded: bool) -> list[Primitive]:
    area = shapely.box(x, y, x + SWATCH[0], y + SWATCH[1])
    items: list[Primitive] = [filled(area, TONES[material])]
    if material is not Material.METAL:
        lines = pattern(material, area, area, (1.0, 0.0), 1)
        items += [lines] if lines is not None else []
    if banded:
        items.append(filled(shapely.box(x + SWATCH[0] - STRIP, y, x + SWATCH[0], y + SWATCH[1]), BAND))
    ring = ((x, y), (x + SWATCH[0], y), (x + SWATCH[0], y + SWATCH[1]), (x, y + SWATCH[1]))
    return [*items, Polyline(ring, LineRole.SECTION, closed=True)]
