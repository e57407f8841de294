"""Doors: enough hinges for height and weight, a stop and a catch, hinges and pull on their own sides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.checks.fit_boxes import box_of, fixed_to, item_of, motions
from casewright.checks.model import Check, Subject
from casewright.design.assembly import Motion, MotionKind
from casewright.design.frames import Vec, add, cross, dot, norm, scale, sub
from casewright.design.parts import Placed
from casewright.findings import Finding, Severity
from casewright.solids.measure import mass_of
from casewright.stock.fittings import CupHinge, DoorBolt, KnifeHinge, Magnet
from casewright.stock.model import Catch, Hinge, Pull

HINGE_SOURCE = "common practice (door.two_hinges_to …); the hinge's rating for a pair, each further hinge half of it"
STOP_SOURCE = "common practice: an inset door needs a stop and a catch; cup hinges hold it shut themselves"
PIN = 12.0  # mm: how far the pin of a leaf hinge may lie from the line that the door turns about
CUP = 60.0  # mm: the same of a cup
UPRIGHT = 0.7


def run(subject: Subject) -> Iterator[Finding]:
    """Yield what is wrong with the hanging of each upright door."""
    for motion, group, moving in motions(subject, MotionKind.SWING):
        hinges = [p for p in moving if isinstance(item_of(subject, p), Hinge | CupHinge | KnifeHinge)]
        if abs(motion.direction[2]) < UPRIGHT:
            continue  # a lid
        yield from _count(subject, group, moving, hinges)
        yield from _sides(subject, motion, group, moving, hinges)
        yield from _held(subject, group, moving, hinges)


def _count(subject: Subject, group: str, moving: Sequence[Placed], hinges: Sequence[Placed]) -> Iterator[Finding]:
    wood = [p for p in moving if item_of(subject, p) is None]
    box = box_of(subject, wood)
    height = float(box[1, 2] - box[0, 2])
    first = item_of(subject, hinges[0]) if hinges else None
    count = 2 if isinstance(first, KnifeHinge) else len(hinges)
    for name, needed in (("two", 3), ("three", 4), ("four", 5)):
        limit = subject.practice[f"door.{name}_hinges_to"]
        if height > limit and count < needed and not isinstance(first, KnifeHinge):
            text = f"{height:.0f} mm high, it hangs on {count} hinges"
            yield _few(subject, group, Severity.WARN, text, count, needed, f"use {needed} hinges")
            return
    if count < 2:
        text = f"it hangs on {count} hinge"
        yield _few(subject, group, Severity.STOP, text, count, 2, "use two hinges")
        return
    if isinstance(first, Hinge | CupHinge | KnifeHinge):
        mass = sum(mass_of(p.thing, subject.cache) for p in moving)
        bears = first.load * count / 2
        if mass > bears:
            yield subject.finding(
                "fit.hinge_load",
                Severity.STOP,
                group,
                f"it weighs {mass:.1f} kg, {count} hinges bear {bears:.1f} kg",
                value=mass,
                limit=bears,
                unit="kg",
                source=HINGE_SOURCE,
                remedy="use more or heavier hinges, or a lighter door",
            )


def _sides(
    subject: Subject, motion: Motion, group: str, moving: Sequence[Placed], hinges: Sequence[Placed]
) -> Iterator[Finding]:
    wood = box_of(subject, [p for p in moving if item_of(subject, p) is None])
    width = float(wood[1, 0] - wood[0, 0])
    for p in hinges:
        box = box_of(subject, [p])
        away = _from_line(_middle(box.tolist()), motion)
        limit = PIN + 20.0 if isinstance(item_of(subject, p), Hinge) else CUP
        if away > limit:
            text = f"it stands {away:.0f} mm from the line that its door turns about"
            yield subject.finding(
                "handed.hinge",
                Severity.STOP,
                p.path,
                text,
                value=away,
                limit=limit,
                source=HINGE_SOURCE,
                remedy="move it to the door's hinge side, or hinge the door on the other side",
            )
    for p in moving:
        if isinstance(item_of(subject, p), Pull):
            box = box_of(subject, [p])
            away = _from_line(_middle(box.tolist()), motion)
            if away < width / 2:
                text = f"it stands {away:.0f} mm from the hinge line of {group}: a door is pulled at its free side"
                yield subject.finding(
                    "handed.pull",
                    Severity.WARN,
                    p.path,
                    text,
                    value=away,
                    limit=width / 2,
                    source=HINGE_SOURCE,
                    remedy="move the pull to the door's free side",
                )


def _middle(box: list[list[float]]) -> Vec:
    low, high = box
    return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)


def _from_line(point: Vec, motion: Motion) -> float:
    """Return the distance of a point from the line of a motion, mm."""
    way = sub(point, motion.origin)
    along = scale(motion.direction, dot(way, motion.direction))
    return norm(sub(point, add(motion.origin, along))) if norm(cross(way, motion.direction)) > 0 else 0.0


def _held(subject: Subject, group: str, moving: Sequence[Placed], hinges: Sequence[Placed]) -> Iterator[Finding]:
    if any(isinstance(item_of(subject, p), CupHinge) for p in hinges):
        return
    # A pair has one set of its own between the two leaves: what belongs to the pair counts for both.
    pair = group.removesuffix(".left").removesuffix(".right")
    near = [*moving, *fixed_to(subject, pair), *fixed_to(subject, group)]
    near += [p for p in subject.piece.placed if p.path.startswith(f"{pair}/")]
    catch = any(isinstance(item_of(subject, p), Catch | Magnet | DoorBolt) for p in near)
    stop = any(".stop" in p.path or "astragal" in p.path for p in near)
    wood = box_of(subject, [p for p in moving if item_of(subject, p) is None])
    inset = float(wood[0, 1]) > -1.0
    if not catch:
        yield subject.finding(
            "fit.no_catch", Severity.WARN, group, "nothing holds it shut", source=STOP_SOURCE, remedy="set a catch"
        )
    if inset and not stop:
        text = "nothing stops it when it is shut"
        yield subject.finding("fit.no_stop", Severity.WARN, group, text, source=STOP_SOURCE, remedy="set a stop")


def _few(subject: Subject, group: str, severity: Severity, text: str, count: int, needed: int, remedy: str) -> Finding:
    return subject.finding(
        "fit.hinge_count",
        severity,
        group,
        text,
        value=float(count),
        limit=float(needed),
        unit="",
        source=HINGE_SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="fit.door",
    what="doors have hinges enough, on their hinge side, their pull on the other, a stop and a catch",
    needs=("motions", "hardware", "masses", "practice door.two_hinges_to, door.three_hinges_to, door.four_hinges_to"),
    source=HINGE_SOURCE,
    run=run,
)
