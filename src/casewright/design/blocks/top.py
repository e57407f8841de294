"""A solid top glued up from boards, fixed at the front, free to move to the wall; slots at the rear.

Common practice. Slot length = C × (moisture range of the room) × distance from the fixed line + shank + 3 mm.
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
from casewright.design.sites import Span, centred, span, world_box
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
    to_wall: float


def let_top_size(d: Draft, body: Body, spec: TopSpec) -> None:
    """Record length and width of a top over a body."""
    d.let(
        "top.length",
        body.width + 2 * spec.overhang_side,
        "body.width",
        "top.overhang_side",
        rule="body + two overhangs",
    )
    d.let(
        "top.width",
        body.depth + spec.overhang_front + spec.overhang_back - spec.to_wall,
        "body.depth",
        "top.overhang_front",
        "top.overhang_back",
        "top.to_wall",
        rule="body + front and back overhang, short of the wall",
    )


def strips(d: Draft) -> GlueUp:
    """Return how a solid top is glued up."""
    p = d.practice
    return GlueUp(strip_min=p["top.strip_width_least"], strip_max=p["top.board_width"], jointing=p["rough.glue_edge"])


def top(d: Draft, kit: Kit, body: Body, spec: TopSpec) -> Placed:
    """Place a solid top. It is fixed by `fix_top`, once every keepout is known."""
    p = d.practice
    let_top_size(d, body, spec)
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
        coated="down back",
        rough=Allowance(length=p["rough.length"], width=p["rough.width"], thickness=p["rough.thickness"]),
        made_of=strips(d),
        sizes=("top.length", "top.width", "top.thickness"),
    )


def fix_top(d: Draft, kit: Kit, body: Body, panel: Placed, wet: Moisture) -> None:
    """Screw the top from below: round holes along the front stretcher, slots wherever the top must move."""
    p = d.practice
    front, rear = d.at("stretcher.front"), d.at("stretcher.rear")
    fixed = _line_y(front, body.frame + p["top.screw_from_frame"])
    count = max(2, round(body.inside / p["top.fixing_spacing"]) + 1)
    fixing = _Fixing(d=d, kit=kit, body=body, panel=panel, wet=wet, fixed=fixed)
    lo, hi = world_box(front)
    fixing.line("stretcher.front", "top~stretcher.front", front, (lo[0], hi[0]), fixed, count)
    cut = next((k for k in d.keepouts if k.id == d.full("stretcher.front.cutout")), None)
    if cut is not None:
        # A cut-out takes the place of the last screw in front: hold that corner from the land behind it.
        y = (cut.hi[1] + hi[1]) / 2
        x = (max(lo[0], cut.lo[0]), min(hi[0], cut.hi[0]))
        fixing.line("stretcher.front", "top~stretcher.front.land", front, x, y, 1)
    lo, hi = world_box(rear)
    fixing.line("stretcher.rear", "top~stretcher.rear", rear, (lo[0], hi[0]), (lo[1] + hi[1]) / 2, count)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fixing:
    """What every line of the top's screws shares; `fixed` is the y of the line that does not move."""

    d: Draft
    kit: Kit
    body: Body
    panel: Placed
    wet: Moisture
    fixed: float

    def line(self, part: str, joint: str, stretcher: Placed, x: Span, y: float, count: int) -> None:
        """Place screws on a line of a stretcher: tight on the fixed line, in slots elsewhere."""
        d, p, body = self.d, self.d.practice, self.body
        thick = self.panel.part.blank.thickness
        screw = self.kit.screw("washer-head", 8, body.side + 8.0, body.side + thick - p["fastener.point_cover"])
        slot, at = self._slot(joint, y, screw.diameter)
        low = world_box(stretcher)[0][2]
        detail = ScrewLine(
            screw=screw,
            start=(x[0], y, low),
            end=(x[1], y, low),
            drive=(0.0, 0.0, 1.0),
            count=count,
            ends=min(p["top.screw_ends"], (x[1] - x[0]) / 4),
            apart=p["fastener.apart"],
            slot=slot,
            slot_way=(0.0, 1.0, 0.0),
            slot_at=at,
        )
        kind = JointKind.SLOTTED_SCREWS if slot else JointKind.SCREWS
        why = "slots across the grain: the top moves to the wall" if slot else "the fixed line: the front stays put"
        d.joint(joint, kind, stretcher, self.panel, ((x[0] + x[1]) / 2, y, body.z1), detail, why=why)

    def _slot(self, joint: str, y: float, shank: float) -> tuple[float, float]:
        """Return (length of the slots, where the screw stands from their middle), mm; zeros on the fixed line."""
        if abs(y - self.fixed) < 1e-6:
            return 0.0, 0.0
        d, wet = self.d, self.wet
        c = movement_coefficient(self.kit, self.kit.board("top"))
        name = {"top~stretcher.rear": "top", "top~stretcher.front.land": "top.land"}[joint]
        distance = d.let(f"{name}.fixed_to_slot", y - self.fixed, "body.depth", rule="fixed line to the slots")
        move = d.let(
            f"{name}.movement",
            c * (wet.damp - wet.dry) * distance,
            f"{name}.fixed_to_slot",
            rule=f"C {c:.5f} × ({wet.damp:.1f} − {wet.dry:.1f}) % × distance; across the grain",
        )
        slot = d.let(
            f"{name}.slot",
            move + shank + d.practice["top.slot_extra"],
            f"{name}.movement",
            rule="movement + shank + spare",
            role=Role.HOUSING,
        )
        return slot, c * (wet.fitted - (wet.dry + wet.damp) / 2) * distance


def wall_gap(kit: Kit, depth: float, wet: Moisture) -> float:
    """Return how far a top's back edge must stay off the wall, mm: growth from fitting day to damp end + clearance."""
    growth = movement_coefficient(kit, kit.board("top")) * max(0.0, wet.damp - wet.fitted) * depth
    return growth + kit.practice["top.wall_clearance"]


def _line_y(stretcher: Placed, wanted: float) -> float:
    lo, hi = world_box(stretcher)
    return min(max(wanted, lo[1] + 10.0), hi[1] - 10.0)


def movement_coefficient(kit: Kit, board: Board) -> float:
    """Return C_T of a board's species (flat-sawn: the larger, so the safe one). Raises KitError where none is known."""
    wood = kit.species(board)
    if wood.tangential_coefficient is None:
        raise KitError(board.id, "a species with a movement coefficient", wood.name)
    return wood.tangential_coefficient
