"""The built-in kinds of piece that can be ordered: one file each, one line here."""

from casewright.order.model import PieceKind
from casewright.order.pieces.bedside import BEDSIDE
from casewright.order.pieces.case import CASE

PIECES: tuple[PieceKind, ...] = (BEDSIDE, CASE)
