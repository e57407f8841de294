"""Shortened views of long, slender parts: where nothing changes along the length, a stretch of it is left out.

A stile six feet long and as thick as a thumb is a black bar at the scale that its length asks for. Drawings by ISO 128
and ASME Y14.3 leave out what is the same all along, between two break lines; sizes are those of the whole part.

1. Stations are the places along the length where some line of a view ends, or where something is made.
2. Between two stations far apart on paper the middle of the stretch is drawn as a gap between break lines.
3. Everything along the length goes through one map, which is straight outside of the gaps, so that lines stay lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from casewright.packet.drawing.primitives import WHITE, Arc, Circle, Fill, LineRole, Primitive, Segments

LONG = 20.0  # mm of paper: a stretch without change that is worth a break
KEEP = 5.0  # mm of paper that stays of it at either end
GAP = 4.0  # mm of paper between the break lines
PAST = 1.5  # mm that break lines reach past the outline
LEAN = 1.0  # mm that they lean
LEVEL = 1e-6  # mm: a line runs along the length


@dataclass(frozen=True, slots=True)
class Shortening:
    """The stretches that are left out, from and to along the length (mm), and what a gap between them takes (mm)."""

    cuts: tuple[tuple[float, float], ...]
    gap: float

    def at(self, x: float) -> float:
        """Return where a place along the length stands in the shortened view, mm; within a cut it stands in the gap."""
        out = x
        for low, high in self.cuts:
            out -= max(0.0, min(x, high) - low) * (1.0 - self.gap / (high - low))
        return out

    def items(self, lines: Iterable[Primitive]) -> tuple[Primitive, ...]:
        """Return lines of a view, in its mm, as they stand in the shortened view."""
        return tuple(self._item(item) for item in lines)

    def _item(self, item: Primitive) -> Primitive:
        match item:
            case Segments():
                return replace(item, ends=tuple((self.at(a), b, self.at(c), d) for a, b, c, d in item.ends))
            case Circle() | Arc():
                return replace(item, centre=(self.at(item.centre[0]), item.centre[1]))
            case _:
                raise TypeError(f"a view has no {type(item).__name__}")

    def breaks(self, k: float, height: float) -> list[Primitive]:
        """Return the break lines across a view of some height (mm of paper) that starts at (0, 0)."""
        out: list[Primitive] = []
        for low, high in self.cuts:
            x0, x1, y0, y1 = self.at(low) * k, self.at(high) * k, -PAST, height + PAST
            out.append(Fill((((x0, y0), (x1, y0), (x1 + LEAN, y1), (x0 + LEAN, y1)),), WHITE))
            out.append(Segments(((x0, y0, x0 + LEAN, y1), (x1, y0, x1 + LEAN, y1)), LineRole.EXTENSION))
        return out


WHOLE = Shortening((), 0.0)


def shortening_of(lines: Sequence[Primitive], places: Sequence[float], length: float, k: float) -> Shortening:
    """Return what can be left out of a part, its lines given in mm of its views, at `k` mm of paper for a mm.

    `places` are further stations along the length.
    """
    stations = {0.0, length, *places}
    leaning: list[tuple[float, float]] = []
    for item in lines:
        if isinstance(item, (Circle, Arc)):
            x, r = item.centre[0], item.radius
            leaning.append((x - r, x + r))
        elif isinstance(item, Segments):
            for x0, y0, x1, y1 in item.ends:
                stations.update((x0, x1))
                if abs(y1 - y0) > LEVEL:
                    leaning.append((min(x0, x1), max(x0, x1)))
    for low, high in leaning:
        stations.update((low, high))
    cuts = [
        (a + KEEP / k, b - KEEP / k)
        for a, b in pairwise(sorted(min(max(s, 0.0), length) for s in stations))
        if (b - a) * k > LONG and not any(low < b - LEVEL and high > a + LEVEL for low, high in leaning)
    ]
    return Shortening(tuple(cuts), GAP / k)
