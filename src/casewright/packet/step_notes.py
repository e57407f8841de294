"""What belongs beside a step of the assembly, worked out from what the step does.

How the piece lies and what has to be turned, what is packed up, which glue with its times, what to clamp, dry fits,
diagonals, overhangs; `step_holds.py` has its fasteners and holes.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from casewright.design.assembly import Joint, JointKind, Lie, PieceDesign, Step, StepKind
from casewright.design.parts import Part, Placed
from casewright.design.step_runs import StepRun
from casewright.packet.hardware_list import served
from casewright.packet.joint_schedule import JointRow, rows_of_joints
from casewright.packet.step_holds import Held, SlotPlace, held_in, slot_places
from casewright.project import Project
from casewright.solids.collide import is_under_any, placed_boxes
from casewright.solids.measure import mass_of
from casewright.stock.model import Glue

GLUE_ROLES = {JointKind.MITRE: "corner_glue", JointKind.INSERT: "insert_glue"}
DRY_FIT_FROM = 2  # glued joints that close at once
PINNED = frozenset(
    {JointKind.PINS, JointKind.MITRE, JointKind.INSERT}
)  # are pressed home one by one, without a dry run
PACKED = (0.5, 100.0)  # mm behind the plane of the bench: less is nothing, more is held by its fellows


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueUse:
    """A glue in one step, and for how many joints: pairs of parts, however many things hold two of them together.

    `last` where no step follows at once that glues more to the same group as it lies: there it is left to hold.
    """

    glue: Glue
    joints: int
    last: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """How the piece is turned before a step, what it weighs by then, kg, and its largest size when finished, mm."""

    lie: Lie
    mass: float
    largest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """The diagonals of a group that is closed, mm; `over` where some of its parts are still to be trimmed."""

    group: str
    size: float
    over: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StepNotes:
    """All counts are those of one unit where a step is done for several, as far as they are alike.

    `clamped` counts glued joints that no fastener holds.
    `overhangs` of a top that is cut: how far it stands out in front, at each side and behind, mm (less than 0: short).
    `packed`: names of parts with how far they are packed up, mm.
    """

    glues: tuple[GlueUse, ...]
    clamped: int
    dry_fit: bool
    diagonals: tuple[Diagonal, ...]
    overhangs: tuple[float, float, float] | None
    turned: Turned | None
    packed: tuple[tuple[str, float], ...]
    held: tuple[Held, ...]
    slots: tuple[SlotPlace, ...]


def notes_of(project: Project, piece: PieceDesign, runs: tuple[StepRun, ...]) -> tuple[StepNotes, ...]:
    """Return the notes of each of the numbered steps of a piece."""
    rows = rows_of_joints(project, piece)
    joints = {j.id: j for j in piece.joints}
    held = _held(joints, piece)
    notes = [_notes(project, piece, runs, run, rows, joints, held) for run in runs]
    following = [_goes_on(runs[i:], notes[i:]) for i in range(len(notes))]
    return tuple(
        replace(own, glues=tuple(replace(use, last=use.glue not in more) for use in own.glues))
        for own, more in zip(notes, following, strict=True)
    )


def _goes_on(runs: Sequence[StepRun], notes: Sequence[StepNotes]) -> tuple[Glue, ...]:
    """Return the glues of the next step that glues to the group of the first of these, as it lies.

    Nothing where anything comes before it but what joins the same group dry.
    """
    first = runs[0]
    for run, own in zip(runs[1:], notes[1:], strict=True):
        if (run.first.into, run.block) != (first.first.into, first.block) or own.turned is not None:
            return ()
        if run.first.kind is not StepKind.BRING:
            return ()
        if own.glues:
            return tuple(use.glue for use in own.glues)
    return ()


def _notes(
    project: Project,
    piece: PieceDesign,
    runs: tuple[StepRun, ...],
    run: StepRun,
    rows: Mapping[str, tuple[JointRow, ...]],
    joints: Mapping[str, Joint],
    held: frozenset[frozenset[str]],
) -> StepNotes:
    each = len(run.units) or 1
    glued = [joints[i] for i in run.closes if joints[i].glued]
    counts = Counter(role for role, _ in {(GLUE_ROLES.get(j.kind, "glue"), _pair(j)) for j in glued})
    uses = [(served(project, role), counts[role]) for role in sorted(counts)]
    clamped = {_pair(j) for j in glued if _pair(j) not in held and j.kind not in GLUE_ROLES}
    fitted = {_pair(j) for j in glued if j.kind not in PINNED}
    groups = dict.fromkeys(step.into for step in run.steps if step.squares)
    return StepNotes(
        glues=tuple(GlueUse(glue=glue, joints=n // each, last=True) for glue, n in uses if isinstance(glue, Glue)),
        clamped=len(clamped) // each,
        dry_fit=run.first.dry_fit or len(fitted) // each >= DRY_FIT_FROM,
        diagonals=tuple(diagonal(project, piece, runs, run, group) for group in groups),
        overhangs=_overhangs(piece) if _cuts_top(piece, run) else None,
        turned=_turned(project, piece, run.first),
        packed=_packed(project, piece, run),
        held=held_in(run, rows),
        slots=slot_places(piece, run),
    )


def _cuts_top(piece: PieceDesign, run: StepRun) -> bool:
    return f"{piece.path}/top" in run.cuts


def _overhangs(piece: PieceDesign) -> tuple[float, float, float] | None:
    sizes = {s.name: s.value for s in piece.sizes}
    names = [f"top.overhang_{where}" for where in ("front", "side", "back")]
    if not all(name in sizes for name in names):
        return None
    front, side, back = (sizes[name] for name in names)
    return front, side, back - sizes.get("top.to_wall", 0.0)


def _pair(joint: Joint) -> frozenset[str]:
    return frozenset((joint.a, joint.b))


def _held(joints: Mapping[str, Joint], piece: PieceDesign) -> frozenset[frozenset[str]]:
    """Return the pairs of parts that a fastener holds."""
    fastened = {f.joint for f in piece.fasteners}
    return frozenset(_pair(joints[i]) for i in fastened if i in joints)


def diagonal(project: Project, piece: PieceDesign, runs: tuple[StepRun, ...], run: StepRun, group: str) -> Diagonal:
    """Return the diagonal of what stands together in a group after a step: over its open side.

    That is square to the direction in which its parts reach from side to side on the average: a frame is looked at from
    its face, a drawer box or plinth from above, however high it is. Of the piece itself it is that of its front: width
    and height of the parts that are there so far. It is what a tape shows then: over what is trimmed off later.
    """
    brought = [b for r in runs[: run.number] for step in r.steps if step.into == group for b in step.brings]
    parts = tuple(p for p in piece.placed if isinstance(p.thing, Part) and is_under_any(p.path, brought))
    done, waiting = ({c for r in some for c in r.cuts} for some in (runs[: run.number], runs[run.number :]))
    boxes = placed_boxes(parts, project.cache)
    trimmed = {p.path for p in parts if p.part.allowance.at is not None and p.path not in done}
    grown = np.array([_grown(box, p) if p.path in trimmed else box for p, box in zip(parts, boxes, strict=True)])
    long = np.array([_left_on(p) for p in parts if p.part.allowance.at is None and p.path in waiting]).reshape(-1, 3)
    whole = grown[:, 3:].max(axis=0) - grown[:, :3].min(axis=0) + long.max(axis=0, initial=0.0)
    share = ((boxes[:, 3:] - boxes[:, :3]) / whole).mean(axis=0)
    through = 1 if group == piece.path else int(share.argmax())
    one, two = (float(size) for axis, size in enumerate(whole.tolist()) if axis != through)
    return Diagonal(group=group, size=math.hypot(one, two), over=bool(trimmed) or bool(long.any()))


def _grown(box: NDArray[np.float64], placed: Placed) -> NDArray[np.float64]:
    """Return the box of a part, low and high corner, with what stands over at one of its faces until it is trimmed."""
    left = placed.part.allowance
    if left.at is None:
        return box
    out = [0.0, 0.0, 0.0]
    out[left.at.axis] = (left.length, left.width, left.thickness)[left.at.axis] * (1.0 if left.at.high else -1.0)
    way = np.array(placed.frame.direction((out[0], out[1], out[2])))
    grown: NDArray[np.float64] = box + np.concatenate((np.minimum(way, 0.0), np.maximum(way, 0.0)))
    return grown


def _left_on(placed: Placed) -> NDArray[np.float64]:
    """Return by how much a part is longer along each axis of the piece until it is cut: rails widen their frame."""
    left = placed.part.allowance
    longer: NDArray[np.float64] = np.abs(np.array(placed.frame.direction((left.length, left.width, 0.0))))
    return longer


def _turned(project: Project, piece: PieceDesign, step: Step) -> Turned | None:
    """Return how the piece is turned before a step; None where it stays as it lies, or nothing of it stands."""
    at = piece.steps.index(step)
    stands = standing_before(piece, at)
    if not stands or piece.steps[at - 1].lie is step.lie:
        return None
    mass = sum(mass_of(p.thing, project.cache) for p in stands)
    return Turned(lie=step.lie, mass=mass, largest=max(piece.width, piece.depth, piece.height))


def standing_before(piece: PieceDesign, at: int) -> tuple[Placed, ...]:
    """Return what stands in the piece before the step of an index."""
    there: dict[str, bool] = {}
    for step in piece.steps[:at]:
        if step.kind not in (StepKind.BRING, StepKind.REMOVE):
            continue
        for placed in piece.placed:
            if is_under_any(placed.path, step.brings):
                there[placed.path] = step.kind is StepKind.BRING and step.into == piece.path
    return tuple(p for p in piece.placed if there.get(p.path))


def _packed(project: Project, piece: PieceDesign, run: StepRun) -> tuple[tuple[str, float], ...]:
    """Return the parts that lie on the bench a little behind the edges beside them, and how far, mm.

    The piece lies on its front: the plane of the bench is that of the edges which stand out furthest.
    """
    steps = [s for s in run.steps if s.packed and s.lie is Lie.FRONT]
    if not steps:
        return ()
    shell = _parts(piece, [s for s in piece.steps if s.packed])
    fronts = placed_boxes(shell, project.cache)[:, 1]
    bench = float(fronts.min())
    own = _parts(piece, steps)
    gaps = {p.path: float(y) - bench for p, y in zip(shell, fronts, strict=True)}
    least, most = PACKED
    return tuple((p.name, gaps[p.path]) for p in own if least < gaps[p.path] <= most)


def _parts(piece: PieceDesign, steps: Sequence[Step]) -> tuple[Placed, ...]:
    brought = [b for s in steps for b in s.brings]
    return tuple(p for p in piece.placed if isinstance(p.thing, Part) and is_under_any(p.path, brought))
