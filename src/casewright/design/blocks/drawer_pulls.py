"""Where the pulls of a drawer front stand, and their bolts through front and box.

Common practice. The base of a pull lies within the field of its front: on a plain slab all of it, else what an applied
frame, or stiles and rails, leave free. Its bolts are turned from inside the box, so they stay off its walls and bottom
by what a driver takes. Of the pulls of the role the first is taken that has room.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.drawer_front import Front
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.blocks.hardware import pull_hardware
from casewright.design.blocks.in_line import pull_in_line
from casewright.design.draft import Draft
from casewright.design.frames import Frame
from casewright.design.joints.others import ThroughBolt
from casewright.design.kit import Kit
from casewright.design.sites import Span, world_box
from casewright.findings import Severity
from casewright.stock.model import Pull

NARROW = 12.0  # mm beside a screw: half of the narrowest driver, an offset ratchet
APART = 30.0  # mm between two pulls on one front: two hands go there


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lack:
    """What a pull does not have room for: in the field of the front or inside the box, along an axis, mm."""

    inside: bool
    axis: str
    need: float
    room: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """Where the bases of pulls may lie on a front, and where bolts may come out in its box: (x, z) spans, mm."""

    field: tuple[Span, Span]
    bolts: tuple[Span, Span]
    front: Span  # the front across
    edge: float  # mm around a base, half on each side

    def half_distance(self, pull: Pull, count: int, share: float) -> float | None:
        """Return how far `count` pulls stand from the middle of the front, mm; None where they have no room.

        Two stand at their `share` of the front, or as far out as there is room for both.
        """
        middle = sum(self.front) / 2
        most = min(
            sign * (end - middle) - half
            for span, half in ((self.field[0], (pull.base[0] + self.edge) / 2), (self.bolts[0], pull.centres / 2))
            for sign, end in zip((-1, 1), span, strict=True)
        )
        if count == 1:
            return 0.0 if most >= -1e-6 else None
        wanted = min((self.front[1] - self.front[0]) * share / 2, most)
        return wanted if wanted >= (max(pull.base[0], pull.head) + APART) / 2 - 1e-6 else None

    def heights(self, pull: Pull) -> Span:
        """Return the span of z in which a pull has room, its second below its first where it has none."""
        half = (pull.base[1] + self.edge) / 2
        return (max(self.field[1][0] + half, self.bolts[1][0]), min(self.field[1][1] - half, self.bolts[1][1] - half))

    def lacks(self, pull: Pull) -> _Lack:
        """Return what one pull lacks in the middle of the front: the worst of it."""
        (x, z), (bolts_x, _) = self.field, self.bolts
        wide, high = (b + self.edge for b in pull.base)
        low, top = self.heights(pull)
        middle = sum(self.front) / 2
        across = 2 * min(bolts_x[1] - middle, middle - bolts_x[0])
        lacks = (
            _Lack(inside=False, axis="wide", need=wide, room=x[1] - x[0]),
            _Lack(inside=False, axis="high", need=high, room=z[1] - z[0]),
            _Lack(inside=True, axis="wide", need=pull.centres + 2 * NARROW, room=across + 2 * NARROW),
            _Lack(inside=True, axis="high", need=high + NARROW, room=high + NARROW + top - low),
        )
        return max(lacks, key=lambda lack: lack.need - lack.room)


def bolt_pulls(d: Draft, kit: Kit, box: Box, front: Front, spec: DrawerSpec) -> float | None:
    """Bolt the pulls through front and box and return their z; None and a finding where none has room."""
    room = _room(d, box, front, spec)
    fits = next(_fits(d, kit, room, front, spec), None)
    if fits is None:
        _no_room(d, kit, room, front, spec, box.name)
        return None
    pull, off, count = fits
    z = _height(d, box, front, spec, room.heights(pull))
    g = box.name
    places = (
        ((f"{g}/face/pull", "drawer pull", front.middle),)
        if count == 1
        else tuple(
            (f"{g}/face/pull.{hand}", f"drawer pull, {hand}", front.middle + sign * off)
            for sign, hand in ((-1, "left"), (1, "right"))
        )
    )
    for name, label, x in places:
        _bolt(d, kit, box, front, pull, name, label, x, z)
    return z


def _fits(d: Draft, kit: Kit, room: _Room, front: Front, spec: DrawerSpec) -> Iterator[tuple[Pull, float, int]]:
    """Yield each pull of the role that has room, with its distance from the middle (mm) and how many there are."""
    for pull in kit.all("drawer_pull", Pull):
        low, high = room.heights(pull)
        middle = sum(front.place.z) / 2
        # On a plain slab a pull may move up and down; in what frames it, it stays in the middle.
        if low > high + 1e-6 or (spec.front is not FrontKind.SLAB and not low - 1e-6 <= middle <= high + 1e-6):
            continue
        for count in spec.pulls:
            off = room.half_distance(pull, count, d.practice["pull.share"])
            if off is not None:
                yield pull, off, count


def _room(d: Draft, box: Box, front: Front, spec: DrawerSpec) -> _Room:
    inside = (box.outer(-1, box.wood) + NARROW, box.outer(1, box.wood) - NARROW)
    floor = box.z[0] + box.groove_up + box.bottom
    return _Room(
        field=_field(d, front, box.name),
        bolts=(inside, (floor + NARROW, box.z[1])),
        front=front.place.x,
        edge=d.practice["pull.field_room"],
    )


def _field(d: Draft, front: Front, g: str) -> tuple[Span, Span]:
    """Return what of a front its frame leaves free, (x, z)."""
    x, z = front.place.x, front.place.z
    if front.stiles:
        boxes = [world_box(p) for p in (*front.stiles, *front.rails)]
        return (boxes[0][1][0], boxes[1][0][0]), (boxes[2][1][2], boxes[3][0][2])
    if not d.has(f"{g}/face/applied.left"):
        return x, z
    moulding = d.at(f"{g}/face/applied.left").part.blank.width
    wide, high = (
        (end - start - d.led[f"{g}.applied.{side}"]) / 2 + moulding
        for side, (start, end) in (("length", x), ("height", z))
    )
    return (x[0] + wide, x[1] - wide), (z[0] + high, z[1] - high)


def _height(d: Draft, box: Box, front: Front, spec: DrawerSpec, room: Span) -> float:
    """Return the z of the pull: by practice on a plain slab, in the middle of what frames it; or that of its row."""
    slab, (low, high) = spec.front is FrontKind.SLAB, front.place.z
    own = low + (high - low) * (d.practice["drawer.pull_height"] if slab else 0.5)
    if slab:
        own = min(max(own, room[0]), room[1])
    return pull_in_line(d, f"{box.name}/face/pull", own, (low, high), "drawer", spec.rows, room if slab else None)


def _bolt(d: Draft, kit: Kit, box: Box, front: Front, pull: Pull, name: str, label: str, x: float, z: float) -> None:
    p, face = d.practice, world_box(front.face)[0][1]
    knob = d.place_hardware(
        name, label, pull_hardware(pull), Frame(origin=(x, face, z), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
    )
    d.excluded.append(knob.path)
    inside = box.y[0] + box.wood
    through = inside - face
    bolt = kit.screw("machine", 8, through + 4.0, through + p["pull.thread_most"], role="pull_screw")
    inner = d.at(f"{box.name}/box_front")
    parts = (front.face.path, *((front.block.path,) if front.block is not None else ()), inner.path)
    centres = (x,) if pull.centres == 0 else (x - pull.centres / 2, x + pull.centres / 2)
    for i, cx in enumerate(centres):
        d.joint(
            f"{name}~front[{i + 1}]",
            JointKind.HARDWARE,
            front.face,
            knob,
            (cx, face, z),
            ThroughBolt(bolt=bolt, point=(cx, inside, z), drive=(0.0, -1.0, 0.0), through=parts, hole=pull.hole),
        )


def _no_room(d: Draft, kit: Kit, room: _Room, front: Front, spec: DrawerSpec, g: str) -> None:
    """Find what the first pull of the role lacks: one in the middle, or a second beside it."""
    pull = kit.all("drawer_pull", Pull)[0]
    lack = room.lacks(pull)
    if lack.need <= lack.room + 1e-6:
        # One alone would have room: it is the number that was asked for.
        wide = pull.base[0]
        need = 2 * wide + APART + room.edge
        got = min(room.field[0][1] - room.field[0][0], room.bolts[0][1] - room.bolts[0][0] + wide - pull.centres)
        lack, what = _Lack(inside=False, axis="wide", need=need, room=got), "two pulls side by side need"
        remedy = "fronts.pulls = 1, a wider drawer, or a smaller pull for the role drawer_pull"
    else:
        what = "its bolts and a driver beside them need" if lack.inside else "the pull's base and a little room need"
        remedy = f"a smaller pull for the role drawer_pull, or a {'wider' if lack.axis == 'wide' else 'higher'} drawer"
    framed = spec.front is not FrontKind.SLAB
    if framed and not lack.inside:
        remedy += ", or a narrower frame around its field"
    where = "the room inside the box" if lack.inside else "the field inside its frame" if framed else "the front"
    d.find(
        "drawer.pull_field",
        Severity.STOP,
        f"{g}/face" if front.stiles else f"{g}/face/front",
        f"{where} is {lack.room:.1f} mm {lack.axis}; {what} {lack.need:.1f} mm ({pull.name})",
        value=lack.room,
        limit=lack.need,
        source="common practice",
        remedy=remedy,
    )
