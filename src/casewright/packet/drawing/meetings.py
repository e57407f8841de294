"""Where other parts meet a part with nothing cut there to show it: layout lines for whoever drills, glues or clamps.

A butted bottom, a stretcher, a block that is glued on leave no mark on the part that they stand against. Of every
joint that a part has, the other part's blank is carried into the part's own blank; where it lies flat against one of
the faces without reaching into it, and neither a hole nor a cut of that face finds its place, it is one of these.
What covers a face, or a whole strip along a border, needs no line: it is flush.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.cuts import RectCut
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole
from casewright.design.features.openings import Recess
from casewright.design.frames import Vec
from casewright.design.parts import Part, Placed
from casewright.units.grid import snap

TOUCHING = 0.05  # mm between faces that lie against each other
SQUARE = 0.9999  # cosine: parts that stand more askew have no layout line along an edge
LEAST = 3.0  # mm: what overlaps by less is no seat
FLUSH = 0.5  # mm from a border: flush with it

Box = tuple[float, float, float, float]  # u0 v0 u1 v1 on a face


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """The seat of another part on a face, in (u, v) of it, mm: its mark and its name without left and right."""

    face: Face
    box: Box
    mark: str
    name: str

    @property
    def narrowest(self) -> float:
        """The shorter side of the seat, mm."""
        u0, v0, u1, v1 = self.box
        return min(u1 - u0, v1 - v0)

    def holds(self, at: tuple[float, float]) -> bool:
        """True where a point of the face lies within the seat."""
        u0, v0, u1, v1 = self.box
        return u0 < at[0] < u1 and v0 < at[1] < v1

    def borders(self, other: Meeting) -> bool:
        """True where the seat has a stretch of border in common with another one on its face."""
        if other is self or other.face is not self.face:
            return False
        mine, its = self.box, other.box
        for i in (0, 1):
            along = min(mine[3 - i], its[3 - i]) - max(mine[1 - i], its[1 - i])
            if along > FLUSH and any(abs(a - b) <= FLUSH for a in mine[i::2] for b in its[i::2]):
                return True
        return False

    def lines(self, part: Part) -> list[tuple[Vec, Vec]]:
        """Return the sides of the seat that nothing else shows, as lines from point to point of the blank."""
        u0, v0, u1, v1 = self.box
        sides = [((u, v0), (u, v1)) for u in self._free(part, 0)] + [((u0, v), (u1, v)) for v in self._free(part, 1)]
        return [(part.blank.point(self.face, a), part.blank.point(self.face, b)) for a, b in sides]

    def located(self, part: Part) -> tuple[tuple[int, float], ...]:
        """Return where the seat is marked out, (axis, mm) along the blank: one side for each direction that has any."""
        free = [(axis, self._free(part, i)) for i, axis in enumerate(self.face.uv_axes)]
        return tuple((axis, sides[0]) for axis, sides in free if sides)

    def _free(self, part: Part, i: int) -> list[float]:
        """Return the sides along u (0) or v (1) that are neither borders of the face nor walls of a cut."""
        size = part.blank.size[self.face.uv_axes[i]]
        made = (f for f in part.features if f.face is self.face and f.made_at is MadeAt.BENCH)
        shown = [0.0, size, *(box[j] for f in made for box in _mouths(f) for j in (i, i + 2))]
        return [mm for mm in (self.box[i], self.box[i + 2]) if all(abs(mm - other) > FLUSH for other in shown)]


def meetings(
    placed: Placed, turn: Turn, piece: PieceDesign, name_of: Callable[[Placed], tuple[str, str] | None]
) -> tuple[Meeting, ...]:
    """Return where other parts of a piece meet a part, in its blank turned by `turn`, by face and place.

    `name_of` gives mark and name of what is met; what has none is left out.
    """
    part, by_path = placed.part, piece.by_path()
    if part.blank.section is not None:
        return ()  # mouldings go where what they lie on says
    found: dict[tuple[Face, Box], Meeting] = {}
    for path, joint in _joined(placed.path, piece).items():
        other = by_path.get(path)
        if other is None or not isinstance(other.thing, Part):
            continue
        seat, named = _seat(placed, other), name_of(other)
        if seat is None or named is None or _is_found_by_a_cut(part, joint, *seat):
            continue
        face, box = _turned(*seat, turn, part.blank)
        found.setdefault((face, box), Meeting(face=face, box=box, mark=named[0], name=named[1]))
    return tuple(sorted(found.values(), key=lambda m: (m.face.value, m.box)))


def common(occurrences: Sequence[tuple[Meeting, ...]]) -> tuple[Meeting, ...]:
    """Return what meets every occurrence of a mark at the same place, with the marks of all that do.

    What meets only some of them is no line for the whole mark: its occurrences are not told apart before assembly.
    """
    places = [{(m.face, m.box): m for m in met} for met in occurrences]
    out = []
    for key, first in places[0].items():
        at = [met[key] for met in places if key in met]
        if len(at) == len(places):
            marks = sorted({m.mark for m in at}, key=lambda mark: (len(mark), mark))
            out.append(replace(first, mark=" or ".join(marks)))
    return tuple(out)


def _joined(path: str, piece: PieceDesign) -> dict[str, str]:
    """Return what a part is joined to, with the id of a joint."""
    return {j.b if j.a == path else j.a: j.id for j in piece.joints if path in (j.a, j.b)}


def _seat(placed: Placed, other: Placed) -> tuple[Face, Box] | None:
    """Return the face that another part lies flat against, and where; None where it does not, or takes all of it."""
    size, box = placed.part.blank.size, _box_in(placed, other)
    if box is None:
        return None
    low, high = box
    for face in Face:
        gap = low[face.axis] - size[face.axis] if face.high else high[face.axis]
        if abs(gap) > TOUCHING:
            continue
        spans = [(snap(max(0.0, low[a])), snap(min(size[a], high[a])), size[a]) for a in face.uv_axes]
        if face.axis == Face.END0.axis or any(b - a < LEAST for a, b, _ in spans) or _is_plain(spans):
            return None
        (u0, u1, _), (v0, v1, _) = spans
        return face, (u0, v0, u1, v1)
    return None


def _is_plain(spans: list[tuple[float, float, float]]) -> bool:
    """True where a seat needs no line: it takes all of one direction and starts or ends with the other's border."""
    ends = [(a <= FLUSH) + (b >= full - FLUSH) for a, b, full in spans]
    return max(ends) == 2 and min(ends) >= 1


