"""What screws carry: the slide of a filled drawer, and the top hinge of a hanging door.

Ultimate withdrawal p = 108.25 G² D L (N, mm; Wood Handbook Eq. 8-10) divided by 5.5, the ratio to the reference value
of NDS 12.2; lateral p = K D² (Wood Handbook Table 8-4) divided by 1.6 for a load that lasts. G at 12 % is density/1120.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.fit_boxes import box_of, fixed_to, item_of, motions
from casewright.checks.model import Check, Subject
from casewright.design.assembly import MotionKind
from casewright.design.parts import Placed
from casewright.findings import Finding, Severity
from casewright.solids.collide import is_under
from casewright.solids.measure import mass_of
from casewright.stock.model import Hinge

SOURCE = "Wood Handbook Eq. 8-10 and Table 8-4, with NDS 12.2's share of the ultimate (1/5.5) and 1.6 for lasting load"
GRAVITY = 9.81  # m/s²
WITHDRAWAL, SHARE, LASTING = 108.25, 5.5, 1.6
# Specific gravity from, and K in N/mm²: hardwoods, Wood Handbook Table 8-4 (metric); below the table as its least row.
LATERAL = ((0.0, 23.17), (0.48, 31.99), (0.57, 44.13))
PLAY = 1.5  # a drawer or door is leaned on: times its own weight


def withdrawal(gravity: float, diameter: float, thread: float) -> float:
    """Return what one screw in side grain may be pulled with for long, N: specific gravity, mm, mm of thread."""
    return WITHDRAWAL * gravity**2 * diameter * thread / SHARE


def lateral(gravity: float, diameter: float) -> float:
    """Return what one screw may bear across its axis for long, N."""
    k = next(k for least, k in reversed(LATERAL) if gravity >= least)
    return k * diameter**2 / LASTING


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each slide and each door whose screws carry more than they should."""
    held = {fastener.path: parts for fastener, parts in holds(subject)}
    for _motion, group, moving in motions(subject, MotionKind.SLIDE):
        cases = [p for p in fixed_to(subject, group) if ".slide_" in p.path]
        if cases:
            load = _filled(subject, group, moving) * GRAVITY * PLAY / len(cases)
            for case in cases:
                bears = sum(lateral(_gravity(h), h.diameter) for h in _into_wood(subject, case, held))
                yield from _told(subject, case.path, "its screws carry half of the filled drawer", load, bears)
    for _motion, group, moving in motions(subject, MotionKind.SWING):
        leaves = [p for p in moving if isinstance(item_of(subject, p), Hinge)]
        if len(leaves) >= 2 and abs(_motion.direction[2]) > 0.7:
            yield from _hinge(subject, group, moving, leaves, held)


def _filled(subject: Subject, group: str, moving: Sequence[Placed]) -> float:
    own = sum(mass_of(p.thing, subject.cache) for p in moving)
    bottom = subject.by_path.get(f"{group}/bottom")
    side = subject.by_path.get(f"{group}/side.left")
    if bottom is None or side is None:
        return own
    floor, wall = box_of(subject, [bottom]), box_of(subject, [side])
    area = float((floor[1, 0] - floor[0, 0]) * (floor[1, 1] - floor[0, 1]))
    return own + area * float(wall[1, 2] - floor[1, 2]) * 1e-6 * subject.practice["tipping.fill"]


def _hinge(
    subject: Subject,
    group: str,
    moving: Sequence[Placed],
    leaves: Sequence[Placed],
    held: dict[str, tuple[Hold, ...]],
) -> Iterator[Finding]:
    """A door pulls its top hinge off with weight × half its width / the distance of the outer hinges."""
    wood = box_of(subject, [p for p in moving if item_of(subject, p) is None])
    middles = sorted((float(box_of(subject, [p])[:, 2].mean()), p.path) for p in leaves)
    apart = middles[-1][0] - middles[0][0]
    weight = sum(mass_of(p.thing, subject.cache) for p in moving) * GRAVITY * PLAY
    pull = weight * float(wood[1, 0] - wood[0, 0]) / 2 / max(apart, 1.0)
    top = subject.by_path[middles[-1][1]]
    bears = sum(
        withdrawal(_gravity(h), h.diameter, min(h.bite, h.fastener.thread_length))
        for h in _into_wood(subject, top, held)
    )
    yield from _told(subject, top.path, f"its screws hold the upper end of {group}", pull, bears)


def _into_wood(subject: Subject, hardware: Placed, held: dict[str, tuple[Hold, ...]]) -> list[Hold]:
    """Return the last hold of every screw that fixes a thing of hardware to wood."""
    return [
        held[f.path][-1]
        for f in subject.piece.fasteners
        if held[f.path] and any(is_under(part, hardware.path) for part in f.parts)
    ]


def _gravity(hold: Hold) -> float:
    return hold.part.mass_density / 1120.0


def _told(subject: Subject, path: str, what: str, load: float, bears: float) -> Iterator[Finding]:
    if load <= bears:
        return
    yield subject.finding(
        code="fastener.load",
        severity=Severity.WARN,
        path=path,
        message=f"{what}, {load:.0f} N; they may bear {bears:.0f} N for long",
        value=load,
        limit=bears,
        unit="N",
        source=SOURCE,
        remedy="use more or thicker screws, or longer ones",
    )


CHECK = Check(
    code="fastener.load",
    what="the screws of slides and hinges carry what hangs on them",
    needs=("axes of fasteners", "masses", "densities", "practice tipping.fill"),
    source=SOURCE,
    run=run,
)
