"""Slots that strengthen a mitred end: for a spline in the mitred face, and for a key across the corner.

Key: n unit normal of the mitre, off the piece; r along the mitred face, from one side to the other; t across it,
from the `level` face inwards; o the axis that r crosses.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

from casewright.design.blanks import Blank, Face, Turn
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import PROUD
from casewright.design.features.shaping import EndCut, end_cut_from_normal
from casewright.design.frames import Frame, Vec, X, Y, Z, add, cross, dot, scale, unit
from casewright.design.outlines import rectangle
from casewright.design.volumes import Prism, Volume
from casewright.units.grid import record

AXES = (X, Y, Z)


@record
class MitreSlot:
    """A slot in a mitred face for a spline, square to the mitre.

    The mitre is given as an `EndCut` gives it. The slot keeps to `level`, a face or edge: its middle lies `offset`
    from it, measured on the mitred face. It is `width` wide and `depth` deep, and runs from side to side but for
    `stop0` and `stop1` at the low and high one.
    """

    face: Face
    at: float
    mitre: float
    bevel: float
    level: Face
    offset: float
    width: float
    depth: float
    stop0: float = 0.0
    stop1: float = 0.0
    made_at: MadeAt = MadeAt.BENCH
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a slot without size, or one that keeps to an end."""
        if self.level.axis == 0 or self.width <= 0 or self.depth <= 0:
            raise ValueError("a mitre slot keeps to a face or edge and needs a width and a depth")

    def axis(self, blank: Blank) -> tuple[Vec, Vec]:
        """Return (middle of its mouth on the mitred face, unit direction into the wood), blank frame."""
        p = _plane(self, blank)
        return p.middle, scale(p.n, -1.0)

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One box into the mitred face."""
        p = _plane(self, blank)
        size, slope, middle = blank.size[p.o], p.r[p.o], p.middle[p.o]
        # Past an open side by so much that the slanting floor leaves no wood there.
        past = PROUD + 2 * (self.depth + self.width) + blank.width + blank.thickness
        low = (self.stop0 - middle) / slope if self.stop0 else -middle / slope - past
        high = (size - self.stop1 - middle) / slope if self.stop1 else (size - middle) / slope + past
        into = scale(p.n, -1.0)
        frame = Frame(origin=add(p.middle, scale(p.n, PROUD)), x=p.r, y=unit(cross(into, p.r)))
        outline = rectangle(low, -self.width / 2, high, self.width / 2)
        return (Prism(frame=frame, outline=outline, height=self.depth + PROUD),)

    def carry(self, turn: Turn, blank: Blank) -> MitreSlot:
        """Carry the mitre, the level and the stops."""
        run = turn.order.index(3 - self.level.axis)
        stops = (self.stop1, self.stop0) if turn.flip[run] else (self.stop0, self.stop1)
        return _carried(self, turn, blank, stop0=stops[0], stop1=stops[1])

    def describe(self) -> str:
        """The trade's name."""
        return "spline slot"


@record
class KeySlot:
    """One part's share of a slot sawn across a glued mitred corner, for a key.

    The mitre and `level`, `offset`, `width` are those of a `MitreSlot`. The slot comes in from the outer corner, on
    the side `outer`, and its floor lies `depth` from that corner along the mitre, square to it.
    """

    face: Face
    at: float
    mitre: float
    bevel: float
    level: Face
    offset: float
    width: float
    depth: float
    outer: Face
    made_at: MadeAt = MadeAt.ASSEMBLY
    joint: str = field(default="", compare=False)

    def validate(self) -> None:
        """Refuse a key without size, or on an end that is square where the key would come in."""
        if 0 in (self.level.axis, self.outer.axis) or self.level.axis == self.outer.axis:
            raise ValueError("a key keeps to a face or edge and comes in from the side next to it")
        if self.width <= 0 or self.depth <= 0 or abs(_normal(self)[self.outer.axis]) < 1e-6:
            raise ValueError("a key needs a width, a depth and a mitred corner")

    def lower(self, blank: Blank) -> tuple[Volume, ...]:
        """One box along the mitre from the outer corner to the floor."""
        p = _plane(self, blank)
        outside = blank.size[p.o] if self.outer.high else 0.0
        corner = add(p.middle, scale(p.r, (outside - p.middle[p.o]) / p.r[p.o]))
        inwards = scale(p.r, -1.0) if self.outer.high else p.r
        # As far into the wood as the floor reaches before it leaves at the outer side.
        reach = self.depth * abs(inwards[p.o] / p.n[p.o]) + PROUD
        frame = Frame(origin=add(corner, scale(inwards, -PROUD)), x=p.n, y=unit(cross(inwards, p.n)))
        outline = rectangle(-reach, -self.width / 2, PROUD, self.width / 2)
        return (Prism(frame=frame, outline=outline, height=self.depth + PROUD),)

    def carry(self, turn: Turn, blank: Blank) -> KeySlot:
        """Carry the mitre, the level and the outer side."""
        return _carried(self, turn, blank, outer=turn.face(self.outer))

    def describe(self) -> str:
        """The trade's name."""
        return "key slot"


Slot = TypeVar("Slot", MitreSlot, KeySlot)


@dataclass(frozen=True, slots=True)
class _Plane:
    """The mitred face of a blank, and the middle of a slot in it."""

    n: Vec
    r: Vec
    o: int
    middle: Vec


def _plane(slot: MitreSlot | KeySlot, blank: Blank) -> _Plane:
    n, level = _normal(slot), slot.level.axis
    o = 3 - level
    r = unit(cross(n, AXES[level]))
    r = r if r[o] > 0 else scale(r, -1.0)
    t = unit(cross(n, r))
    inward = blank.inward(slot.level)
    t = t if dot(t, inward) > 0 else scale(t, -1.0)
    centre: Vec = (slot.at, blank.width / 2, blank.thickness / 2)
    from_centre = slot.offset - blank.size[level] / 2 / dot(t, inward)
    return _Plane(n=n, r=r, o=o, middle=add(centre, scale(t, from_centre)))


def _normal(slot: MitreSlot | KeySlot) -> Vec:
    return EndCut(face=slot.face, at=slot.at, mitre=slot.mitre, bevel=slot.bevel).normal()


def _carried(slot: Slot, turn: Turn, blank: Blank, **own: Face | float) -> Slot:
    """Return a slot carried through a turn, mitre and level; `own` are its other fields, carried already."""
    at = blank.length - slot.at if turn.flip[0] else slot.at
    cut = end_cut_from_normal(turn.vector(_normal(slot)), at)
    level = turn.face(slot.level)
    return replace(slot, face=cut.face, at=cut.at, mitre=cut.mitre, bevel=cut.bevel, level=level, **own)  # type: ignore[arg-type]
