"""A lid that lifts up, of a window seat or chest: hinged at the back to a fixed strip, held open by stays.

Common practice. The strip lies behind the lid, fixed to the case, so that the lid opens before a wall or a moulding.
Butt hinges are let into the meeting edges of both where they are solid, flat into the upper faces of sheets, whose
edges hold no screws; barrels up. Stays are chosen by the lid's moment at the hinge line:
weight × half of its depth, shared by two. The lid stands out in front so that fingers get under it. A solid lid is
held flat by battens in slots below; it is fixed at its hinges, and all of its movement goes to the front.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.design.assembly import JointKind, Motion, MotionKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.door_slab import banded_panel
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size, wood_of
from casewright.design.blocks.lid_fittings import hang_lid, hold_open
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.features.hole_rows import spread
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import Span, centred, depth_along, span, world_box
from casewright.findings import Severity
from casewright.stock.model import Board, Hinge
from casewright.units.printed import Role

CLEAR = 12.0  # of battens to what stands before and behind them


@dataclass(frozen=True, slots=True, kw_only=True)
class LidSpec:
    """Overhangs of a lid, mm, and the part of the case that its fixed strip is screwed to from below.

    Under the lid the case is open from `clear_from` (y) to that part, and down to `floor_z`. `hinges` 0 leaves their
    number to the lid's length. `uprights` are the spans (x) of what stands up to it between the sides.
    """

    overhang_front: float
    clear_from: float
    floor_z: float
    overhang_side: float = 0.0
    overhang_back: float = 0.0
    under: str = "stretcher.rear"
    hinges: int = 0
    finish: str = "clear"
    uprights: tuple[Span, ...] = ()


def lid_stock(kit: Kit, finish: str) -> Wood:
    """Return what lid and strip are cut from, the role `lid`: its thickness is the lid's. Raises KitError."""
    item = kit.sizes.item("lid")
    planed = kit.practice["top.finished_share"] * item.dressed if isinstance(item, Board) else 0.0
    return wood_of(kit, "lid", finish, planed=planed)


def lid_gap(d: Draft) -> float:
    """Return the gap of the wood between lid and strip, mm."""
    return d.practice["gap.inset"] + 2 * d.practice["finish.film_face"]


def lid(d: Draft, kit: Kit, body: Body, spec: LidSpec, wet: Moisture) -> None:
    """Place strip, lid, hinges, battens and stays on the case's upper edge; findings for what does not work."""
    wood, p = lid_stock(kit, spec.finish), d.practice
    if spec.overhang_front < p["lid.finger"]:
        d.find(
            "lid.finger",
            Severity.STOP,
            "lid",
            f"the lid stands out {spec.overhang_front:.1f} mm in front: no finger gets under it",
            value=spec.overhang_front,
            limit=p["lid.finger"],
            source="common practice: practice lid.finger",
            remedy="a wider overhang in front, or a pull",
        )
        return
    hinge = kit.role("lid_hinge", Hinge)
    if wood.solid and (hinge.closed <= lid_gap(d) or wood.thickness < hinge.leaf_width):
        d.find(
            "lid.hinge",
            Severity.STOP,
            "lid",
            f"a hinge with leaves of {hinge.leaf_width:.1f} mm does not go into a lid of {wood.thickness:.1f} mm",
            value=wood.thickness,
            limit=hinge.leaf_width,
            source=hinge.source,
            remedy="a thicker lid, or a narrower hinge for the role lid_hinge",
        )
        return
    x, strip_y, lid_y = _let_spans(d, body, spec, wood, wet)
    z = span(body.z1, wood.thickness)
    strip = _strip(d, kit, body, spec, wood, x, strip_y, z)
    panel = _panel(d, kit, wood, x, lid_y, z)
    hang_lid(d, kit, panel, strip, hinge, spec.hinges, flat=not wood.solid)
    if wood.solid:
        _battens(d, kit, body, spec, panel, wood, wet)
    opens = hold_open(d, kit, body, panel, d.at(spec.under), spec.floor_z)
    d.motions.append(
        Motion(
            id=d.full("lid.swing"),
            kind=MotionKind.SWING,
            members=(d.full("lid"),),
            origin=(x[0], (lid_y[1] + strip_y[0]) / 2, z[1]),
            direction=(-1.0, 0.0, 0.0),
            reach=opens,
        )
    )


