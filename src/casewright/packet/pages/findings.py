"""The findings, worst first, with what to do; accepted ones with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.findings import Finding, Severity
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import Printer, decimal

WORDS = {Severity.STOP: "stops the work", Severity.WARN: "change it", Severity.NOTE: "worth knowing"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingLine:
    """One finding as texts."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """The context of the findings."""

    state: str
    lines: tuple[FindingLine, ...]


def findings(setting: Setting) -> Findings:
    """Return the context of the findings."""
    lines = tuple(_line(f, setting.printer) for f in setting.project.findings)
    return Findings(state=setting.frame.state, lines=lines)


def _line(f: Finding, printer: Printer) -> FindingLine:
    return FindingLine(
        severity=f.severity.value,
        means=WORDS[f.severity],
        path=f.path,
        message=f.message,
        numbers=_numbers(f, printer),
        source=f.source,
        remedy=f.remedy,
        place=f.place,
        accepted=f.accepted,
        code=f.code,
    )


def _numbers(f: Finding, printer: Printer) -> str:
    shown = [
        f"{what} {_value(v, f.unit, printer)}" for what, v in (("is", f.value), ("limit", f.limit)) if v is not None
    ]
    return ", ".join(shown)


def _value(value: float, unit: str, printer: Printer) -> str:
    if unit == "mm":
        return printer.measured(value)
    return f"{decimal(value, 2)}{'°' if unit == 'deg' else f' {unit}' if unit else ''}"
