"""`parts.csv`: the parts list for a spreadsheet or another program. Lengths in mm, one line for each mark.

UTF-8 with a byte-order mark, so that spreadsheet programs read it right; commas; a header line. The columns are
described in docs/json.md.
"""

from __future__ import annotations

import csv
import io

from casewright.packet.pages.parts import ends_text
from casewright.packet.parts_list import PartRow
from casewright.packet.printed import decimal

COLUMNS = (
    "mark",
    "name",
    "count",
    "form",
    "stock",
    "stock_name",
    "finished_length_mm",
    "finished_width_mm",
    "finished_thickness_mm",
    "cut_length_mm",
    "cut_width_mm",
    "cut_thickness_mm",
    "rough_length_mm",
    "rough_width_mm",
    "rough_thickness_mm",
    "cut_length",
    "cut_width",
    "cut_thickness",
    "grain",
    "bands",
    "shows",
    "finish",
    "ends",
    "hand",
    "mirror_of",
    "pieces",
)


def parts_csv(rows: tuple[PartRow, ...]) -> bytes:
    """Return the file's bytes."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")  # RFC 4180
    writer.writerow(COLUMNS)
    writer.writerows(_line(row) for row in rows)
    return "\ufeff".encode() + out.getvalue().encode()


def _line(row: PartRow) -> tuple[str, ...]:
    sizes = (*row.finished, *row.cut, *row.rough)
    return (
        row.mark,
        row.name,
        str(row.count),
        row.form.value,
        row.stock,
        row.stock_name,
        *(decimal(v, 4) for v in sizes),
        *(size.text for size in row.printed),
        row.grain,
        "; ".join(row.bands),
        " ".join(row.shows),
        "; ".join(row.finishes),
        ends_text(row),
        row.hand,
        row.mirror_of,
        "; ".join(f"{path} {n}" for path, n in row.counts),
    )
