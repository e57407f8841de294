"""What is built apart and brought as one (frame, drawer, door …), each taken apart alone, with its marks."""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.taken_apart import BODY, Unit, unit_apart, units_of
from casewright.packet.group_words import alike_words
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.exploded import KeyEntry, key_of_marks
from casewright.packet.pages.setting import Setting

COLUMNS = 2
GAP = 8.0  # mm between pictures
HIGHEST, SINGLE = 74.0, 40.0  # mm of a picture, and of one that shows a single mark


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPicture:
    """One group taken apart."""

    title: str
    drawing: Drawing
    key: tuple[KeyEntry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Groups:
    """The context of the groups taken apart."""

    columns: int
    groups: tuple[GroupPicture, ...]


def groups(setting: Setting) -> Groups:
    """Return the context of the groups; a group of the same marks as an earlier one is not shown again."""
    found: dict[tuple[str, ...], tuple[GroupPicture, ...]] = {}
    for piece in setting.shown_whole:
        marks = setting.marks_of(piece)
        for unit in units_of(piece, marks):
            own = tuple(sorted(marks[m] for m in unit.paths if m in marks))
            if unit.name != BODY and len(unit.paths) > 1 and own not in found:
                found[own] = _pictures(setting, piece, unit)
    return Groups(columns=COLUMNS, groups=tuple(shown for pictures in found.values() for shown in pictures))


def _pictures(setting: Setting, piece: PieceDesign, unit: Unit) -> tuple[GroupPicture, ...]:
    marks = {path: mark for path, mark in setting.marks_of(piece).items() if path in unit.paths}
    width = (setting.paper.inside[0] - GAP * (COLUMNS - 1)) / COLUMNS
    high = HIGHEST if len(frozenset(marks.values())) > 1 else SINGLE
    shown = unit_apart(piece, setting.project.cache, marks, unit, (width, high))
    title = f"{piece.title}, unit {unit.number}: {alike_words(unit.alike)}"
    key = key_of_marks(piece, marks)
    return tuple(GroupPicture(title=title, drawing=drawing_of(_described(p, title, key)), key=key) for p in shown)


def _described(shown: Picture, title: str, key: tuple[KeyEntry, ...]) -> Picture:
    """Say in the alternative text what is taken apart, seen from where, and into which marks."""
    parts = ", ".join(f"{entry.mark} {entry.name}" for entry in key)
    return replace(shown, alt=f"{title}, taken apart, {shown.alt.rpartition(', ')[2]}: {parts}")
