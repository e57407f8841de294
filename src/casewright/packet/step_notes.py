"""What belongs beside a step of the assembly: which glue with its times, what to clamp, dry fits, diagonals."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass

from casewright.design.assembly import Joint, JointKind, PieceDesign
from casewright.design.parts import Part
from casewright.packet.hardware_list import served
from casewright.packet.step_runs import StepRun
from casewright.project import Project
from casewright.solids.collide import is_under_any, placed_boxes
from casewright.stock.model import Glue

GLUE_ROLES = {JointKind.MITRE: "corner_glue", JointKind.INSERT: "insert_glue"}
DRY_FIT_FROM = 2  # glued joints that close at once
PINNED = frozenset(
    {JointKind.PINS, JointKind.MITRE, JointKind.INSERT}
)  # are pressed home one by one, without a dry run


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueUse:
    """A glue in one step, and for how many joints: pairs of parts, however many things hold two of them together."""

    glue: Glue
    joints: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StepNotes:
    """`clamped` counts glued joints that no fastener holds; `diagonal` is in mm, 0 where none is asked for.

    `overhangs` of a top that is cut: how far it stands out in front, at each side and behind, mm (less than 0: short).
    """

    glues: tuple[GlueUse, ...]
    clamped: int
    dry_fit: bool
    diagonal: float
    overhangs: tuple[float, float, float] | None = None


def step_notes(project: Project, piece: PieceDesign, runs: tuple[StepRun, ...], run: StepRun) -> StepNotes:
    """Return the notes of one of the numbered steps of a piece."""
    joints = {j.id: j for j in piece.joints}
    glued = [joints[i] for i in run.closes if joints[i].glued]
    counts = Counter(role for role, _ in {(GLUE_ROLES.get(j.kind, "glue"), _pair(j)) for j in glued})
    uses = [(served(project, role), counts[role]) for role in sorted(counts)]
    held = _held(piece)
    clamped = {_pair(j) for j in glued if _pair(j) not in held and j.kind not in GLUE_ROLES}
    fitted = {_pair(j) for j in glued if j.kind not in PINNED}
    return StepNotes(
        glues=tuple(GlueUse(glue=glue, joints=n) for glue, n in uses if isinstance(glue, Glue)),
        clamped=len(clamped),
        dry_fit=len(fitted) >= DRY_FIT_FROM,
        diagonal=diagonal(project, piece, runs, run) if "diagonal" in run.first.text else 0.0,
        overhangs=_overhangs(piece) if TOP_CUT.search(run.first.text) else None,
    )


TOP_CUT = re.compile(r"[Cc]ut (the top('s parts)?|it) to size")  # what the step says in which a top gets its size


def _overhangs(piece: PieceDesign) -> tuple[float, float, float] | None:
    sizes = {s.name: s.value for s in piece.sizes}
    names = [f"top.overhang_{where}" for where in ("front", "side", "back")]
    if not all(name in sizes for name in names):
        return None
    front, side, back = (sizes[name] for name in names)
    return front, side, back - sizes.get("top.to_wall", 0.0)


def _pair(joint: Joint) -> frozenset[str]:
    return frozenset((joint.a, joint.b))


def _held(piece: PieceDesign) -> frozenset[frozenset[str]]:
    """Return the pairs of parts that a fastener holds."""
    joints: dict[str, Joint] = {j.id: j for j in piece.joints}
    fastened = {f.joint for f in piece.fasteners}
    return frozenset(_pair(joints[i]) for i in fastened if i in joints)


def diagonal(project: Project, piece: PieceDesign, runs: tuple[StepRun, ...], run: StepRun) -> float:
    """Return the diagonal of what stands together after a step, mm: over its open side, through which one looks.

    That is square to the direction in which its parts reach from side to side on the average: a frame is looked at from
    its face, a drawer box or plinth from above, however high it is. Of the piece itself it is that of its front: width
    and height of the parts that are there so far.
    """
    group = run.first.into
    brought = [b for r in runs[: run.number] for step in r.steps if step.into == group for b in step.brings]
    parts = tuple(p for p in piece.placed if isinstance(p.thing, Part) and is_under_any(p.path, brought))
    boxes = placed_boxes(parts, project.cache)
    whole = boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0)
    share = ((boxes[:, 3:] - boxes[:, :3]) / whole).mean(axis=0)
    through = 1 if group == piece.path else int(share.argmax())
    one, two = (float(size) for axis, size in enumerate(whole.tolist()) if axis != through)
    return math.hypot(one, two)
