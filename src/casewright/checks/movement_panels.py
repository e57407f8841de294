"""Solid panels in grooves, fronts in their openings, the top before its wall: room at the damp and at the dry end.

Half the movement of a panel pinned or centred in its frame goes to either side. Gaps of inset fronts are measured
between the parts as they stand on the fitting day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.model import Check, Subject
from casewright.checks.woods import Range, Timber, common, length, timber
from casewright.design.assembly import Joint, JointKind, Motion, MotionKind
from casewright.design.features.cuts import Groove, Rabbet
from casewright.design.features.openings import Mortise
from casewright.design.parts import Placed
from casewright.findings import Finding, Severity

SOURCE = "Wood Handbook FPL-GTR-190, Eq. 13-2 and 4-5; play and gaps: common practice"
FREE = {JointKind.GROOVE, JointKind.TONGUE}
GAP_MOST = 12.0  # mm: what is further off is no edge of the opening
NAMES = ("at the sides", "front to back", "above and below")
TOLERANCE = 0.05


def run(subject: Subject) -> Iterator[Finding]:
    """Yield panels without room or hold, fronts that bind, and a top that meets the wall."""
    t = timber(subject)
    for path in sorted(t.parts):
        yield from _panel(t, t.parts[path])
    for motion in subject.piece.motions:
        if abs(motion.direction[2]) > 0.5 or motion.kind is MotionKind.SLIDE:
            yield from _front(t, motion)
    yield from _wall(t)


# --- panels in grooves ---


def _panel(t: Timber, panel: Placed) -> Iterator[Finding]:
    joints = [j for j in t.joints.get(panel.path, ()) if j.kind in FREE and j.b == panel.path and t.pair(j) is not None]
    axis = _across(t, panel)
    if axis is None or len(joints) < 2:
        return
    c, size = t.moves[panel.path][axis], t.spans[panel.path][axis]
    wet = t.subject.moisture
    grow = c * length(size) * (wet.damp - wet.fitted) / 2
    shrink = c * length(size) * (wet.fitted - wet.dry) / 2
    rooms = [r for j in joints if (r := _groove(t, j, panel, axis)) is not None]
    if len({r.low for r in rooms}) < 2:
        return  # open on one side, as the solid bottom of a drawer is behind: it moves away from the groove's floor
    p = t.subject.practice
    free, hold = min(r.free for r in rooms), min(r.hold for r in rooms)
    if grow > free + TOLERANCE:
        yield _finding(
            t,
            "movement.panel_tight",
            Severity.STOP,
            panel.path,
            f"{panel.name}: it grows {grow:.1f} mm to either side and has {free:.1f} mm in its grooves: "
            "it pushes the frame apart",
            free,
            grow,
            f"a panel {2 * (grow - free):.1f} mm narrower, or deeper grooves",
        )
    left, least = hold - shrink, p["door.panel_in_groove"]
    if left < least - TOLERANCE:
        drops = left < p["movement.panel_drop"]
        yield _finding(
            t,
            "movement.panel_drop",
            Severity.STOP if drops else Severity.WARN,
            panel.path,
            f"{panel.name}: at the dry end {left:.1f} mm of it stay in the groove",
            left,
            p["movement.panel_drop"] if drops else least,
            "deeper grooves, or a wider panel with room to grow",
        )


def _across(t: Timber, panel: Placed) -> int | None:
    """Return the axis of the piece that a solid panel's width lies along, None for a panel that does not move."""
    c = t.moves[panel.path]
    if max(c) == 0.0:
        return None
    return max(range(3), key=lambda i: abs(panel.frame.y[i]))


@dataclass(frozen=True, slots=True)
class _Room:
    """Room between a panel's edge and the floor of its groove, and how deep the edge stands in it, mm.

    `low` says that it is the edge at the low end of the axis.
    """

    free: float
    hold: float
    low: bool


