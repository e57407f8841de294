"""A drawer: false front, box, what it runs on, pull. Everything hangs on the opening.

Common practice. The box is the opening less the room of what carries it, the front leaves its gaps or laps over.
"""

from __future__ import annotations

from casewright.design.assembly import Motion, MotionKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.drawer_bottom import box_bottom
from casewright.design.blocks.drawer_box import drawer_box
from casewright.design.blocks.drawer_corners import nail_box, plan_corners
from casewright.design.blocks.drawer_front import drawer_front
from casewright.design.blocks.drawer_hang import hang_front
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_ride import Ride, choose_ride
from casewright.design.blocks.drawer_runners import runners
from casewright.design.blocks.drawer_slides import side_slides
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.blocks.drawer_stock import Wood, wood_of
from casewright.design.blocks.drawer_under import under_slides
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sites import centred, span
from casewright.findings import Severity
from casewright.units.printed import Role


def drawer(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec) -> None:
    """Place a whole drawer with what carries it; findings where it cannot be built."""
    g = f"drawer[{opening.cell}]"
    walls = wood_of(kit, "drawer_side", "clear", d.practice["drawer.solid_side"])
    floor = wood_of(kit, "drawer_bottom", "clear", d.practice["drawer.solid_bottom"])
    if not _moisture_known(d, kit, spec, g, walls, floor):
        return
    front = drawer_front(d, kit, opening, spec, g)
    if front is None:
        return
    ride = choose_ride(d, kit, body, spec, g, front.behind, walls.thickness, floor.thickness)
    corners = plan_corners(d, kit, g, spec.corner, walls.thickness, spec.load, hard=walls.material.hard)
    if ride is None or corners is None:
        return
    box = _let_box(d, opening, spec, ride, walls, floor, g, front.behind)
    if box is None:
        return
    drawer_box(d, kit, box, opening, ride, walls, corners)
    box_bottom(d, kit, box, floor, spec.moisture)
    _carry(d, kit, body, opening, spec, ride, box, front.behind)
    nail_box(d, kit, box, corners)
    hang_front(d, kit, box, front, spec)
    d.motions.append(
        Motion(
            id=d.full(f"{g}.slide"),
            kind=MotionKind.SLIDE,
            members=(d.full(g),),
            origin=(opening.middle, 0.0, box.z[0]),
            direction=(0.0, -1.0, 0.0),
            reach=ride.travel,
        )
    )


def _moisture_known(d: Draft, kit: Kit, spec: DrawerSpec, g: str, *woods: Wood) -> bool:
    """Solid wood asks for the room's moisture: without it no gap, slot or hole can be sized."""
    faces = () if spec.front is FrontKind.PANEL else (wood_of(kit, "drawer_front"),)
    if spec.moisture is not None or not any(w.solid for w in (*woods, *faces)):
        return True
    d.find(
        "drawer.moisture",
        Severity.STOP,
        g,
        "the drawer has parts of solid wood, and the moisture that they meet is not known",
        source="movement of the species over the room's humidity (Wood Handbook Eq. 13-2)",
        remedy="give the room's humidity, or sheets for the drawer's roles",
    )
    return False


def _carry(
    d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec, ride: Ride, box: Box, behind: float
) -> None:
    if ride.side is not None:
        side_slides(d, kit, body, opening, spec, ride.side, box, behind)
    elif ride.under is not None:
        under_slides(d, kit, body, opening, spec, ride.under, box, behind)
    else:
        runners(d, kit, body, opening, spec, ride, box)


def _let_box(
    d: Draft, opening: Opening, spec: DrawerSpec, ride: Ride, walls: Wood, floor: Wood, g: str, behind: float
) -> Box | None:
    wood = d.let(f"{g}.box.thickness", walls.thickness, rule=f"drawer {walls.what} as measured")
    bottom = d.let(f"{g}.bottom.thickness", floor.thickness, rule=f"bottom {floor.what} as measured")
    play = d.let(f"{g}.play", ride.play, rule=ride.play_rule)
    width = d.let(
        f"{g}.box.width",
        opening.width - play,
        opening.width_name,
        f"{g}.play",
        rule="opening less the slides' room",
        role=Role.INSERT,
    )
    height = _let_height(d, opening, spec, ride, walls, g)
    depth = d.let(f"{g}.box.depth", ride.depth, *_depth_because(d, g), rule=ride.depth_rule, role=Role.INSERT)
    if not _high_enough(d, ride, height, g):
        return None
    low = opening.z[0] + ride.below
    under = low + ride.groove_up + bottom if floor.solid else low
    return Box(
        name=g,
        x=centred(width, opening.middle),
        y=span(behind, depth),
        z=(low, low + height),
        wood=wood,
        bottom=bottom,
        groove_up=ride.groove_up,
        back_low=under,
    )


def _depth_because(d: Draft, g: str) -> tuple[str, ...]:
    return (f"{g}.slide.length",) if f"{g}.slide.length" in d.led else ("body.depth", "back.thickness")


def _let_height(d: Draft, opening: Opening, spec: DrawerSpec, ride: Ride, walls: Wood, g: str) -> float:
    """Let the box's height: the opening less its room, and less what solid walls will grow."""
    room = opening.height - ride.below - ride.above
    names, rule = [opening.height_name], "opening less room below and above"
    if walls.solid and spec.moisture is not None:
        grows = d.let(
            f"{g}.box.growth",
            walls.swells(spec.moisture, room),
            opening.height_name,
            rule="solid walls, from fitting day to the damp end",
        )
        room -= grows
        names.append(f"{g}.box.growth")
        rule += ", and the walls' growth"
    return d.let(f"{g}.box.height", room, *names, rule=rule, role=Role.INSERT)


def _high_enough(d: Draft, ride: Ride, height: float, g: str) -> bool:
    if height >= ride.height_least:
        return True
    d.find(
        "drawer.too_low",
        Severity.STOP,
        g,
        f"the box would be {height:.1f} mm high",
        value=height,
        limit=ride.height_least,
        source="common practice",
        remedy="give the drawer a higher front or take a lower slide",
    )
    return False
