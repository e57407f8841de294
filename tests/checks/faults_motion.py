"""Faults of motion."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, DOOR, DRAWER, TOUCHING, Fault, backwards

from casewright.design.frames import add

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
)
