"""The findings, worst first, with what to do; accepted ones with the reason. Those with a place are shown there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from casewright.findings import Finding, Severity
from casewright.packet.drawing.located import located_picture
from casewright.packet.finding_places import FindingPlace, numbered_places
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import Printer, decimal

PICTURE = (64.0, 48.0)  # mm, width and height at most
WORDS = {Severity.STOP: "stops the work", Severity.WARN: "change it", Severity.NOTE: "worth knowing"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingLine:
    """One finding as texts; `picture` is the number of its drawing, 0 where it has none.

    `path` names all places of findings that are alike, as those of a piece and its mirror image are.
    """

    severity: str
    means: str
    path: str
    message: str
    numbers: str
    source: str
    remedy: str
    place: str
    accepted: str
    code: str
    marks: str
    picture: int
    drawing: Drawing | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """The context of the findings."""

    state: str
    lines: tuple[FindingLine, ...]


def findings(setting: Setting) -> Findings:
    """Return the context of the findings."""
    project = setting.project
    numbered = enumerate(numbered_places(project.findings, project.assembly), 1)
    places = {finding: (number, place) for number, (finding, place) in numbered}
    lines = tuple(_line(setting, f, *places.get(f, (0, None))) for f in project.findings)
    return Findings(state=setting.frame.state, lines=merged(lines))


def merged(lines: Iterable[FindingLine]) -> tuple[FindingLine, ...]:
    """Return lines that say the same as one, where the first was, with all paths; a line with a picture is alone."""
    out: dict[object, FindingLine] = {}
    for line in lines:
        key: object = line if line.picture else replace(line, path="")
        same = out.get(key)
        out[key] = line if same is None else replace(same, path=f"{same.path}, {line.path}")
    return tuple(out.values())


def _line(setting: Setting, f: Finding, number: int, place: FindingPlace | None) -> FindingLine:
    return FindingLine(
        severity=f.severity.value,
        means=WORDS[f.severity],
        path=f.path,
        message=setting.printer.in_both(f.message),
        numbers=_numbers(f, setting.printer),
        source=f.source,
        remedy=setting.printer.in_both(f.remedy),
        place=f.place,
        accepted=f.accepted,
        code=f.code,
        marks=", ".join(_marks(setting, place)) if place is not None else "",
        picture=number,
        drawing=_drawing(setting, number, place) if place is not None else None,
    )


def _marks(setting: Setting, place: FindingPlace) -> list[str]:
    marks = setting.marks_of(place.piece)
    return list(dict.fromkeys(marks[path] for path in place.things if path in marks))


def _drawing(setting: Setting, number: int, place: FindingPlace) -> Drawing:
    """Return the picture of a place; findings of one place share it."""
    marks, cache = setting.marks_of(place.piece), setting.project.cache
    key = (place.piece, place.things, place.fasteners, tuple(marks.items()))
    shown = cache.made(
        "located", key, lambda: located_picture(place.piece, place.things, place.fasteners, marks, cache, PICTURE)
    )
    return drawing_of(replace(shown, alt=f"picture {number}: {shown.alt}"))


def _numbers(f: Finding, printer: Printer) -> str:
    shown = [
        f"{what} {_value(v, f.unit, printer)}" for what, v in (("is", f.value), ("limit", f.limit)) if v is not None
    ]
    return ", ".join(shown)


def _value(value: float, unit: str, printer: Printer) -> str:
    if unit == "mm":
        return printer.measured(value)
    return f"{decimal(value, 2)}{'°' if unit == 'deg' else f' {unit}' if unit else ''}"
