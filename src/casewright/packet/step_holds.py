"""The fasteners that a step drives and the holes that it makes, and where a screw stands in its slot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.design.features.openings import Slot
from casewright.design.frames import Vec, sub
from casewright.design.parts import Part, Placed
from casewright.design.paths import own_path
from casewright.design.step_runs import StepRun
from casewright.packet.joint_schedule import Bore, JointRow, bore_sign

OFF = 0.5  # mm: a screw that stands nearer to the middle of its slot stands in it


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Fasteners alike of one step, and the holes of each: in the part that it goes in through, in the next, in others.

    `pairs` are names of the parts, the one that it goes in through first. `driven` is false where the step bores for
    them alone; the holes are then those that it makes. `count` is for each unit; where units take different numbers
    `each` is false and it is that of all.
    """

    item: str
    count: int
    each: bool
    pairs: tuple[tuple[str, str], ...]
    first: tuple[Bore, ...]
    second: tuple[Bore, ...]
    others: tuple[Bore, ...]
    driven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotPlace:
    """Where the pilot stands in the slots of a part: mm from their middle to the back (less than 0: the front)."""

    part: str
    off: float


def held_in(run: StepRun, rows: Mapping[str, tuple[JointRow, ...]]) -> tuple[Held, ...]:
    """Return what holds the joints that a step closes, and what it bores for those that close later."""
    makes = tuple(dict.fromkeys(j for step in run.steps for j in step.makes))
    found: dict[tuple[object, ...], Held] = {}
    for joint, driven in (*((j, True) for j in run.closes), *((j, False) for j in makes if j not in run.closes)):
        for row in rows.get(joint, ()):
            held = _held(row, driven=driven, made=joint in makes)
            first, second = tuple(map(_hole, held.first)), tuple(_hole(b, faced=False) for b in held.second)
            key = (held.item, driven, first, second, tuple(map(bore_sign, held.others)))
            before = found.get(key)
            if before is not None:
                pairs = tuple(dict.fromkeys((*before.pairs, *held.pairs)))
                held = replace(before, count=before.count + held.count, pairs=pairs)
            found[key] = held
    units = len(run.units) or 1
    return tuple(
        replace(h, count=h.count // units) if h.count % units == 0 else replace(h, each=False) for h in found.values()
    )


def _held(row: JointRow, *, driven: bool, made: bool) -> Held:
    """Return the fasteners of one joint: with what is bored at assembly only where the step makes it."""
    bores = tuple(b for b in row.bores if (driven and not b.at_assembly) or (made and b.at_assembly))
    return Held(
        item=row.item,
        count=row.each,
        each=True,
        pairs=((row.a, row.b),),
        first=tuple(b for b in bores if b.part == row.a),
        second=tuple(b for b in bores if b.part == row.b and row.b != row.a),
        others=tuple(b for b in bores if b.part not in (row.a, row.b)),
        driven=driven,
    )


def _hole(bore: Bore, *, faced: bool = True) -> tuple[object, ...]:
    """Return what makes holes in parts of any name one; where a hole goes on through another its face is no matter."""
    kind, _, face, *sizes = bore_sign(bore)
    return (kind, face if faced else "", *sizes)


def slot_places(piece: PieceDesign, run: StepRun) -> tuple[SlotPlace, ...]:
    """Return where pilots that a step makes at assembly stand in the slots they are bored through."""
    placed = piece.by_path()
    makes = {j for step in run.steps for j in step.makes}
    out: dict[tuple[str, float], SlotPlace] = {}
    for fastener in piece.fasteners:
        if fastener.joint not in makes:
            continue
        host = placed[fastener.parts[0]]
        slots = host.thing.features if isinstance(host.thing, Part) else ()
        own = [f for f in slots if isinstance(f, Slot) and own_path(f.joint, piece.path) == fastener.joint]
        if not own:
            continue
        off = min((_off(host, slot, fastener.frame.origin) for slot in own), key=abs)
        if abs(off) > OFF:
            out.setdefault((host.name, round(off, 2)), SlotPlace(part=host.name, off=off))
    return tuple(out.values())


def _off(host: Placed, slot: Slot, head: Vec) -> float:
    """Return how far a head stands behind the middle of a slot, along the face that it bears on, mm."""
    x0, y0, x1, y1 = slot.outline.box
    middle = host.part.blank.point(slot.face, ((x0 + x1) / 2, (y0 + y1) / 2))
    off = list(sub(host.frame.local_point(head), middle))
    off[slot.face.axis] = 0.0
    return host.frame.direction((off[0], off[1], off[2]))[1]
