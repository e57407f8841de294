"""A solid top glued up from boards: fast on one line, in slots across the grain wherever it moves.

Common practice. The line is the order's: in front (all movement goes to the wall), at the rear, or in the middle, on
a stretcher of its own. Slot length = C × (moisture range of the room) × distance from the fixed line + shank + 3 mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import GlueUp
from casewright.design.blocks.body import Body
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.frames import Vec
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, PartKind, Placed
from casewright.design.sites import Span, centred, depth_along, middle, span, world_box
from casewright.stock.model import Board
from casewright.units.printed import Role

UP: Vec = (0.0, 0.0, 1.0)
TIES = ("stretcher.front", "stretcher.middle", "stretcher.rear")
MOVES = {"front": "to the wall", "middle": "to the front and to the wall", "rear": "to the front"}


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
        body.outer + 2 * spec.overhang_side,
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
        kit.material("top", kit.top_finish),
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
        kind=PartKind.TOP,
    )


def fix_top(d: Draft, kit: Kit, body: Body, panel: Placed, wet: Moisture, fixed: str = "front") -> None:
    """Screw a solid top from below: round holes along the stretcher of its fixed line, slots along the others."""
    count = fixings(d, body.inside)
    c = movement_coefficient(kit, kit.board("top"))
    ties = ties_of(d)
    places = {tie.path: middle(*world_box(tie))[1] for tie in ties}
    places[ties[0].path] = line_y(ties[0], body.frame + d.practice["top.screw_from_frame"])
    stays = d.full(f"stretcher.{fixed}")
    fixing = ScrewFixing(d=d, kit=kit, wet=wet, fixed=places[stays], stays=fixed, coefficient=c)
    for tie in ties:
        lo, hi = world_box(tie)
        name = tie.path.removeprefix(d.path + "/")
        fixing.line(f"top~{name}", tie, panel, (lo[0], hi[0]), places[tie.path], count, line_name(name))
    fixing.land(ties[0], panel)


def ties_of(d: Draft) -> tuple[Placed, ...]:
    """Return the stretchers under a top, from the front."""
    return tuple(d.at(name) for name in TIES if d.has(name))


def line_name(support: str) -> str:
    """Return what the sizes of a line of screws in a part are named after in the ledger."""
    return "top" if support == "stretcher.rear" else f"top.{support}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wander:
    """How far a solid top's front edge moves back to the dry end, and its back edge to the wall at the damp one, mm."""

    front: float
    back: float


def wander(kit: Kit, fixed: str, depth: float, overhang_back: float, wet: Moisture) -> Wander:
    """Return how a solid top over a depth (mm) moves about its fixed line. Raises KitError."""
    c, rear = movement_coefficient(kit, kit.board("top")), kit.practice["stretcher.width"] + overhang_back
    behind = {"front": depth, "middle": depth / 2 + overhang_back, "rear": min(depth, rear)}[fixed]
    before = {"front": 0.0, "middle": depth / 2, "rear": depth}[fixed]  # the front line stands close to the edge
    return Wander(
        front=c * max(0.0, wet.fitted - wet.dry) * before,
        back=c * max(0.0, wet.damp - wet.fitted) * behind,
    )


def let_wander(d: Draft, kit: Kit, fixed: str, depth: float, overhang_back: float, wet: Moisture) -> Wander:
    """Record how a solid top moves about its fixed line, and how far its back edge must stay off the wall."""
    moves = wander(kit, fixed, depth, overhang_back, wet)
    if fixed != "front":
        d.let("top.front_shrinks", moves.front, rule=f"from its fixed line, at the {fixed}, to the front edge")
    d.let(
        "top.to_wall",
        moves.back + d.practice["top.wall_clearance"],
        "overall.depth",
        rule=f"a solid top's growth to the damp end, from its fixed line at the {fixed}, + clearance off the wall",
    )
    return moves


