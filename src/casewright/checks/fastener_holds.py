"""Where a fastener stands in the parts that it holds: the stretch of its axis in each, and the faces around it.

Stretches are those of the blanks (cut sizes); what features take from them is the business of `fastener_meets`.
Lengths in mm along the axis, counted from the top of the head.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.model import Subject
from casewright.design.blanks import Face, face_of
from casewright.design.frames import Vec, add, scale
from casewright.design.parts import Fastener, Form, Intent, Part, Placed
from casewright.stock import Item
from casewright.stock.model import Screw


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One fastener in one part: the axis enters the blank at `enter` by a face and would leave it at `leave`.

    `start` and `way` are the top of the head and the driving direction in the frame of the blank.
    """

    fastener: Fastener
    item: Item | None
    placed: Placed
    enter: float
    leave: float
    entry: Face
    exit: Face
    start: Vec
    way: Vec

    @property
    def part(self) -> Part:
        """The part that is held."""
        return self.placed.part

    @property
    def bite(self) -> float:
        """Length of the fastener in the part, mm."""
        return min(self.leave, self.fastener.length) - max(self.enter, 0.0)

    @property
    def cover(self) -> float:
        """Wood between the point and the face that it is driven towards; below zero where it comes out."""
        return self.leave - self.fastener.length

    @property
    def diameter(self) -> float:
        """Diameter of the shank, mm."""
        return 2 * self.fastener.shank_radius

    @property
    def along_grain(self) -> bool:
        """True where it is driven along the grain (within 30°)."""
        return abs(self.way[0]) > 0.866

    @property
    def into_edge(self) -> bool:
        """True where it is driven in the plane of the part (within 45°): into an edge or end."""
        return abs(self.way[2]) < 0.707

    @property
    def solid(self) -> bool:
        """True for solid wood."""
        return self.part.form is not Form.SHEET

    @property
    def screw(self) -> Screw | None:
        """The screw, None for pins, dowels and the like."""
        return self.item if isinstance(self.item, Screw) else None

    def at(self, s: float) -> Vec:
        """Return a point of the axis in the frame of the blank."""
        return add(self.start, scale(self.way, s))

    def shows(self, face: Face) -> bool:
        """True where a face of the part shows."""
        return any(u.face is face and u.intent is Intent.SHOWS for u in self.part.faces)


def holds(subject: Subject) -> tuple[tuple[Fastener, tuple[Hold, ...]], ...]:
    """Return every fastener with the parts that its shank passes, from head to point; worked out once."""
    return subject.once("holds", lambda: tuple(_all(subject)))


def _all(subject: Subject) -> Iterator[tuple[Fastener, tuple[Hold, ...]]]:
    for fastener in subject.piece.fasteners:
        found = [_hold(subject, fastener, subject.by_path[path]) for path in fastener.parts if path in subject.by_path]
        passed = [h for h in found if h is not None and h.bite > 0.05]
        yield fastener, tuple(sorted(passed, key=lambda h: h.leave))


def _hold(subject: Subject, fastener: Fastener, placed: Placed) -> Hold | None:
    if not isinstance(placed.thing, Part):
        return None
    start = placed.frame.local_point(fastener.frame.origin)
    way = placed.frame.local_direction(fastener.frame.z)
    enter, leave = float("-inf"), float("inf")
    entry = leaving = Face.FACE0
    for axis, size in enumerate(placed.thing.blank.size):
        if abs(way[axis]) < 1e-9:
            if not 0.0 <= start[axis] <= size:
                return None
            continue
        near, far = sorted((-start[axis] / way[axis], (size - start[axis]) / way[axis]))
        if near > enter:
            enter, entry = near, face_of(axis, way[axis] < 0)
        if far < leave:
            leave, leaving = far, face_of(axis, way[axis] > 0)
    if leave <= enter:
        return None
    return Hold(
        fastener=fastener,
        item=subject.items.get(fastener.item),
        placed=placed,
        enter=enter,
        leave=leave,
        entry=entry,
        exit=leaving,
        start=start,
        way=way,
    )
