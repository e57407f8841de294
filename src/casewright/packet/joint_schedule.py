"""The fastener schedule as records: for each kind of joint, what holds it and which holes that asks for.

1. The fasteners of a joint are taken together by item; the holes are the features that carry the joint's id, those of
   the first part it goes through apart from those of the last.
2. Joints with equal items, holes and names of parts are one row. Left and right are one name here ("outer face"), so a
   mirrored pair fills one row, with the marks of each joint beside it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from casewright.cache import Cache
from casewright.design.assembly import Joint, PieceDesign
from casewright.design.blanks import Face
from casewright.design.features.base import Feature, MadeAt
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.openings import Slot
from casewright.design.frames import Vec, scale
from casewright.design.parts import Fastener, Part, Placed
from casewright.design.paths import own_path
from casewright.packet.parts_list import name_stems
from casewright.project import Project
from casewright.solids.collide import placed_boxes

ENTRY = 2.0  # mm below a fastener's head: in the part that it goes in through
MIDDLE = 1.0  # mm: a part whose middle is this near to the piece's stands on neither side


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """One kind of hole in one part: the feature, from which face in words, and in which part."""

    part: str  # name without hand
    hole: Hole | PocketHole | Slot
    face: str
    at_assembly: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRow:
    """Equal joints of the order: their kind, which parts (names without hand), the fastener, how many, which holes.

    `marks` are pairs of marks (empty for hardware) with how many such joints the order has; `each` is the number of
    fasteners in one joint.
    """

    kind: str
    a: str
    b: str
    item: str
    each: int
    joints: int
    marks: tuple[tuple[str, str], ...]
    bores: tuple[Bore, ...]
    why: str
    glued: bool

    @property
    def count(self) -> int:
        """How many fasteners the order needs for these joints."""
        return self.each * self.joints


@dataclass(slots=True)
class _Rows:
    """Rows while they are gathered, by what makes them equal."""

    joints: Counter[tuple[object, ...]] = field(default_factory=Counter)
    marks: dict[tuple[object, ...], dict[tuple[str, str], None]] = field(default_factory=dict)
    first: dict[tuple[object, ...], JointRow] = field(default_factory=dict)


def joint_rows(project: Project) -> tuple[JointRow, ...]:
    """Return the rows of the schedule over the order, in the order in which joints first appear."""
    rows = _Rows()
    for piece in project.assembly.pieces:
        _gather(project, piece, rows)
    return tuple(_whole(rows, key) for key in rows.first)


def _whole(rows: _Rows, key: tuple[object, ...]) -> JointRow:
    first = rows.first[key]
    return JointRow(
        kind=first.kind,
        a=first.a,
        b=first.b,
        item=first.item,
        each=first.each,
        joints=rows.joints[key],
        marks=tuple(rows.marks[key]),
        bores=first.bores,
        why=first.why,
        glued=first.glued,
    )


def _gather(project: Project, piece: PieceDesign, rows: _Rows) -> None:
    for row in (row for found in rows_of_joints(project, piece).values() for row in found):
        key = (row.kind, row.a, row.b, row.item, row.each, tuple(bore_sign(b) for b in row.bores), row.glued)
        rows.first.setdefault(key, row)
        rows.joints[key] += piece.count
        rows.marks.setdefault(key, {}).update(dict.fromkeys(row.marks))


def rows_of_joints(project: Project, piece: PieceDesign) -> dict[str, tuple[JointRow, ...]]:
    """Return for each joint of a piece that fasteners hold, by its id, a row for each kind of fastener in it."""
    out: dict[str, tuple[JointRow, ...]] = {}
    placed = piece.by_path()
    bored = _features_by_joint(piece)
    items: dict[str, Counter[str]] = {}
    joints = {joint.id: joint for joint in piece.joints}
    entered: dict[str, tuple[str, str]] = {}
    for f in piece.fasteners:
        items.setdefault(f.joint, Counter())[f.item] += 1
        if f.joint not in entered and f.joint in joints:
            entered[f.joint] = _through(project, placed, joints[f.joint], f)
    middles = _middles(piece, project.cache)
    for joint in piece.joints:
        if joint.id not in items:
            continue
        first, last = entered[joint.id]
        out[joint.id] = tuple(
            JointRow(
                kind=joint.kind.value,
                a=stem(placed[first].name),
                b=stem(placed[last].name),
                item=item,
                each=each,
                joints=1,
                marks=(_marks(project, placed, first, last),),
                bores=_bores(bored.get(joint.id, []), middles),
                why=joint.why,
                glued=joint.glued,
            )
            for item, each in items[joint.id].items()
        )
    return out


def _through(project: Project, placed: Mapping[str, Placed], joint: Joint, f: Fastener) -> tuple[str, str]:
    """Return the paths of a joint's parts, the one that its fastener goes in through first.

    A pin of a moulding goes in through the moulding, though the joint is named from the part behind it.
    """
    ends = joint.a, joint.b
    if not all(isinstance(placed[path].thing, Part) for path in ends):
        return ends
    point = np.array(f.frame.point((0.0, 0.0, min(ENTRY, f.length / 4))))
    boxes = placed_boxes(tuple(placed[path] for path in ends), project.cache)
    inside = [bool((box[:3] <= point).all() and (point <= box[3:]).all()) for box in boxes]
    return ends[::-1] if inside == [False, True] else ends


def _middles(piece: PieceDesign, cache: Cache) -> dict[str, float]:
    """Return the middles across (x, mm) of a piece's drawers and doors, by the group in a part's path."""
    parts = tuple(p for p in piece.placed if isinstance(p.thing, Part) and _group(p.path))
    spans: dict[str, list[float]] = {}
    for placed, box in zip(parts, placed_boxes(parts, cache).tolist(), strict=True):
        spans.setdefault(_group(placed.path), []).extend((box[0], box[3]))
    return {group: (min(ends) + max(ends)) / 2 for group, ends in spans.items()}


def _group(path: str) -> str:
    """Return the drawer or door that a part is in, "" for one of the case: "…/drawer[c1,r2]/box/side.left"."""
    found = _IN_GROUP.match(path)
    return found.group(0) if found else ""


_IN_GROUP = re.compile(r".*/(drawer|door)\[[^\]]*\](\.\w+)?(?=/)")


def _features_by_joint(piece: PieceDesign) -> dict[str, list[tuple[Placed, Feature]]]:
    out: dict[str, list[tuple[Placed, Feature]]] = {}
    for placed in piece.placed:
        if isinstance(placed.thing, Part):
            for feature in placed.thing.features:
                if feature.joint and isinstance(feature, (Hole, PocketHole, Slot)):
                    out.setdefault(own_path(feature.joint, piece.path), []).append((placed, feature))
    return out


def _bores(found: list[tuple[Placed, Feature]], middles: Mapping[str, float]) -> tuple[Bore, ...]:
    """Return the holes of a joint, each kind in each part once."""
    out: dict[tuple[object, ...], Bore] = {}
    for placed, feature in found:
        assert isinstance(feature, (Hole, PocketHole, Slot))
        bore = Bore(
            part=name_stems((placed.name,))[0],
            hole=_as_it_ends(placed, feature),
            face=facing(placed, feature.face, middles.get(_group(placed.path), 0.0)),
            at_assembly=feature.made_at is MadeAt.ASSEMBLY,
        )
        out.setdefault(bore_sign(bore), bore)
    return tuple(out.values())


def _as_it_ends(placed: Placed, hole: Hole | PocketHole | Slot) -> Hole | PocketHole | Slot:
    """Return a hole that is as deep as its part is thick as one right through, as the part's drawing has it."""
    if isinstance(hole, Hole) and hole.depth is not None:
        _, _, through = placed.part.blank.extent(hole.face)
        if hole.depth >= through - 1e-6:
            return replace(hole, depth=None)
    return hole


