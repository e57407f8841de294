"""The parts list by form of stock and stock item."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.parts import Form, Part
from casewright.packet.cut_to_fit import held_back
from casewright.packet.drawing.subject import face_name, listed
from casewright.packet.pages.setting import Setting
from casewright.packet.part_sizes import Triple
from casewright.packet.parts_list import PartRow
from casewright.packet.printed import Printer
from casewright.project import Project
from casewright.stock.model import Board, Item, Sheet

FORMS = {Form.SHEET: "Sheet goods", Form.BOARD: "Solid wood", Form.STICK: "Mouldings, square stock and rods"}
FACE_WORDS = {"face": ("face", "both faces"), "edge": ("1 edge", "2 edges"), "end": ("1 end", "2 ends")}


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One line of the list, as texts; sizes are (length, width, thickness)."""

    mark: str
    count: int
    name: str
    finished: tuple[str, str, str]
    cut: tuple[str, str, str]
    rough: tuple[str, str, str]
    grain: str
    bands: str
    shows: str
    ends: str
    mirror: str
    only: str  # the piece that it belongs to, empty where every piece has it
    to_fit: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StockGroup:
    """Everything that is cut from one stock item. Columns that say nothing in the group are left out.

    `bands` is what its edges are banded with where that is the same for all: lines then name the edges alone.
    """

    stock: str
    name: str
    thickness: str
    bands: str
    has_bands: bool
    has_rough: bool
    lines: tuple[PartLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FormGroup:
    """Stock of one form."""

    title: str
    form: str
    stocks: tuple[StockGroup, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The context of the parts list; `unit` names what all its sizes are in."""

    unit: str
    total: int
    marks: int
    pieces: int
    forms: tuple[FormGroup, ...]


def parts(setting: Setting) -> Parts:
    """Return the context of the parts list."""
    fitted = fitted_marks(setting)
    groups = tuple(_form(setting, form, fitted) for form in Form if any(r.form is form for r in setting.rows))
    total = sum(r.count for r in setting.rows)
    return Parts(
        unit=setting.printer.unit, total=total, marks=len(setting.rows), pieces=len(setting.pieces), forms=groups
    )


def fitted_marks(setting: Setting) -> frozenset[str]:
    """Return the marks of parts that are cut to fit."""
    paths = held_back(setting.pieces)
    return frozenset(m for piece in setting.pieces for p, m in setting.marks_of(piece).items() if p in paths)


def _form(setting: Setting, form: Form, fitted: frozenset[str]) -> FormGroup:
    stocks = sorted({r.stock for r in setting.rows if r.form is form})
    groups = tuple(_stock(setting, form, s, fitted) for s in stocks)
    return FormGroup(title=FORMS[form], form=form.value, stocks=groups)


def _stock(setting: Setting, form: Form, stock: str, fitted: frozenset[str]) -> StockGroup:
    rows = [r for r in setting.rows if r.form is form and r.stock == stock]
    items = {band.item for r in rows for band in r.part.bands}
    only = items.pop() if len(items) == 1 else ""
    return StockGroup(
        stock=stock,
        name=rows[0].stock_name,
        thickness=_thickness(setting.project.stock.get(stock), setting.printer),
        bands=setting.project.stock[only].name if only else "",
        has_bands=any(r.bands for r in rows),
        has_rough=any(r.rough != r.cut for r in rows),
        lines=tuple(_line(setting, r, r.mark in fitted, named=not only) for r in rows),
    )


def _thickness(item: Item | None, printer: Printer) -> str:
    if isinstance(item, Sheet):
        how = "as measured" if item.measured is not None else "NOMINAL ONLY: measure first"
        return f"thickness {how} {printer.measured(item.thickness)}"
    if isinstance(item, Board):
        return f"dressed to {printer.length(item.dressed)} at most, from {printer.length(item.rough)} rough"
    return ""


def _line(setting: Setting, row: PartRow, to_fit: bool, *, named: bool) -> PartLine:
    printer = setting.printer
    return PartLine(
        mark=row.mark,
        count=row.count,
        name=row.name,
        finished=_sizes(row, row.finished_printed, printer),
        cut=_sizes(row, row.printed, printer),
        rough=_sizes(row, row.rough_printed, printer) if row.rough != row.cut else ("", "", ""),
        grain="↔ length" if row.grain else "any",
        bands=band_words(setting.project, row.part, named=named),
        shows=_shows(row.shows),
        ends=ends_text(row),
        mirror=row.mirror_of,
        only="" if len(row.counts) == len(setting.pieces) else ", ".join(path for path, _ in row.counts),
        to_fit=to_fit,
    )


def _sizes(row: PartRow, sizes: Triple, printer: Printer) -> tuple[str, str, str]:
    length, width, thickness = (printer.printed(size) for size in sizes)
    return (length, width, printer.sheet_thickness(row.cut[2]) if row.form is Form.SHEET else thickness)


def band_words(project: Project, part: Part, *, named: bool = True) -> str:
    """Return which edges are banded, and with what: "all four edges, birch veneer band, 0.6 mm"."""
    by_item: dict[str, list[str]] = {}
    for band in sorted(part.bands, key=lambda b: b.face.value):
        notched = " (before its corners are notched)" if any(band.short) else ""
        by_item.setdefault(band.item, []).append(face_name(band.face) + notched)
    return "; ".join(
        ("all four edges" if len(faces) == 4 else listed(faces)) + (f", {project.stock[item].name}" if named else "")
        for item, faces in by_item.items()
    )


def _shows(faces: tuple[str, ...]) -> str:
    counts = {kind: sum(f.startswith(kind) for f in faces) for kind in FACE_WORDS}
    return ", ".join(FACE_WORDS[kind][n - 1] for kind, n in counts.items() if n)


def ends_text(row: PartRow) -> str:
    """Return how the ends are cut at angles: "both mitre 45°", or each by itself."""
    angles = [end.split(" ", 1)[1] for end in row.ends]
    if len(angles) == 2 and angles[0] == angles[1]:
        return f"both ends {angles[0]}"
    if len(angles) == 1:
        return f"one end {angles[0]}"
    return "; ".join(row.ends)
