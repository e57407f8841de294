"""The fault library: small edits of sound examples, each with the code and the path that it must be found by.

`also` are stops that the same mistake rightly raises beside its own (a moved part also collides); every other stop
would be a foreign one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tests.checks import fault_edits as do
from tests.checks.fault_edits import Edit

from casewright.design.assembly import Motion
from casewright.design.blanks import Face
from casewright.design.frames import add, scale
from casewright.design.parts import FaceUse, Intent, Part

BEDSIDE, CHEST, CUPBOARD, BASE, MEDIA = "lantern-hill", "six-drawer-chest", "tall-cupboard", "base-unit", "media-unit"
DRAWER, DOOR = "drawer[c1,r1]", "door[c1,r2]"
TOUCHING = ("attached.gap", "collision.parts", "collision.fastener", "collision.keepout", "collision.crossing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One mistake in one example: what it does to the design, and where it must be found."""

    name: str
    of: str
    edit: Edit
    code: str
    path: str
    also: tuple[str, ...] = ()


def _reversed(m: Motion) -> Motion:
    return replace(m, direction=scale(m.direction, -1.0))


def _shows(face: Face, finish: str = "paint") -> FaceUse:
    return FaceUse(face=face, intent=Intent.SHOWS, finish=finish)


def _clear(part: Part) -> Part:
    return replace(part, faces=tuple(replace(u, finish="clear") for u in part.faces))


def _heavy(part: Part) -> Part:
    return replace(part, mass_density=20_000.0)


MOTION = (
    Fault(
        name="the hinge pin lies behind the face of an inset door",
        of=BEDSIDE,
        edit=do.motion(f"{DOOR}.swing", lambda m: replace(m, origin=add(m.origin, (0.0, 14.0, 0.0)))),
        code="motion.blocked",
        path=f"{DOOR}/stile.left",
    ),
    Fault(
        name="the door is hinged to open inwards",
        of=BEDSIDE,
        edit=do.motion(f"{DOOR}.swing", _reversed),
        code="motion.blocked",
        path=f"{DOOR}/stile.right",
    ),
    Fault(
        name="the drawer is pushed towards the back",
        of=BEDSIDE,
        edit=do.motion(f"{DRAWER}.slide", _reversed),
        code="motion.blocked",
        path=f"{DRAWER}/face/front",
    ),
    Fault(
        name="a crown that hangs in front of the drawer",
        of=BEDSIDE,
        edit=do.moved(("crown/front",), (0.0, 0.0, -60.0)),
        code="motion.blocked",
        path=f"{DRAWER}/face/front",
        also=(*TOUCHING, "assembly.blocked", "fastener.point"),
    ),
    Fault(
        name="a screw left standing out in front of the drawer",
        of=BEDSIDE,
        edit=do.shifted("stretcher.front~side.left.screw[1]", (60.0, -70.0, -96.0)),
        code="motion.blocked",
        path=f"{DRAWER}/face/front",
        also=(*TOUCHING, "assembly.blocked"),
    ),
    Fault(
        name="a pair of doors hinged on the wrong edges",
        of=BASE,
        edit=do.motion(
            "door[c1,r2].left.swing", lambda m: replace(m, origin=(-2.0, m.origin[1], m.origin[2]), direction=(0, 0, 1))
        ),
        code="handed.hinge",
        path="door[c1,r2].left/hinge[1].cup",
        also=("motion.blocked",),
    ),
)

