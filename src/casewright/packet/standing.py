"""How a mark's part lies in its drawing: measured from its lower end or edge as it stands in the piece.

Parts that meet are marked with one setting of a gauge only where they are measured from the same side, and mirror
images only from the same end. So of the half turns of its blank a part takes the one that puts end 0, or else edge 0,
at the bottom. A part that lies flat, stands askew or has a bought section stays as it was designed, but a mirror image
that lies flat is turned over, so that it is measured from the mirrored end and edge. Nothing is measured from an edge
or end that is trimmed off later: where the surplus stands over at edge 0 or end 0 the part is turned over.
"""

from __future__ import annotations

from dataclasses import replace

from casewright.design.blanks import HALF_TURNS, IDENTITY, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.frames import Vec
from casewright.design.parts import Intent, Part, Placed

DOWN: Vec = (0.0, 0.0, -1.0)
FORWARDS: Vec = (0.0, -1.0, 0.0)
ACROSS: Vec = (1.0, 0.0, 0.0)
TURNED_OVER = Turn(order=(0, 1, 2), flip=(False, False, True))  # the mirror image through the thickness
SQUARE = 0.999  # cosine: a face that looks this nearly along a direction looks along it


def bench_part(part: Part) -> Part:
    """Return a part as it leaves the bench, without what is made at assembly."""
    return replace(part, features=tuple(f for f in part.features if f.made_at is MadeAt.BENCH))


def as_it_stands(placed: Placed, twin: Part | None = None) -> Part:
    """Return a placed part as `standing_turn` turns it, or as a twin that lies flat has it in the mirror.

    `twin` is the part, as it lies, that this one is the mirror image of.
    """
    turn = standing_turn(placed)
    if twin is not None and _lies_flat(placed):
        mirrored = bench_part(twin.turned(TURNED_OVER)).key
        bench = bench_part(placed.part)
        turn = next((t for t in HALF_TURNS if bench.turned(t).key == mirrored), turn)
    return placed.part.turned(turn) if any(turn.flip) else placed.part


def _lies_flat(placed: Placed) -> bool:
    bottom = _face(placed, DOWN)
    return bottom is not None and bottom.axis == Face.FACE0.axis and placed.part.blank.section is None


def standing_turn(placed: Placed) -> Turn:
    """Return the half turn of a placed part's blank that puts end 0, or else edge 0, at the bottom.

    The edge of an upright part that looks to the front is its edge 0, as it is of what lies flat: a row of dowels is
    bored in both with one setting. One with its edges to left and right keeps them, so that its mirror image is
    measured from the mirrored edge, unless edge 0 is one that is trimmed off later. A part with its edges
    up and down and its ends to left and right shows its main face with the top up; else it keeps its ends.
    """
    bottom = _face(placed, DOWN)
    if bottom is None or bottom.axis == Face.FACE0.axis or placed.part.blank.section is not None:
        return IDENTITY
    ways = [t for t in HALF_TURNS if not t.face(bottom).high]
    over = placed.part.allowance.at
    stay = [t for t in ways if over is None or over.axis == bottom.axis or t.face(over).high]
    return next((t for t in stay if _keeps(t, placed, bottom)), stay[0])


def main_face(part: Part) -> Face:
    """Return the face that is looked at first: where most is made at the bench, and of two alike the one that shows."""
    shown = {use.face for use in part.faces if use.intent is Intent.SHOWS}

    def weight(face: Face) -> tuple[int, bool, bool]:
        made = sum(f.face is face and f.made_at is MadeAt.BENCH for f in part.features)
        return (made, face in shown, face is Face.FACE1)

    return max((Face.FACE1, Face.FACE0), key=weight)


def _keeps(turn: Turn, placed: Placed, bottom: Face) -> bool:
    if bottom.axis == Face.END0.axis:
        front = _face(placed, FORWARDS)
        if front is not None and front.axis == Face.EDGE0.axis:
            return not turn.face(front).high
        return not turn.flip[Face.EDGE0.axis]
    side = _face(placed, ACROSS)
    if side is not None and side.axis == Face.END0.axis:
        return turn.face(main_face(placed.part)) is Face.FACE1
    return not turn.flip[Face.END0.axis]


def _face(placed: Placed, way: Vec) -> Face | None:
    """Return the face that looks along a direction of the piece; None where none does."""
    square = max(abs(c) for c in placed.frame.local_direction(way)) > SQUARE
    return placed.face_towards(way) if square else None
