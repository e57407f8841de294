"""Slides and their blocking: flush with the opening on each side alone, screws inside the wood.

Common practice.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, hand_of
from casewright.design.blocks.drawer_box import Box
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import slide_member
from casewright.design.draft import Draft
from casewright.design.frames import Frame
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, between, centred, span, spots
from casewright.findings import Severity
from casewright.stock.model import Slide
from casewright.units.printed import Role


def drawer_slides(d: Draft, kit: Kit, body: Body, opening: Opening, slide: Slide, box: Box, front_t: float) -> None:
    """Blocking, case members and drawer members on both sides."""
    p, g = d.practice, box.name
    blocking = {sign: _let_blocking(d, opening, g, sign) for sign, _ in HANDS}
    need = min(blocking.values())
    if need < p["blocking.least"]:
        d.find(
            "drawer.blocking",
            Severity.STOP,
            g,
            f"only {need:.1f} mm between the opening and the side for blocking",
            value=need,
            limit=p["blocking.least"],
            source="common practice",
            remedy="make the stiles wider",
        )
        return
    mid_z = (box.z[0] + box.z[1]) / 2
    y = span(front_t + slide.set_back, slide.length)
    block_y = (body.frame, y[1])
    d.let(
        f"{g}.blocking.length", block_y[1] - block_y[0], f"{g}.slide.length", rule="from the frame to the slide's end"
    )
    width = d.let(f"{g}.blocking.width", slide.height + p["blocking.over"], rule="slide and 5 mm above and below")
    for sign, hand in HANDS:
        wall = d.at(opening.wall(sign).name)
        thickness = blocking[sign]
        edge = opening.wall(sign).face - sign * thickness
        block = d.box_part(
            f"{g}.blocking.{hand}",
            f"slide blocking, {hand}",
            kit.material("blocking"),
            between(edge, opening.wall(sign).face),
            block_y,
            centred(width, mid_z),
            grain="y",
            thick="x",
            sizes=(f"{g}.blocking.length", f"{g}.blocking.width", _blocking_name(opening, g, sign)),
        )
        _fix_blocking(d, kit, opening, block, wall, sign, g, (mid_z, block_y), slide, front_t)
        inner = box.outer(sign)
        # Each slide takes its room between opening and box: half of it is the case member, half the drawer member.
        seam = (edge + inner) / 2
        for member, outer, onto in (("case", edge, block), ("drawer", inner, d.at(f"{g}/side.{hand}"))):
            group = f"{g}/" if member == "drawer" else f"{g}."
            name = f"{group}slide_{member}.{hand}"
            hardware = slide_member(slide, abs(edge - inner) / 2, member)
            frame = Frame(origin=((outer + seam) / 2, y[0], mid_z), x=(0.0, 0.0, 1.0), y=(0.0, 1.0, 0.0))
            placed = d.place_hardware(name, f"slide, {member} member, {hand}", hardware, frame)
            x = between(outer, seam)
            half = slide.height / 2
            d.keep_out(name, (x[0], y[0], mid_z - half), (x[1], y[1], mid_z + half), placed, onto)
            _slide_screws(d, kit, placed, onto, slide, sign if member == "case" else -sign, outer, (y[0], mid_z))
        d.joint(
            f"{g}.slides.{hand}",
            JointKind.HARDWARE,
            d.at(f"{g}.slide_case.{hand}"),
            d.at(f"{g}/slide_drawer.{hand}"),
            (seam, y[0], mid_z),
            why="the members run in each other",
        )


def _blocking_name(opening: Opening, g: str, sign: int) -> str:
    """Name the thickness by the wall that it fills up to, so that alike blocking is named alike."""
    alike = opening.left.sheet == opening.right.sheet and opening.left.member == opening.right.member
    return (
        f"{g}.blocking.thickness" if alike else f"{g}.blocking_{opening.wall(sign).sheet.partition('.')[0]}.thickness"
    )


def _let_blocking(d: Draft, opening: Opening, g: str, sign: int) -> float:
    name, wall = _blocking_name(opening, g, sign), opening.wall(sign)
    if name in d.led:
        return d.led[name]
    under = d.practice["drawer.blocking_under"]
    thickness = d.let(
        name,
        opening.behind(sign) - under,
        wall.member,
        wall.sheet,
        rule="from the opening's edge to the wall, a little behind the edge and never proud of it",
        role=Role.INSERT,
    )
    d.fit(
        f"{name}.fit",
        wall.member,
        name,
        0.0,
        0.4,
        allow=opening.behind(sign) - d.led[wall.member],
        source="slide flush with the opening, never proud: +0/−0.4 mm (common practice)",
    )
    return thickness


def _fix_blocking(
    d: Draft,
    kit: Kit,
    opening: Opening,
    block: Placed,
    wall: Placed,
    sign: int,
    g: str,
    at: tuple[float, Span],
    slide: Slide,
    front_y: float,
) -> None:
    mid_z, y = at
    p = d.practice
    thick = block.part.blank.thickness
    # Heads sink below the slide's seat, the points stay inside the wall.
    most = thick + opening.wall(sign).thickness - p["fastener.point_cover"]
    screw = kit.screw("wood", 8, thick + 8.0, most)
    # In the middle of the blocking, under the slide, and clear of the slide's own screws.
    own = [slide.set_back + h + front_y - y[0] for h in slide.case_holes]
    places = spots(y[1] - y[0], 3, 30.0, 40.0, [(h - 12.0, h + 12.0) for h in own]) or (30.0, y[1] - y[0] - 30.0)
    z = mid_z
    face = opening.wall(sign).face
    inner = face - sign * thick
    hand = hand_of(sign)
    d.joint(
        f"{g}.blocking.{hand}~{opening.wall(sign).name}",
        JointKind.BUTT_SCREWS,
        block,
        wall,
        (face, y[0], mid_z),
        ScrewLine(
            screw=screw,
            start=(inner, y[0], z),
            end=(inner, y[1], z),
            drive=(float(sign), 0.0, 0.0),
            count=len(places),
            ends=30.0,
            apart=40.0,
            forced=places,
        ),
        glued=True,
        why="driven from inside, flush under the slide",
    )


def _slide_screws(
    d: Draft, kit: Kit, member: Placed, onto: Placed, slide: Slide, way: int, face: float, at: tuple[float, float]
) -> None:
    """Case members are screwed outwards into the blocking, drawer members inwards into the box side.

    `way` is the sign of that direction across, `face` the x of the wood; the heads lie inside the member.
    """
    case = ".slide_case." in member.path
    screw = kit.named_screw(slide.case_screw if case else slide.screw)
    holes = slide.case_holes if case else slide.drawer_holes
    y0, z = at
    x = face - way * (screw.head_height + 0.5)
    d.joint(
        f"{member.path.removeprefix(d.path + '/')}~wood",
        JointKind.HARDWARE,
        member,
        onto,
        (face, y0, z),
        ScrewLine(
            screw=screw,
            start=(x, y0, z),
            end=(x, y0 + slide.length, z),
            drive=(float(way), 0.0, 0.0),
            count=len(holes),
            ends=0.0,
            apart=0.0,
            forced=holes,
            bare=True,
        ),
    )