def _let_spans(d: Draft, body: Body, spec: LidSpec, wood: Wood, wet: Moisture) -> tuple[Span, Span, Span]:
    """Let lengths and widths of lid and strip; returns their common x, and the y of strip and lid."""
    p = d.practice
    d.let("lid.thickness", wood.thickness, rule=f"{wood.what} as measured, or planed")
    front = d.let("lid.overhang_front", spec.overhang_front, rule="as ordered: fingers get under it")
    side = d.let("lid.overhang_side", spec.overhang_side, rule="as ordered")
    rear = d.let("lid.overhang_back", spec.overhang_back, rule="as ordered: skirting or none")
    length = d.let("lid.length", body.outer + 2 * side, "lid.overhang_side", rule="body + two overhangs")
    d.let("lid.depth", body.depth + front + rear, "lid.overhang_front", "lid.overhang_back", rule="body + overhangs")
    strip = d.let("lid.strip_width", p["lid.strip"], rule="carries the hinges")
    gap = d.let("lid.gap", lid_gap(d), rule="finished gap + film on both faces")
    width = d.let(
        "lid.width",
        d.led["lid.depth"] - strip - gap,
        "lid.depth",
        "lid.strip_width",
        "lid.gap",
        rule="what strip and gap leave",
        role=Role.INSERT,
    )
    d.chain("lid.chain", "y", "lid.depth", ("lid.width", "lid.gap", "lid.strip_width"), "lid.gap", 0.4 * gap, gap + 1.5)
    if wood.solid:
        d.let("lid.movement", wood.range(wet, width), "lid.width", rule="to the front: it is fixed at its hinges")
    back = body.depth + rear
    return centred(length), (back - strip, back), (back - strip - gap - width, back - strip - gap)


def _board(d: Draft, name: str, label: str, wood: Wood, x: Span, y: Span, z: Span, width: str) -> Placed:
    strips = glue_up(wood, y[1] - y[0], d.practice)
    return d.box_part(
        name,
        label,
        wood.material,
        x,
        y,
        z,
        grain="x",
        thick="z",
        shows="up front left right",
        coated="down back",
        rough=over_size(strips, d.practice),
        made_of=strips,
        sizes=("lid.length", width, "lid.thickness"),
        kind=PartKind.LID,
    )


def _panel(d: Draft, kit: Kit, wood: Wood, x: Span, y: Span, z: Span) -> Placed:
    if wood.solid:
        return _board(d, "lid/panel", "lid", wood, x, y, z, "lid.width")
    sizes = ("lid.length", "lid.width", "lid.thickness")
    return banded_panel(
        d, kit, "lid/panel", "lid", wood, x, y, z, ("x", "z"), sizes, shows="up front left right", kind=PartKind.LID
    )


def _strip(d: Draft, kit: Kit, body: Body, spec: LidSpec, wood: Wood, x: Span, y: Span, z: Span) -> Placed:
    """Place the fixed strip and screw it from below, through the case's rear stretcher."""
    if wood.solid:
        strip = _board(d, "lid_strip", "strip behind the lid", wood, x, y, z, "lid.strip_width")
    else:
        sizes = ("lid.length", "lid.strip_width", "lid.thickness")
        strip = banded_panel(
            d, kit, "lid_strip", "strip behind the lid", wood, x, y, z, ("x", "z"), sizes,
            shows="up front left right", kind=PartKind.LID,
        )  # fmt: skip
    under, p = d.at(spec.under), d.practice
    through = depth_along(under, (0.0, 0.0, 1.0))
    screw = kit.screw(
        "wood", 8, through + 8.0, through + wood.thickness - p["fastener.point_cover"], role="block_screw"
    )
    low, (under_lo, under_hi) = body.z1 - through, world_box(under)
    middle = (max(y[0], under_lo[1]) + min(y[1], under_hi[1])) / 2
    half = body.inside / 2
    d.joint(
        f"lid_strip~{spec.under}",
        JointKind.SCREWS,
        under,
        strip,
        (0.0, middle, body.z1),
        ScrewLine(
            screw=screw,
            start=(-half, middle, low),
            end=(half, middle, low),
            drive=(0.0, 0.0, 1.0),
            count=max(2, round(body.inside / p["top.fixing_spacing"]) + 1),
            ends=p["top.screw_ends"],
            apart=p["fastener.apart"],
        ),
        glued=not wood.solid,
        why="narrow, so it may be held tight",
    )
    return strip


