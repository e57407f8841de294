"""Faults of the order of assembly."""

from __future__ import annotations

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, CHEST, CUPBOARD, DOOR, DRAWER, TOUCHING, Fault

BOOKS = "low-bookcase"

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
        edit=do.comes("foot.front.left/wood", (0.0, 0.0, -300.0), last=True),
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
        path="step08",
    ),
    Fault(
        name="a block beside the screws of the top when they are driven",
        of=BOOKS,
        edit=do.moved(("shelf[c1,r1]",), (0.0, 0.0, 350.0)),
        code="tools.reach",
        path="top~stretcher.front.screw[1]",
        also=(*TOUCHING, "assembly.blocked", "fastener.point"),
    ),
    Fault(
        name="a shelf that leaves room for a right-angle head under the screws of the top",
        of=BOOKS,
        edit=do.moved(("shelf[c1,r1]",), (0.0, 0.0, 295.0)),
        code="tools.special",
        path="top~stretcher.front",
        also=(*TOUCHING, "assembly.blocked", "fastener.point"),
    ),
)
