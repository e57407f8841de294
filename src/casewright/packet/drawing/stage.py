"""What the drawings of one piece are made with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.printed_sizes import printed_sizes
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.subject import SizeWords
from casewright.units import LengthStyle, Role, format_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What drawings of a piece are made with; `marks` are by path."""

    piece: PieceDesign
    cache: Cache
    style: LengthStyle
    convention: Convention
    marks: Mapping[str, str]

    def words(self, path: str) -> SizeWords:
        """Return how the sizes of one part are printed."""
        key = (self.piece.sizes, self.piece.fits, self.piece.chains, self.style)
        printed = self.cache.made("printed sizes", key, lambda: printed_sizes(self.piece, self.style))
        return SizeWords(style=self.style, sizes=self.piece.sizes, printed=printed, path=path)

    def printed(self, mm: float) -> str:
        """Return a size without its unit."""
        return format_length(mm, Role.FREE, self.style, unit=False)
