"""Faults of what stands around a piece, of what it is to keep, and of hands that use it."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, CHEST, CUPBOARD, DOOR, DRAWER, TOUCHING, Fault

from casewright.design.features.cuts import Groove
from casewright.design.parts import Part

SEAT, WARDROBE, WALL, BOOKS = "window-seat", "wardrobe", "wall-cupboard", "low-bookcase"
LID = "lid"


def _through(part: Part) -> Part:
    deep = part.blank.thickness - 1.5
    return replace(part, features=tuple(replace(f, depth=deep) if isinstance(f, Groove) else f for f in part.features))


AROUND = (
    Fault(
        name="a wardrobe in a corner: its door meets the wall",
        of=WARDROBE,
        edit=do.around(wall_left=0.0),
        code="around.wall",
        path="door[c1,r1].left",
    ),
    Fault(
        name="the other corner",
        of=CUPBOARD,
        edit=do.around(wall_right=5.0),
        code="around.wall",
        path="door[c1,r1].right",
    ),
    Fault(
        name="a bed close to the hinges of the door",
        of=BEDSIDE,
        edit=do.around(bed_left=2.0),
        code="around.bed",
        path=DOOR,
    ),
    Fault(
        name="a thick skirting beside the door",
        of=BASE,
        edit=do.both(do.around(wall_left=40.0), do.room(skirting_height=160.0, skirting_thickness=38.0)),
        code="around.skirting",
        path="door[c1,r2].left",
    ),
    Fault(
        name="no room for the lid before the wall",
        of=SEAT,
        edit=do.both(*(do.motion("lid.swing", lambda m: replace(m, reach=170.0)),)),
        code="around.wall",
        path=LID,
        also=("motion.blocked",),
    ),
    Fault(
        name="a plug between back and wall",
        of=BEDSIDE,
        edit=do.room(socket_height=400.0, plug_depth=45.0),
        code="around.socket",
        path="back",
    ),
    Fault(
        name="hanging files ordered into a bookcase without drawers",
        of=BOOKS,
        edit=do.around(contents=("hanging files",)),
        code="contents.room",
        path="",
    ),
    Fault(
        name="coats over a row of drawers",
        of=WARDROBE,
        edit=do.around(contents=("coats", "hanging files")),
        code="contents.room",
        path="drawer[c1,r2]",
    ),
    Fault(
        name="clothes on hangers without a rod",
        of=CUPBOARD,
        edit=do.around(contents=("hangers",)),
        code="contents.room",
        path="",
    ),
    Fault(
        name="records in a shallow wall cupboard",
        of=WALL,
        edit=do.around(contents=("records",)),
        code="contents.room",
        path="loose[c2,r1]/1/board",
    ),
    Fault(
        name="a wall cupboard hung out of reach",
        of=WALL,
        edit=do.around(hung=2000.0),
        code="reach.pull",
        path="door[c1,r1]/pull",
    ),
    Fault(
        name="a groove that nearly cuts the drawer side through",
        of=BEDSIDE,
        edit=do.part(f"{DRAWER}/side.right", _through),
        code="weak.groove",
        path=f"{DRAWER}/side.right",
        also=TOUCHING,
    ),
    Fault(
        name="a loose shelf that slips off its pins",
        of=CUPBOARD,
        edit=do.resized("loose[c1,r1]/1/board", length=-18.0),
        code="fit.shelf",
        path="loose[c1,r1]/1/board",
        also=TOUCHING,
    ),
    Fault(
        name="a knob a thumb's breadth below its neighbour's",
        of=CHEST,
        edit=do.moved(("drawer[c2,r3]/face/pull",), (0.0, 0.0, -12.0)),
        code="looks.level",
        path="drawer[c2,r3]/face/pull",
        also=TOUCHING,
    ),
    Fault(
        name="a shelf board in place of the rod's height",
        of=WARDROBE,
        edit=do.moved(("hang[c1,r1]/rod", "hang[c1,r1]/socket.left", "hang[c1,r1]/socket.right"), (0.0, 0.0, -1000.0)),
        code="contents.rod",
        path="hang[c1,r1]/rod",
        also=(*TOUCHING, "assembly.blocked"),
    ),
    Fault(
        name="a rod that nobody reaches",
        of=WARDROBE,
        edit=do.around(hung=300.0),
        code="contents.rod",
        path="hang[c1,r1]/rod",
    ),
    Fault(
        name="a case hard against a wall with a skirting",
        of=BASE,
        edit=do.both(do.around(wall_left=5.0), do.room(skirting_height=95.0, skirting_thickness=14.0)),
        code="around.skirting",
        path="side.left",
        also=("around.wall",),
    ),
)