def bore_sign(bore: Bore) -> tuple[object, ...]:
    """Return what makes two bores one kind of hole."""
    hole = bore.hole
    if isinstance(hole, Hole):
        sizes: tuple[object, ...] = (hole.diameter, hole.depth, hole.bore_diameter, hole.bore_depth, hole.countersink)
    elif isinstance(hole, PocketHole):
        sizes = (hole.diameter, hole.pocket_diameter, hole.angle)
    else:
        x0, y0, x1, y1 = hole.outline.box
        sizes = (round(max(x1 - x0, y1 - y0), 4), round(min(x1 - x0, y1 - y0), 4))
    return (type(hole).__name__, bore.part, bore.face, bore.at_assembly, *sizes)


def slot_size(slot: Slot) -> tuple[float, float]:
    """Return length and width of a slot, mm."""
    x0, y0, x1, y1 = slot.outline.box
    return (max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0))


def facing(placed: Placed, face: Face, middle: float = 0.0) -> str:
    """Return which way a face looks: "top", "underside", "front", "back", "outer", "inner", "left", "right" or "end".

    Outer and inner are seen from `middle` (x, mm): that of the piece, or of the drawer or door that the part is in.
    """
    normal = [0.0, 0.0, 0.0]
    normal[face.axis] = 1.0 if face.high else -1.0
    x, y, z = placed.frame.direction((normal[0], normal[1], normal[2]))
    if abs(z) > max(abs(x), abs(y)):
        return "top" if z > 0 else "underside"
    if abs(y) >= abs(x):
        return "back" if y > 0 else "front"
    if face.axis == 0:
        return "end"
    at = placed.frame.point(scale(_size(placed), 0.5))[0] - middle
    if abs(at) < MIDDLE:
        return "right" if x > 0 else "left"
    return "outer" if (x > 0) == (at > 0) else "inner"


def _size(placed: Placed) -> Vec:
    return placed.part.blank.size


_NUMBER = re.compile(r" \d+(?=,)")  # "hinge 1, door leaf"


def stem(name: str) -> str:
    """Return a name without hand and number: "hinge 1, door leaf, left" is a "hinge, door leaf"."""
    return _NUMBER.sub("", name_stems((name,))[0])


def _marks(project: Project, placed: Mapping[str, Placed], *paths: str) -> tuple[str, str]:
    a, b = (project.mark_of(placed[path]) for path in paths)
    return (a.label if a else "", b.label if b else "")
