"""Faults of service: what cannot be reached in the finished piece."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, DRAWER, TOUCHING, Fault

from casewright.design.features.holes import Hole
from casewright.design.parts import Part

BOOKS, LEVELLED = "low-bookcase", "levelled-plinth"


def _unbored(part: Part) -> Part:
    return replace(part, features=tuple(f for f in part.features if not isinstance(f, Hole) or f.joint))


REACH = (
    Fault(
        name="the bottom is not bored over the levelling feet in the plinth",
        of=LEVELLED,
        edit=do.part("bottom", _unbored),
        code="reach.leveller",
        path="plinth/block.rear.left/leveller",
    ),
    Fault(
        name="a stop lets the drawer out by a hand's breadth",
        of=BASE,
        edit=do.motion("drawer[c1,r1].slide", lambda m: replace(m, reach=60.0)),
        code="reach.slide",
        path="drawer[c1,r1]",
    ),
    Fault(
        name="a drawer on side-mount slides that comes out by a third",
        of=BEDSIDE,
        edit=do.motion(f"{DRAWER}.slide", lambda m: replace(m, reach=110.0)),
        code="reach.slide",
        path=DRAWER,
    ),
    Fault(
        name="a shelf close under the screws of the top",
        of=BOOKS,
        edit=do.moved(("shelf[c1,r1]",), (0.0, 0.0, 350.0)),
        code="reach.top",
        path="top~stretcher.front.screw[1]",
        also=(*TOUCHING, "assembly.blocked", "tools.reach", "fastener.point"),
    ),
    Fault(
        name="a drawer that does not come out, close under the module",
        of=BEDSIDE,
        edit=do.both(do.still, do.moved((f"{DRAWER}/bottom",), (0.0, 0.0, 100.0))),
        code="reach.module",
        path="device_keeper~top.screw[1]",
        also=(*TOUCHING, "assembly.blocked", "tools.reach"),
    ),
)
