"""The cover: what the order is, and each piece as a shaded picture with its overall sizes."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Hardware, Part
from casewright.packet.document import piece_mass
from casewright.packet.drawing.picture import picture
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import decimal
from casewright.solids.view import THREE_QUARTER
from casewright.stock.model import Leveller, Pull

GAP = 8.0  # mm between pictures
FACTS_HEIGHT, FACTS_LINE = 12.0, 3.9  # mm below a picture for its title, and for a line of its sizes
HEAD_HEIGHT = 30.0  # mm above the pictures
MOST_WITH_CONTENTS = 4  # pieces: of more, the contents have a page of their own
CONTENTS_HEIGHT, CONTENTS_LINE = 12.0, 5.0  # mm
CONTENTS_COLUMNS = 2
# Entries of the contents: of the whole order; of a piece (assembled, taken apart, its body, put together); of a mirror.
ENTRIES, ENTRIES_OF_A_PIECE, ENTRIES_OF_A_MIRROR = 12, 4, 1


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverPiece:
    """One piece on the cover; `facts` are (what, printed value)."""

    title: str
    count: int
    drawing: Drawing
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The cover; `lacking` names pieces that could not be built, `contents` says whether these have room on it."""

    columns: int
    contents: bool
    pieces: tuple[CoverPiece, ...]
    lacking: tuple[str, ...]


def cover(setting: Setting) -> Cover:
    """Return the context of the cover."""
    pieces = setting.pieces
    columns = 1 if len(pieces) == 1 else 2 if len(pieces) <= 4 else 3
    lacking = tuple(p.title for p in setting.project.assembly.pieces if not p.placed)
    contents = len(pieces) <= MOST_WITH_CONTENTS
    return Cover(
        columns=columns, contents=contents, pieces=tuple(_piece(setting, p, columns) for p in pieces), lacking=lacking
    )


def _piece(setting: Setting, piece: PieceDesign, columns: int) -> CoverPiece:
    width, height = setting.paper.inside
    facts = _facts(setting, piece)
    rows = min(2, -(-len(setting.pieces) // columns))
    text = FACTS_HEIGHT + FACTS_LINE * len(facts)
    fit = ((width - GAP * (columns - 1)) / columns, (height - HEAD_HEIGHT - _contents_height(setting)) / rows - text)
    shown = picture(piece, THREE_QUARTER, setting.project.cache, fit=fit, shaded=True)
    return CoverPiece(title=piece.title, count=piece.count, drawing=drawing_of(shown), facts=tuple(facts))


def _contents_height(setting: Setting) -> float:
    """Return what the contents take of the cover, mm; 0 where they stand on a page of their own."""
    if len(setting.pieces) > MOST_WITH_CONTENTS:
        return 0.0
    entries = ENTRIES + ENTRIES_OF_A_PIECE * len(setting.shown_whole) + ENTRIES_OF_A_MIRROR * len(setting.twins)
    return CONTENTS_HEIGHT + CONTENTS_LINE * -(-entries // CONTENTS_COLUMNS)


def _facts(setting: Setting, piece: PieceDesign) -> list[tuple[str, str]]:
    show = setting.printer
    sizes = {s.name: s.value for s in piece.sizes}
    facts = [("overall, width × depth × height", show.sizes((piece.width, piece.depth, piece.height)))]
    body = [sizes.get(f"body.{axis}") for axis in ("width", "depth", "height")]
    if None not in body:
        facts.append(("body alone", show.sizes(v for v in body if v is not None)))
    items = {p.thing.item for p in piece.placed if isinstance(p.thing, Hardware)}
    for item in (setting.project.stock.get(i) for i in sorted(items)):
        if isinstance(item, Pull):
            facts.append(("pulls stand out further by", show.length(item.projection)))
        if isinstance(item, Leveller):
            facts.append(("height on its levelling feet", _range(setting, piece, item, sizes)))
    if len(setting.pieces) > 1:
        facts.append(("named in lists", piece.path))
    mass = piece_mass(setting.project, piece)
    facts.append(("weighs about", f"{decimal(mass, 0)} kg ({decimal(mass / 0.45359237, 0)} lb)"))
    facts.append(("parts to cut", str(sum(isinstance(p.thing, Part) for p in piece.placed))))
    return facts


def _range(setting: Setting, piece: PieceDesign, item: Leveller, sizes: dict[str, float]) -> str:
    base = piece.height - sizes.get("leveller.setting", item.middle)
    low, high = setting.printer.size(base + item.least), setting.printer.length(base + item.most)
    return f"{low} to {high}"
