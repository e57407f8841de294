"""Faults of fit."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, CHEST, CUPBOARD, DOOR, DRAWER, TOUCHING, Fault, heavy

WALL = "wall-cupboard"

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
        edit=do.both(*(do.part(f"{DOOR}/{n}", heavy) for n in ("panel", "stile.left", "stile.right", "rail.bottom"))),
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
    Fault(
        name="a knob half over the upper edge of its door",
        of=BEDSIDE,
        edit=do.moved((f"{DOOR}/pull",), (0.0, 0.0, 75.0)),
        code="fit.pull",
        path=f"{DOOR}/pull",
        also=TOUCHING,
    ),
    Fault(
        name="slides two inches longer than the box",
        of=BEDSIDE,
        edit=do.bought("slide-12", length=360.0),
        code="fit.slide_length",
        path=DRAWER,
    ),
    Fault(
        name="short slides in a deep chest",
        of=CHEST,
        edit=do.ordered(CHEST, ("[[piece]]", '[roles]\nslide = "slide-10"\n\n[[piece]]')),
        code="fit.drawer_depth",
        path="drawer[c1,r1]",
        also=("stability.child",),
    ),
    Fault(
        name="one leaf for the whole cupboard",
        of=WALL,
        edit=do.ordered(WALL, ("width = 900", "width = 1500")),
        code="fit.door_width",
        path="door[c1,r1]",
    ),
)
