"""The four walls of a drawer box, and what joins them. The bottom has its own module.

Common practice. The side walls run the full depth; front and back stand between them, or between their tongues.
"""

from __future__ import annotations

from casewright.design.blocks.body import HANDS
from casewright.design.blocks.drawer_corners import CornerPlan, corner
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_ride import Ride
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.parts import PartKind
from casewright.design.sites import between, centred
from casewright.units.printed import Role


def drawer_box(d: Draft, kit: Kit, box: Box, opening: Opening, ride: Ride, wood: Wood, plan: CornerPlan) -> None:
    """Place the four walls and name the joints of their corners."""
    g, t = box.name, box.wood
    tall = glue_up(wood, box.z[1] - box.z[0], d.practice)
    for sign, hand in HANDS:
        d.box_part(
            f"{g}/side.{hand}",
            f"drawer side, {hand}",
            wood.material,
            between(box.outer(sign), box.outer(sign, t)),
            box.y,
            box.z,
            grain="y",
            thick="x",
            rough=over_size(tall, d.practice),
            made_of=tall,
            sizes=(f"{g}.box.depth", f"{g}.box.height", f"{g}.box.thickness"),
        )
    tongue = plan.let_tongue(d, g, t)
    across = d.let(
        f"{g}.box.front_length",
        box.x[1] - box.x[0] - 2 * tongue,
        f"{g}.box.width",
        plan.tongue_name(g),
        rule=plan.between,
        role=Role.INSERT,
    )
    d.fit(
        f"{g}.fit.slides",
        opening.width_name,
        f"{g}.box.front_length",
        ride.play_least,
        ride.play_most,
        allow=-2 * tongue,
        source=ride.play_source,
    )
    height = _let_back(d, box)
    for name, y, low, high in (
        ("front", (box.y[0], box.y[0] + t), box.z[0], f"{g}.box.height"),
        ("back", (box.y[1] - t, box.y[1]), box.back_low, height),
    ):
        part = d.box_part(
            f"{g}/box_{name}",
            f"drawer box {name}",
            wood.material,
            centred(across, box.middle),
            y,
            (low, box.z[1]),
            grain="x",
            thick="y",
            rough=over_size(tall, d.practice),
            made_of=tall,
            sizes=(f"{g}.box.front_length", high, f"{g}.box.thickness"),
            kind=PartKind.BOX_END,
        )
        for sign, hand in HANDS:
            corner(d, kit, box, plan, part, d.at(f"{g}/side.{hand}"), sign, name == "front", tongue)
    d.let(
        f"{g}.box.inside", box.x[1] - box.x[0] - 2 * t, f"{g}.box.width", f"{g}.box.thickness", rule="between the sides"
    )


def _let_back(d: Draft, box: Box) -> str:
    """Return the name of the back's height: the box's own, or what a solid bottom leaves of it."""
    g = box.name
    if box.back_low == box.z[0]:
        return f"{g}.box.height"
    d.let(
        f"{g}.back.height",
        box.z[1] - box.back_low,
        f"{g}.box.height",
        f"{g}.bottom.thickness",
        rule="cut off above the bottom, which slides in under it",
        role=Role.FREE,
    )
    return f"{g}.back.height"
