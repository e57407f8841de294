"""Drawers, doors and lids through their whole motion: past everything that stays where it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.checks.model import Check, Subject
from casewright.checks.motion_sweep import Boxed, Met, Turning, Way, fasteners_on_way, met_in_turn, met_on_way, turned
from casewright.checks.standing import standing
from casewright.design.assembly import Motion, MotionKind
from casewright.design.frames import ORIGIN, scale
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import DEPTH_LIMIT, is_under_any, placed_boxes
from casewright.stock.fittings import CupHinge, DoorBolt, KnifeHinge, LidStay
from casewright.stock.model import Hinge, Pull

SOURCE = "two solid things cannot share a place, also while one of them moves"
# Hinges and stays turn in themselves, as their makers have seen to; a bolt is drawn back before its door is opened.
LET_THROUGH = (Hinge, CupHinge, KnifeHinge, LidStay, DoorBolt)
PARKED = 90.0  # degrees: how far a neighbour's door stands open


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each thing that a motion runs into, and a warning for neighbours that must not be open both."""
    for motion in subject.piece.motions:
        movers = members(subject, motion)
        rivals = {p.path for m in subject.piece.motions if m.id != motion.id for p in members(subject, m)}
        fixed = [
            p for p in subject.piece.placed if p not in movers and p.path not in rivals and not _own_fitting(p, motion)
        ]
        for met in (*_met(subject, motion, movers, fixed), *_fasteners_met(subject, motion, movers)):
            yield _blocked(subject, motion, met)
        yield from _neighbours(subject, motion, movers)


def members(subject: Subject, motion: Motion) -> list[Placed]:
    """Return what moves."""
    return [p for p in subject.piece.placed if is_under_any(p.path, motion.members)]


def turning(motion: Motion) -> Turning:
    """Return the turn of a swing."""
    return Turning(origin=motion.origin, axis=motion.direction, degrees=motion.reach)


def _own_fitting(placed: Placed, motion: Motion) -> bool:
    """True for the fixed half of the motion's own hinges, stays and slides: their maker has seen to them."""
    return isinstance(placed.thing, Hardware) and any(placed.path.startswith(f"{m}.") for m in motion.members)


def _met(subject: Subject, motion: Motion, movers: Sequence[Placed], fixed: Sequence[Placed]) -> Iterator[Met]:
    """Yield what is met, once for each thing that stands in the way."""
    seen: set[str] = set()
    for met in _all_met(subject, motion, _rigid(subject, movers), fixed):
        if met.other not in seen:
            seen.add(met.other)
            yield met


def _rigid(subject: Subject, movers: Sequence[Placed]) -> list[Placed]:
    """Return what of a motion may not meet anything: all but hinges, stays and bolts."""
    return [p for p in movers if not isinstance(subject.items.get(_item(p)), LET_THROUGH)]


def _item(placed: Placed) -> str:
    return placed.thing.item if isinstance(placed.thing, Hardware) else ""


def _all_met(subject: Subject, motion: Motion, movers: Sequence[Placed], fixed: Sequence[Placed]) -> Iterator[Met]:
    if motion.kind is MotionKind.SWING:
        yield from met_in_turn(movers, fixed, turning(motion), subject.cache)
        return
    way = Way(start=ORIGIN, end=scale(motion.direction, motion.reach))
    moved = Boxed(movers, placed_boxes(movers, subject.cache))
    yield from met_on_way(moved, Boxed(fixed, placed_boxes(fixed, subject.cache)), way, subject.cache)


def _fasteners_met(subject: Subject, motion: Motion, movers: Sequence[Placed]) -> Iterator[Met]:
    """Yield each fastener that a straight way runs into, once."""
    if motion.kind is MotionKind.SWING:
        return
    rigid, way = _rigid(subject, movers), Way(start=ORIGIN, end=scale(motion.direction, motion.reach))
    moving, seen = {p.path for p in movers}, set()
    stay = [f for f in subject.piece.fasteners if not moving.intersection(f.parts)]
    moved = Boxed(rigid, placed_boxes(rigid, subject.cache))
    fixed = Boxed(stay, standing(subject).of_fasteners(stay))
    for met in fasteners_on_way(moved, fixed, way, subject.cache):
        if met.other not in seen:
            seen.add(met.other)
            yield met


