"""Doors and lids past what stands beside the piece: walls, the bed, a skirting board; room for a plug behind it.

The wall behind stands at the rearmost point of the piece, or as far from it as the skirting keeps it. Walls beside it
come from the order, or from a strip that is scribed to one. A turn is looked at from degree to degree; a wall is a
plane, so the corners of what turns tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.checks.fit_boxes import box_of, motions
from casewright.checks.model import Check, Subject
from casewright.checks.motion import turning
from casewright.design.assembly import Motion, MotionKind
from casewright.design.parts import Part, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import is_under_any, overall_box, vertices
from casewright.solids.evaluate import placed_points

SOURCE = "[room] and [piece.around] of the order; geometry"
USABLE = 87.0  # degrees: a door that has met something there shuts off its own opening
LID = 95.0  # degrees: a lid that opens less falls shut
STEP = 3.0  # degrees
PLAY = 1.0  # mm
PLUG = 40.0  # mm: half the height of a socket and its plug


@dataclass(frozen=True, slots=True)
class _Obstacle:
    """A plane across an axis of the piece: `sign` 1 where it lies at the high end; it reaches up to `high`, mm."""

    code: str
    name: str
    axis: int
    sign: float
    at: float
    high: float


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for a door or lid that hardly opens, a warning for one that meets something later on its way."""
    if not subject.piece.placed:
        return
    low, high = overall_box(subject.piece, subject.cache)
    obstacles = tuple(_obstacles(subject, low[0], high[0], high[1]))
    for motion, group, moving in motions(subject, MotionKind.SWING):
        met = _first_met(subject, motion, moving, obstacles)
        if met is not None:
            yield _finding(subject, motion, group, *met)
    for obstacle in obstacles:
        if obstacle.code == "around.skirting":
            yield from _standing_in(subject, obstacle)
    yield from _plug(subject, high[1])


def _obstacles(subject: Subject, left: float, right: float, rear: float) -> Iterator[_Obstacle]:
    """Yield what stands around a piece that reaches from `left` to `right` and back to `rear`."""
    room, around = subject.room, subject.around
    infinite = float("inf")
    yield _Obstacle("around.wall", "the wall behind", 1, 1.0, rear, infinite)
    for hand, sign, edge in (("left", -1.0, left), ("right", 1.0, right)):
        wall: float | None = getattr(around, f"wall_{hand}")
        strip = subject.by_path.get(f"{subject.piece.path}/scribe.{hand}")
        if strip is not None:
            # Overall sizes leave it out; the wall begins where it ends.
            wall = sign * float(box_of(subject, [strip])[0 if sign < 0 else 1, 0] - edge)
        bed: float | None = getattr(around, f"bed_{hand}")
        if wall is not None:
            at = edge + sign * wall
            yield _Obstacle("around.wall", f"the wall at its {hand}", 0, sign, at, infinite)
            if room.skirting_height and room.skirting_thickness:
                skirting = at - sign * room.skirting_thickness
                yield _Obstacle(
                    "around.skirting", f"the skirting at its {hand}", 0, sign, skirting, room.skirting_height
                )
        if bed is not None:
            yield _Obstacle("around.bed", f"the bed at its {hand}", 0, sign, edge + sign * bed, _bed(subject))


def _bed(subject: Subject) -> float:
    return float("inf") if subject.room.mattress_height is None else subject.room.mattress_height


def _first_met(
    subject: Subject, motion: Motion, moving: Sequence[Placed], obstacles: Sequence[_Obstacle]
) -> tuple[float, _Obstacle, Placed] | None:
    """Return the first angle at which something that turns reaches an obstacle."""
    turn = turning(motion)
    clouds = [(p, placed_points(vertices(p.thing, subject.cache), p.frame)) for p in moving]
    for angle in np.arange(STEP, motion.reach + STEP / 2, STEP).tolist():
        frame = turn.frame(angle)
        for placed, points in clouds:
            there = placed_points(points, frame)
            for o in obstacles:
                if _reaches(there, o, subject.around.hung):
                    return angle, o, placed
    return None


def _reaches(points: NDArray[np.float64], o: _Obstacle, hung: float) -> bool:
    far = o.sign * float((o.sign * points[:, o.axis]).max())
    return o.sign * (far - o.at) > PLAY and float(points[:, 2].min()) + hung < o.high


def _finding(
    subject: Subject, motion: Motion, group: str, angle: float, obstacle: _Obstacle, placed: Placed
) -> Finding:
    lid = abs(motion.direction[2]) < 0.7
    least = LID if lid else USABLE
    hardly = angle <= least
    return subject.finding(
        code=obstacle.code,
        severity=Severity.STOP if hardly else Severity.WARN,
        path=group,
        related=(placed.path,),
        message=f"its {placed.name} meets {obstacle.name} at {angle:.0f}°, before it is open to {motion.reach:.0f}°",
        value=angle,
        limit=motion.reach,
        unit="deg",
        source=SOURCE,
        remedy="more room beside it, a stay that holds it there, a flatter pull, or the other hinge side"
        if not lid
        else "hinges further forward, a stay, or the piece further from the wall",
    )


def _standing_in(subject: Subject, skirting: _Obstacle) -> Iterator[Finding]:
    """Yield a stop for the part of the case that stands deepest in a skirting; a scribed strip is cut to it."""
    deepest: tuple[float, Placed] | None = None
    moving = [m for motion in subject.piece.motions for m in motion.members]
    for p in subject.piece.placed:
        if is_under_any(p.path, moving) or p.path.startswith(f"{subject.piece.path}/scribe."):
            continue
        box = box_of(subject, [p])
        deep = float(max(skirting.sign * (box[:, skirting.axis] - skirting.at)))
        if deep > PLAY and box[0, 2] + subject.around.hung < skirting.high and (not deepest or deep > deepest[0]):
            deepest = deep, p
    if deepest is not None:
        deep, part = deepest
        yield subject.finding(
            code="around.skirting",
            severity=Severity.STOP,
            path=part.path,
            message=f"it stands {deep:.1f} mm in {skirting.name}",
            value=deep,
            limit=0.0,
            source=SOURCE,
            remedy="more room beside the piece, a wider scribing strip, or a skirting that ends at the piece",
        )


def _plug(subject: Subject, rear: float) -> Iterator[Finding]:
    """Warn of a part that stands so near to the wall that no plug goes behind it, at the height of the sockets."""
    deep = subject.room.plug_depth
    if subject.room.socket_height is None or deep <= 0:
        return
    at = subject.room.socket_height - subject.around.hung
    behind: list[tuple[float, Placed]] = []
    for p in subject.piece.placed:
        if isinstance(p.thing, Part):
            box = box_of(subject, [p])
            if box[0, 2] < at + PLUG and box[1, 2] > at - PLUG and box[1, 0] - box[0, 0] > 2 * PLUG:
                behind.append((float(box[1, 1]), p))
    if not behind:
        return
    reach, part = max(behind, key=lambda b: b[0])
    if rear - reach < deep:
        yield subject.finding(
            code="around.socket",
            severity=Severity.WARN,
            path=part.path,
            message=f"a plug in a socket {subject.room.socket_height:.0f} mm above the floor has {rear - reach:.0f} mm",
            value=rear - reach,
            limit=deep,
            source=SOURCE,
            remedy="a cut-out in the back, a top that stands out behind, or another socket",
        )


CHECK = Check(
    code="around",
    what="doors and lids open past walls, bed and skirting; a plug has room behind the piece",
    needs=("motions", "solids of what moves", "[room] and [piece.around]"),
    source=SOURCE,
    run=run,
)
