"""One page for each piece taken apart, every part with its mark, and the key of marks."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.explode import explosion
from casewright.packet.drawing.picture import picture
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import joined_names
from casewright.solids.view import THREE_QUARTER

KEY_COLUMNS = 4
KEY_LINE = 4.6  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyEntry:
    """A mark, how many parts of this piece have it, and what they are called."""

    mark: str
    count: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExplodedPiece:
    """One piece taken apart."""

    title: str
    drawing: Drawing
    key: tuple[KeyEntry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Exploded:
    """The context of the exploded views."""

    columns: int
    pieces: tuple[ExplodedPiece, ...]


def exploded(setting: Setting) -> Exploded:
    """Return the context of the exploded views."""
    return Exploded(columns=KEY_COLUMNS, pieces=tuple(_piece(setting, p) for p in setting.pieces))


def _piece(setting: Setting, piece: PieceDesign) -> ExplodedPiece:
    marks = setting.marks_of(piece)
    key = key_of_marks(piece, marks)
    width, height = setting.paper.inside
    room = height - 16.0 - KEY_LINE * 1.6 * (-(-len(key) // KEY_COLUMNS))
    shown = picture(
        piece,
        THREE_QUARTER,
        setting.project.cache,
        fit=(width, max(room, height / 3)),
        shaded=True,
        exploded=explosion(piece, setting.project.cache),
        marks=marks,
    )
    return ExplodedPiece(title=piece.title, drawing=drawing_of(shown), key=key)


def key_of_marks(piece: PieceDesign, marks: dict[str, str]) -> tuple[KeyEntry, ...]:
    """Return the key of the marks by path: what each is called in a piece, and how often it is there."""
    names: dict[str, list[str]] = {}
    for placed in piece.placed:
        if placed.path in marks:
            names.setdefault(marks[placed.path], []).append(placed.name)
    order = sorted(names, key=lambda mark: (len(mark), mark))
    return tuple(
        KeyEntry(mark=m, count=len(names[m]), name=joined_names(tuple(dict.fromkeys(names[m])))) for m in order
    )
