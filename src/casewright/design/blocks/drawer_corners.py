"""The corners of a drawer box: glued rabbets, pocket screws from faces that nobody sees, or dowels.

Common practice. False front and case hide the outer faces of box front and back, so pockets and pins go there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, hand_of
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_spec import Corner
from casewright.design.draft import Draft
from casewright.design.features.cuts import Rabbet
from casewright.design.joints.base import Cuts
from casewright.design.joints.dowelling import DowelLine, DowelSetting, dowel_setting
from casewright.design.joints.others import PinLine
from casewright.design.joints.pockets import PocketLine, PocketSetting, pocket_setting
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import sink
from casewright.findings import Severity
from casewright.shop.model import Practice
from casewright.stock.model import Dowel, Screw


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerPlan:
    """How all four corners of a box are made, and why; `between` says what front and back stand between."""

    kind: Corner
    why: str
    between: str
    screw: Screw | None = None
    setting: PocketSetting | None = None
    dowels: DowelSetting | None = None

    def let_tongue(self, d: Draft, g: str, wood: float) -> float:
        """Return how far front and back stay behind the outer faces of the sides, mm."""
        if self.kind is not Corner.RABBET:
            return wood
        share = d.practice["drawer.tongue_share"]
        return d.let(f"{g}.box.tongue", wood * share, f"{g}.box.thickness", rule="left of the side at its rabbets")

    def tongue_name(self, g: str) -> str:
        """Return the ledger size of that distance."""
        return f"{g}.box.tongue" if self.kind is Corner.RABBET else f"{g}.box.thickness"


def plan_corners(
    d: Draft, kit: Kit, g: str, wanted: Corner, wood: float, load: float, *, hard: bool
) -> CornerPlan | None:
    """Return how the corners of a box are made; a finding and None where what is wanted cannot be.

    `wood` is the walls' thickness in mm, `load` what the drawer bears in kg.
    """
    pockets, dowels = _pockets(d, kit, wood, hard=hard), _dowels(d, kit, wood)
    heavy = d.practice["drawer.heavy"]
    if wanted is Corner.AUTO:
        if load >= heavy and dowels is not None:
            return replace(dowels, why=f"{load:g} kg and more pull at the corners: dowels hold beside the glue")
        if pockets is not None:
            return replace(pockets, why="the stock is thick enough for pocket screws, and nobody sees them")
        return _rabbet("box stock is too thin for pocket screws")
    plan = {Corner.RABBET: _rabbet("as ordered"), Corner.POCKETS: pockets, Corner.DOWELS: dowels}[wanted]
    if plan is None:
        _too_thin(d, g, wanted, wood)
    return plan


def _rabbet(why: str) -> CornerPlan:
    return CornerPlan(kind=Corner.RABBET, why=why, between="between the tongues of the sides' rabbets")


def _pockets(d: Draft, kit: Kit, wood: float, *, hard: bool) -> CornerPlan | None:
    screw = kit.pocket_screw(wood, hard)
    setting = pocket_setting(screw, wood, wood, d.practice)
    if setting is None:
        return None
    return CornerPlan(kind=Corner.POCKETS, why="as ordered", between="between the sides", screw=screw, setting=setting)


def _dowels(d: Draft, kit: Kit, wood: float) -> CornerPlan | None:
    setting = dowel_setting(kit.all("frame_dowel", Dowel), wood, 10 * wood, wood, d.practice)
    if setting is None:
        return None
    return CornerPlan(kind=Corner.DOWELS, why="as ordered", between="between the sides", dowels=setting)


def _too_thin(d: Draft, g: str, wanted: Corner, wood: float) -> None:
    p = d.practice
    least = p["drawer.dowel_least"] if wanted is Corner.DOWELS else p["drawer.pocket_least"]
    d.find(
        "drawer.corner",
        Severity.STOP,
        g,
        f"walls of {wood:.1f} mm are too thin for {wanted.value} at the corners of the box",
        value=wood,
        limit=least,
        source="room for screw or dowel with wood left around it (common practice)",
        remedy="thicker stock for the role drawer_side, or glued rabbets",
    )


def corner(
    d: Draft, kit: Kit, box: Box, plan: CornerPlan, part: Placed, side: Placed, sign: int, front: bool, tongue: float
) -> None:
    """Join box front or back to a side."""
    if plan.kind is Corner.RABBET:
        _join_rabbet(d, box, plan, part, side, sign, front, tongue)
    elif plan.kind is Corner.POCKETS:
        _join_pockets(d, box, plan, part, side, sign, front)
    else:
        _join_dowels(d, box, plan, part, side, sign)


def _name(d: Draft, part: Placed, sign: int) -> str:
    return f"{part.path.removeprefix(d.path + '/')}~side.{hand_of(sign)}"


def _join_rabbet(
    d: Draft, box: Box, plan: CornerPlan, part: Placed, side: Placed, sign: int, front: bool, tongue: float
) -> None:
    t = box.wood
    y = (box.y[0], box.y[0] + t) if front else (box.y[1] - t, box.y[1])
    inner, wall = box.outer(sign, t), box.outer(sign, tongue)
    cut = sink(
        Rabbet, side, (-float(sign), 0.0, 0.0), (min(inner, wall), y[0], box.z[0]), (max(inner, wall), y[1], box.z[1])
    )
    at = (inner, y[0], box.z[0])
    detail = Cuts(cuts=((side.path, cut),))
    d.joint(_name(d, part, sign), JointKind.RABBET, side, part, at, detail, glued=True, why=plan.why)


def _line(box: Box) -> tuple[float, float]:
    """Return the z span in which fasteners of a corner stand: above the bottom's groove."""
    return (box.z[0] + box.groove_up + box.bottom, box.z[1])


