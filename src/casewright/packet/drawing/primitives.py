"""A picture as data: a handful of primitives in millimetres on paper, x right and y up from the lower left corner.

What a line means is its role; how a role looks is decided by `casewright.packet.drawing.styles`. Backends
turn a picture into a format; `draw` walks it for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Protocol, TypeAlias

XY: TypeAlias = tuple[float, float]
Ends: TypeAlias = tuple[float, float, float, float]  # x0 y0 x1 y1
Tone: TypeAlias = tuple[int, int, int]  # red, green, blue, 0 to 255

WHITE: Tone = (255, 255, 255)


class LineRole(Enum):
    """What a line means. Later ones are drawn over earlier ones."""

    GRAIN = "grain"
    HIDDEN = "hidden edge"
    TRAIL = "way of a part to its place"
    VISIBLE = "visible edge"
    CUT = "saw cut"
    CENTRE = "centre line"
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
    """A line from a note to what it speaks of, with a dot at its end; dashed if that is covered."""

    points: tuple[XY, ...]
    covered: bool = False


Primitive: TypeAlias = Segments | Polyline | Fill | Circle | Arc | Text | Leader


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing of a given size on paper in mm. `alt` says in words what it shows."""

    width: float
    height: float
    items: tuple[Primitive, ...]
    alt: str = ""
    scale: float = 1.0  # mm on paper for a millimetre of the piece


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
    backend.circle(Circle(item.points[-1], DOT_RADIUS, LineRole.LEADER, WHITE if item.covered else (0, 0, 0)))


def text_width(text: str, size: float) -> float:
    """Return how wide a text is at most, mm: 0.62 em a character, the width of a wide digit."""
    return 0.62 * size * len(text)