def _box_in(placed: Placed, other: Placed) -> tuple[Vec, Vec] | None:
    """Return another part's blank as a box (low, high) in a part's blank; None where it does not stand square to it."""
    relative = placed.frame.relative(other.frame)
    if any(max(abs(c) for c in axis) < SQUARE for axis in (relative.x, relative.y)):
        return None
    one, two = relative.origin, relative.point(other.part.blank.size)
    low, high = ([f(a, b) for a, b in zip(one, two, strict=True)] for f in (min, max))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _is_found_by_a_cut(part: Part, joint: str, face: Face, seat: Box) -> bool:
    """True where what the bench makes in the face for the joint lies within the seat: that finds the place as well."""
    made = (f for f in part.features if f.face is face and f.made_at is MadeAt.BENCH and _is_of(f, joint))
    return any(_lies_in(box, seat) for f in made for box in _mouths(f))


def _is_of(feature: Feature, joint: str) -> bool:
    """True where a joint asked for a feature; features name it within their piece ("@/shelf[r1]~side.left")."""
    return feature.joint.partition("/")[2] == joint.partition("/")[2]


def _mouths(feature: Feature) -> list[Box]:
    """Return what a feature takes of its face, as boxes in (u, v)."""
    match feature:
        case Hole():
            return [(feature.u, feature.v, feature.u, feature.v)]
        case HoleRow():
            return [(hole.u, hole.v, hole.u, hole.v) for hole in feature.holes]
        case RectCut():
            return [(feature.u0, feature.v0, feature.u1, feature.v1)]
        case Recess():
            return [feature.outline.box]
    return []


def _lies_in(a: Box, b: Box) -> bool:
    low = a[0] >= b[0] - TOUCHING and a[1] >= b[1] - TOUCHING
    return low and a[2] <= b[2] + TOUCHING and a[3] <= b[3] + TOUCHING


def _turned(face: Face, box: Box, turn: Turn, blank: Blank) -> tuple[Face, Box]:
    """Return a seat as it lies on a turned blank."""
    (u0, v0), (u1, v1) = (turn.place(face, at, blank) for at in ((box[0], box[1]), (box[2], box[3])))
    u, v = sorted((snap(u0), snap(u1))), sorted((snap(v0), snap(v1)))
    return turn.face(face), (u[0], v[0], u[1], v[1])
