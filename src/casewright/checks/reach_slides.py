"""The levers that release a drawer from its slides can be reached with the drawer pulled out as far as it comes.

Those of under-mount slides lie in the front corners under the box, a finger comes to them from below; that of a
side-mount slide lies on its drawer member, a finger comes to it from beside the box.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from casewright.checks.fit_boxes import box_of, fixed_to, item_of, motions
from casewright.checks.model import Check, Subject
from casewright.checks.standing import met_boxes, standing
from casewright.design.assembly import Motion, MotionKind
from casewright.design.frames import Frame, Vec, add, cross, scale
from casewright.design.parts import Fastener, Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import placed_boxes
from casewright.solids.fastened import enters, fastener_boxes
from casewright.stock.fittings import UnderSlide
from casewright.stock.model import Slide

SOURCE = (
    "common practice: a drawer comes out to be cleaned behind, adjusted and moved; a finger of 24 mm, 60 mm long, at "
    "its levers"
)
FINGER, LONG = 12.0, 60.0  # mm: radius of a finger, and how much of it and of the hand has to be there


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each drawer of which a release lever cannot be reached."""
    for motion, group, moving in motions(subject, MotionKind.SLIDE):
        for slide, finger in _fingers(subject, group, motion, moving):
            met = _met(subject, finger, motion, moving, slide)
            if met is not None:
                yield subject.finding(
                    code="reach.slide",
                    severity=Severity.WARN,
                    path=group,
                    related=(slide.path, met.path),
                    message=f"no finger comes to the release lever of {slide.name}: {met.name} is in the way with the "
                    f"drawer {motion.reach:.0f} mm out",
                    source=SOURCE,
                    remedy="let the drawer come further out, or free the lever",
                )
                break


def _fingers(
    subject: Subject, group: str, motion: Motion, moving: Sequence[Placed]
) -> Iterator[tuple[Placed, Fastener]]:
    """Yield each slide that has a lever with a finger at it, as a round room: its tip at the lever, drawer out."""
    out = scale(motion.direction, motion.reach)
    for placed in (*moving, *fixed_to(subject, group)):
        item = item_of(subject, placed)
        if isinstance(item, UnderSlide) and item.lever and f"{group}." in placed.path:
            low, high = box_of(subject, [placed])
            left = placed.path.endswith(".left")
            # Under the box's corner, in the room of its bottom, inside the side.
            inner = (high[0] - item.notch_width / 2) if left else (low[0] + item.notch_width / 2)
            at = (float(inner), float(low[1]) + item.lever / 2, _underside(subject, moving))
            yield placed, _finger(placed, add(at, out), (0.0, 0.0, -1.0))
        elif isinstance(item, Slide) and item.lever_at and placed in moving:
            low, high = box_of(subject, [placed])
            left = placed.path.endswith(".left")
            at = (
                float(low[0] if left else high[0]),
                float(low[1]) + item.lever_at * item.length,
                float(low[2] + high[2]) / 2,
            )
            yield placed, _finger(placed, add(at, out), (-1.0 if left else 1.0, 0.0, 0.0))


def _underside(subject: Subject, moving: Sequence[Placed]) -> float:
    """Return how high the lower edge of a drawer's box lies."""
    sides = [p for p in moving if "/side." in p.path] or list(moving)
    return float(box_of(subject, sides)[0, 2])


def _finger(slide: Placed, at: Vec, away: Vec) -> Fastener:
    """Return a finger that touches a lever at a place and goes away from it along an axis."""
    across: Vec = (0.0, 1.0, 0.0)
    return Fastener(
        path=f"{slide.path}.finger",
        item="",
        joint="",
        parts=(),
        frame=Frame(origin=at, x=across, y=cross(away, across)),
        length=LONG,
        shank_radius=FINGER,
        thread_length=0.0,
    )


def _met(subject: Subject, finger: Fastener, motion: Motion, moving: Sequence[Placed], slide: Placed) -> Placed | None:
    """Return what a finger runs into: what stays, other fronts shut, and the drawer itself where it stands out."""
    own = {p.path for p in moving}
    box = fastener_boxes((finger,))[0]
    there = standing(subject)
    still = [p for p in there.met_by(box) if p.path not in own and p is not slide]
    out = scale(motion.direction, motion.reach)
    pulled = [replace(p, frame=p.frame.moved(out)) for p in moving if p is not slide]
    near = [pulled[i] for i in met_boxes(placed_boxes(pulled, subject.cache), box)]
    return next((p for p in (*still, *near) if enters(finger, p, subject.cache)), None)


CHECK = Check(
    code="reach.slide",
    what="the release levers of slides can be reached with the drawer out",
    needs=("motions", "slides of the stock", "solids of parts and hardware"),
    source=SOURCE,
    run=run,
)
