"""What is built apart and brought as one (frame, drawer, door …), each taken apart alone, with its marks."""

from __future__ import annotations

import re
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.explode import explosion, groups_of, members_of
from casewright.packet.drawing.picture import picture
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.exploded import KeyEntry, key_of_marks
from casewright.packet.pages.setting import Setting
from casewright.solids.view import THREE_QUARTER

COLUMNS = 2
GAP = 8.0  # mm between pictures
HIGHEST = 74.0  # mm of a picture
_PLACE = re.compile(r"\[c(\d+),r(\d+)\]")


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
    found: dict[tuple[str, ...], GroupPicture] = {}
    for piece in setting.pieces:
        marks = setting.marks_of(piece)
        for group in groups_of(piece):
            members = members_of(piece, group)
            own = tuple(sorted(marks[m] for m in members if m in marks))
            if group != piece.path and len(own) > 1 and own not in found:
                found[own] = _picture(setting, piece, group, members)
    return Groups(columns=COLUMNS, groups=tuple(found.values()))


def _picture(setting: Setting, piece: PieceDesign, group: str, members: tuple[str, ...]) -> GroupPicture:
    marks = {path: mark for path, mark in setting.marks_of(piece).items() if path in members}
    width = (setting.paper.inside[0] - GAP * (COLUMNS - 1)) / COLUMNS
    shown = picture(
        piece,
        THREE_QUARTER,
        setting.project.cache,
        fit=(width, HIGHEST),
        shaded=True,
        exploded=explosion(piece, setting.project.cache, into=group),
        only=members,
        marks=marks,
    )
    title = f"{piece.title}: {group_words(group.removeprefix(piece.path + '/'))}"
    return GroupPicture(title=title, drawing=drawing_of(shown), key=key_of_marks(piece, marks))


def group_words(name: str) -> str:
    """Return what a group is called: "drawer[c1,r1]/face" is "drawer, column 1, row 1, face"."""
    placed = _PLACE.sub(lambda m: f", column {m.group(1)}, row {m.group(2)}", name)
    return placed.replace("/", ", ").replace(".", " ")
