"""How findings look in a terminal and as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import groupby

import click

from casewright.findings import Finding, Severity
from casewright.units import LengthStyle, Role, format_length

NO_MARKS: Mapping[str, str] = {}
NO_PICTURES: Mapping[Finding, int] = {}
COLOURS = {Severity.STOP: "red", Severity.WARN: "yellow", Severity.NOTE: "cyan"}


def print_findings(
    findings: tuple[Finding, ...],
    style: LengthStyle,
    marks: Mapping[str, str] = NO_MARKS,
    pictures: Mapping[Finding, int] = NO_PICTURES,
) -> None:
    """Print findings by piece, the piece with the worst first.

    `marks` are the labels of parts by their path, `pictures` the numbers of the pictures on the packet's findings page.
    """
    if not findings:
        click.echo("nothing to say: the order is sound")
        return
    by_piece = sorted(findings, key=lambda f: (_rank_of(findings, _piece(f)), _piece(f), f.severity.rank))
    for piece, group in groupby(by_piece, key=_piece):
        click.secho(piece or "order", bold=True)
        for finding in group:
            _print(finding, style, marks, pictures.get(finding, 0))
    counts = {s: sum(f.severity is s and not f.accepted for f in findings) for s in Severity}
    click.echo(", ".join(f"{n} {s.value}" for s, n in counts.items()))


def _piece(finding: Finding) -> str:
    return finding.path.partition("/")[0]


def _rank_of(findings: tuple[Finding, ...], piece: str) -> int:
    return min(f.severity.rank for f in findings if _piece(f) == piece)


def _print(finding: Finding, style: LengthStyle, marks: Mapping[str, str], picture: int) -> None:
    word = f"accepted ({finding.severity.value})" if finding.accepted else finding.severity.value
    where = finding.path.partition("/")[2]
    named = _marks(finding, marks)
    click.echo(
        "  "
        + click.style(word, fg=COLOURS[finding.severity])
        + f" {finding.code}"
        + (f" at {where}" if where else "")
        + (f" (mark {named})" if named else "")
    )
    click.echo(f"    {finding.message}{_numbers(finding, style)}")
    for label, text in (
        ("accepted", finding.accepted),
        ("source", finding.source),
        ("do", finding.remedy),
        ("from", finding.place),
        ("shown", f"page “Findings” of the packet, picture {picture}" if picture else ""),
    ):
        if text:
            click.echo(f"    {label}: {text}")


def _marks(finding: Finding, marks: Mapping[str, str]) -> str:
    """Return the marks of the parts that a finding is about, each once: its own, and those of what it names."""
    return ", ".join(dict.fromkeys(marks[path] for path in (finding.path, *finding.related) if path in marks))


def _numbers(finding: Finding, style: LengthStyle) -> str:
    shown = [
        f"{name} {_value(v, finding.unit, style)}"
        for name, v in (("is", finding.value), ("limit", finding.limit))
        if v is not None
    ]
    return f" ({', '.join(shown)})" if shown else ""


def _value(value: float, unit: str, style: LengthStyle) -> str:
    if unit == "mm":
        shown = f"{value:.2f} mm"
        return shown if style.system == "mm" else f"{shown} = {format_length(value, Role.FREE, style)}"
    return f"{value:g} {unit}".strip()


def findings_json(findings: tuple[Finding, ...]) -> str:
    """Return findings as a JSON array; lengths in mm."""
    rows = [
        {
            "code": f.code,
            "severity": f.severity.value,
            "path": f.path,
            "message": f.message,
            "value": f.value,
            "limit": f.limit,
            "unit": f.unit,
            "source": f.source,
            "remedy": f.remedy,
            "place": f.place,
            "related": list(f.related),
            "accepted": f.accepted,
        }
        for f in findings
    ]
    return json.dumps(rows, indent=1, ensure_ascii=False)
