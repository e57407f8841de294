"""A standing piece as a lever about the front line of its stand: masses, what is in its drawers, what hangs on them.

Every mass at (y, z) holds the piece down with m × lever, lever = (y − front) cos θ − (z − floor) sin θ, where θ is how
far it leans forward. kg, mm; moments in kg·mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from casewright.checks.masses import Mass, Stand, masses, stand, total
from casewright.checks.model import Subject
from casewright.checks.woods import Range, length, timber
from casewright.design.assembly import Motion, MotionKind
from casewright.design.frames import scale

Spans = tuple[Range, Range, Range]
DOOR_SHARE = 0.5  # 16 CFR 1261: enclosed space that does not slide out counts half


@dataclass(frozen=True, slots=True)
class Open:
    """A drawer or door, open: what it weighs with its contents, what it encloses, and where a child hangs on it."""

    motion: Motion
    closed: Mass
    out: Mass
    contents: Mass
    volume: float  # dm³
    hold: tuple[float, float]  # y, z of its front edge when it is open


@dataclass(frozen=True, slots=True)
class Standing:
    """A standing piece: the part that stays, what opens, and where it stands."""

    stand: Stand
    fixed: Mass
    opens: tuple[Open, ...]

    @property
    def mass(self) -> float:
        """Mass of the empty piece, kg."""
        return self.fixed.mass + sum(o.closed.mass for o in self.opens)

    @property
    def volume(self) -> float:
        """Enclosed storage, dm³."""
        return sum(o.volume for o in self.opens)

    def lever(self, y: float, z: float, lean: float = 0.0) -> float:
        """Return how far behind the front line something at (y, z) lies when the piece leans `lean` degrees."""
        c, s = math.cos(math.radians(lean)), math.sin(math.radians(lean))
        return (y - self.stand.front) * c - (z - self.stand.floor) * s

    def moment(self, out: Iterable[Open], lean: float = 0.0) -> float:
        """Return what holds the piece down, kg·mm, with these open and filled and the others shut and empty."""
        opened = {o.motion.id for o in out}
        loads = [self.fixed]
        for o in self.opens:
            loads += [o.out, o.contents] if o.motion.id in opened else [o.closed]
        return sum(m.mass * self.lever(m.centre[1], m.centre[2], lean) for m in loads)

    def furthest(self, out: Iterable[Open], lean: float = 0.0) -> float:
        """Return the longest lever in front of the line at which a weight can hang, mm; 0 where none is."""
        return max((-self.lever(*o.hold, lean) for o in out), default=0.0)

    def hung(self, out: tuple[Open, ...], lean: float = 0.0) -> float:
        """Return the greatest weight that can hang on the furthest of these without tipping, kg; below 0 it tips."""
        reach = self.furthest(out, lean)
        return self.moment(out, lean) / reach if reach > 0 else math.inf

    def carpet(self, block: float) -> float:
        """Return how far a block of this height under the rear leans the piece, degrees."""
        depth = self.stand.rear - self.stand.front
        return math.degrees(math.atan2(block, depth)) if depth > 0 else 0.0


def standing(subject: Subject) -> Standing | None:
    """Return the piece as it stands, None where it has no parts."""
    where = stand(subject.piece, subject.cache)
    if where is None:
        return None
    by_path = masses(subject.piece, subject.cache)
    boxes = timber(subject).spans
    opens = tuple(o for m in subject.piece.motions if (o := _opened(subject, m, by_path, boxes)) is not None)
    moving = {path for path in by_path for o in opens if _member(path, o.motion)}
    return Standing(stand=where, fixed=total(m for path, m in by_path.items() if path not in moving), opens=opens)


def _member(path: str, motion: Motion) -> bool:
    return path in motion.members or path.startswith(tuple(f"{m}/" for m in motion.members))


def _opened(subject: Subject, motion: Motion, by_path: dict[str, Mass], boxes: dict[str, Spans]) -> Open | None:
    own = [path for path in by_path if _member(path, motion)]
    wood = [boxes[path] for path in own if path in boxes]
    if not wood:
        return None
    closed = total(by_path[path] for path in own)
    front = min(b[1][0] for b in wood)
    high = max(b[2][1] for b in wood)
    if motion.kind is MotionKind.SLIDE:
        by = scale(motion.direction, motion.reach)
        inside = _drawer_inside(subject, motion, boxes)
        volume = _size(inside) * 1e-6 if inside else 0.0
        filled = Mass(volume * subject.practice["tipping.fill"], _middle(inside) if inside else closed.centre)
        return Open(motion, closed, closed.moved(by), filled.moved(by), volume, (front + by[1], high))
    if abs(motion.direction[2]) < 0.5:
        return None  # a lid: it opens upwards
    out = closed.turned(motion.origin, motion.direction, min(90.0, motion.reach))
    width = max(b[0][1] for b in wood) - min(b[0][0] for b in wood)
    nothing = Mass(0.0, out.centre)
    return Open(motion, closed, out, nothing, _behind(motion, wood, boxes), (motion.origin[1] - width, high))


def _drawer_inside(subject: Subject, motion: Motion, boxes: dict[str, Spans]) -> Spans | None:
    """Return the space in a drawer up to the lowest thing over it, less what the rule takes off."""
    g = motion.members[0]
    needed = [f"{g}/{name}" for name in ("side.left", "side.right", "box_front", "box_back", "bottom")]
    if any(path not in boxes for path in needed):
        return None
    left, right, front, back, bottom = (boxes[path] for path in needed)
    x, y, low = (left[0][1], right[0][0]), (front[1][1], back[1][0]), bottom[2][1]
    above = [
        b[2][0]
        for path, b in boxes.items()
        if b[2][0] > low and _overlap(b[0], x) and _overlap(b[1], y) and not _member(path, motion)
    ]
    high = min(above, default=left[2][1]) - subject.practice["tipping.drawer_less"]
    return (x, y, (low, high)) if high > low else None


def _overlap(a: Range, b: Range) -> bool:
    return min(a[1], b[1]) - max(a[0], b[0]) > 1.0


def _behind(motion: Motion, wood: list[Spans], boxes: dict[str, Spans]) -> float:
    """Return what a door encloses, dm³: half of its height × width × the depth to the back."""
    x = (min(b[0][0] for b in wood), max(b[0][1] for b in wood))
    z = (min(b[2][0] for b in wood), max(b[2][1] for b in wood))
    rear = max(b[1][1] for b in wood)
    backs = [b[1][0] for path, b in boxes.items() if path.rpartition("/")[2].startswith("back") and b[1][0] > rear]
    return DOOR_SHARE * length(x) * length(z) * (min(backs) - rear) * 1e-6 if backs else 0.0


def _size(s: Spans) -> float:
    return length(s[0]) * length(s[1]) * length(s[2])


def _middle(s: Spans) -> tuple[float, float, float]:
    return (sum(s[0]) / 2, sum(s[1]) / 2, sum(s[2]) / 2)


def drawers(opens: Iterable[Open]) -> Iterator[Open]:
    """Yield what slides out."""
    return (o for o in opens if o.motion.kind is MotionKind.SLIDE)
