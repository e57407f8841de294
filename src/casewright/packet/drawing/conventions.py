"""The drawing conventions of the two papers: ISO on A4, ASME on Letter.

Sources: ISO 128-2 and ASME Y14.2 (thick and thin lines 2 : 1; 0.5 and 0.25 mm, 0.6 and 0.3 mm), ISO 3098
(lettering 2.5 mm), ASME Y14.2 (lettering 3 mm), ISO 129-1 (text above the dimension line, read from below or
from the right), ASME Y14.5 (text breaks the line and reads from below; a gap before extension lines), ISO
5456-2 and ASME Y14.3 (first and third angle), ISO 5455 (scales); halves, quarters, eighths, and an inch for a foot,
in inch work are common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.packet.drawing.lettering import em_for
from casewright.packet.drawing.primitives import XY, Circle, LineRole, Polyline, Primitive, Segments

Ratio = tuple[int, int]  # paper : piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Convention:
    """How a drawing is made; lengths in mm on paper."""

    name: str
    third_angle: bool
    letter: float  # height of capitals
    thick: float
    gap: float  # between an outline and its extension line
    past: float  # of an extension line past its dimension line
    broken: bool  # texts break their dimension line and stay upright
    scales: tuple[Ratio, ...]  # the largest first

    @property
    def em(self) -> float:
        """The em of its lettering, mm."""
        return em_for(self.letter)

    @property
    def thin(self) -> float:
        """Width of thin lines."""
        return self.thick / 2

    def scale_for(self, most: float) -> Ratio:
        """Return the largest scale of the list up to `most` (paper / piece), or the smallest there is."""
        return next((r for r in self.scales if r[0] / r[1] <= most * (1 + 1e-9)), self.scales[-1])

    def smaller(self, ratio: Ratio) -> Ratio | None:
        """Return the next smaller scale, or None."""
        following = self.scales[self.scales.index(ratio) + 1 :]
        return following[0] if following else None


ISO = Convention(
    name="ISO", third_angle=False, letter=2.5, thick=0.5, gap=0.8, past=1.5, broken=False,
    scales=((5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50)),
)  # fmt: skip
ASME = Convention(
    name="ASME", third_angle=True, letter=3.0, thick=0.6, gap=1.5, past=2.0, broken=True,
    scales=((4, 1), (2, 1), (1, 1), (1, 2), (1, 4), (1, 8), (1, 12), (1, 16), (1, 32)),
)  # fmt: skip
CONVENTIONS = {"a4": ISO, "letter": ASME}  # by the name of the paper


SYMBOL = (15.0, 6.0)  # mm: size of the projection symbol


def projection_symbol(convention: Convention, at: XY) -> tuple[Primitive, ...]:
    """Return the symbol of the projection, its lower left corner at a place: a frustum and its view from the small end.

    The view from the left stands on the left in third angle and on the right in first angle.
    """
    x, y = at
    middle = y + SYMBOL[1] / 2
    cone = x + (7.5 if convention.third_angle else 0.5)
    eye = x + (3.0 if convention.third_angle else 11.5)
    side = ((cone, middle - 1.2), (cone + 6.0, middle - 2.4), (cone + 6.0, middle + 2.4), (cone, middle + 1.2))
    return (
        Polyline(side, LineRole.BEYOND, closed=True),
        Circle((eye, middle), 2.4, LineRole.BEYOND),
        Circle((eye, middle), 1.2, LineRole.BEYOND),
        Segments(
            ((cone - 0.7, middle, cone + 6.7, middle), (eye - 3.0, middle, eye + 3.0, middle), (eye, y, eye, y + 6.0)),
            LineRole.CENTRE,
        ),
    )
