"""Pages to PDF: the contexts go as JSON to the typst templates beside this module.

Fonts come from this package alone, the clock from the caller's date, so the same contexts are the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from datetime import UTC, datetime
from importlib.resources import as_file, files
from typing import Any, Final

from casewright.packet.pages.setting import PageFrame

STANDARD: Final = "ua-1"  # PDF/UA-1: tagged, every picture with an alternative text


def typeset(frame: PageFrame, pages: Iterable[tuple[str, Any]]) -> bytes:
    """Return the PDF of pages, each (name of its template, context record)."""
    import typst  # loads slowly, and only packets need it

    data = {"frame": asdict(frame), "pages": [{"kind": kind, **asdict(context)} for kind, context in pages]}
    with (
        as_file(files("casewright.packet") / "templates") as templates,
        as_file(files("casewright.packet") / "fonts") as fonts,
    ):
        pdf: bytes = typst.compile(
            str(templates / "packet.typ"),
            root=str(templates),
            font_paths=[str(fonts)],
            ignore_system_fonts=True,
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=STANDARD,
            timestamp=timestamp(frame.date),
        )
    return pdf


def timestamp(date: str) -> datetime:
    """Return the moment that a packet is stamped with: the start of its date, or of 1970 where it is no ISO date."""
    try:
        return datetime.fromisoformat(date).replace(tzinfo=UTC)
    except ValueError:
        return datetime.fromtimestamp(0, UTC)
