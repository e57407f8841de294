"""What is cut to fit: after which step, what is measured then, and how much is left over until then.

A part that must fit something real is cut last (common practice: blocking, drawer boxes, fronts, doors, backs,
mouldings, a top's final size). Which parts those are stands in FITTED, by their paths in a piece; the step is
computed: the last one, before the part itself arrives, that brings something which the part is measured from.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.assembly import PieceDesign
from casewright.design.parts import Part, Placed
from casewright.packet.step_runs import StepRun, step_runs


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Parts that are cut to fit: patterns of paths below the piece.

    `stands` says in words what they are measured from; `sizes` are those held back, of a part's three.
    """

    parts: re.Pattern[str]
    measured_from: re.Pattern[str]
    what: str
    stands: str
    measure: str
    sizes: tuple[int, ...]


_CASE = r"(side\.\w+|bottom|stretcher\.\w+)"
FITTED = (
    Fitted(
        parts=re.compile(r"drawer\[.*\]\.blocking\.\w+"),
        measured_from=re.compile(rf"{_CASE}|frame/.*"),
        what="slide blocking",
        stands="case and face frame stand",
        measure="from the edge of the frame's opening to the side, each side by itself; plane it flush, never proud",
        sizes=(2,),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/(box_front|box_back)"),
        measured_from=re.compile(r"frame/.*|drawer\[.*\]\.blocking\.\w+"),
        what="drawer box, front and back",
        stands="the blocking is in",
        measure="the opening between the blocking, less the slides' room as measured on the slides in hand",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/bottom"),
        measured_from=re.compile(r"frame/.*|drawer\[.*\]\.blocking\.\w+"),
        what="drawer bottom",
        stands="the blocking is in",
        measure="one side and the box's front held together dry: between the floors of the grooves",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/face/front"),
        measured_from=re.compile(r"frame/.*"),
        what="drawer front",
        stands="the face frame stands",
        measure="its opening at both ends and both edges, less the gaps of the opening schedule",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"drawer\[.*\]/face/applied\.\w+"),
        measured_from=re.compile(r"drawer\[.*\]/face/front"),
        what="frame applied on the front",
        stands="the front is cut",
        measure="the front as it was fitted, less its margins",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"door\[.*\]/(stile|rail)\.\w+"),
        measured_from=re.compile(r"frame/.*"),
        what="door stiles and rails",
        stands="the face frame stands",
        measure="the opening's height for the stiles, its width for the rails, less the gaps of the opening schedule",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"back"),
        measured_from=re.compile(_CASE),
        what="back",
        stands="the case is closed",
        measure="between the walls of the rabbets, with the case's diagonals equal",
        sizes=(0, 1),
    ),
    Fitted(
        parts=re.compile(r"(base|crown)/\w+"),
        measured_from=re.compile(rf"{_CASE}|frame/.*"),
        what="mouldings around the case",
        stands="case and face frame stand",
        measure="along the case; cut the mitres first, then the square ends at the wall",
        sizes=(0,),
    ),
    Fitted(
        parts=re.compile(r"top"),
        measured_from=re.compile(rf"{_CASE}|frame/.*|back|crown/.*"),
        what="top",
        stands="case, back and mouldings stand",
        measure="over the case and its mouldings, with the overhangs",
        sizes=(0, 1),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutToFit:
    """One line: the placed parts, the sizes held back (0 length, 1 width, 2 thickness), after which step of the page.

    `after` is 0 where nothing that it is measured from arrives before it.
    """

    what: str
    stands: str
    measure: str
    placed: tuple[Placed, ...]
    sizes: tuple[int, ...]
    after: int
    before: int


def cut_to_fit(piece: PieceDesign) -> tuple[CutToFit, ...]:
    """Return what is cut to fit in a piece, in the order in which it can be measured."""
    runs = step_runs(piece)
    found = (_line(piece, fitted, runs) for fitted in FITTED)
    return tuple(sorted((line for line in found if line is not None), key=lambda line: (line.after, line.before)))


def held_back(pieces: Iterable[PieceDesign]) -> frozenset[str]:
    """Return the paths of all parts that are cut to fit."""
    return frozenset(p.path for piece in pieces for fitted in FITTED for p in _named(piece, fitted.parts))


def _line(piece: PieceDesign, fitted: Fitted, runs: tuple[StepRun, ...]) -> CutToFit | None:
    placed = _named(piece, fitted.parts)
    if not placed:
        return None
    own = frozenset(p.path for p in placed)
    rests = frozenset(p.path for p in _named(piece, fitted.measured_from)) - own
    before = next((run.number for run in runs if run.brings_any(own)), len(runs) + 1)
    after = max((run.number for run in runs if run.number < before and run.brings_any(rests)), default=0)
    return CutToFit(
        what=fitted.what,
        stands=fitted.stands,
        measure=fitted.measure,
        placed=placed,
        sizes=fitted.sizes,
        after=after,
        before=before,
    )


def _named(piece: PieceDesign, pattern: re.Pattern[str]) -> tuple[Placed, ...]:
    start = len(piece.path) + 1
    return tuple(p for p in piece.placed if isinstance(p.thing, Part) and pattern.fullmatch(p.path[start:]))
