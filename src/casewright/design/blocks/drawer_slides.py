"""Side-mount slides on both sides of a drawer: case members on their seats, drawer members on the box.

Common practice: flush with the opening on each side alone, screws inside the wood.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_seats import SUNK, BlockingPlan, Seat, bite, member_screws, seats
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import slide_member
from casewright.design.draft import Draft
from casewright.design.frames import Frame
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import between, centred, depth_along, span
from casewright.findings import Severity
from casewright.stock.model import Slide


def side_slides(
    d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec, slide: Slide, box: Box, behind: float
) -> None:
    """Place blocking, case members and drawer members; the box front stands at y `behind`."""
    g = box.name
    mid_z = (box.z[0] + box.z[1]) / 2
    y = span(behind + slide.set_back, slide.length)
    block_y = (body.frame, y[1])
    plan = BlockingPlan(
        y=block_y,
        z=centred(slide.height + d.practice["blocking.over"], mid_z),
        screw_z=mid_z,
        taken=tuple(y[0] + h - block_y[0] for h in slide.case_holes),
        flush=y[0] < body.frame,
    )
    rules = ("from the frame to the slide's end", "slide and 5 mm above and below")
    found = seats(d, kit, opening, g, spec, plan, rules)
    if found is None:
        return
    for sign, _ in HANDS:
        _pair(d, kit, slide, box, found[sign], (y[0], mid_z))


def _pair(d: Draft, kit: Kit, slide: Slide, box: Box, seat: Seat, at: tuple[float, float]) -> None:
    """Place both members of one side. Each takes half of the room between seat and box."""
    g, hand, edge, inner = box.name, seat.hand, seat.face, box.outer(seat.sign)
    seam = (edge + inner) / 2
    for member, outer, onto in (("case", edge, seat.onto), ("drawer", inner, d.at(f"{g}/side.{hand}"))):
        name = f"{g}{'/' if member == 'drawer' else '.'}slide_{member}.{hand}"
        hardware = slide_member(slide, abs(edge - inner) / 2, member)
        frame = Frame(origin=((outer + seam) / 2, at[0], at[1]), x=(0.0, 0.0, 1.0), y=(0.0, 1.0, 0.0))
        placed = d.place_hardware(name, f"slide, {member} member, {hand}", hardware, frame)
        x, half = between(outer, seam), slide.height / 2
        lo, hi = (x[0], at[0], at[1] - half), (x[1], at[0] + slide.length, at[1] + half)
        d.keep_out(name, lo, hi, placed, onto)
        if member == "case":
            member_screws(d, kit, seat, placed, (slide.case_screw, slide.screw), slide.case_holes, at, 6.0)
        else:
            _drawer_screws(d, kit, placed, onto, slide, -seat.sign, outer, at)
    d.joint(
        f"{g}.slides.{hand}",
        JointKind.HARDWARE,
        d.at(f"{g}.slide_case.{hand}"),
        d.at(f"{g}/slide_drawer.{hand}"),
        (seam, *at),
        why="the members run in each other",
    )


def _drawer_screws(
    d: Draft, kit: Kit, member: Placed, onto: Placed, slide: Slide, way: int, face: float, at: tuple[float, float]
) -> None:
    """Screw a drawer member inwards into the box side; `way` is that direction across, `face` the x of the wood."""
    screw = kit.named_screw(slide.screw)
    y0, z = at
    wood, short = depth_along(onto, (1.0, 0.0, 0.0)), d.practice["drawer.slide_screw_short"]
    if bite(screw) > wood - short:
        d.find(
            "drawer.slide_screw",
            Severity.STOP,
            onto.path.removeprefix(d.path + "/"),
            f"the slide's screws go {bite(screw):.1f} mm into a side of {wood:.1f} mm",
            value=bite(screw),
            limit=wood - short,
            source="common practice: practice drawer.slide_screw_short",
            remedy="thicker stock for the role drawer_side, or slides with shorter screws",
        )
        return
    x = face - way * (screw.head_height + SUNK)
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
            count=len(slide.drawer_holes),
            ends=0.0,
            apart=0.0,
            forced=slide.drawer_holes,
            bare=True,
        ),
    )
