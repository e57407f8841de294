"""Errors of the files that a user writes.

FileError       a file cannot be read or holds something that is wrong; carries every finding
├── ShopError   (here) the shop file
└── OrderError  (casewright.order.errors) the order file
"""

from __future__ import annotations

from casewright.findings import Finding


class FileError(Exception):
    """A file cannot be used; `findings` say why, each with its place. Exit code 2 of the command line."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        super().__init__("\n".join(message_line(f) for f in findings))


class ShopError(FileError):
    """The shop file cannot be used."""


def message_line(finding: Finding) -> str:
    """Return one finding as one line: place, key path, message, remedy."""
    head = " ".join(part for part in (finding.place, finding.path) if part)
    tail = f"; {finding.remedy}" if finding.remedy else ""
    return f"{head}: {finding.message}{tail}" if head else f"{finding.message}{tail}"
