"""Plain colours for things in pictures and models: by the wood or metal that a stock name speaks of."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from casewright.design.parts import Fastener, Hardware, Part
from casewright.packet.drawing.primitives import Tone

ToneOf: TypeAlias = Callable[[Part | Hardware | Fastener], Tone]

PAINTED: Tone = (214, 221, 222)
WOOD: Tone = (216, 190, 148)
METAL: Tone = (158, 163, 168)

# The first word that occurs in the stock's name decides.
WORDS: tuple[tuple[str, Tone], ...] = (
    ("cherry", (186, 120, 80)),
    ("walnut", (118, 86, 64)),
    ("mahogany", (150, 84, 60)),
    ("oak", (202, 170, 120)),
    ("maple", (228, 206, 168)),
    ("poplar", (206, 204, 160)),
    ("birch", (226, 204, 162)),
    ("pine", (232, 206, 152)),
    ("mdf", (182, 152, 120)),
    ("brass", (200, 168, 92)),
)


def tone_of(thing: Part | Hardware | Fastener) -> Tone:
    """Return the colour of a thing: painted if a face is, else by its stock's name, else plain wood or metal."""
    if not isinstance(thing, Part):
        return _by_word(thing.item, METAL)
    if any("paint" in use.finish or "enamel" in use.finish for use in thing.faces):
        return PAINTED
    return _by_word(thing.stock, WOOD)


def lit(tone: Tone, share: float) -> Tone:
    """Return a tone in a light of 0 (dark) to 1 (full)."""
    r, g, b = (min(255, round(c * share)) for c in tone)
    return (r, g, b)


def _by_word(name: str, otherwise: Tone) -> Tone:
    return next((tone for word, tone in WORDS if word in name), otherwise)
