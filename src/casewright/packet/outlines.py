"""The outlines of a mark at full size as DXF files: for a template, a router, or another program."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.design.blanks import Face
from casewright.design.features.base import MadeAt
from casewright.packet.dxf import Units, outline_dxf
from casewright.packet.parts_list import PartRow

FOLDER = "outlines"


def part_outlines(row: PartRow, units: Units) -> Iterator[tuple[str, bytes]]:
    """Yield (name with folder, content) for each broad face that something is made from, or for face 1 alone."""
    worked = {f.face for f in row.part.features if f.made_at is MadeAt.BENCH}
    faces = [face for face in (Face.FACE0, Face.FACE1) if face in worked] or [Face.FACE1]
    for face in faces:
        yield f"{FOLDER}/{row.mark}-{face.value}.dxf", outline_dxf(row.part, face, units)
