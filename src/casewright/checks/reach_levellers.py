"""Levelling feet can be turned where the finished piece stands: with a spanner under it, or a key from inside.

A spanner is a flat bar with a head and a hand at its end, turned about the foot: free places from which it has half a
flat to go are looked for all round. A key comes from above, down to the end of the stem.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from casewright.checks.assembly_tools import Tool, reaches
from casewright.checks.fit_boxes import item_of, staying
from casewright.checks.model import Check, Subject
from casewright.checks.standing import met_boxes, standing
from casewright.design.blocks.hardware import block
from casewright.design.frames import Frame, Vec, cosd, sind
from casewright.design.parts import Fastener, Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import overall_box, overlap, placed_boxes
from casewright.stock.model import Leveller

SOURCE = (
    "common practice: floors are uneven and settle, so feet are turned where the piece stands; a flat spanner of 5 × "
    "140 mm, half a flat of a hexagon at a time; a key or screwdriver with a shank of 7 × 230 mm"
)
STEP = 15  # degrees between the places of the spanner that are looked at
TURN = 30  # degrees: half a flat; the spanner is turned over for the other half
THIN, LONG = 5.0, 140.0  # mm: of the spanner
HEAD, SHANK = 2.2, 1.0  # times the flats: width of its head, of its shank
ARM = (95.0, 40.0, 45.0)  # mm: where a hand begins along it, half its width and the forearm's, height over the floor
REACH = 750.0  # mm: of an arm under a base
ROUND = 100.0  # mm: arms are taken as long as the next multiple, so that few differ
ROOM = 600.0  # mm: beside the piece, for whoever reaches under it
KEYS = tuple(Tool(name="key", bit=bit, thin=3.5, body=100.0, wide=16.0) for bit in (75.0, 150.0, 230.0))


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each levelling foot that nothing turns once the piece stands."""
    stays = staying(subject)
    for placed in subject.piece.placed:
        item = item_of(subject, placed)
        if not isinstance(item, Leveller) or not (item.flats or item.key):
            continue
        if item.flats and _from_below(subject, placed, item, stays):
            continue
        if item.key and _from_inside(subject, placed, item, stays):
            continue
        yield subject.finding(
            code="reach.leveller",
            severity=Severity.WARN,
            path=placed.path,
            message="once the piece stands, no spanner comes to it under the base and no key from inside",
            source=SOURCE,
            remedy="a hole over it through the bottom of the case, more room under the base, or shims in its place",
        )


def _from_inside(subject: Subject, placed: Placed, item: Leveller, stays: Sequence[Placed]) -> bool:
    """True where a key comes down to the end of the stem, from the inside of the case."""
    x, y, _ = placed.frame.origin
    top = float(standing(subject).of([placed])[0, 5])
    key = Fastener(
        path=f"{placed.path}.key",
        item=item.id,
        joint="",
        parts=(placed.path, f"{placed.path.rpartition('/')[0]}/insert"),
        frame=Frame(origin=(x, y, top), x=(1.0, 0.0, 0.0), y=(0.0, -1.0, 0.0)),
        length=1.0,
        shank_radius=item.key / 2,
        thread_length=0.0,
    )
    return reaches(KEYS, key, stays, subject)


def _from_below(subject: Subject, foot: Placed, item: Leveller, stays: Sequence[Placed]) -> bool:
    """True where a spanner, with an arm at its end, goes half a flat about the foot.

    The nearest way out is tried first: where that is free, nothing else has to be looked at.
    """
    others = [p for p in stays if p is not foot]
    ways = range(0, 360, STEP)
    first = min(range(len(ways)), key=lambda i: _way_out(subject, foot, _along(ways[i])))
    free: list[bool | None] = [None] * len(ways)
    places = TURN // STEP + 1
    for start in range(first - places // 2, first - places // 2 + len(ways)):
        turn = [(start + k) % len(ways) for k in range(places)]
        for i in turn:
            if free[i] is None:
                free[i] = _free(subject, foot, item, ways[i], others)
            if not free[i]:
                break
        else:
            return True
    return False


def _along(degrees: float) -> Vec:
    return (cosd(degrees), sind(degrees), 0.0)


def _free(subject: Subject, foot: Placed, item: Leveller, degrees: float, others: Sequence[Placed]) -> bool:
    """True where a spanner can stand on a foot in a direction, and the arm that holds it comes from outside."""
    x, y, _ = foot.frame.origin
    along = _along(degrees)
    outside = _way_out(subject, foot, along)
    if outside > REACH:
        return False
    floor = float(standing(subject).of([foot])[0, 2])
    frame = Frame(origin=(x, y, floor), x=along, y=(-along[1], along[0], 0.0))
    boxes = standing(subject).of(others)
    for thing in (_spanner(item), _arm(item, ROUND * math.ceil(max(outside + ARM[1], 2 * ARM[0]) / ROUND))):
        box = placed_boxes((Placed(path=foot.path, name="spanner", thing=thing, frame=frame),), subject.cache)[0]
        for i in met_boxes(boxes, box):
            if overlap(others[i].thing, thing, others[i].frame.relative(frame), subject.cache) is not None:
                return False
    return True


def _way_out(subject: Subject, foot: Placed, along: Vec) -> float:
    """Return how far the edge of the piece's plan is from a foot in a direction, mm: infinite towards a wall."""
    at = foot.frame.origin
    low, high = subject.once("overall", lambda: overall_box(subject.piece, subject.cache))
    edges: list[tuple[float, float]] = []
    for axis in (0, 1):
        if abs(along[axis]) > 1e-9:
            edge = high[axis] if along[axis] > 0 else low[axis]
            wall = _walled(subject, axis, along[axis] > 0)
            edges.append(((edge - at[axis]) / along[axis], math.inf if wall else 0.0))
    return sum(min(edges))


def _walled(subject: Subject, axis: int, high: bool) -> bool:
    """True for a side of the piece from which nobody reaches under it: the rear, and where a wall or a bed is near."""
    if axis == 1:
        return high
    hand = "right" if high else "left"
    return any(
        (gap := getattr(subject.around, f"{what}_{hand}")) is not None and gap < ROOM for what in ("wall", "bed")
    )


@lru_cache(maxsize=64)
def _spanner(item: Leveller) -> Hardware:
    """Return a spanner on a foot: origin on the floor under the foot, x along it."""
    z = (item.pad_height - THIN, item.pad_height) if item.pad_height > THIN else (0.0, THIN)
    head, shank = HEAD * item.flats / 2, SHANK * item.flats / 2
    bodies = (block((-head, head), (-head, head), z), block((head, LONG), (-shank, shank), z))
    return Hardware(item=item.id, bodies=bodies, mass=0.0)


@lru_cache(maxsize=256)
def _arm(item: Leveller, reach: float) -> Hardware:
    """Return the hand at the spanner and the forearm behind it, out to `reach` mm, in the spanner's frame."""
    hand, half, high = ARM
    return Hardware(item=item.id, bodies=(block((hand, reach), (-half, half), (1.0, high)),), mass=0.0)


CHECK = Check(
    code="reach.leveller",
    what="levelling feet can be turned where the finished piece stands",
    needs=("solids of parts and hardware", "motions", "levelling feet of the stock"),
    source=SOURCE,
    run=run,
)