ASSEMBLY = (
    Fault(
        name="the drawer bottom after the box is closed",
        of=BEDSIDE,
        edit=do.swapped(f"{DRAWER}/bottom", f"{DRAWER}/side.right"),
        code="assembly.blocked",
        path=f"{DRAWER}/bottom",
    ),
    Fault(
        name="the door panel after the second stile",
        of=BEDSIDE,
        edit=do.swapped(f"{DOOR}/panel", f"{DOOR}/stile.right"),
        code="assembly.blocked",
        path=f"{DOOR}/panel",
    ),
    Fault(
        name="the door panel from the front",
        of=BEDSIDE,
        edit=do.comes(f"{DOOR}/panel", (0.0, 300.0, 0.0)),
        code="assembly.blocked",
        path=f"{DOOR}/panel",
    ),
    Fault(
        name="the back from the front",
        of=BEDSIDE,
        edit=do.comes("back", (0.0, 500.0, 0.0)),
        code="assembly.blocked",
        path="back",
    ),
    Fault(
        name="the rails laid into the frame across their dowel",
        of=BEDSIDE,
        edit=do.comes("frame/rail.drawer", (0.0, 200.0, 0.0)),
        code="assembly.dowel",
        path="frame/rail.drawer~stile.left.dowel.dowel[1]",
    ),
    Fault(
        name="the blocking through the back",
        of=BEDSIDE,
        edit=do.swapped(f"{DRAWER}.blocking.left", "back"),
        code="assembly.blocked",
        path=f"{DRAWER}.blocking.left",
        also=("tools.reach",),
    ),
    Fault(
        name="a foot from above",
        of=BEDSIDE,
        edit=do.comes("foot.front.left", (0.0, 0.0, -300.0)),
        code="assembly.blocked",
        path="foot.front.left/wood",
    ),
    Fault(
        name="a cup hinge through the front of its door",
        of=CUPBOARD,
        edit=do.comes("door[c1,r1].left/hinge[1].cup", (0.0, 60.0, 0.0)),
        code="assembly.blocked",
        path="door[c1,r1].left/hinge[1].cup",
    ),
    Fault(
        name="the top laid on from below",
        of=CHEST,
        edit=do.comes("top", (0.0, 0.0, 400.0), last=True),
        code="assembly.blocked",
        path="top",
    ),
    Fault(
        name="front and back of the drawer box from behind",
        of=BEDSIDE,
        edit=do.comes(f"{DRAWER}/box_front", (0.0, -500.0, 0.0)),
        code="assembly.blocked",
        path=f"{DRAWER}/box_front",
    ),
    Fault(
        name="more joints at once than the glue allows",
        of=BEDSIDE,
        edit=do.practice("glue.joint_time", 5.0),
        code="assembly.open_time",
        path="step04",
    ),
    Fault(
        name="a glue-up wider than the clamps",
        of=BEDSIDE,
        edit=do.practice("clamp.reach", 200.0),
        code="assembly.clamps",
        path="step25",
    ),
)

FASTENERS = (
    Fault(
        name="blocking screws that come out of the side",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}.blocking.left~side.left.screw[1]", 9.0),
        code="fastener.point",
        path=f"{DRAWER}.blocking.left~side.left.screw[1]",
    ),
    Fault(
        name="blocking screws that nearly come out",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}.blocking.right~side.right.screw[2]", 5.5),
        code="fastener.point",
        path=f"{DRAWER}.blocking.right~side.right.screw[2]",
    ),
    Fault(
        name="a top screw that comes out of the top",
        of=BEDSIDE,
        edit=do.longer("top~stretcher.rear.screw[1]", 12.0),
        code="fastener.point",
        path="top~stretcher.rear.screw[1]",
    ),
    Fault(
        name="a brad that misses the side",
        of=BEDSIDE,
        edit=do.longer("base/left~side.left.pin[1]", 12.0),
        code="fastener.point",
        path="base/left~side.left.pin[1]",
        also=("collision.fastener",),
    ),
    Fault(
        name="a top screw that is too short",
        of=BEDSIDE,
        edit=do.longer("top~stretcher.rear.screw[1]", -9.0),
        code="fastener.bite",
        path="top~stretcher.rear.screw[1]",
    ),
    Fault(
        name="a blocking screw that is too short",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}.blocking.left~side.left.screw[1]", -8.0),
        code="fastener.bite",
        path=f"{DRAWER}.blocking.left~side.left.screw[1]",
    ),
    Fault(
        name="a slide screw that hardly bites",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}/slide_drawer.left~wood.screw[1]", -5.0),
        code="fastener.bite",
        path=f"{DRAWER}/slide_drawer.left~wood.screw[1]",
    ),
    Fault(
        name="a pin that does not reach",
        of=BEDSIDE,
        edit=do.longer("back~side.left.brads.pin[1]", -9.0),
        code="fastener.bite",
        path="back~side.left.brads.pin[1]",
    ),
    Fault(
        name="pocket screws for thicker stock",
        of=BEDSIDE,
        edit=do.other("bottom~side.left.screw[1]", "pocket-coarse-2-1/2"),
        code="fastener.pocket",
        path="bottom~side.left.screw[1]",
    ),
    Fault(
        name="a pull screw that bottoms",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}/face/pull~front[1].bolt", 12.0),
        code="fastener.pull",
        path=f"{DRAWER}/face/pull~front[1].bolt",
    ),
    Fault(
        name="a pull screw that does not reach",
        of=BEDSIDE,
        edit=do.longer(f"{DRAWER}/face/pull~front[1].bolt", -14.0),
        code="fastener.pull",
        path=f"{DRAWER}/face/pull~front[1].bolt",
    ),
    Fault(
        name="a screw at the very edge of a stretcher",
        of=BEDSIDE,
        edit=do.shifted("stretcher.rear~side.left.screw[1]", (0.0, -16.5, 0.0)),
        code="fastener.edge",
        path="stretcher.rear~side.left.screw[1]",
    ),
    Fault(
        name="a screw that splits the edge of its blocking",
        of=BEDSIDE,
        edit=do.shifted(f"{DRAWER}.blocking.left~side.left.screw[1]", (0.0, 0.0, 25.0)),
        code="fastener.edge",
        path=f"{DRAWER}.blocking.left~side.left.screw[1]",
    ),
    Fault(
        name="a screw into the channel of the cable",
        of=BEDSIDE,
        edit=do.shifted("top~stretcher.front.land.screw[1]", (14.0, 0.0, 0.0)),
        code="fastener.meets",
        path="top~stretcher.front.land.screw[1]",
        also=(*TOUCHING, "movement.slot"),
    ),
    Fault(
        name="a hinge screw that reaches the groove of the panel",
        of=BEDSIDE,
        edit=do.longer(f"{DOOR}/hinge[1].door_leaf~wood[1].screw[1]", 26.0),
        code="fastener.meets",
        path=f"{DOOR}/hinge[1].door_leaf~wood[1].screw[1]",
        also=TOUCHING,
    ),
    Fault(
        name="a stretcher screwed into its edge without glue",
        of=BEDSIDE,
        edit=do.joint("stretcher.rear~side.left", lambda j: replace(j, glued=False)),
        code="fastener.sheet_edge",
        path="stretcher.rear~side.left.screw[1]",
    ),
    Fault(
        name="a foot held by a screw in its end grain",
        of=BEDSIDE,
        edit=do.both(
            do.other("foot.front.left/wood~block.dowel[1]", "screw-8x2"),
            do.joint("foot.front.left/wood~block", lambda j: replace(j, glued=False)),
        ),
        code="fastener.end_grain",
        path="foot.front.left/wood~block.dowel[1]",
        also=("tools.reach",),
    ),
    Fault(
        name="no crown over the screws through the side",
        of=BEDSIDE,
        edit=do.without("crown"),
        code="visible.fastener",
        path="stretcher.front~side.left.screw[1]",
    ),
    Fault(
        name="a drawer filled with iron",
        of=BEDSIDE,
        edit=do.practice("tipping.fill", 25.0),
        code="fastener.load",
        path=f"{DRAWER}.slide_case.left",
        also=("fit.slide_load", "strength.drawer_bottom", "stability.drawers", "stability.child"),
    ),
)