def fixings(d: Draft, length: float) -> int:
    """Return how many fixings a line of a length takes."""
    return max(2, round(length / d.practice["top.fixing_spacing"]) + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewFixing:
    """What every line of a top's screws shares.

    `fixed` is the y of the line that does not move, at the `stays` of the top, `front` that of screws in front where
    these are not it, `coefficient` that of the wood in 1/%, `moves` how much of the
    wood between two places (y) moves: all of it, where it is not given.
    """

    d: Draft
    kit: Kit
    wet: Moisture
    fixed: float
    coefficient: float
    moves: Callable[[float, float], float] | None = None
    stays: str = "front"
    front: float = -1e9

    def line(self, joint: str, support: Placed, panel: Placed, x: Span, y: float, count: int, size: str = "") -> str:
        """Place screws on a line of a level part: tight where nothing moves, in slots elsewhere; return the joint's id.

        `size` names the line's sizes in the ledger.
        """
        d, p = self.d, self.d.practice
        thick, through = panel.part.blank.thickness, depth_along(support, UP)
        screw = self.kit.screw(
            "washer-head", 8, through + 8.0, through + thick - p["fastener.point_cover"], role="top_screw"
        )
        slot, at = self._slot(size, y, screw.diameter)
        low, high = world_box(support)
        detail = ScrewLine(
            screw=screw,
            start=(x[0], y, low[2]),
            end=(x[1], y, low[2]),
            drive=UP,
            count=count,
            ends=min(p["top.screw_ends"], (x[1] - x[0]) / 4),
            apart=p["fastener.apart"],
            slot=slot,
            slot_way=(0.0, 1.0, 0.0),
            slot_at=at,
            pilot_at=MadeAt.ASSEMBLY,
        )
        kind = JointKind.SLOTTED_SCREWS if slot else JointKind.SCREWS
        why = f"the fixed line: the {self.stays} stays put"
        if slot:
            moved = MOVES[self.stays]
            why = f"a level part is screwed through, in slots across the grain: the top moves {moved}"
        elif abs(y - self.fixed) > 1e-6:
            why = "nothing moves: plain holes"
        return d.joint(joint, kind, support, panel, ((x[0] + x[1]) / 2, y, high[2]), detail, why=why)

    def land(self, support: Placed, panel: Placed) -> None:
        """Hold the corner over a cut-out for a let-in device by a screw in the land that the stretcher keeps behind it.

        The cut-out takes the place of the last screw in front. Nothing where there is none.
        """
        name = support.path.removeprefix(self.d.path + "/")
        cut = next((k for k in self.d.keepouts if k.id == self.d.full(f"{name}.cutout")), None)
        if cut is None:
            return
        lo, hi = world_box(support)
        x = (max(lo[0], cut.lo[0]), min(hi[0], cut.hi[0]))
        self.line(f"top~{name}.land", support, panel, x, (cut.hi[1] + hi[1]) / 2, 1, "top.land")

    def _slot(self, name: str, y: float, shank: float) -> tuple[float, float]:
        """Return (length of the slots, where the screw stands from their middle), mm; zeros where nothing moves."""
        moving = self.moves(self.fixed, y) if self.moves is not None else abs(y - self.fixed)
        if moving < 1e-6 or self.coefficient == 0.0:
            return 0.0, 0.0
        d, wet, c = self.d, self.wet, self.coefficient
        way = 1.0 if y > self.fixed else -1.0
        distance = d.let(f"{name}.fixed_to_slot", moving, "body.depth", rule="fixed line to the slots")
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
        return slot, way * c * (wet.fitted - (wet.dry + wet.damp) / 2) * distance


def line_y(stretcher: Placed, wanted: float) -> float:
    """Return the place nearest to a wanted one that has 10 mm of a level part on both sides."""
    lo, hi = world_box(stretcher)
    return min(max(wanted, lo[1] + 10.0), hi[1] - 10.0)


def movement_coefficient(kit: Kit, board: Board) -> float:
    """Return C_T of a board's species (flat-sawn: the larger, so the safe one). Raises KitError where none is known."""
    wood = kit.species(board)
    if wood.tangential_coefficient is None:
        raise KitError(board.id, "a species with a movement coefficient", wood.name)
    return wood.tangential_coefficient