def _join_pockets(d: Draft, box: Box, plan: CornerPlan, part: Placed, side: Placed, sign: int, front: bool) -> None:
    assert plan.screw is not None
    assert plan.setting is not None
    p, t = d.practice, box.wood
    low, high = _line(box)
    x = box.outer(sign, t)
    y = box.y[0] + t / 2 if front else box.y[1] - t / 2
    detail = PocketLine(
        screw=plan.screw,
        start=(x, y, low),
        end=(x, y, high),
        opens=(0.0, -1.0 if front else 1.0, 0.0),
        drive=(float(sign), 0.0, 0.0),
        setting=plan.setting,
        count=_count(high - low, p),
        ends=min(p["pocket.frame_ends"], (high - low) / 4),
        apart=p["pocket.frame_apart"],
    )
    d.joint(_name(d, part, sign), JointKind.POCKET_SCREWS, part, side, (x, y, low), detail, glued=True, why=plan.why)


def _join_dowels(d: Draft, box: Box, plan: CornerPlan, part: Placed, side: Placed, sign: int) -> None:
    assert plan.dowels is not None
    p, t = d.practice, box.wood
    low, high = _line(box)
    x, y = box.outer(sign, t), part.frame.origin[1] + t / 2
    detail = DowelLine(
        setting=plan.dowels,
        start=(x, y, low),
        end=(x, y, high),
        drive=(float(sign), 0.0, 0.0),
        count=_count(high - low, p),
        ends=min(plan.dowels.dowel.diameter * 1.5, (high - low) / 4),
        apart=2 * plan.dowels.dowel.diameter,
    )
    d.joint(_name(d, part, sign), JointKind.DOWEL, part, side, (x, y, low), detail, glued=True, why=plan.why)


def _count(length: float, p: Practice) -> int:
    """Return how many screws or dowels a corner takes: two, and one more for each further step of height."""
    return 2 + int(max(0.0, length - p["drawer.corner_two"]) // p["drawer.corner_step"])


def nail_box(d: Draft, kit: Kit, box: Box, plan: CornerPlan) -> None:
    """Hold glued rabbets by pins through the outer faces of box front and back, around the slides' screws."""
    if plan.kind is not Corner.RABBET:
        return
    t, g = box.wood, box.name
    # Thin pins, above the groove: a brad would split the edge of thin box stock.
    pin = kit.pin("pin", t, box.depth)
    low = box.z[0] + box.groove_up + box.bottom
    for part_name, face, drive in (("front", box.y[0], 1.0), ("back", box.y[1], -1.0)):
        part = d.at(f"{g}/box_{part_name}")
        for sign, hand in HANDS:
            side = d.at(f"{g}/side.{hand}")
            x = box.outer(sign, (t + d.led[f"{g}.box.tongue"]) / 2)
            line = PinLine(
                pin=pin,
                start=(x, face, low),
                end=(x, face, box.z[1]),
                drive=(0.0, drive, 0.0),
                count=3 if box.z[1] - low >= 50.0 else 2,
                ends=10.0 if box.z[1] - low >= 50.0 else 6.0,
                apart=12.0,
            )
            d.joint(
                f"{g}/box_{part_name}~side.{hand}.brads",
                JointKind.PINS,
                part,
                side,
                (x, face, box.z[0]),
                line,
                why="holds while the glue sets",
            )