FIT = (
    Fault(
        name="a filled drawer too heavy for its slides",
        of=BEDSIDE,
        edit=do.practice("tipping.fill", 8.0),
        code="fit.slide_load",
        path=DRAWER,
        also=("strength.drawer_bottom", "stability.drawers", "stability.child"),
    ),
    Fault(
        name="a drawer that is to come out further than its slides",
        of=BEDSIDE,
        edit=do.motion(f"{DRAWER}.slide", lambda m: replace(m, reach=m.reach + 60.0)),
        code="fit.slide_travel",
        path=DRAWER,
    ),
    Fault(
        name="blocking proud of the opening",
        of=BEDSIDE,
        edit=do.moved((f"{DRAWER}.blocking.left",), (0.6, 0.0, 0.0)),
        code="fit.blocking",
        path=f"{DRAWER}.blocking.left",
        also=(*TOUCHING, "assembly.blocked"),
    ),
    Fault(
        name="a door without a stop",
        of=BEDSIDE,
        edit=do.without(f"{DOOR}.stop"),
        code="fit.no_stop",
        path=DOOR,
    ),
    Fault(
        name="a door without a catch",
        of=BEDSIDE,
        edit=do.without(f"{DOOR}.catch"),
        code="fit.no_catch",
        path=DOOR,
        also=("attached.loose",),
    ),
    Fault(
        name="a door on one hinge",
        of=BEDSIDE,
        edit=do.without(f"{DOOR}/hinge[2].door_leaf", f"{DOOR}.hinge[2].frame_leaf"),
        code="fit.hinge_count",
        path=DOOR,
    ),
    Fault(
        name="a tall door on two hinges",
        of=CUPBOARD,
        edit=do.without(
            *(f"door[c1,r1].left/hinge[{i}].cup" for i in (2, 3)),
            *(f"door[c1,r1].left.hinge[{i}].plate" for i in (2, 3)),
        ),
        code="fit.hinge_count",
        path="door[c1,r1].left",
    ),
    Fault(
        name="a door as heavy as lead",
        of=BEDSIDE,
        edit=do.both(*(do.part(f"{DOOR}/{n}", _heavy) for n in ("panel", "stile.left", "stile.right", "rail.bottom"))),
        code="fit.hinge_load",
        path=DOOR,
        also=("stability.drawers", "stability.child"),
    ),
    Fault(
        name="the pull beside the hinges",
        of=BEDSIDE,
        edit=do.moved((f"{DOOR}/pull",), (-274.0, 0.0, -60.0)),
        code="handed.pull",
        path=f"{DOOR}/pull",
        also=TOUCHING,
    ),
    Fault(
        name="two left drawer sides",
        of=BEDSIDE,
        edit=do.piece(
            lambda d: replace(
                d,
                placed=tuple(
                    replace(p, thing=d.by_path()[f"{d.path}/{DRAWER}/side.left"].thing)
                    if p.path == f"{d.path}/{DRAWER}/side.right"
                    else p
                    for p in d.placed
                ),
            )
        ),
        code="handed.pair",
        path=f"{DRAWER}/side.right",
        also=(*TOUCHING, "assembly.blocked"),
    ),
    Fault(
        name="half a pair of slides",
        of=BEDSIDE,
        edit=do.without(f"{DRAWER}.slide_case.right"),
        code="handed.half",
        path=f"{DRAWER}.slide_case.left",
        also=("attached.loose",),
    ),
    Fault(
        name="a piece wider than the door of its room",
        of=BEDSIDE,
        edit=do.room(door_width=350.0),
        code="fit.doorway",
        path="",
    ),
    Fault(
        name="a piece that grazes the stair",
        of=CHEST,
        edit=do.room(stair_width=510.0),
        code="fit.stairway",
        path="",
    ),
    Fault(
        name="a loose shelf that cannot be levelled",
        of=CUPBOARD,
        edit=do.resized("loose[c1,r1]/2/board", length=3.1),
        code="fit.shelf",
        path="loose[c1,r1]/2/board",
    ),
    Fault(
        name="a gap that paint closes",
        of=BEDSIDE,
        edit=do.gap(f"{DRAWER}.chain.z", 0.3),
        code="gaps.tolerance",
        path=f"{DRAWER}.chain.z",
    ),
    Fault(
        name="a gap as wide as a pencil",
        of=BEDSIDE,
        edit=do.gap(f"{DOOR}.chain.x", 7.0),
        code="gaps.tolerance",
        path=f"{DOOR}.chain.x",
    ),
    Fault(
        name="a pull too near the moulding of its field",
        of=BEDSIDE,
        edit=do.moved((f"{DRAWER}/face/pull",), (0.0, 0.0, 2.0)),
        code="fit.pull",
        path=f"{DRAWER}/face/pull",
        also=TOUCHING,
    ),
)

