"""Errors of the packet room.

PacketError      no packet was written, and nothing is left of it
├── OpenStops    findings stop the work, and no draft was asked for; carries them
└── OutputError  the files cannot be written where they were asked for; carries the path
"""

from __future__ import annotations

from pathlib import Path

from casewright.findings import Finding


class PacketError(Exception):
    """No packet was written."""


class OpenStops(PacketError):  # noqa: N818 (reads as what it is)
    """Findings stop the work and nobody accepted them."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        count = f"{len(findings)} findings stop" if len(findings) != 1 else "1 finding stops"
        super().__init__(
            f"{count} the work, the first: {findings[0].path}: {findings[0].message}; "
            "mend or accept what stops, or ask for a draft"
        )


class OutputError(PacketError):
    """The packet cannot be written to `path`."""

    def __init__(self, path: Path, message: str) -> None:
        self.path = path
        super().__init__(f"{path}: {message}")