def _groove(t: Timber, joint: Joint, panel: Placed, axis: int) -> _Room | None:
    """Measure a groove that takes an edge of the panel across its grain; None for one along its ends."""
    frame = t.parts[joint.a]
    own, size = t.spans[frame.path][axis], t.spans[panel.path][axis]
    low_side = (own[0] + own[1]) / 2 < (size[0] + size[1]) / 2
    face, edge = (own[1], size[0]) if low_side else (own[0], size[1])
    hold = (face - edge) if low_side else (edge - face)
    deepest = max((d for f in frame.part.features if (d := _depth(frame, f, panel, axis)) is not None), default=None)
    if deepest is None or hold <= 0.0 or hold > length(own):
        return None
    return _Room(free=deepest - hold, hold=hold, low=low_side)


def _depth(frame: Placed, feature: object, panel: Placed, axis: int) -> float | None:
    """Return the depth of a groove that opens towards the panel along the axis."""
    if not isinstance(feature, (Groove, Rabbet, Mortise)):
        return None
    inward = frame.frame.direction(frame.part.blank.inward(feature.face))
    return feature.depth if abs(inward[axis]) > 0.9 and not isinstance(feature, Mortise) else None


# --- fronts in their openings ---


def _front(t: Timber, motion: Motion) -> Iterator[Finding]:
    """Print the gaps at both ends of the year where they change by as much as a shim; stop where a front binds."""
    own = [p for p in t.parts if _member(p, motion)]
    fronts = [p for p in own if _is_front(t, p, motion)]
    if not fronts:
        return
    box = [(min(t.spans[p][i][0] for p in fronts), max(t.spans[p][i][1] for p in fronts)) for i in range(3)]
    changes = [c for axis in (0, 2) if (c := _change(t, own, fronts, box, axis)) is not None]
    seen = [c for c in changes if c.dry - c.damp >= t.subject.practice["shim.thickness"]]
    if seen:
        yield _told(t, motion, seen)


@dataclass(frozen=True, slots=True)
class _Change:
    """A gap on the fitting day, at the damp end and at the dry end, mm: the mean of the two along an axis."""

    axis: int
    now: float
    damp: float
    dry: float


def _change(t: Timber, own: list[str], fronts: list[str], box: list[Range], axis: int) -> _Change | None:
    rate, gaps = _rate(t, fronts, axis), _gaps(t, own, box, axis)
    if rate == 0.0 or gaps is None:
        return None
    if any(t.moves[p][axis] == 0.0 and length(t.spans[p][axis]) > 0.95 * length(box[axis]) for p in fronts):
        rate /= 2  # members along the axis keep its length; those across it are held at their middles
    wet, whole = t.subject.moisture, sum(gaps)
    grow, shrink = rate * (wet.damp - wet.fitted), rate * (wet.fitted - wet.dry)
    return _Change(axis, whole / 2, (whole - grow) / 2, (whole + shrink) / 2)


def _told(t: Timber, motion: Motion, changes: list[_Change]) -> Finding:
    worst = min(changes, key=lambda c: c.damp)
    least = t.subject.practice["front.gap_least"]
    severity = Severity.NOTE
    if worst.damp <= 0.0:
        severity = Severity.STOP
    elif worst.damp < least - TOLERANCE:
        severity = Severity.WARN
    told = "; ".join(
        f"{NAMES[c.axis]} {c.now:.1f} mm when fitted, {c.damp:.1f} mm at the damp end, {c.dry:.1f} mm at the dry end"
        for c in changes
    )
    return t.subject.finding(
        code="movement.front",
        severity=severity,
        path=motion.members[0],
        message=f"gaps {told}" + (": it binds" if worst.damp <= 0.0 else ""),
        value=worst.damp,
        limit=0.0 if worst.damp <= 0.0 else least,
        source=SOURCE,
        remedy="" if severity is Severity.NOTE else f"gaps of {worst.now - worst.damp + least:.1f} mm",
    )


def _member(path: str, motion: Motion) -> bool:
    return any(path == m or path.startswith(f"{m}/") for m in motion.members)


def _is_front(t: Timber, path: str, motion: Motion) -> bool:
    """A door's own parts, or a drawer's face; a panel that floats in its frame does not push."""
    name = path.rpartition("/")[2]
    if motion.kind is MotionKind.SLIDE:
        return "/face/" in path and not name.startswith("applied")
    return not any(j.kind in FREE and not j.glued and j.b == path for j in t.joints.get(path, ()))