def _neighbours(subject: Subject, motion: Motion, movers: Sequence[Placed]) -> Iterator[Finding]:
    """Yield what a motion meets of each other drawer, door and lid: shut, and where it stands open."""
    for other in subject.piece.motions:
        if other.id == motion.id:
            continue
        rest = members(subject, other)
        shut = list(_met(subject, motion, movers, rest))
        pulls = all(isinstance(subject.items.get(_item(subject.by_path[m.other])), Pull) for m in shut)
        if shut and (pulls or other.kind is MotionKind.SLIDE):
            yield _past_shut(subject, motion, min(shut, key=lambda m: m.at))
        elif other.kind is MotionKind.SWING:
            yield from _past_open(subject, motion, movers, other, shut)


def _past_shut(subject: Subject, motion: Motion, met: Met) -> Finding:
    """Return a stop, or a warning for a door or lid that is as good as open when it meets the pull of a shut one."""
    if motion.kind is MotionKind.SWING and met.at >= PARKED:
        return _warned(
            subject, motion, met, f"meets {met.other}, shut, at {met.at:.0f}°", "a stay that holds it, or another pull"
        )
    return _blocked(subject, motion, met)


def _past_open(
    subject: Subject, motion: Motion, movers: Sequence[Placed], other: Motion, shut: Sequence[Met]
) -> Iterator[Finding]:
    """Yield what meets a door that stands open: a stop where that covers what moves and cannot be opened far enough."""
    angle = min(PARKED, other.reach)
    # Both doors of a pair meet alike: one finding is enough.
    if not shut and motion.kind is MotionKind.SWING and other.id < motion.id:
        return
    met = _parked(subject, motion, movers, other, angle)
    if met is None:
        if not shut and motion.kind is MotionKind.SLIDE and other.reach > angle:
            yield from _across(subject, motion, movers, other)
        return
    if not shut:
        text = f"meets {met.other} where that stands open at {angle:.0f}°"
        remedy = "hinge one of them on its other side, keep them further apart, or give a stay that holds it"
        yield _warned(subject, motion, met, text, remedy)
        return
    wide = _parked(subject, motion, movers, other, other.reach) if other.reach > angle else met
    if wide is None:
        text = f"comes past {met.other} only where that stands open further than {angle:.0f}°"
        yield _warned(subject, motion, met, text, "set it further in from the door's hinges")
    else:
        yield _blocked(subject, motion, wide)


def _across(subject: Subject, motion: Motion, movers: Sequence[Placed], other: Motion) -> Iterator[Finding]:
    """Yield a warning for a drawer beside a door's hinges, in front of which the door stands when it is wide open."""
    met = _parked(subject, motion, movers, other, other.reach)
    if met is not None:
        text = f"meets {met.other} where that stands wide open, at {other.reach:.0f}°: it swings in front of the drawer"
        yield _warned(
            subject, motion, met, text, "hinge the door on its other side, or give a stay that holds it at 90°"
        )


def _parked(subject: Subject, motion: Motion, movers: Sequence[Placed], other: Motion, angle: float) -> Met | None:
    """Return what a motion first meets of a door that stands open at an angle, its hinges among it."""
    parked = [turned(p, turning(other), angle) for p in members(subject, other)]
    return next(_met(subject, motion, movers, parked), None)


def _warned(subject: Subject, motion: Motion, met: Met, text: str, remedy: str) -> Finding:
    return subject.finding(
        code="motion.neighbour",
        severity=Severity.WARN,
        path=motion.id,
        related=(met.mover, met.other),
        message=text,
        value=met.depth,
        limit=DEPTH_LIMIT,
        source=SOURCE,
        remedy=remedy,
    )


def _blocked(subject: Subject, motion: Motion, met: Met) -> Finding:
    swing = motion.kind is MotionKind.SWING
    where = f"at {met.at:.1f}°" if swing else f"{met.at:.0f} mm out"
    return subject.finding(
        code="motion.blocked",
        severity=Severity.STOP,
        path=met.mover,
        related=(met.other, motion.id),
        message=f"meets {met.other} {where}",
        value=met.depth,
        limit=DEPTH_LIMIT,
        source=SOURCE,
        remedy="give more room, move what stands in the way, or bevel the edge that meets it",
    )


CHECK = Check(
    code="motion",
    what="drawers, doors and lids move as far as they should, past everything and past each other",
    needs=("motions", "solids of parts and hardware", "axes of fasteners"),
    source=SOURCE,
    run=run,
)
