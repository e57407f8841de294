"""An inset drawer: box on side-mount slides behind a face frame, false front with an applied frame, pull.

Common practice. Everything hangs on the opening: the box is the opening less the slides' room, the
blocking brings each slide flush with the opening on its own side, the front leaves its gaps.
"""

from __future__ import annotations

from casewright.design.assembly import Motion, MotionKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.drawer_box import Box, drawer_box, nail_box
from casewright.design.blocks.drawer_front import DrawerSpec, drawer_front, hang_front
from casewright.design.blocks.drawer_slides import drawer_slides
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sites import centred, span
from casewright.findings import Severity
from casewright.stock.model import Slide
from casewright.units.printed import Role


def drawer(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec) -> None:
    """Place a whole drawer with its slides and blocking; findings where it cannot be built."""
    g = f"drawer[{opening.cell}]"
    front_t = drawer_front(d, kit, opening, spec, g)
    slide = _choose_slide(d, kit, body, g, front_t)
    if slide is None:
        return
    box = _let_box(d, kit, body, opening, slide, g, front_t)
    if box is None:
        return
    drawer_box(d, kit, box, opening)
    drawer_slides(d, kit, body, opening, slide, box, front_t)
    nail_box(d, kit, box)
    hang_front(d, kit, box, g, front_t)
    d.motions.append(
        Motion(
            id=d.full(f"{g}.slide"),
            kind=MotionKind.SLIDE,
            members=(d.full(g),),
            origin=(opening.middle, 0.0, box.z[0]),
            direction=(0.0, -1.0, 0.0),
            reach=slide.travel,
        )
    )


def _choose_slide(d: Draft, kit: Kit, body: Body, g: str, front_t: float) -> Slide | None:
    family = kit.slides()
    room = body.inner_back - d.practice["slide.behind"] - front_t
    fits = [s for s in family if s.set_back + s.length <= room]
    if not fits:
        d.find(
            "drawer.no_slide",
            Severity.STOP,
            g,
            f"no slide in stock fits a depth of {room:.1f} mm",
            value=room,
            limit=min(s.set_back + s.length for s in family),
            source="common practice",
            remedy="make the case deeper or stock a shorter slide",
        )
        return None
    best = max(fits, key=lambda s: (s.length, s.id))
    d.let(
        f"{g}.slide.length",
        best.length,
        "body.depth",
        "back.thickness",
        f"{g}.front.thickness",
        rule="the longest in stock that fits behind the front",
    )
    return best


def _let_box(d: Draft, kit: Kit, body: Body, opening: Opening, slide: Slide, g: str, front_t: float) -> Box | None:
    p = d.practice
    wood = d.let(f"{g}.box.thickness", kit.sheet("drawer_side").thickness, rule="drawer sheet as measured")
    bottom = d.let(f"{g}.bottom.thickness", kit.sheet("drawer_bottom").thickness, rule="bottom sheet as measured")
    play = d.let(f"{g}.play", 2 * p["drawer.side_clearance"], rule="room of both slides: aim of 25.4 to 27.0 mm")
    width = d.let(
        f"{g}.box.width",
        opening.width - play,
        opening.width_name,
        f"{g}.play",
        rule="opening less the slides' room",
        role=Role.INSERT,
    )
    height = d.let(
        f"{g}.box.height",
        opening.height - p["drawer.below"] - p["drawer.above"],
        opening.height_name,
        rule="opening less room below and above",
        role=Role.INSERT,
    )
    depth = d.let(
        f"{g}.box.depth",
        slide.set_back + slide.length,
        f"{g}.slide.length",
        rule="as long as the slide",
        role=Role.INSERT,
    )
    if height < slide.height + p["drawer.over_slide"]:
        d.find(
            "drawer.too_low",
            Severity.STOP,
            g,
            f"the box would be {height:.1f} mm high",
            value=height,
            limit=slide.height + p["drawer.over_slide"],
            source="common practice",
            remedy="give the drawer a higher front or take a lower slide",
        )
        return None
    low = opening.z[0] + p["drawer.below"]
    return Box(
        name=g,
        x=centred(width, opening.middle),
        y=span(front_t, depth),
        z=(low, low + height),
        wood=wood,
        bottom=bottom,
    )