LOOKS = (
    Fault(
        name="the layers of a plywood side in sight",
        of=BEDSIDE,
        edit=do.part("side.left", lambda p: replace(p, faces=(*p.faces, _shows(Face.EDGE0)))),
        code="looks.raw_edge",
        path="side.left",
    ),
    Fault(
        name="a shelf whose band was forgotten",
        of=CUPBOARD,
        edit=do.part("loose[c1,r1]/3/board", lambda p: replace(p, bands=())),
        code="looks.raw_edge",
        path="loose[c1,r1]/3/board",
    ),
    Fault(
        name="a clear top without its bands",
        of=BASE,
        edit=do.part("top", lambda p: replace(p, bands=())),
        code="looks.raw_edge",
        path="top",
        also=TOUCHING,
    ),
    Fault(
        name="a pull 2 mm above its fellow",
        of=CHEST,
        edit=do.moved(("drawer[c2,r2]/face/pull",), (0.0, 0.0, 2.0)),
        code="looks.level",
        path="drawer[c2,r2]/face/pull",
        also=TOUCHING,
    ),
    Fault(
        name="a drawer rail 2 mm below its fellow",
        of=CHEST,
        edit=do.moved(("frame/rail[c2,r1]",), (0.0, 0.0, -2.0)),
        code="looks.level",
        path="frame/rail[c2,r1]",
        also=(*TOUCHING, "motion.blocked"),
    ),
    Fault(
        name="veneer flushed with solid wood under a clear finish",
        of=BEDSIDE,
        edit=do.part("side.left", _clear),
        code="looks.veneer",
        path="side.left",
    ),
)

FAULTS = MOTION + ASSEMBLY + FASTENERS + FIT + LOOKS
