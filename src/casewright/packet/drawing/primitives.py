"""A picture as data: a handful of primitives in millimetres on paper, x right and y up from the lower left corner.

What a line means is its role; how a role looks is decided by `casewright.packet.drawing.styles`. Backends
turn a picture into a format; `draw` walks it for them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import Protocol, TypeAlias

XY: TypeAlias = tuple[float, float]
Ends: TypeAlias = tuple[float, float, float, float]  # x0 y0 x1 y1
Tone: TypeAlias = tuple[int, int, int]  # red, green, blue, 0 to 255

WHITE: Tone = (255, 255, 255)
BLACK: Tone = (0, 0, 0)


class LineRole(Enum):
    """What a line means. Later ones are drawn over earlier ones."""

    GRAIN = "grain"
    HATCH = "hatching of a cut"
    HIDDEN = "hidden edge"
    SEAT = "outline of a part that will stand here"
    TRAIL = "way of a part to its place"
    VISIBLE = "visible edge"
    BEYOND = "edge behind a section"
    OUTLINE = "visible edge of a measured drawing"
    SECTION = "outline of what is cut"
    PLANE = "where a section is cut"
    CUT = "saw cut"
    CENTRE = "centre line"
    EXTENSION = "extension line"
    DIMENSION = "dimension"
    HIDDEN_LEADER = "leader to something covered"
    LEADER = "leader"


class Anchor(Enum):
    """Which point of a text lies at its place; texts are centred in height."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Segments:
    """Straight lines of one role, each by itself."""

    ends: tuple[Ends, ...]
    role: LineRole


@dataclass(frozen=True, slots=True)
class Polyline:
    """A run of straight lines."""

    points: tuple[XY, ...]
    role: LineRole
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """An area of one tone: rings by the even-odd rule, so that a ring within a ring is a hole."""

    rings: tuple[tuple[XY, ...], ...]
    tone: Tone


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle, filled where it has a tone."""

    centre: XY
    radius: float
    role: LineRole
    tone: Tone | None = None


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, counter-clockwise from `start` to `end` degrees."""

    centre: XY
    radius: float
    start: float
    end: float
    role: LineRole


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text, `size` mm high (its em), turned by `turn` degrees about its place."""

    at: XY
    text: str
    size: float
    anchor: Anchor = Anchor.MIDDLE
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Leader:
    """A line from a note to what it speaks of: a dot at its end where that is an area, an arrow where it is a line.

    Dashed if what it speaks of is covered.
    """

    points: tuple[XY, ...]
    covered: bool = False
    arrow: float = 0.0  # length of the arrow, mm; 0 is a dot


Primitive: TypeAlias = Segments | Polyline | Fill | Circle | Arc | Text | Leader


@dataclass(frozen=True, slots=True)
class Shown:
    """A size that a drawing gives: whose and which it is, its value in mm (degrees for angles), and its text."""

    what: str
    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing of a given size on paper in mm. `alt` says in words what it shows."""

    width: float
    height: float
    items: tuple[Primitive, ...]
    alt: str = ""
    scale: float = 1.0  # mm on paper for a millimetre of the piece
    thick: float = 0.5  # mm: width of thick lines in a measured drawing; thin ones have half of it
    shown: tuple[Shown, ...] = ()


class Backend(Protocol):
    """The contract of a format: one method for each thing that can be put on paper."""

    def segments(self, item: Segments) -> None:
        """Put separate lines."""

    def polyline(self, item: Polyline) -> None:
        """Put a run of lines."""

    def fill(self, item: Fill) -> None:
        """Put an area."""

    def circle(self, item: Circle) -> None:
        """Put a circle."""

    def arc(self, item: Arc) -> None:
        """Put an arc."""

    def text(self, item: Text) -> None:
        """Put a text."""


DOT_RADIUS = 0.45  # mm, at the end of a leader


def draw(picture: Picture, backend: Backend) -> None:
    """Hand every primitive of a picture to a backend, in order."""
    for item in picture.items:
        match item:
            case Segments():
                backend.segments(item)
            case Polyline():
                backend.polyline(item)
            case Fill():
                backend.fill(item)
            case Circle():
                backend.circle(item)
            case Arc():
                backend.arc(item)
            case Text():
                backend.text(item)
            case Leader():
                _leader(item, backend)


def _leader(item: Leader, backend: Backend) -> None:
    role = LineRole.HIDDEN_LEADER if item.covered else LineRole.LEADER
    backend.polyline(Polyline(item.points, role))
    if item.arrow:
        backend.fill(arrow_head(item.points[-1], item.points[-2], item.arrow))
        return
    backend.circle(Circle(item.points[-1], DOT_RADIUS, LineRole.LEADER, WHITE if item.covered else BLACK))


def arrow_head(tip: XY, tail: XY, length: float) -> Fill:
    """Return a filled arrow head, three times as long as wide, at `tip`, coming from `tail`."""
    far = math.dist(tip, tail) or 1.0
    dx, dy = (tail[0] - tip[0]) / far * length, (tail[1] - tip[1]) / far * length
    left = (tip[0] + dx - dy / 6, tip[1] + dy + dx / 6)
    right = (tip[0] + dx + dy / 6, tip[1] + dy - dx / 6)
    return Fill(((tip, left, right),), BLACK)


def text_width(text: str, size: float) -> float:
    """Return how wide a text is at most, mm: 0.62 em a character, the width of a wide digit."""
    return 0.62 * size * len(text)
