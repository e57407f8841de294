"""Drawings of the whole piece: front, side, plan, sections through the joints that matter, details at full size."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.packet.drawing.assembled import Stage, assembled_drawings, hatch_key
from casewright.packet.drawing.details import detail_drawings
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.packing import TITLE, Figure, FigurePages, packed
from casewright.packet.pages.part_drawings import convention_of
from casewright.packet.pages.setting import Setting


@dataclass(frozen=True, slots=True, kw_only=True)
class AssembledPiece:
    """The drawings of one piece; `whole` is false where no drawing of it fits on the paper."""

    title: str
    whole: bool
    figures: FigurePages


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """The context of the assembled drawings; `hatches` says what each pattern of a section means."""

    unit: str
    hatches: Drawing
    pieces: tuple[AssembledPiece, ...]


def assembled(setting: Setting) -> Assembled:
    """Return the context of the assembled drawings."""
    return Assembled(
        unit=setting.printer.unit,
        hatches=drawing_of(hatch_key(convention_of(setting))),
        pieces=tuple(_piece(setting, p) for p in setting.pieces),
    )


def _piece(setting: Setting, piece: PieceDesign) -> AssembledPiece:
    stage = Stage(
        piece=piece,
        cache=setting.project.cache,
        style=setting.printer.style,
        convention=convention_of(setting),
        marks=setting.marks_of(piece),
    )
    width, height = setting.paper.inside
    fit = (width, height - TITLE)
    views, whole = _views(stage, fit)
    pictures = (*views, *detail_drawings(stage, fit))
    figures = [Figure(name=_name(piece, p), drawing=drawing_of(p)) for p in pictures]
    return AssembledPiece(title=piece.title, whole=whole, figures=packed(figures, setting.paper.inside))


def _views(stage: Stage, fit: tuple[float, float]) -> tuple[tuple[Picture, ...], bool]:
    try:
        return assembled_drawings(stage, fit), True
    except NoRoom:
        return (), False


def _name(piece: PieceDesign, picture: Picture) -> str:
    """Return what a drawing is called in the bookmarks: its alternative text without the piece."""
    words = picture.alt.removeprefix(f"{piece.title}, ")
    return words[:1].upper() + words[1:]
