"""Faults of strength and of standing: what sags, breaks, racks or tips."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, CHEST, CUPBOARD, TOUCHING, Fault

from casewright.checks.model import Subject
from casewright.design.assembly import JointKind
from casewright.design.parts import Part

SEAT, WALL = "window-seat", "wall-cupboard"
FOOT = "foot.front.left/wood"


def _light_case(subject: Subject) -> Subject:
    """Make everything but the drawers of next to nothing."""
    drawers = f"{subject.piece.path}/drawer"
    placed = tuple(
        replace(p, thing=replace(p.part, mass_density=1.0))
        if isinstance(p.thing, Part) and not p.path.startswith(drawers)
        else p
        for p in subject.piece.placed
    )
    return replace(subject, piece=replace(subject.piece, placed=placed))


def _end_grain_only(subject: Subject) -> Subject:
    """Drive screws up into the end grain of a foot, in place of its dowel and glue."""
    path = f"{subject.piece.path}/{FOOT}"
    joints = []
    for j in subject.piece.joints:
        if path in (j.a, j.b) and j.kind is JointKind.DOWEL:
            j = replace(j, kind=JointKind.SCREWS, glued=False)
        elif path in (j.a, j.b) and j.kind is JointKind.GLUE:
            continue
        joints.append(j)
    return replace(subject, piece=replace(subject.piece, joints=tuple(joints)))


def _loose_straps(subject: Subject) -> Subject:
    """Forget the straps to the wall."""
    return replace(subject, piece=replace(subject.piece, bought=()))


STRENGTH = (
    Fault(
        name="a shelf planed to half its thickness",
        of=CUPBOARD,
        edit=do.part("loose[c1,r1]/2/board", lambda p: replace(p, blank=replace(p.blank, thickness=9.0))),
        code="strength.sag",
        path="loose[c1,r1]/2/board",
        also=TOUCHING,
    ),
    Fault(
        name="a statue on the cupboard",
        of=CUPBOARD,
        edit=do.used(top_load=600.0),
        code="strength.top",
        path="top_panel",
    ),
    Fault(
        name="a library on shelf pins",
        of=CUPBOARD,
        edit=do.practice("sag.shelf_load", 400.0),
        code="strength.pins",
        path="loose[c1,r1]/1/board",
        also=("strength.sag",),
    ),
    Fault(
        name="drawer bottoms of cardboard",
        of=CHEST,
        edit=do.part("drawer[c1,r1]/bottom", lambda p: replace(p, blank=replace(p.blank, thickness=2.0))),
        code="strength.drawer_bottom",
        path="drawer[c1,r1]/bottom",
        also=TOUCHING,
    ),
    Fault(
        name="a foot on screws in its end grain",
        of=BEDSIDE,
        edit=_end_grain_only,
        code="strength.foot_screws",
        path=FOOT,
        also=TOUCHING,
    ),
    Fault(
        name="a match in place of a foot's dowel",
        of=BEDSIDE,
        edit=do.fasteners("foot.front.left/wood~block", lambda f: replace(f, shank_radius=0.5)),
        code="strength.foot",
        path=FOOT,
        also=TOUCHING,
    ),
    Fault(
        name="a foot's dowel cut short",
        of=BEDSIDE,
        edit=do.fasteners(
            "foot.rear.right/wood~block",
            lambda f: replace(
                f, length=f.length - 25.0, frame=f.frame.moved((0.0, 0.0, 25.0 if f.frame.z[2] > 0 else 0.0))
            ),
        ),
        code="strength.foot_hold",
        path="foot.rear.right/wood",
        also=(*TOUCHING, "strength.foot"),
    ),
    Fault(
        name="somebody of a quarter of a ton leans on the top",
        of=BEDSIDE,
        edit=do.practice("strength.lean", 2000.0),
        code="strength.overhang",
        path="top",
    ),
    Fault(
        name="a lid without its stays",
        of=SEAT,
        edit=do.lost("lid_stay.left", "lid_stay.right"),
        code="strength.lid",
        path="lid/panel",
    ),
    Fault(
        name="a seat's lid that nothing carries in front",
        of=SEAT,
        edit=do.without("frame/rail.top"),
        code="strength.seat",
        path="lid/panel",
        also=TOUCHING,
    ),
    Fault(
        name="a tall cupboard without its back",
        of=CUPBOARD,
        edit=do.without("back"),
        code="racking.open",
        path="",
    ),
    Fault(
        name="clothes kept in what was built for books",
        of=BEDSIDE,
        edit=do.clothes,
        code="stability.rule",
        path="",
    ),
    Fault(
        name="a case of cardboard around its drawer",
        of=BEDSIDE,
        edit=_light_case,
        code="stability.drawers",
        path="",
        also=("stability.child", "stability.pull"),
    ),
    Fault(
        name="a chest without its interlock: a pull tips it",
        of=CHEST,
        edit=do.both(_loose_straps, do.practice("tipping.open_at_once", 0.0)),
        code="stability.pull",
        path="",
        also=("stability.drawers",),
    ),
    Fault(
        name="a cupboard for clothes that is not within an interlock's reach",
        of=CUPBOARD,
        edit=do.both(_loose_straps, do.clothes),
        code="stability.child",
        path="",
        also=("stability.drawers", "stability.pull"),
    ),
    Fault(
        name="a cupboard for clothes without straps",
        of=CUPBOARD,
        edit=do.both(_loose_straps, do.clothes),
        code="stability.tie",
        path="",
        also=("stability.drawers", "stability.pull", "stability.child"),
    ),
    Fault(
        name="a seat that tips when somebody sits down on its edge",
        of=SEAT,
        edit=do.ordered(SEAT, ("setback = 25", "setback = 150")),
        code="stability.sit",
        path="",
    ),
    Fault(
        name="a rail at the foot of a wall cupboard",
        of=WALL,
        edit=do.moved(("fixing_rail",), (0.0, 0.0, -500.0)),
        code="wall.rail_low",
        path="fixing_rail",
        also=(*TOUCHING, "assembly.blocked", "tools.reach", "fastener.point", "fastener.meets"),
    ),
)
