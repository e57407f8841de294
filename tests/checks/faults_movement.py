"""Faults of wood that moves."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, DOOR, TOUCHING, Fault

from casewright.checks.model import Subject
from casewright.design.assembly import JointKind
from casewright.design.blocks.top import Moisture
from casewright.design.features.edges import EdgeProfile
from casewright.design.features.openings import Slot
from casewright.design.parts import Part

SOLID_DOOR, SOLID_CASE = "solid-door", "solid-case"
FRONT, REAR = "top~stretcher.front", "top~stretcher.rear"


def _room(dry: float, damp: float, fitted: float) -> do.Edit:
    """Put it into a room of other moisture contents of the wood, %."""
    return lambda subject: replace(subject, moisture=Moisture(dry=dry, damp=damp, fitted=fitted))


def _kind(joint: str, kind: JointKind) -> do.Edit:
    return do.joint(joint, lambda j: replace(j, kind=kind))


def _no_slots(part: Part) -> Part:
    return replace(part, features=tuple(f for f in part.features if not isinstance(f, Slot)))


def _no_profile(part: Part) -> Part:
    return replace(part, features=tuple(f for f in part.features if not isinstance(f, EdgeProfile)))


def _unknown_cherry(subject: Subject) -> Subject:
    woods = tuple(replace(w, tangential_coefficient=None) if w.id == "cherry-black" else w for w in subject.sizes.woods)
    return replace(subject, sizes=replace(subject.sizes, woods=woods))


def _solid_side(subject: Subject) -> Subject:
    """Make a side of cherry boards in place of sheet."""
    boards = next(items for role, items in subject.sizes.roles if role == "top")
    roles = tuple((r, (*i, *boards) if r == "case" else i) for r, i in subject.sizes.roles)
    known = replace(subject, sizes=replace(subject.sizes, roles=roles))
    return do.part("side.left", lambda p: replace(p, stock=boards[0].id))(known)


MOVEMENT = (
    Fault(
        name="plain holes where the rear screws of the top need slots",
        of=BEDSIDE,
        edit=do.part("stretcher.rear", _no_slots),
        code="movement.slot",
        path=REAR,
        also=TOUCHING,
    ),
    Fault(
        name="slots along both stretchers",
        of=BEDSIDE,
        edit=_kind(FRONT, JointKind.SLOTTED_SCREWS),
        code="movement.adrift",
        path=REAR,
        also=("movement.slot",),
    ),
    Fault(
        name="the top screwed tight in front and behind",
        of=BEDSIDE,
        edit=_kind(REAR, JointKind.SCREWS),
        code="movement.pinned",
        path="top",
    ),
    Fault(
        name="the top fixed behind, slotted in front",
        of=BEDSIDE,
        edit=do.both(_kind(FRONT, JointKind.SLOTTED_SCREWS), _kind(REAR, JointKind.SCREWS)),
        code="movement.fixed_line",
        path="top",
        also=("movement.slot",),
    ),
    Fault(
        name="the top glued along a side of sheet",
        of=BEDSIDE,
        edit=do.joint(FRONT, lambda j: replace(j, kind=JointKind.GLUE, glued=True, a="bedside.left/side.left")),
        code="movement.glue",
        path=FRONT,
        also=("attached.loose",),
    ),
    Fault(
        name="a side of boards behind a moulding that is glued on all along",
        of=BEDSIDE,
        edit=_solid_side,
        code="movement.moulding",
        path="crown/left~side.left",
        also=("movement.glue", "movement.pinned"),
    ),
    Fault(
        name="a solid panel for a room by the sea",
        of=SOLID_DOOR,
        edit=_room(6.0, 22.0, 8.5),
        code="movement.panel_tight",
        path="door[c1,r2]/panel",
        also=("movement.front", "movement.slot"),
    ),
    Fault(
        name="a solid panel fitted damp, for a heated room",
        of=SOLID_DOOR,
        edit=_room(2.0, 14.0, 14.0),
        code="movement.panel_drop",
        path="door[c1,r2]/panel",
        also=("movement.slot",),
    ),
    Fault(
        name="a door that binds in a swamp",
        of=BEDSIDE,
        edit=_room(6.0, 30.0, 8.0),
        code="movement.front",
        path=DOOR,
        also=("movement.slot", "movement.glue"),
    ),
    Fault(
        name="a top that meets the wall at the damp end",
        of=BEDSIDE,
        edit=do.placed("top", lambda p: replace(p, frame=p.frame.moved((0.0, 5.5, 0.0)))),
        code="movement.wall",
        path="top",
        also=(*TOUCHING, "assembly.blocked"),
    ),
    Fault(
        name="moisture of the boards not known",
        of=SOLID_DOOR,
        edit=do.room(wood_moisture=None),
        code="movement.reading",
        path="",
    ),
    Fault(
        name="boards of a species without figures",
        of=BEDSIDE,
        edit=_unknown_cherry,
        code="movement.unknown",
        path="top",
    ),
    Fault(
        name="a frame flush with the sides, and no chamfer along the seam",
        of=BEDSIDE,
        edit=do.both(do.part("frame/stile.left", _no_profile), do.part("side.left", _no_profile)),
        code="movement.seam",
        path="side.left~frame/stile.left",
    ),
)
