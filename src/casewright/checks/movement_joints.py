"""Wood held so that it cannot move: glued or screwed across its grain, or in slots that are too short.

Movement across a width = C × width × the room's range of moisture content (Wood Handbook Eq. 13-2 and, for the
moisture in the room, Eq. 4-5). Worked from the parts as they stand and their species, not from what built them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.model import Check, Subject
from casewright.checks.woods import AXES, Range, Timber, common, length, timber
from casewright.design.assembly import Joint, JointKind
from casewright.design.features.openings import Slot
from casewright.design.frames import Vec
from casewright.design.parts import Fastener, Form, Placed
from casewright.findings import Finding, Severity

SOURCE = "Wood Handbook FPL-GTR-190, Eq. 13-2 and 4-5; how much a joint bears is common practice"
NAMES = ("across the case", "front to back", "up and down")
NEAR = 3.0  # mm: a screw belongs to the slot that it stands in
TOLERANCE = 0.05  # mm: what records round, and what no shop measures


def run(subject: Subject) -> Iterator[Finding]:
    """Yield cross-grain glue lines, parts held tight at two places, and slots that are too short."""
    t = timber(subject)
    for joint in subject.piece.joints:
        if joint.glued and (found := _glue_line(t, joint)) is not None:
            yield found
        if joint.kind is JointKind.SLOTTED_SCREWS:
            yield from _slots(t, joint)
    for placed in t.parts.values():
        yield from _pinned(t, placed)


# --- glue lines ---


def _glue_line(t: Timber, joint: Joint) -> Finding | None:
    both = t.pair(joint)
    if both is None:
        return None
    shared = [common(r, s) for r, s in zip(t.spans[joint.a], t.spans[joint.b], strict=True)]
    ca, cb = t.moves[joint.a], t.moves[joint.b]
    normal = min(range(3), key=lambda i: length(shared[i]))
    worst = max((i for i in range(3) if i != normal), key=lambda i: abs(ca[i] - cb[i]) * length(shared[i]))
    width = length(shared[worst])
    move = abs(ca[worst] - cb[worst]) * width * t.range
    mover = both[0] if ca[worst] > cb[worst] else both[1]
    other = both[1] if mover is both[0] else both[0]
    moulding = Form.STICK in (both[0].part.form, both[1].part.form) and mover.part.form is not Form.STICK
    p = t.subject.practice
    if move <= p["movement.glue_line"]:
        return None
    return t.subject.finding(
        code="movement.moulding" if moulding else "movement.glue",
        severity=Severity.STOP if move > p["movement.glue_line_most"] else Severity.WARN,
        path=joint.id,
        related=(mover.path, other.path),
        message=f"{width:.0f} mm of the {mover.name} are glued across the grain to the {other.name}: "
        f"it moves {move:.1f} mm there over the year, and cannot",
        value=move,
        limit=p["movement.glue_line"],
        source=SOURCE,
        remedy="glue the first few inches in front only, and screw the rest in slots"
        if moulding
        else "glue a narrow part of it and let the rest slide: slots, a tongue, or a narrower part",
    )


# --- held at two places ---


@dataclass(frozen=True, slots=True)
class _Hold:
    """Where a part is held tight: joint, other part, range along the direction."""

    joint: Joint
    other: Placed
    at: Range


def _pinned(t: Timber, placed: Placed) -> Iterator[Finding]:
    """A solid part that screws or glue hold tight at two places across its grain, by what does not move with it."""
    own = t.moves[placed.path]
    if max(own) == 0.0:
        return
    axis = max(range(3), key=lambda i: own[i] * length(t.spans[placed.path][i]))
    if own[axis] * length(t.spans[placed.path][axis]) * t.range <= t.subject.practice["movement.glue_line"]:
        return
    holds = _holds(t, placed, axis)
    if len(holds) < 2:
        return
    low, high = min(holds, key=lambda h: h.at[0]), max(holds, key=lambda h: h.at[1])
    width = high.at[1] - low.at[0]
    single = max(length(h.at) for h in holds if h.joint.glued) if any(h.joint.glued for h in holds) else 0.0
    frame = _between(t, placed, low, high, axis)
    if frame is None or width < 1.2 * single:
        return
    move = max(0.0, own[axis] - frame) * width * t.range
    p = t.subject.practice
    if move > p["movement.glue_line"]:
        yield t.subject.finding(
            code="movement.pinned",
            severity=Severity.STOP if move > p["movement.glue_line_most"] else Severity.WARN,
            path=placed.path,
            related=(low.joint.id, high.joint.id),
            message=f"held tight at two places {width:.0f} mm apart across its grain ({NAMES[axis]}); "
            f"between them it moves {move:.1f} mm over the year",
            value=move,
            limit=p["movement.glue_line"],
            source=SOURCE,
            remedy="hold it tight along one line only, and put the other screws in slots",
        )


def _holds(t: Timber, placed: Placed, axis: int) -> list[_Hold]:
    out = []
    for joint in t.joints.get(placed.path, ()):
        if not (joint.glued or joint.kind is JointKind.SCREWS):
            continue
        both = t.pair(joint)
        if both is None:
            continue
        other = both[1] if both[0] is placed else both[0]
        at = _held_at(t, joint, both, axis)
        if at is not None:
            out.append(_Hold(joint=joint, other=other, at=at))
    return out


def _held_at(t: Timber, joint: Joint, both: tuple[Placed, Placed], axis: int) -> Range | None:
    if joint.glued:
        shared = common(t.spans[both[0].path][axis], t.spans[both[1].path][axis])
        return shared if shared[1] >= shared[0] - 0.05 else None
    places = [f.frame.origin[axis] for f in t.fasteners.get(joint.id, ())]
    return (min(places), max(places)) if places else None


def _between(t: Timber, placed: Placed, low: _Hold, high: _Hold, axis: int) -> float | None:
    """Return the least coefficient of what keeps the two holding parts apart, None where nothing rigid does."""
    if low.other is high.other:
        return t.moves[low.other.path][axis]
    near = t.glued_to(low.other.path) & t.glued_to(high.other.path) - {placed.path}
    ties = [t.moves[path][axis] for path in sorted(near)]
    return min(ties, default=None)


# --- slots ---


@dataclass(frozen=True, slots=True)
class _Screw:
    """A screw in a slot: room away from the fixed line and towards it, mm, and its distance from that line."""

    fastener: Fastener
    away: float
    towards: float
    distance: float


def _slots(t: Timber, joint: Joint) -> Iterator[Finding]:
    both = t.pair(joint)
    if both is None:
        return
    mover, axis = _mover(t, both)
    if mover is None:
        return
    fixed = _fixed_line(t, mover, axis)
    if fixed is None:
        yield _adrift(t, joint, mover)
        return
    worst: tuple[float, Finding] | None = None
    for screw in _screws(t, joint, both, mover, axis, fixed):
        short, finding = _short(t, joint, mover, t.moves[mover.path][axis], screw)
        if finding is not None and (worst is None or short > worst[0]):
            worst = (short, finding)
    if worst is not None:
        yield worst[1]


def _mover(t: Timber, both: tuple[Placed, Placed]) -> tuple[Placed | None, int]:
    """Return the part that the slots let move, and the axis along which it moves most."""
    best: tuple[float, Placed | None, int] = (0.0, None, 0)
    for placed in both:
        c = t.moves[placed.path]
        other = t.moves[(both[1] if placed is both[0] else both[0]).path]
        for axis in range(3):
            # The thickness of a board moves too, but no slot is made for it.
            flat = abs(placed.frame.local_direction(AXES[axis])[1]) > 0.7
            moves = (c[axis] - other[axis] / 2) * length(t.spans[placed.path][axis]) if flat else 0.0
            if moves > best[0]:
                best = (moves, placed, axis)
    return best[1], best[2]


def _fixed_line(t: Timber, mover: Placed, axis: int) -> float | None:
    """Return where the part does not move: its tight screws, else its glue, else None."""
    screws = [
        f.frame.origin[axis]
        for j in t.subject.piece.joints
        if mover.path in (j.a, j.b)
        and j.kind in (JointKind.SCREWS, JointKind.POCKET_SCREWS, JointKind.FIGURE_PLATES)
        and (t.pair(j) is not None or j.kind is JointKind.FIGURE_PLATES)
        for f in t.fasteners.get(j.id, ())
    ]
    if screws:
        return sum(screws) / len(screws)
    glued = [h.at for h in _holds(t, mover, axis)]
    if glued:
        return (min(g[0] for g in glued) + max(g[1] for g in glued)) / 2
    hinged = any(j.kind is JointKind.HARDWARE for j in t.joints[mover.path])
    middle = sum(t.spans[mover.path][axis]) / 2
    grooved = any(j.kind in (JointKind.GROOVE, JointKind.TONGUE, JointKind.PINS) for j in t.joints[mover.path])
    return middle if hinged or grooved else None


def _slots_in(placed: Placed, axis: int) -> Iterator[tuple[Range, Vec]]:
    """Yield for each slot in a part its range along an axis of the piece, and its middle in the piece."""
    for feature in placed.part.features:
        if isinstance(feature, Slot):
            u0, v0, u1, v1 = feature.outline.box
            blank = placed.part.blank
            ends = sorted(placed.frame.point(blank.point(feature.face, uv))[axis] for uv in ((u0, v0), (u1, v1)))
            middle = placed.frame.point(blank.point(feature.face, ((u0 + u1) / 2, (v0 + v1) / 2)))
            yield (ends[0], ends[1]), middle


def _screws(
    t: Timber, joint: Joint, both: tuple[Placed, Placed], mover: Placed, axis: int, fixed: float
) -> Iterator[_Screw]:
    """Yield each screw of a slotted joint with the room that its slot, or for lack of one its hole, leaves it."""
    slots = [(s, placed is mover) for placed in both for s in _slots_in(placed, axis)]
    for fastener in t.fasteners.get(joint.id, ()):
        at, r, z = fastener.frame.origin, fastener.shank_radius, fastener.frame.z
        flat = [i for i in range(3) if i != axis and abs(z[i]) < 0.5]
        own = [
            s
            for s in slots
            if all(abs(s[0][1][i] - at[i]) < NEAR for i in flat) and s[0][0][0] - NEAR < at[axis] < s[0][0][1] + NEAR
        ]
        (low, high), in_mover = (own[0][0][0], own[0][1]) if own else ((at[axis] - r, at[axis] + r), False)
        up, down = high - r - at[axis], at[axis] - r - low
        away, towards = (up, down) if at[axis] > fixed else (down, up)
        # Where the slot is in the part that moves, it is the slot that goes away, and its near end that arrives.
        room = (towards, away) if in_mover else (away, towards)
        yield _Screw(fastener, room[0], room[1], abs(at[axis] - fixed))


def _short(t: Timber, joint: Joint, mover: Placed, c: float, s: _Screw) -> tuple[float, Finding | None]:
    wet = t.subject.moisture
    grow, shrink = c * s.distance * (wet.damp - wet.fitted), c * s.distance * (wet.fitted - wet.dry)
    room, need = s.away + s.towards, grow + shrink
    total = need - room
    side = max(grow - s.away, shrink - s.towards)
    if side <= TOLERANCE:
        return 0.0, None
    finding = t.subject.finding(
        code="movement.slot",
        severity=Severity.STOP if total > TOLERANCE else Severity.WARN,
        path=joint.id,
        related=(mover.path, s.fastener.path),
        message=f"{s.distance:.0f} mm from its fixed line the {mover.name} grows {grow:.1f} mm and shrinks "
        f"{shrink:.1f} mm; the slot leaves its screw {s.away:.1f} and {s.towards:.1f} mm",
        value=room if total > TOLERANCE else min(s.away - grow, s.towards - shrink),
        limit=need if total > TOLERANCE else 0.0,
        source=SOURCE,
        remedy=f"slots of {need + 2 * s.fastener.shank_radius + 3.0:.1f} mm"
        if total > TOLERANCE
        else "start the screw at its place for the moisture of the fitting day",
    )
    return side, finding


def _adrift(t: Timber, joint: Joint, mover: Placed) -> Finding:
    return t.subject.finding(
        code="movement.adrift",
        severity=Severity.WARN,
        path=joint.id,
        related=(mover.path,),
        message=f"every screw of the {mover.name} stands in a slot: nothing says where it stays put",
        source="common practice: one line is held tight, the rest moves from there",
        remedy="plain holes along one line, in front or in the middle",
    )


CHECK = Check(
    code="movement.joints",
    what="solid wood can move where it is glued, screwed or slotted",
    needs=("joints", "slots", "fasteners", "species of the boards", "moisture of the room"),
    source=SOURCE,
    run=run,
)
