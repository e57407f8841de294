"""Drawings of the whole piece: front, side, plan, sections through the joints that matter, details at full size."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.assembled import Stage, assembled_drawings, front_drawing
from casewright.packet.drawing.details import DrawnDetail, drawn_details
from casewright.packet.drawing.hatch_key import hatch_key
from casewright.packet.drawing.like_details import like_details
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.group_words import listed
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.packing import TITLE, Figure, FigurePages, packed_after
from casewright.packet.pages.part_drawings import convention_of
from casewright.packet.pages.setting import Setting
from casewright.packet.twins import HandedMark, handed_marks

MIRROR_HEIGHT = 0.6  # of a page, that the front of a mirror image may take


@dataclass(frozen=True, slots=True, kw_only=True)
class LikeDetail:
    """A detail that shows the same as one of another piece: what it is, which piece, its marks and the marks there."""

    name: str
    other: str
    marks: tuple[str, ...]
    there: tuple[str, ...]

    @property
    def words(self) -> str:
        """What it is, and which marks are read for which."""
        return f"{self.name}: {listed(self.marks)} for {listed(self.there)}" if self.marks != self.there else self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class AssembledPiece:
    """The drawings of one piece; `whole` is false where no drawing of it fits on the paper.

    `place` is the piece's among all of the order, from 0; `like` are its details that earlier pieces show.
    """

    title: str
    place: int
    whole: bool
    figures: FigurePages
    like: tuple[LikeDetail, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MirrorPiece:
    """A piece that is the mirror image of another: its place in the order, its front, the parts whose marks differ."""

    title: str
    place: int
    mirror_of: str
    front: Drawing | None
    marks: tuple[HandedMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """The context of the assembled drawings; the pages stand in the order of the `place` of their pieces."""

    unit: str
    pieces: tuple[AssembledPiece, ...]
    mirrors: tuple[MirrorPiece, ...]


def assembled(setting: Setting) -> Assembled:
    """Return the context of the assembled drawings."""
    shown: list[tuple[str, DrawnDetail]] = []
    return Assembled(
        unit=setting.printer.unit,
        pieces=tuple(_piece(setting, p, shown) for p in setting.shown_whole),
        mirrors=tuple(_mirror(setting, p) for p in setting.pieces if p.path in setting.twins),
    )


def _stage(setting: Setting, piece: PieceDesign) -> Stage:
    return Stage(
        piece=piece,
        cache=setting.project.cache,
        style=setting.printer.style,
        convention=convention_of(setting),
        marks=setting.marks_of(piece),
    )


def _piece(setting: Setting, piece: PieceDesign, shown: list[tuple[str, DrawnDetail]]) -> AssembledPiece:
    """Return the drawings of a piece; `shown` are the details so far with the titles of their pieces, and grows."""
    stage = _stage(setting, piece)
    width, height = setting.paper.inside
    fit = (width, height - TITLE)
    views, whole = _views(stage, fit)
    ordered = [Figure(name=_name(piece, p), drawing=drawing_of(p)) for p in views]
    key = Figure(name="What the hatching means", drawing=drawing_of(hatch_key(convention_of(setting))))
    ordered.insert(1, key)  # with the first view: last of all it might have a page to itself
    details: list[Figure] = []
    like: list[LikeDetail] = []
    for detail in drawn_details(stage, fit):
        other, first = next((s for s in shown if detail.shows_what(s[1])), ("", None))
        if first is None:
            details += [Figure(name=_name(piece, p), drawing=drawing_of(p)) for p in detail.pictures()]
            shown.append((piece.title, detail))
        else:
            like.append(LikeDetail(name=detail.name, other=other, marks=detail.marks, there=first.marks))
    if like:
        others = {d.other: [one.words for one in like if one.other == d.other] for d in like}
        words = like_details(others, convention_of(setting), width)
        details.append(Figure(name="Details that other pieces show", drawing=drawing_of(words)))
    figures = packed_after(ordered, details, setting.paper.inside)
    place = setting.pieces.index(piece)
    return AssembledPiece(title=piece.title, place=place, whole=whole, figures=figures, like=tuple(like))


def _mirror(setting: Setting, piece: PieceDesign) -> MirrorPiece:
    other = setting.twins[piece.path]
    width, height = setting.paper.inside
    front = None
    with suppress(NoRoom):
        front = drawing_of(front_drawing(_stage(setting, piece), (width, height * MIRROR_HEIGHT)))
    marks = handed_marks(piece, other, setting.marks_of(piece), setting.marks_of(other))
    place = setting.pieces.index(piece)
    return MirrorPiece(title=piece.title, place=place, mirror_of=other.title, front=front, marks=marks)


def _views(stage: Stage, fit: tuple[float, float]) -> tuple[tuple[Picture, ...], bool]:
    try:
        return assembled_drawings(stage, fit), True
    except NoRoom:
        return (), False


def _name(piece: PieceDesign, picture: Picture) -> str:
    """Return what a drawing is called in the bookmarks: its alternative text without the piece."""
    words = picture.alt.removeprefix(f"{piece.title}, ")
    return words[:1].upper() + words[1:]
