"""Slides and their blocking: flush with the opening on each side alone, screws inside the wood.

Trade notes 11–13.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.drawer_box import Box
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import slide_member
from casewright.design.draft import Draft
from casewright.design.frames import Frame, Vec
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred, span
from casewright.findings import Severity
from casewright.stock.model import Slide
from casewright.units.printed import Role


def drawer_slides(d: Draft, kit: Kit, body: Body, opening: Opening, slide: Slide, box: Box, front_t: float) -> None:
    """Blocking, case members and drawer members on both sides."""
    p, g = d.practice, box.name
    need = body.inside / 2 - opening.x[1]
    thickness = d.let(
        f"{g}.blocking.thickness",
        need,
        "stile.width",
        "side.thickness",
        rule="from the opening's edge to the side, so that the slide lies flush; never proud",
        role=Role.INSERT,
    )
    d.fit(
        f"{g}.fit.blocking",
        "stile.width",
        f"{g}.blocking.thickness",
        -1e-4,
        0.4,
        allow=-body.side,
        source="slide flush with the opening, never proud: +0/−0.4 mm (common practice)",
    )
    if need < p["blocking.least"]:
        d.find(
            "drawer.blocking",
            Severity.STOP,
            g,
            f"only {need:.1f} mm between the opening and the side for blocking",
            value=need,
            limit=p["blocking.least"],
            source="trade notes 12",
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
        side = d.at(f"side.{hand}")
        x = (opening.x[1], opening.x[1] + thickness) if sign > 0 else (-opening.x[1] - thickness, -opening.x[1])
        block = d.box_part(
            f"{g}.blocking.{hand}",
            f"slide blocking, {hand}",
            kit.material("blocking"),
            x,
            block_y,
            centred(width, mid_z),
            grain="y",
            thick="x",
            sizes=(f"{g}.blocking.length", f"{g}.blocking.width", f"{g}.blocking.thickness"),
        )
        _fix_blocking(d, kit, body, block, side, sign, hand, g, (mid_z, block_y, width), slide)
        gap = opening.x[1] - box.x[1]
        for member, outer, onto in (
            ("case", opening.x[1], block),
            ("drawer", box.x[1] + gap / 2, d.at(f"{g}/side.{hand}")),
        ):
            group = f"{g}/" if member == "drawer" else f"{g}."
            hardware = slide_member(slide, gap / 2, member)
            frame = Frame(origin=(sign * (outer - gap / 4), y[0], mid_z), x=(0.0, 0.0, 1.0), y=(0.0, 1.0, 0.0))
            placed = d.place_hardware(
                f"{group}slide_{member}.{hand}", f"slide, {member} member, {hand}", hardware, frame
            )
            d.keep_out(
                *_slide_box(f"{group}slide_{member}.{hand}", placed, sign, outer, gap, y, mid_z, slide), placed, onto
            )
            _slide_screws(d, kit, placed, onto, slide, member, sign, outer, gap, (y[0], mid_z))
        d.joint(
            f"{g}.slides.{hand}",
            JointKind.HARDWARE,
            d.at(f"{g}.slide_case.{hand}"),
            d.at(f"{g}/slide_drawer.{hand}"),
            (sign * (opening.x[1] - gap / 2), y[0], mid_z),
            why="the members run in each other",
        )


def _slide_box(
    name: str, placed: Placed, sign: int, outer: float, gap: float, y: Span, z: float, slide: Slide
) -> tuple[str, Vec, Vec]:
    a, b = sign * outer, sign * (outer - gap / 2)
    return (
        name,
        (min(a, b), y[0], z - slide.height / 2),
        (max(a, b), y[1], z + slide.height / 2),
    )


def _fix_blocking(
    d: Draft,
    kit: Kit,
    body: Body,
    block: Placed,
    side: Placed,
    sign: int,
    hand: str,
    g: str,
    at: tuple[float, Span, float],
    slide: Slide,
) -> None:
    mid_z, y, width = at
    p = d.practice
    thick = block.part.blank.thickness
    # Heads sink below the slide's seat, the points stay inside the side.
    screw = kit.screw("wood", 8, thick + 8.0, thick + body.side - p["fastener.point_cover"])
    # Above and below the slide, so that its own screws and these never meet.
    z = mid_z + width / 2 - (width - slide.height) / 4 - 1.0
    inner = sign * (body.inside / 2 - thick)
    d.joint(
        f"{g}.blocking~side.{hand}",
        JointKind.BUTT_SCREWS,
        block,
        side,
        (sign * body.inside / 2, y[0], mid_z),
        ScrewLine(
            screw=screw,
            start=(inner, y[0], z),
            end=(inner, y[1], z),
            drive=(float(sign), 0.0, 0.0),
            count=3,
            ends=30.0,
            apart=40.0,
        ),
        glued=True,
        why="driven from inside, hidden by the drawer",
    )


def _slide_screws(
    d: Draft,
    kit: Kit,
    member: Placed,
    onto: Placed,
    slide: Slide,
    kind: str,
    sign: int,
    outer: float,
    gap: float,
    at: tuple[float, float],
) -> None:
    case = kind == "case"
    screw = kit.named_screw(slide.case_screw if case else slide.screw)
    holes = slide.case_holes if case else slide.drawer_holes
    y0, z = at
    # Case members are screwed outwards into the blocking, drawer members inwards into the box side; the
    # heads lie inside the member.
    way = float(sign) if case else -float(sign)
    face = sign * outer if case else sign * (outer - gap / 2)
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
            drive=(way, 0.0, 0.0),
            count=len(holes),
            ends=0.0,
            apart=0.0,
            forced=holes,
            bare=True,
        ),
    )
