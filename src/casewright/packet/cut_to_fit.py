"""What is cut to fit: after which step, what is measured then, and how much is left over until then.

Which parts those are stands in `design/fitted.py`; the step is computed: the last one, before the part itself is cut or
arrives, that brings something which the part is measured from.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.design.fitted import FITTED, Fitted
from casewright.design.parts import Part, PartKind, Placed
from casewright.design.step_runs import StepRun, step_runs

AXES = ("length", "width", "thickness")


@dataclass(frozen=True, slots=True, kw_only=True)
class CutToFit:
    """One line: the placed parts, the sizes held back (0 length, 1 width, 2 thickness), between which numbered steps.

    `after` is 0 where nothing that it is measured from arrives before it; `before` is the step that cuts them, which is
    `at` as well; where none does, `at` is 0, and they are cut before the one that needs them.
    """

    what: str
    stands: str
    measure: str
    placed: tuple[Placed, ...]
    sizes: tuple[int, ...]
    after: int
    before: int
    at: int


def cut_to_fit(piece: PieceDesign) -> tuple[CutToFit, ...]:
    """Return what is cut to fit in a piece, in the order in which it can be measured."""
    runs = step_runs(piece)
    found = (_line(piece, fitted, runs) for fitted in FITTED)
    return tuple(sorted((line for line in found if line is not None), key=lambda line: (line.after, line.before)))


def held_back(pieces: Iterable[PieceDesign]) -> frozenset[str]:
    """Return the paths of all parts that are cut to fit."""
    return frozenset(p.path for piece in pieces for fitted in FITTED for p in _of(piece, fitted.parts))


def sizes_held_back(pieces: Iterable[PieceDesign]) -> dict[str, tuple[int, ...]]:
    """Return which sizes are cut to fit (0 length, 1 width, 2 thickness), by the paths of the parts."""
    return {p.path: fitted.sizes for piece in pieces for fitted in FITTED for p in _of(piece, fitted.parts)}


def _line(piece: PieceDesign, fitted: Fitted, runs: tuple[StepRun, ...]) -> CutToFit | None:
    placed = _of(piece, fitted.parts)
    if not placed:
        return None
    own = frozenset(p.path for p in placed)
    rests = frozenset(p.path for p in _of(piece, fitted.measured_from)) - own
    at = next((run.number for run in runs if own.intersection(run.cuts)), 0)
    before = at or next((run.number for run in runs if run.brings_any(own)), len(runs) + 1)
    after = max((run.number for run in runs if run.number < before and run.brings_any(rests)), default=0)
    return CutToFit(
        what=fitted.what,
        stands=fitted.stands,
        measure=fitted.measure,
        placed=placed,
        sizes=fitted.sizes,
        after=after,
        before=before,
        at=at,
    )


def _of(piece: PieceDesign, kinds: tuple[PartKind, ...]) -> tuple[Placed, ...]:
    return tuple(p for p in piece.placed if isinstance(p.thing, Part) and p.thing.kind in kinds)
