"""Faults of motion."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, CUPBOARD, DOOR, DRAWER, MEDIA, TOUCHING, Fault, backwards

from casewright.design.frames import add

SHELF = "loose[c1,r1]/1/board"

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
        edit=do.motion(f"{DOOR}.swing", backwards),
        code="motion.blocked",
        path=f"{DOOR}/stile.right",
    ),
    Fault(
        name="the drawer is pushed towards the back",
        of=BEDSIDE,
        edit=do.motion(f"{DRAWER}.slide", backwards),
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
    Fault(
        name="a tray as wide as the opening behind doors on cup hinges",
        of=CUPBOARD,
        edit=do.moving(SHELF, 300.0),
        code="motion.neighbour",
        path=f"{SHELF}.slide",
        also=("stability.drawers",),
    ),
    Fault(
        name="the same tray behind doors that a stay holds at a right angle",
        of=CUPBOARD,
        edit=do.both(
            do.moving(SHELF, 300.0),
            *(do.motion(f"door[c1,r1].{hand}.swing", lambda m: replace(m, reach=90.0)) for hand in ("left", "right")),
        ),
        code="motion.blocked",
        path=SHELF,
        also=("stability.drawers",),
    ),
    Fault(
        name="a tray at the height of a hinge plate",
        of=CUPBOARD,
        edit=do.both(do.moved(("loose[c1,r1]/3/board",), (0.0, 0.0, 100.0)), do.moving("loose[c1,r1]/3/board", 300.0)),
        code="motion.blocked",
        path="loose[c1,r1]/3/board",
        also=(*TOUCHING, "stability.drawers", "fit.shelf"),
    ),
    Fault(
        name="the pull of a shut door hangs over the drawer beside it",
        of=MEDIA,
        edit=do.moved(("door[c1,r1]/pull",), (55.0, 0.0, -320.0)),
        code="motion.blocked",
        path="drawer[c2,r2]/face/front",
        also=(*TOUCHING, "tools.reach", "fit.pull"),
    ),
)
