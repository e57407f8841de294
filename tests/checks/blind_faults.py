"""What tells each blind fault: its code and path, by the fault's name; one where nothing does, with the reason.

The faults are in `blind_faults_one.py` and `blind_faults_two.py`, as they were written. Some are told by the design
itself, before any check: it refuses what cannot be built.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.checks.blind_faults_one import FAULTS as ONE
from tests.checks.blind_faults_two import FAULTS as TWO

BLIND: tuple[Mapping[str, Any], ...] = (*ONE, *TWO)

# (code, path) for each of BLIND in its order; ("", reason) where nothing tells it.
TOLD: tuple[tuple[str, str], ...] = (
    ("strength.sag", "loose[c1,r1]/1/board"),
    ("drawer.pull_field", "drawer[c1,r1]/face/front"),
    ("top.thickness", "top.thickness"),
    ("device.place", "device"),
    ("stability.child", ""),
    ("drawer.load", "drawer[c1,r1]"),
    ("fit.drawer_depth", "drawer[c1,r1]"),
    ("strength.foot", "foot.front.left/wood"),
    ("foot.tip", "foot"),
    ("top.overhang", "top.overhang_side"),
    ("fit.stairway", ""),
    ("weak.groove", "drawer[c1,r1]/side.left"),
    ("handed.pull", "door[c1,r2]/pull"),
    ("movement.slot", "top~stretcher.rear"),
    ("movement.slot", "top~stretcher.rear"),
    ("movement.panel_tight", "door[c1,r2]/panel"),
    ("fastener.bite", "divider[u1]~bottom.screw[1]"),
    ("fastener.point", "drawer[c1,r1]/face/front~box.left.screw[1]"),
    ("fit.hinge_count", "door[c1,r1].left"),
    ("assembly.blocked", "drawer[c1,r1]/bottom"),
    ("assembly.blocked", "drawer[c1,r1].blocking.left"),
    ("fit.blocking", "drawer[c1,r1].blocking.left"),
    ("device.plug", "device"),
    ("fit.shelf", "loose[c1,r1]/2/board"),
    ("looks.level", "drawer[c2,r2]/face/pull"),
    ("strength.sag", "loose[c1,r1]/1/board"),
    ("fit.door_width", "door[c1,r1]"),
    ("rod.depth", "hang[c1,r1]"),
    ("", "no mistake is left: the role serves the shelf as well, which is built of the same boards"),
    ("fit.doorway", ""),
    ("stability.sit", ""),
    ("device.wood_over", "device"),
    ("order.value", "room"),
    ("stock.lacking", ""),
    ("motion.neighbour", "drawer[c2,r2].slide"),
    ("", "not checked: pores of a wood that is painted"),
    ("reach.pull", "door[c1,r1]/pull"),
    ("fastener.bite", "drawer[c2,r2]/face/front~box.left.screw[1]"),
    ("fastener.point", "top~stretcher.front.screw[1]"),
    ("movement.slot", "top~stretcher.rear"),
    ("device.plug", "device"),
    ("device.removable", "device"),
    ("assembly.blocked", "drawer[c2,r2]/bottom"),
    ("assembly.blocked", "fixing_rail"),
    ("fit.hinge_count", "door[c1,r1].left"),
    ("strength.sag", "loose[c1,r1]/1/board"),
    ("looks.raw_edge", "top"),
    ("stability.tie", ""),
    ("wall.rail_low", "fixing_rail"),
    ("collision.parts", "door[c1,r1].hinge[1].plate"),
)
