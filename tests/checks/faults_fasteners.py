"""Faults of fasteners."""

from __future__ import annotations

import math
from dataclasses import replace

from tests.checks import fault_edits as do
from tests.checks.fault import BEDSIDE, DOOR, DRAWER, TOUCHING, Fault

from casewright.design.features.holes import PocketHole
from casewright.design.features.openings import Cutout
from casewright.design.outlines import rectangle
from casewright.design.parts import Part


def _cut_behind_a_pocket(part: Part) -> Part:
    """Cut through the part 1.2 mm behind the mouth of its first pocket, as for a keeper."""
    pocket = next(f for f in part.features if isinstance(f, PocketHole))
    lip = pocket.pocket_diameter / 2 / math.sin(math.radians(pocket.angle))
    near, far = (pocket.u - pocket.du * (lip + 1.2 + size) for size in (0.0, 60.0))
    outline = rectangle(min(near, far), pocket.v - 30.0, max(near, far), pocket.v + 30.0)
    cut = Cutout(face=pocket.face, outline=outline, depth=part.blank.thickness)
    return replace(part, features=(*part.features, cut))


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
        name="a cut-out that leaves a sliver behind the mouth of a pocket",
        of=BEDSIDE,
        edit=do.part("bottom", _cut_behind_a_pocket),
        code="fastener.lip",
        path="bottom~side.right",
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
