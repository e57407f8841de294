"""A solid top glued up from boards, fixed at the front, free to move to the wall; slots at the rear.

Trade notes 24–25. Slot length = C × (moisture range of the room) × distance from the fixed line + shank + 3 mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import GlueUp
from casewright.design.blocks.body import Body
from casewright.design.draft import Draft
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, Placed
from casewright.design.sites import centred, span, world_box
from casewright.stock.model import Board
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Moisture:
    """Moisture content of the wood, %: at the dry end, the damp end, and on the day of fitting."""

    dry: float
    damp: float
    fitted: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TopSpec:
    """Thickness and overhangs of a top, mm."""

    thickness: float
    overhang_front: float
    overhang_side: float
    overhang_back: float


def top(d: Draft, kit: Kit, body: Body, spec: TopSpec) -> Placed:
    """Place the top. It is fixed by `fix_top`, once every keepout is known."""
    p = d.practice
    d.let(
        "top.length",
        body.width + 2 * spec.overhang_side,
        "body.width",
        "top.overhang_side",
        rule="body + two overhangs",
    )
    d.let(
        "top.width",
        body.depth + spec.overhang_front + spec.overhang_back,
        "body.depth",
        "top.overhang_front",
        "top.overhang_back",
        rule="body + front and back overhang",
    )
    strips = GlueUp(strip_min=p["top.strip_width_least"], strip_max=p["top.board_width"], jointing=p["rough.glue_edge"])
    return d.box_part(
        "top",
        "top",
        kit.material("top", "clear"),
        centred(d.led["top.length"]),
        span(-spec.overhang_front, d.led["top.width"]),
        span(body.z1, spec.thickness),
        grain="x",
        thick="z",
        shows="up front left right",
        rough=Allowance(length=p["rough.length"], width=p["rough.width"], thickness=p["rough.thickness"]),
        made_of=strips,
        sizes=("top.length", "top.width", "top.thickness"),
    )


def fix_top(d: Draft, kit: Kit, body: Body, panel: Placed, wet: Moisture) -> None:
    """Screw the top from below: round holes along the front stretcher, slots in the rear one."""
    p = d.practice
    board = kit.board("top")
    coefficient = movement_coefficient(kit, board)
    thick = panel.part.blank.thickness
    screw = kit.screw("washer-head", 8, body.side + 8.0, body.side + thick - p["fastener.point_cover"] - 1.0)
    front, rear = d.at("stretcher.front"), d.at("stretcher.rear")
    fixed = _line_y(front, body.frame + p["top.screw_from_frame"])
    loose = sum(world_box(rear)[i][1] for i in (0, 1)) / 2
    distance = d.let(
        "top.fixed_to_slot", loose - fixed, "body.depth", "stretcher.width", rule="fixed line to the slots"
    )
    move = d.let(
        "top.movement",
        coefficient * (wet.damp - wet.dry) * distance,
        "top.fixed_to_slot",
        rule=f"C {coefficient:.5f} × ({wet.damp:.1f} − {wet.dry:.1f}) % × distance; across the grain",
    )
    slot = d.let(
        "top.slot",
        move + screw.diameter + p["top.slot_extra"],
        "top.movement",
        rule="movement + shank + spare",
        role=Role.HOUSING,
    )
    count = max(2, round(body.inside / p["top.fixing_spacing"]) + 1)
    at = coefficient * (wet.fitted - (wet.dry + wet.damp) / 2) * distance
    for name, stretcher, y, length in (("front", front, fixed, 0.0), ("rear", rear, loose, slot)):
        lo, hi = world_box(stretcher)
        line = ScrewLine(
            screw=screw,
            start=(lo[0], y, lo[2]),
            end=(hi[0], y, lo[2]),
            drive=(0.0, 0.0, 1.0),
            count=count,
            ends=p["top.screw_ends"],
            apart=p["fastener.apart"],
            slot=length,
            slot_way=(0.0, 1.0, 0.0),
            slot_at=at if length else 0.0,
            hard=False,
        )
        kind = JointKind.SLOTTED_SCREWS if length else JointKind.SCREWS
        why = "slots across the grain: the top moves to the wall" if length else "the fixed line: the front stays put"
        d.joint(f"top~stretcher.{name}", kind, stretcher, panel, (0.0, y, body.z1), line, why=why)


def _line_y(stretcher: Placed, wanted: float) -> float:
    lo, hi = world_box(stretcher)
    return min(max(wanted, lo[1] + 10.0), hi[1] - 10.0)


def movement_coefficient(kit: Kit, board: Board) -> float:
    """Return C_T of a board's species (flat-sawn: the larger, so the safe one). Raises KitError where none is known."""
    wood = kit.species(board)
    if wood.tangential_coefficient is None:
        raise KitError(board.id, "a species with a movement coefficient", wood.name)
    return wood.tangential_coefficient
