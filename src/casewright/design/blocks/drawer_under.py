"""Under-mount slides: one on each wall, the box resting on them, notched and bored at its back.

Common practice; every figure is the stock record's, and the maker's sheet decides.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_seats import BlockingPlan, Seat, member_screws, seats
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import block
from casewright.design.draft import Draft
from casewright.design.features.cuts import Notch
from casewright.design.frames import Frame
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import Drilled
from casewright.design.kit import Kit
from casewright.design.parts import Hardware, Placed
from casewright.design.sites import between, sink, span
from casewright.stock.fittings import UnderSlide

PLATE = 3.2  # mm: the slide's plate on the wall, a usual product's
FLANGE = 30.0  # mm: its height
ROW_REACH = 8.0  # mm: from the middle of its rows of holes to the outermost
AIR = 1.0  # mm: between the slide and what it passes


def under_slides(
    d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec, slide: UnderSlide, box: Box, behind: float
) -> None:
    """Place blocking and slides, and cut the box's back for them; the box front stands at y `behind`."""
    g = box.name
    y = span(behind + slide.set_back, slide.length)
    low = opening.z[0]
    screw_z = low + slide.below + FLANGE / 3
    block_y = (body.frame, y[1])
    plan = BlockingPlan(
        y=block_y,
        z=(low, low + slide.below + FLANGE),
        screw_z=low + slide.below + 2 * FLANGE / 3,
        taken=tuple(y[0] + h - block_y[0] for h in slide.case_holes),
        flush=y[0] < body.frame,
        why="driven from inside, above the slide's own screws",
    )
    found = seats(d, kit, opening, g, spec, plan, ("from the frame to the slide's end", "as high as the slide's plate"))
    if found is None:
        return
    for sign, _ in HANDS:
        seat = found[sign]
        placed = _slide(d, opening, slide, box, seat, y)
        member_screws(d, kit, seat, placed, (slide.case_screw,), slide.case_holes, (y[0], screw_z), 4.0, ROW_REACH)
        _carry_box(d, slide, box, seat, placed)


def _slide(d: Draft, opening: Opening, slide: UnderSlide, box: Box, seat: Seat, y: tuple[float, float]) -> Placed:
    """Place one slide: a plate on the wall, a foot under the box's side, the runner in the recess under the bottom."""
    g, z0 = box.name, opening.z[0]
    hardware = _hardware(slide, box, abs(box.outer(seat.sign) - seat.face))
    # Own x along the slide from its middle, y out towards the wall, z up from the opening's floor.
    frame = Frame(
        origin=(seat.face, (y[0] + y[1]) / 2, z0),
        x=(0.0, 1.0 if seat.sign < 0 else -1.0, 0.0),
        y=(float(seat.sign), 0.0, 0.0),
    )
    name = f"{g}.slide_under.{seat.hand}"
    placed = d.place_hardware(name, f"under-mount slide, {seat.hand}", hardware, frame)
    reach = between(seat.face, box.outer(seat.sign, box.wood + slide.notch_width))
    # Screws up into the floor under the slide end below it: the keepout begins half-way up its foot.
    lo, hi = (reach[0], y[0], z0 + slide.below / 2), (reach[1], y[1], z0 + slide.below + slide.recess)
    d.keep_out(name, lo, hi, placed, seat.onto)
    return placed


def _hardware(slide: UnderSlide, box: Box, beside: float) -> Hardware:
    """Return one slide's body: the same for both hands, its own mirror image end for end."""
    half = slide.length / 2
    inner = beside + box.wood
    under = slide.below
    plate = block((-half, half), (-min(PLATE, beside - AIR), 0.0), (AIR, under + FLANGE))
    foot = block((-half, half), (-inner - AIR, 0.0), (AIR, under - AIR))
    # The runner begins behind the box front and reaches into the notches of its back.
    runs = half + slide.set_back - box.wood - AIR
    runner = block((-runs, runs), (-inner - slide.notch_width + AIR, -inner - AIR), (under - AIR, under + slide.recess))
    link = block((-runs, runs), (-inner - slide.notch_width + AIR, -inner - AIR), (AIR, under - AIR))
    return Hardware(item=slide.id, bodies=(plate, foot, runner, link), mass=slide.mass)


def _carry_box(d: Draft, slide: UnderSlide, box: Box, seat: Seat, placed: Placed) -> None:
    """The bottom rests on the runner; the back is notched for it and bored for its hook."""
    g, sign = box.name, seat.sign
    back, bottom = d.at(f"{g}/box_back"), d.at(f"{g}/bottom")
    inner = box.outer(sign, box.wood)
    x = between(inner, inner - sign * slide.notch_width)
    low, rear = box.z[0], box.y[1]
    cuts: tuple[tuple[str, Notch], ...] = ()
    if box.back_low == low:
        cut = sink(Notch, back, (0.0, 1.0, 0.0), (x[0], rear - box.wood, low), (x[1], rear, low + slide.notch_height))
        cuts = ((back.path, cut),)
    at = ((x[0] + x[1]) / 2, rear, low)
    d.joint(f"{g}.slide_under.{seat.hand}~back", JointKind.HARDWARE, placed, back, at, Cuts(cuts=cuts), why="notched")
    hook = (inner - sign * slide.hook_in, rear, low + slide.recess + slide.hook_up)
    bore = Drilled(
        part=back.path,
        points=(hook,),
        drive=(0.0, -1.0, 0.0),
        diameter=slide.hook_diameter,
        depth=min(slide.hook_depth, box.wood - d.practice["drawer.slide_screw_short"]),
    )
    d.joint(
        f"{g}.slide_under.{seat.hand}~hook",
        JointKind.HARDWARE,
        placed,
        back,
        hook,
        bore,
        why="the slide's hook keeps the back down",
    )
    d.joint(
        f"{g}.slide_under.{seat.hand}~bottom",
        JointKind.HELD,
        placed,
        bottom,
        (at[0], box.y[0], low + slide.recess),
        why="the box rests on the slide and lifts off",
    )
