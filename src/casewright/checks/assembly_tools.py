"""A driver or nailer reaches each fastener when its joint is closed: the room behind its head, along its axis.

A tool is a bit and a body on the fastener's axis. The usual one is tried first, then a right-angle head, then an offset
ratchet; what none of them reaches is stopped. A nail set may lean: small pins go in at a slant as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from casewright.checks.assembly_state import Scene, scenes
from casewright.checks.model import Check, Subject
from casewright.checks.standing import met_boxes, standing
from casewright.design.frames import Frame, add, cosd, scale, sind, unit
from casewright.design.parts import Fastener, Part, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import Boxes, is_under, is_under_any
from casewright.solids.fastened import cylinder_box, enters
from casewright.stock import Item
from casewright.stock.model import Dowel, Pin, Screw

SOURCE = (
    "common practice: bits of 25, 50, 150 mm before a drill driver of 44 × 180 mm; screwdrivers with shanks of 75 and "
    "150 mm, a stubby one; a right-angle head of 36 × 60 mm, offset ratchet, 24 × 30 mm; pin nailer, nail set that "
    "leans by up to 15°"
)
BIT = 3.5  # mm: radius of a hexagon bit
POINT = 1.5  # mm: radius of the point of a nail set


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A bit and a body behind it, mm: `bit` long and `thin` in radius, then `body` long and `wide` in radius.

    Its first `point` mm taper to the head of the fastener. It may lean by `slant` degrees off the axis, any way.
    """

    name: str
    bit: float
    thin: float
    body: float
    wide: float
    point: float = 0.0
    slant: float = 0.0

    def rooms(self) -> tuple[tuple[float, float, float], ...]:
        """Return what it takes behind the head of a fastener: (start, length, radius) of each stretch, mm."""
        body = (self.bit, self.body, self.wide)
        if self.point > 0:
            return ((0.0, self.point, POINT), (self.point, self.bit - self.point, self.thin), body)
        return ((0.0, self.bit, self.thin), body)


