"""The list of details that earlier pieces of the order show, as a picture: it stands where drawings leave room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.lettering import em_for, filled, width_of
from casewright.packet.drawing.primitives import Anchor, Picture, Text

HEAD = "Details as in {}, but for the marks:"
LETTER = 2.5  # mm: height of capitals
LINE, APART = 1.25, 0.3  # em: from line to line, and more between two details
EDGE = 1.0  # mm


def like_details(details: Mapping[str, Sequence[str]], convention: Convention, width: float) -> Picture:
    """Return a list of details in words, by the titles of the pieces that show them, in lines of `width` mm at most."""
    em = em_for(LETTER)
    down, items = EDGE + 0.5 * em, []
    entries = [text for title, own in details.items() for text in (HEAD.format(title), *own)]
    for entry in entries:
        for line in filled(entry, width - 2 * EDGE, lambda text: width_of(text, em)):
            items.append((down, line))
            down += LINE * em
        down += APART * em
    height = items[-1][0] + 0.5 * em + EDGE
    texts = tuple(Text((EDGE, height - at), text, em, Anchor.START) for at, text in items)
    return Picture(width, height, texts, " ".join(entries), 1.0, convention.thick)