def _off_uprights(x: float, uprights: Sequence[Span], room: float) -> float:
    """Return the place nearest to `x` that lies `room` mm off every upright."""
    for low, high in uprights:
        if low - room < x < high + room:
            return high + room if x >= (low + high) / 2 else low - room
    return x


def _battens(d: Draft, kit: Kit, body: Body, spec: LidSpec, panel: Placed, wood: Wood, wet: Moisture) -> None:
    """Battens under a solid lid, inside the case: tight at the hinges, in slots before them.

    Two, and more between them where they would stand further apart than practice: a sitter bends the lid less.
    """
    p, board = d.practice, kit.board("door_frame")
    thick = d.let("lid.batten.thickness", board.dressed, rule="planed")
    width = d.let("lid.batten.width", p["lid.batten_width"], rule="practice")
    lid_lo, lid_hi = world_box(panel)
    rear = min(lid_hi[1], world_box(d.at(spec.under))[0][1])
    y = (max(spec.clear_from + CLEAR, lid_lo[1] + CLEAR), rear - CLEAR)
    d.let("lid.batten.length", y[1] - y[0], "lid.width", rule="inside the case, clear of front and strip")
    far = y[1] - y[0] - 50.0
    slot = d.let(
        "lid.batten.slot",
        wood.range(wet, far) + p["top.slot_extra"] + 4.2,
        "lid.batten.length",
        rule="movement + shank + spare",
        role=Role.HOUSING,
    )
    material = kit.material("door_frame", spec.finish)
    screw = kit.screw(
        "washer-head", 8, thick + 6.0, thick + wood.thickness - p["fastener.point_cover"], role="top_screw"
    )
    # Clear of the stays, which stand beside the walls of the case.
    outer = body.inside / 2 - p["lid.stay_room"] - width / 2
    inner = spread(2 * outer, 0.0, p["lid.batten_apart"])[1:-1]
    places = [(hand, sign * outer) for sign, hand in HANDS]
    room = width / 2 + p["fastener.clearance"]
    clear = [_off_uprights(at - outer, spec.uprights, room) for at in inner]
    places += [(f"middle[{i}]", at) for i, at in enumerate(clear, start=1)]
    for hand, x in places:
        name = f"lid/batten.{hand}"
        batten = d.box_part(
            name,
            f"{hand.partition('[')[0]} batten",
            material,
            centred(width, x),
            y,
            (body.z1 - thick, body.z1),
            grain="y",
            thick="z",
            coated="down left right front back",
            sizes=("lid.batten.length", "lid.batten.width", "lid.batten.thickness"),
        )
        for where, at, slotted in (("back", y[1] - 25.0, 0.0), ("front", y[0] + 25.0, slot)):
            d.joint(
                f"{name}~panel.{where}",
                JointKind.SLOTTED_SCREWS if slotted else JointKind.SCREWS,
                batten,
                panel,
                (x, at, body.z1),
                ScrewLine(
                    screw=screw,
                    start=(x, at - 12.0, body.z1 - thick),
                    end=(x, at + 12.0, body.z1 - thick),
                    drive=(0.0, 0.0, 1.0),
                    count=1,
                    ends=12.0,
                    apart=0.0,
                    forced=(12.0,),
                    slot=slotted,
                    slot_way=(0.0, 1.0, 0.0),
                ),
                why="a slot: the lid moves to the front" if slotted else "tight near the hinges",
            )
