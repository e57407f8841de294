"""How much room a text takes on paper: widths of letters, heights of figures, boxes that may be turned.

Widths are those of the page's own face (Source Sans 3, the wider of Regular and Semibold) with a tenth added,
so that a text also fits where a drawing is shown in the reader's own sans-serif face.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from casewright.packet.drawing.primitives import XY, Anchor, Text

CAP = 0.66  # em: height of a capital or a figure
DESCENDER = 0.2  # em below the baseline
ABOVE, BELOW = 0.38, 0.36  # em from the middle of a figure
FRACTION = 0.47  # em up and down from the middle where a fraction is set, which stands taller
SLACK = 1.1
WIDEST = 0.62  # em, for a letter that is not in the table
LINE = 1.35  # em between lines

# Thousandths of an em, by the letters that share them.
_WIDTHS = {
    200: " ", 265: "ijl'", 275: ".,:;·|", 282: "I", 317: "f!", 325: "()[]-{}", 350: "/\\°", 375: "rt", 432: "s*",
    444: "z?", 462: "c", 482: '"″', 497: "vyx", 502: "LYJ", 513: "0123456789+=<>~×≈Fe–", 522: "kagu",
    545: "bdhnopqASTEXZV", 600: "BCKPR", 619: "→←↑↓↔&½", 664: "DGHNOQUØ", 748: "wM", 843: "mW%@—",
}  # fmt: skip
_WIDTH = {letter: width / 1000 for width, letters in _WIDTHS.items() for letter in letters}
_TOGETHER = re.compile(
    r"(?<=\d) (?=\d+/\d)"  # 3 9/32
    r"| (?=× )|(?<=×) "
    r"|(?<=\d) (?=(?:in|mm|deep|wide|apart)\b)"
    r"|(?<=\d) (?=\(\d)"  # 1/4 (6.4 mm)
    r"|(?<=Ø) (?=\d)|(?<=\bR) (?=\d)"
    r"|(?<=\bend) (?=[01]\b)|(?<=\bedge) (?=[01]\b)|(?<=\bface) (?=[01]\b)"
    r"|(?<=\bscale) (?=\d)"
)
_HANGING = frozenset("gjpqy,;()[]Q@|")

Corners = tuple[XY, XY, XY, XY]


def em_for(height: float) -> float:
    """Return the em, mm, whose capitals are `height` mm high (ISO 3098 names lettering by that height)."""
    return height / CAP


def width_of(text: str, em: float) -> float:
    """Return how wide a line of text is at most, mm."""
    return SLACK * em * sum(_WIDTH.get(letter, WIDEST) for letter in text)


def words_of(text: str) -> list[str]:
    """Return the words between which a line may end: a number stays with its fraction, its unit and what it counts.

    "cut to 3" on one line and "9/32" on the next would be read as another size.
    """
    return [word.replace("\u00a0", " ") for word in _TOGETHER.sub("\u00a0", text).split(" ")]


def filled(text: str, room: float, measure: Callable[[str], float]) -> list[str]:
    """Return a text in lines that measure no more than `room`; a word that measures more has a line of its own."""
    lines = [""]
    for word in words_of(text):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and measure(longer) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


@dataclass(frozen=True, slots=True)
class Room:
    """What a line of text takes: its width, and how far it reaches up and down from its middle, mm."""

    width: float
    up: float
    down: float


@lru_cache(maxsize=16384)
def room_of(text: str, em: float) -> Room:
    """Return the room that a line of text takes before it is turned."""
    if has_fraction(text):
        return Room(width_of(text, em), FRACTION * em, FRACTION * em)
    down = BELOW + (DESCENDER if _HANGING & set(text) else 0.0)
    return Room(width_of(text, em), ABOVE * em, down * em)


def has_fraction(text: str) -> bool:
    """True where figures stand on both sides of a slash."""
    return any(
        c == "/" and text[i - 1 : i].isdigit() and text[i + 1 : i + 2].isdigit() for i, c in enumerate(text) if i
    )


def corners_of(text: Text) -> Corners:
    """Return the corners of what a text takes on paper, counter-clockwise from its lower left as it reads."""
    room = room_of(text.text, text.size)
    left = {Anchor.START: 0.0, Anchor.MIDDLE: -room.width / 2, Anchor.END: -room.width}[text.anchor]
    c, s = math.cos(math.radians(text.turn)), math.sin(math.radians(text.turn))

    def place(x: float, y: float) -> XY:
        return (text.at[0] + x * c - y * s, text.at[1] + x * s + y * c)

    right = left + room.width
    return (place(left, -room.down), place(right, -room.down), place(right, room.up), place(left, room.up))


def box_of(text: Text) -> tuple[float, float, float, float]:
    """Return the upright box around a text on paper, x0 y0 x1 y1 in mm."""
    xs, ys = zip(*corners_of(text), strict=True)
    return (min(xs), min(ys), max(xs), max(ys))