DRIVERS = (
    *(Tool(name="drill driver", bit=bit, thin=BIT, body=180.0, wide=22.0) for bit in (50.0, 150.0, 25.0)),
    *(Tool(name="screwdriver", bit=shank, thin=BIT, body=100.0, wide=14.0) for shank in (75.0, 150.0)),
    Tool(name="stubby screwdriver", bit=25.0, thin=BIT, body=50.0, wide=16.0),
)
TIGHT = (
    *(Tool(name="right-angle head", bit=bit, thin=BIT, body=60.0, wide=18.0) for bit in (25.0, 75.0, 150.0)),
    *(Tool(name="offset ratchet", bit=bit, thin=BIT, body=30.0, wide=12.0) for bit in (25.0, 75.0)),
    Tool(name="offset screwdriver", bit=10.0, thin=BIT, body=20.0, wide=12.0),
)
NAILERS = (
    Tool(name="pin nailer", bit=25.0, thin=6.0, body=120.0, wide=25.0),
    Tool(name="nail set and hammer", bit=110.0, thin=4.0, body=40.0, wide=10.0, point=25.0, slant=15.0),
)
LONGEST, WIDEST = 330.0, 25.0  # mm: the room behind a head that any tool takes
LEANS = 8  # ways for a tool to lean


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each fastener that no tool reaches, and one note for each joint that needs a special one."""
    special: dict[str, tuple[Fastener, Tool]] = {}
    for scene in scenes(subject):
        for fastener in scene.driven:
            item = subject.items.get(fastener.item)
            if isinstance(item, Dowel) or _swings(subject, fastener):
                continue
            usual, others = (NAILERS, ()) if isinstance(item, Pin) else (DRIVERS, TIGHT)
            near = _standing(subject, scene, fastener, _near(subject, fastener))
            if any(_fits(tool, fastener, near, subject) for tool in usual):
                continue
            tool = next((t for t in others if _fits(t, fastener, near, subject)), None)
            if tool is None:
                yield _unreached(subject, scene, fastener, item, near)
            else:
                special.setdefault(fastener.joint, (fastener, tool))
    for joint, (fastener, tool) in special.items():
        yield subject.finding(
            code="tools.special",
            severity=Severity.NOTE,
            path=joint,
            related=(fastener.path,),
            message=f"there is no room for a drill driver: {tool.name} needed",
            source=SOURCE,
            remedy=f"have the {tool.name} ready, or drive it at an earlier step",
        )


def reaches(tools: Sequence[Tool], fastener: Fastener, stays: Sequence[Placed], subject: Subject) -> bool:
    """True where one of the tools comes to the head past what stands there (but the hardware that is held)."""
    there = {p.path for p in stays if isinstance(p.thing, Part) or p.path not in fastener.parts}
    near = [p for p in _near(subject, fastener) if p.path in there]
    return any(_fits(tool, fastener, near, subject) for tool in tools)


def _standing(subject: Subject, scene: Scene, fastener: Fastener, near: Sequence[Placed]) -> list[Placed]:
    """Return what of `near` stands there when a fastener is driven: with its drawer pulled out, its door opened.

    Of what arrives by the same step only what the fastener holds is there yet: which comes first is the maker's
    choice. What it holds is there but for hardware, whose holes are not drawn, and for what is pinned through its
    own moulded face.
    """
    pinned = isinstance(subject.items.get(fastener.item), Pin)
    unit = {p.path for p in _unit(scene, fastener)}
    there = [p for p in near if p.path in scene.standing or p.path in unit]
    there = [p for p in there if p.path not in fastener.parts or (isinstance(p.thing, Part) and not pinned)]
    for motion in subject.piece.motions:
        moving = [is_under_any(p, motion.members) for p in fastener.parts]
        own = any(moving)
        there = [p for p in there if is_under_any(p.path, motion.members) == own or p.path in fastener.parts]
    return there


def _unit(scene: Scene, fastener: Fastener) -> list[Placed]:
    """Return what arrives in one with what a fastener holds."""
    names = [n for n in scene.step.brings if any(is_under(part, n) for part in fastener.parts)]
    return [p for p in scene.arriving if is_under_any(p.path, names)]


def _swings(subject: Subject, fastener: Fastener) -> bool:
    """True for one that ties what moves to what stays: it is driven in a place that the model does not show."""
    for motion in subject.piece.motions:
        moving = [is_under_any(p, motion.members) for p in fastener.parts]
        if any(moving) and not all(moving):
            return True
    return False


def _near(subject: Subject, fastener: Fastener) -> list[Placed]:
    """Return what of the piece comes into the longest and widest room behind the head, with any lean."""
    lean = max((t.slant for t in NAILERS), default=0.0) if _is_pin(subject, fastener) else 0.0
    leaning = max(t.bit + t.body for t in NAILERS) * sind(lean)
    return standing(subject).met_by(_room_behind(fastener, 0.0, LONGEST, WIDEST + leaning))


def _is_pin(subject: Subject, fastener: Fastener) -> bool:
    return isinstance(subject.items.get(fastener.item), Pin)


def _fits(tool: Tool, fastener: Fastener, near: Sequence[Placed], subject: Subject) -> bool:
    """True where a tool has room, upright or at one of the slants that it may have."""
    # The pins of glass beads are driven with the nailer flat on a card on the glass.
    pinned = _is_pin(subject, fastener)
    beside = [p for p in near if not (pinned and p.path.endswith("/glass"))]
    return _has_room(tool, fastener, beside, subject) or any(
        _has_room(tool, leaning, near, subject) for leaning in _leaning(tool, fastener)
    )


def _leaning(tool: Tool, fastener: Fastener) -> Iterator[Fastener]:
    """Yield a fastener with its axis leaned as far as a tool may lean, all round."""
    if not tool.slant:
        return
    f = fastener.frame
    for way in range(LEANS):
        angle = 360.0 * way / LEANS
        across = add(scale(f.x, cosd(angle)), scale(f.y, sind(angle)))
        beside = add(scale(f.x, -sind(angle)), scale(f.y, cosd(angle)))
        # The lean turns the axis towards `across`: `beside` stays where it is.
        turned = unit(add(scale(across, cosd(tool.slant)), scale(f.z, -sind(tool.slant))))
        yield replace(fastener, frame=Frame(origin=f.origin, x=turned, y=beside))


def _has_room(tool: Tool, fastener: Fastener, near: Sequence[Placed], subject: Subject) -> bool:
    if not near:
        return True
    there = standing(subject).of(near)
    for start, length, radius in tool.rooms():
        met = met_boxes(there, _room_behind(fastener, start, length, radius))
        if met:
            room = _behind(fastener, start, length, radius)
            if any(enters(room, near[i], subject.cache) for i in met):
                return False
    return True


def _room_behind(fastener: Fastener, start: float, length: float, radius: float) -> Boxes:
    """Return the box (6,) of a round room behind the head."""
    f = fastener.frame
    near, far = (f.point((0.0, 0.0, -at)) for at in (start, start + length))
    return np.array(cylinder_box(near, far, f.z, radius))


def _behind(fastener: Fastener, start: float, length: float, radius: float) -> Fastener:
    """Return a room behind the head as a fastener: its test against solids is the one of axis arithmetic."""
    f = fastener.frame
    back = Frame(origin=f.point((0.0, 0.0, -start)), x=f.x, y=scale(f.y, -1.0))
    return replace(fastener, frame=back, length=length, shank_radius=radius, head_radius=0.0, head_height=0.0)


def _unreached(
    subject: Subject, scene: Scene, fastener: Fastener, item: Item | None, near: Sequence[Placed]
) -> Finding:
    tool = NAILERS[-1] if isinstance(item, Pin) else TIGHT[-1]
    bodies = [p for p in near if not _fits(tool, fastener, [p], subject)]
    late = [p for p in bodies if p in scene.arriving]
    what = "nailer" if isinstance(item, Pin) else "driver" if isinstance(item, Screw) else "tool"
    remedy = "turn the fastener to the other side, move it, or take another joint"
    if bodies and not late:
        remedy = f"drive it before {bodies[0].path} is brought in, or {remedy}"
    return subject.finding(
        code="tools.reach",
        severity=Severity.STOP,
        path=fastener.path,
        related=tuple(p.path for p in bodies),
        message=f"no {what} reaches it at step {scene.number}"
        + (f": {bodies[0].path} is in the way" if bodies else ""),
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="tools",
    what="a driver or nailer reaches every fastener at the step that closes its joint",
    needs=("steps", "axes of fasteners", "solids of parts and hardware"),
    source=SOURCE,
    run=run,
)
