"""Faults of looks."""

from __future__ import annotations

from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BASE, BEDSIDE, CHEST, CUPBOARD, MEDIA, TOUCHING, Fault, clear, shows

from casewright.design.blanks import Face
from casewright.design.parts import Band

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
    Fault(
        name="fibreboard fronts under a clear finish",
        of=MEDIA,
        edit=do.ordered(MEDIA, ("[roles]\n", '[roles]\ndrawer_front = "mdf-19"\n')),
        code="looks.paint_grade",
        path="drawer[c2,r2]/face/front",
    ),
    Fault(
        name="the grain of one drawer front upright, between two whose grain is level",
        of="solid-case",
        edit=do.placed(
            "drawer[c2,r2]/face/front",
            lambda p: replace(p, frame=replace(p.frame, x=(0.0, 0.0, 1.0), y=(-1.0, 0.0, 0.0))),
        ),
        code="looks.grain",
        path="drawer[c2,r2]/face/front",
        also=(
            *TOUCHING,
            "motion.blocked",
            "assembly.blocked",
            "tools.reach",
            "fastener.point",
            "fastener.pull",
            "fit.pull",
        ),
    ),
    Fault(
        name="a butted plinth under a clear finish",
        of=MEDIA,
        edit=do.ordered(MEDIA, ("fronts = {", 'joints = { plinth = "pocket screws" }\nfronts = {')),
        code="looks.raw_edge",
        path="plinth/front",
    ),
    Fault(
        name="a birch band along a shelf of cherry boards",
        of="solid-case",
        edit=do.part(
            "loose[c1,r1]/1/board",
            lambda p: replace(p, bands=(Band(face=Face.EDGE0, item="band-birch", thickness=0.6),)),
        ),
        code="looks.band",
        path="loose[c1,r1]/1/board",
        also=TOUCHING,
    ),
    Fault(
        name="a band of 7/8 in along the edge of a shelf 24 mm thick",
        of=CUPBOARD,
        edit=do.part(
            "loose[c1,r1]/3/board",
            lambda p: replace(p, bands=tuple(replace(b, item="band-birch") for b in p.bands)),
        ),
        code="looks.band",
        path="loose[c1,r1]/3/board",
    ),
)

# Pieces that do not go together: the text of an order, the code and the path.
ORDER_FAULTS = (
    (
        do.changed(do.text_of("room-3"), ("height = 34\n", "height = 34.06\n")),
        "looks.across",
        "chest",
    ),
)
