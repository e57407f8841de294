"""Each part arrives by its moves without passing through what is there; otherwise a way or an order that works."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from casewright.checks.assembly_state import Scene, scenes
from casewright.checks.model import Check, Subject
from casewright.checks.motion_sweep import Boxed, Met, Way, fasteners_on_way, met_on_way
from casewright.checks.standing import standing
from casewright.design.frames import ORIGIN, Vec, add, dot, norm, scale, unit
from casewright.findings import Finding, Severity

SOURCE = "two solid things cannot share a place, also while one of them arrives"
NAMES: tuple[tuple[Vec, str], ...] = (
    ((1.0, 0.0, 0.0), "from the left"), ((-1.0, 0.0, 0.0), "from the right"), ((0.0, 1.0, 0.0), "from the front"),
    ((0.0, -1.0, 0.0), "from behind"), ((0.0, 0.0, 1.0), "from below"), ((0.0, 0.0, -1.0), "from above"),
)  # fmt: skip
STRAIGHT = 0.9998  # cosine of 1°: how far a part may be askew on its dowels
NAMED = 4  # things in the way that one step names: enough to see what is wrong
STEERED = 0.5  # mm: parts come by hand, not on rails, and are led around what stands in their way by less


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for each thing in the way of an arrival, and for dowels across it."""
    told: set[tuple[str, str]] = set()
    for scene in scenes(subject):
        met_here = arrival(subject, scene, scene.step.moves)
        fresh = list(islice((met for met in met_here if (met.mover, met.other) not in told), NAMED))
        told.update((met.mover, met.other) for met in fresh)
        remedy = _way_out(subject, scene, fresh[0]) if fresh else ""
        yield from (_blocked(subject, scene, met, remedy) for met in fresh)
        yield from _askew(subject, scene)


def arrival(subject: Subject, scene: Scene, moves: Sequence[Vec], without: str = "") -> Iterator[Met]:
    """Yield what is met by what arrives along `moves`, first by what stands there, then by its fasteners."""
    there, cache, opened = standing(subject), subject.cache, scene.opened
    present = [p for p in scene.present if p.path != without and p.path not in opened]
    fastened = [f for f in scene.fastened if without not in f.parts and opened.isdisjoint(f.parts)]
    movers, others = (Boxed(things, there.of(things)) for things in (scene.arriving, present))
    driven = Boxed(fastened, there.of_fasteners(fastened))
    end = ORIGIN
    for move in reversed(moves):
        way = Way(start=add(end, scale(move, -1.0)), end=end)
        yield from met_on_way(movers, others, way, cache, STEERED)
        yield from fasteners_on_way(movers, driven, way, cache)
        end = way.start


def _askew(subject: Subject, scene: Scene) -> Iterator[Finding]:
    """Yield a stop for each dowel of a joint that closes here, whose part does not arrive along it."""
    if not scene.step.moves or norm(scene.step.moves[-1]) == 0.0:
        return
    way = unit(scene.step.moves[-1])
    arriving = {p.path for p in scene.arriving}
    for f in scene.driven:
        across = len(arriving.intersection(f.parts)) not in (0, len(f.parts))
        pegged = ".peg[" in f.path  # driven once both parts are together
        dowel = f.item.startswith("dowel") and not f.head_radius and not pegged
        if not dowel or not across or abs(dot(way, f.frame.z)) >= STRAIGHT:
            continue
        yield subject.finding(
            code="assembly.dowel",
            severity=Severity.STOP,
            path=f.path,
            related=(scene.step.id,),
            message=f"step {scene.number} brings its part across the dowel's axis",
            source=SOURCE,
            remedy="bring the part along its dowels, or bore for the dowel once both parts are together",
        )


def _blocked(subject: Subject, scene: Scene, met: Met, remedy: str) -> Finding:
    return subject.finding(
        code="assembly.blocked",
        severity=Severity.STOP,
        path=met.mover,
        related=(met.other, scene.step.id),
        message=f"step {scene.number} brings it through {met.other}, {met.at:.0f} mm along its way",
        value=met.depth,
        limit=STEERED,
        source=SOURCE,
        remedy=remedy,
    )


def _way_out(subject: Subject, scene: Scene, met: Met) -> str:
    """Return what to do: another way for the same step, an order that works, or a wider opening."""
    far = max((norm(m) for m in scene.step.moves), default=100.0)
    for direction, name in NAMES:
        moves = (scale(direction, far),)
        if next(arrival(subject, scene, moves), None) is None:
            return f"bring it {name}: that way is clear"
    late = next((s for s in scenes(subject) if any(p.path == met.other for p in s.arriving)), None)
    others = arrival(subject, scene, scene.step.moves, without=met.other)
    clear = next(others, None) is None
    if late is not None and clear and late.place < scene.place and _can_follow(subject, scene, late):
        return f"bring it before step {late.number}: without {met.other} the way is clear"
    return "no straight way leads there in this order: bring what is in the way later, or make it in two parts"


def _can_follow(subject: Subject, scene: Scene, late: Scene) -> bool:
    """True where what came too early can still arrive once the rest is there."""
    around = Scene(
        piece=scene.piece,
        number=late.number,
        place=late.place,
        step=late.step,
        arriving=late.arriving,
        present=(*late.present, *scene.arriving),
        closed=late.closed,
    )
    return next(arrival(subject, around, late.step.moves), None) is None


CHECK = Check(
    code="assembly",
    what="every part arrives by its moves past what is already there",
    needs=("steps", "solids of parts and hardware", "axes of fasteners"),
    source=SOURCE,
    run=run,
)
