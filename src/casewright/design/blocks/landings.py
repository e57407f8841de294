"""What a separate base is screwed up into: the bottom where it lies at the underside, else a strip along each side."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.drawer_stock import moves_of
from casewright.design.blocks.joining import Making, join
from casewright.design.draft import Draft
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import depth_along, span, world_box

UP = (0.0, 0.0, 1.0)
STRIP_LEAST = 60.0  # mm: width that pocket screws need


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """What lies over the left and the right of a base, its underside that of the body."""

    left: Placed
    right: Placed
    strips: tuple[str, ...] = ()  # names of parts that were placed for it

    def over(self, hand: str) -> Placed:
        """Return what lies over one hand."""
        return self.left if hand == "left" else self.right


def landing(d: Draft, kit: Kit, body: Body, above: Placed | None, reach: float) -> Landing:
    """Return what a base is screwed into; strips reach `reach` mm in from the inner faces of the sides.

    `above` is the bottom of the case; under a raised one strips are screwed to the sides, from below.
    """
    if above is not None and abs(world_box(above)[0][2] - body.z0) < 1e-6:
        return Landing(left=above, right=above)
    material = kit.material("case")
    rear = body.inner_back - (body.side if d.has("base_rail") else 0.0)
    wide = d.let("landing.width", max(reach, STRIP_LEAST), rule="over the base's cleats, and room for pocket screws")
    length = d.let("landing.length", rear - body.frame, "body.depth", rule="from the front to what stands behind")
    made = {}
    for sign, hand in HANDS:
        made[hand] = d.box_part(
            f"landing.{hand}",
            f"strip along the {hand} side",
            material,
            side_x(sign, body.inside / 2, wide),
            span(body.frame, length),
            span(body.z0, body.side),
            grain="y",
            thick="z",
            sizes=("landing.length", "landing.width", "side.thickness"),
        )
        why = "the bottom is raised: the base needs something to be screwed into"
        side = d.at(f"side.{hand}")
        how = Making(opens="down", glued=moves_of(kit, side) == 0.0)
        join(d, kit, f"landing.{hand}~side.{hand}", side, made[hand], JointKind.POCKET_SCREWS, how, why)
    return Landing(left=made["left"], right=made["right"], strips=("landing.left", "landing.right"))


def screw_up(d: Draft, kit: Kit, lower: Placed, upper: Placed, id_: str, why: str) -> str:
    """Screw a level part up into another that lies on it, along the middle of what they have in common; not glued."""
    p = d.practice
    (al, ah), (bl, bh) = world_box(lower), world_box(upper)
    x, y = (max(al[0], bl[0]), min(ah[0], bh[0])), (max(al[1], bl[1]), min(ah[1], bh[1]))
    through, into = depth_along(lower, UP), depth_along(upper, UP)
    screw = kit.screw("wood", 8, through + 8.0, through + into - p["fastener.point_cover"], role="block_screw")
    mid = (x[0] + x[1]) / 2, (y[0] + y[1]) / 2
    long_y = y[1] - y[0] >= x[1] - x[0]
    start = (mid[0], y[0], al[2]) if long_y else (x[0], mid[1], al[2])
    end = (mid[0], y[1], al[2]) if long_y else (x[1], mid[1], al[2])
    length = max(y[1] - y[0], x[1] - x[0])
    line = ScrewLine(
        screw=screw,
        start=start,
        end=end,
        drive=UP,
        count=max(2, round(length / p["butt.screw_spacing"])),
        least=1,
        ends=min(p["butt.ends"], length / 5),
        apart=p["fastener.apart"],
    )
    return d.joint(id_, JointKind.SCREWS, lower, upper, (mid[0], mid[1], ah[2]), line, why=why)