def _rate(t: Timber, fronts: list[str], axis: int) -> float:
    """Return the growth in mm per 1 % of a front along an axis: the most of three lines across it."""
    other = 2 - axis
    low = min(t.spans[p][other][0] for p in fronts)
    high = max(t.spans[p][other][1] for p in fronts)
    rates = []
    for share in (0.25, 0.5, 0.75):
        at = low + share * (high - low)
        hit = [p for p in fronts if t.spans[p][other][0] <= at <= t.spans[p][other][1]]
        outer = min((t.spans[p][1][0] for p in hit), default=0.0)
        hit = [p for p in hit if t.spans[p][1][0] < outer + 10.0]  # not the battens behind
        rates.append(sum(t.moves[p][axis] * length(t.spans[p][axis]) for p in hit))
    return max(rates)


def _gaps(t: Timber, own: list[str], box: list[Range], axis: int) -> tuple[float, float] | None:
    """Return the gaps below and above a front along an axis; None where it lies before its opening."""
    other = 2 - axis
    low: list[float] = []
    high: list[float] = []
    for path, s in t.spans.items():
        if path in own or length(common(s[1], box[1])) < 3.0 or length(common(s[other], box[other])) < 10.0:
            continue
        below, above = box[axis][0] - s[axis][1], s[axis][0] - box[axis][1]
        if -0.5 <= below <= GAP_MOST:
            low.append(below)
        if -0.5 <= above <= GAP_MOST:
            high.append(above)
    return (min(low), min(high)) if low and high else None


# --- the top and its wall ---


def _wall(t: Timber) -> Iterator[Finding]:
    """The top's back edge grows to the wall; where it is fixed at the rear, its front edge wanders instead."""
    piece = t.subject.piece
    top = t.parts.get(f"{piece.path}/top")
    if top is None or t.moves[top.path][1] == 0.0:
        return
    screws = [
        f.frame.origin[1]
        for j in t.joints.get(top.path, ())
        if j.kind in (JointKind.SCREWS, JointKind.FIGURE_PLATES) and j.a in t.parts
        for f in t.fasteners.get(j.id, ())
    ]  # what a button or a plate is screwed on with moves with the top
    if not screws:
        return
    c, span, wet = t.moves[top.path][1], t.spans[top.path][1], t.subject.moisture
    fixed = min(screws)
    yield from _to_wall(t, top, c * (span[1] - fixed) * (wet.damp - wet.fitted))
    shift = c * (fixed - span[0]) * t.range
    most = t.subject.practice["movement.front_shift"]
    if shift > most:
        ordered = any(size.name == "top.front_shrinks" for size in piece.sizes)  # its overhang reckons with it
        yield _finding(
            t,
            "movement.fixed_line",
            Severity.NOTE if ordered else Severity.WARN,
            top.path,
            f"top: fixed {fixed - span[0]:.0f} mm behind its front edge, which wanders {shift:.1f} mm over the year",
            shift,
            most,
            'fix it tight along the front (`top.fixed = "front"`), and let it move at the rear',
        )


def _to_wall(t: Timber, top: Placed, grow: float) -> Iterator[Finding]:
    rear = max(s[1][1] for path, s in t.spans.items() if path != top.path)
    wall = rear + (t.subject.room.skirting_thickness if t.subject.room.skirting_height > 0 else 0.0)
    gap = wall - t.spans[top.path][1][1]
    if 0.0 - TOLERANCE <= gap < grow - TOLERANCE:
        yield _finding(
            t,
            "movement.wall",
            Severity.WARN,
            top.path,
            f"top: its back edge stands {gap:.1f} mm before the wall and grows {grow:.1f} mm",
            gap,
            grow,
            "a narrower top: its back edge short of the wall by its growth and 3 mm",
        )


def _finding(
    t: Timber, code: str, severity: Severity, path: str, message: str, value: float, limit: float, remedy: str
) -> Finding:
    return t.subject.finding(
        code=code,
        severity=severity,
        path=path,
        message=message,
        value=value,
        limit=limit,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="movement.room",
    what="solid panels, fronts and tops have room at the damp end, and hold at the dry one",
    needs=("joints", "grooves", "motions", "species of the boards", "moisture of the room", "skirting"),
    source=SOURCE,
    run=run,
)
