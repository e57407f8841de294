"""No paint-grade sheet shows under a clear finish, and bands are of the wood that they edge."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.parts import Intent, Part, Placed
from casewright.findings import Finding, Severity
from casewright.stock.fittings import EdgeBand
from casewright.stock.model import Sheet

SOURCE = "common practice: fibreboard and chipboard are made for paint; a clear finish goes on solid wood and veneer"
BAND_SOURCE = "common practice: a band covers the layers of a sheet, in its own wood; solid wood has none to cover"
PAINT_GRADE = ("mdf", "particleboard", "hardboard")


def run(subject: Subject) -> Iterator[Finding]:
    """Yield warnings for paint-grade faces under clear finish, bands on solid wood, and bands of another wood."""
    for placed in subject.piece.placed:
        if isinstance(placed.thing, Part):
            yield from _face(subject, placed)
            yield from _bands(subject, placed)


def _face(subject: Subject, placed: Placed) -> Iterator[Finding]:
    sheet = subject.items.get(placed.part.stock)
    if not isinstance(sheet, Sheet) or sheet.material not in PAINT_GRADE or sheet.species:
        return
    if any(u.intent is Intent.SHOWS and u.face.axis == 2 and u.clear for u in placed.part.faces):
        yield subject.finding(
            code="looks.paint_grade",
            severity=Severity.WARN,
            path=placed.path,
            message=f"a face of {sheet.name} shows under a clear finish",
            source=SOURCE,
            remedy="veneered sheet or solid wood for its role, or paint",
        )


def _bands(subject: Subject, placed: Placed) -> Iterator[Finding]:
    stock = subject.items.get(placed.part.stock)
    clear = any(u.intent is Intent.SHOWS and u.clear for u in placed.part.faces)
    for item in sorted({b.item for b in placed.part.bands}):
        band = subject.items.get(item)
        if not isinstance(band, EdgeBand):
            continue
        if not isinstance(stock, Sheet) or stock.species:
            yield _banded(subject, placed, f"{band.name} on an edge of solid wood", "leave the band off")
        elif clear and _other(stock, band):
            yield _banded(
                subject, placed, f"{band.name} on {stock.name} shows under a clear finish", "a band of the sheet's wood"
            )
        elif band.width < placed.part.blank.thickness:
            what = f"{band.name} is {band.width:.4g} mm wide, narrower than the edge of {stock.name}"
            yield _banded(subject, placed, what, "a wider band beside the usual one under the role edge_band")


def _other(sheet: Sheet, band: EdgeBand) -> bool:
    """True for plywood that is named after another wood than the band's."""
    return sheet.material == "plywood" and not sheet.name.startswith("plywood") and not band.matches(sheet.name)


def _banded(subject: Subject, placed: Placed, message: str, remedy: str) -> Finding:
    return subject.finding(
        code="looks.band",
        severity=Severity.WARN,
        path=placed.path,
        message=message,
        source=BAND_SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="looks.faces",
    what="no paint-grade sheet shows under a clear finish, bands are of the wood that they edge",
    needs=("faces that show and their finish", "bands", "sheets of the stock"),
    source=SOURCE,
    run=run,
)
