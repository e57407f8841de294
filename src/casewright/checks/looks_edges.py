"""No raw edge of a sheet shows: it is banded, or lipped, or (fibreboard alone) sealed and painted.

Nor does the end grain of a plinth's front under a clear finish: it drinks more of it than the face beside it.
"""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.blanks import Face
from casewright.design.parts import FaceUse, Form, Intent, Part, Placed
from casewright.findings import Finding, Severity
from casewright.stock.model import Sheet

SOURCE = (
    "common practice: layers and chips print through any finish; fibreboard takes paint on a sealed edge; end grain "
    "turns dark under a clear finish"
)


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a finding for each edge that shows without a band: a stop for none under clear finish, else a warning."""
    for placed in subject.piece.placed:
        part = placed.thing
        if not isinstance(part, Part):
            continue
        if part.form is not Form.SHEET:
            yield from _end_grain(subject, placed)
            continue
        sheet = subject.items.get(part.stock)
        material = sheet.material if isinstance(sheet, Sheet) else ""
        if isinstance(sheet, Sheet) and (sheet.species or material in ("solid", "glass")):
            continue
        banded = {b.face for b in part.bands}
        for use in part.faces:
            if _raw(use, banded) and not (material in ("mdf", "hardboard") and not use.clear):
                what = f"shows, the raw edge of {material or 'a sheet'}"
                yield _told(subject, placed, use, what, "band or lip the edge, or lay a frame over it")


def _end_grain(subject: Subject, placed: Placed) -> Iterator[Finding]:
    """Yield a warning for each end of a plinth's front of boards that shows under a clear finish."""
    if not placed.path.endswith("/plinth/front"):
        return
    for use in placed.part.faces:
        if use.intent is Intent.SHOWS and use.face.axis == 0 and use.clear:
            what = "shows end grain at the corner, darker than the face beside it"
            yield _told(subject, placed, use, what, 'mitre the corners (joints.plinth = "mitre")')


def _told(subject: Subject, placed: Placed, use: FaceUse, what: str, remedy: str) -> Finding:
    return subject.finding(
        code="looks.raw_edge",
        severity=Severity.WARN,
        path=placed.path,
        message=f"its {use.face.value} {what}",
        source=SOURCE,
        remedy=remedy,
    )


def _raw(use: FaceUse, banded: set[Face]) -> bool:
    return use.intent is Intent.SHOWS and use.face.axis != 2 and use.face not in banded


CHECK = Check(
    code="looks.edge",
    what="no raw edge of a sheet shows",
    needs=("faces that show", "bands", "sheets of the stock"),
    source=SOURCE,
    run=run,
)
