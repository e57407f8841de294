"""Faults of looks."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, CHEST, CUPBOARD, TOUCHING, Fault, clear, shows

from casewright.design.blanks import Face

LOOKS = (
    Fault(
        name="the layers of a plywood side in sight",
        of=BEDSIDE,
        edit=do.part("side.left", lambda p: replace(p, faces=(*p.faces, shows(Face.EDGE0)))),
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
        edit=do.part("side.left", clear),
        code="looks.veneer",
        path="side.left",
    ),
)
