"""A backend that keeps what it is given: for tests, and for asking a picture questions."""

from __future__ import annotations

from dataclasses import dataclass, field

from casewright.packet.drawing.primitives import Arc, Circle, Fill, Picture, Polyline, Segments, Text, draw


@dataclass(slots=True)
class Recorder:
    """Everything that was put on paper, by kind and in order."""

    lines: list[Segments | Polyline | Arc] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)
    circles: list[Circle] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)

    def segments(self, item: Segments) -> None:
        """Keep separate lines."""
        self.lines.append(item)

    def polyline(self, item: Polyline) -> None:
        """Keep a run of lines."""
        self.lines.append(item)

    def fill(self, item: Fill) -> None:
        """Keep an area."""
        self.fills.append(item)

    def circle(self, item: Circle) -> None:
        """Keep a circle."""
        self.circles.append(item)

    def arc(self, item: Arc) -> None:
        """Keep an arc."""
        self.lines.append(item)

    def text(self, item: Text) -> None:
        """Keep a text."""
        self.texts.append(item)


def recorded(picture: Picture) -> Recorder:
    """Return what a picture puts on paper."""
    recorder = Recorder()
    draw(picture, recorder)
    return recorder
