"""Each piece taken apart: the whole in units with their numbers, then its body with marks; of a pair the first one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.taken_apart import BODY, unit_apart, units_of, whole_apart
from casewright.packet.group_words import alike_words, group_words
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import joined_names

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
    """A piece, or its body, taken apart: `title` is the piece's, `heading` that of the page."""

    title: str
    heading: str
    drawing: Drawing
    key: tuple[KeyEntry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Exploded:
    """The context of the exploded views."""

    columns: int
    pieces: tuple[ExplodedPiece, ...]


def exploded(setting: Setting) -> Exploded:
    """Return the context of the exploded views."""
    return Exploded(columns=KEY_COLUMNS, pieces=tuple(page for p in setting.shown_whole for page in _pages(setting, p)))


def _pages(setting: Setting, piece: PieceDesign) -> Iterator[ExplodedPiece]:
    """Return the whole in its units where there are several, and its body with marks."""
    marks, cache = setting.marks_of(piece), setting.project.cache
    units = units_of(piece, marks)
    if len(units) > 1:
        key = tuple(KeyEntry(mark=str(u.number), count=len(u.alike), name=alike_words(u.alike)) for u in units)
        for shown in whole_apart(piece, cache, marks, _room(setting, key)):
            yield _page(piece, f"{piece.title}: taken apart", shown, key)
    for unit in units:
        if unit.name == BODY:
            own = key_of_marks(piece, {path: mark for path, mark in marks.items() if path in unit.paths})
            name = f", unit {unit.number}: {group_words(unit.name)}," if len(units) > 1 else ":"
            for shown in unit_apart(piece, cache, marks, unit, _room(setting, own)):
                yield _page(piece, f"{piece.title}{name} taken apart", shown, own)


def _page(piece: PieceDesign, heading: str, shown: Picture, key: tuple[KeyEntry, ...]) -> ExplodedPiece:
    alt = f"{heading}, {shown.alt.rpartition(', ')[2]}: " + ", ".join(f"{e.mark} {e.name}" for e in key)
    return ExplodedPiece(title=piece.title, heading=heading, drawing=drawing_of(replace(shown, alt=alt)), key=key)


def _room(setting: Setting, key: tuple[KeyEntry, ...]) -> tuple[float, float]:
    width, height = setting.paper.inside
    room = height - 16.0 - KEY_LINE * 1.6 * (-(-len(key) // KEY_COLUMNS))
    return (width, max(room, height / 3))


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
