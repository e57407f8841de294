"""Tapered and coved feet with corner blocks, dowels, inserts and levelling feet.

Common practice. A foot bears on the lower edges of side and frame (or rear rail); its tip is at least
2.5 × the insert's diameter; the block is glued and screwed to side and rail under the base moulding.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Face
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.level_feet import level_foot
from casewright.design.draft import Draft
from casewright.design.features.shaping import Cove, Taper
from casewright.design.frames import Vec, add, scale
from casewright.design.joints.base import Nothing
from casewright.design.joints.others import DowelAt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, Form, PartKind, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, depth_along, world_box
from casewright.findings import Severity
from casewright.stock.model import Dowel, Insert, Leveller
from casewright.units.printed import Role

DOWN, UP = (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)
PLATE_ROOM = 40.0  # mm: of a plate beside its foot, for screws


@dataclass(frozen=True, slots=True, kw_only=True)
class FeetSpec:
    """Shape of the feet, mm: set-in from the body, taper inset per face, length of the square part, cove below it.

    `inner_only` tapers the two faces that look into the piece.
    """

    inset: float
    taper: float
    square: float
    cove_radius: float
    cove_depth: float
    inner_only: bool = False

    @property
    def cove_width(self) -> float:
        """Width of the cove at the surface, 0 without one."""
        if self.cove_radius <= 0:
            return 0.0
        return Cove(face=Face.FACE0, at=0.0, radius=self.cove_radius, depth=self.cove_depth).width


@dataclass(frozen=True, slots=True, kw_only=True)
class _Corner:
    name: str
    label: str
    sign: int
    front: bool
    foot_x: Span
    foot_y: Span
    block_x: Span
    block_y: Span


def feet(d: Draft, kit: Kit, body: Body, spec: FeetSpec, under: Placed | None = None) -> None:
    """Place feet, corner blocks and hardware at the four corners.

    `under` is the bottom where it lies at the underside of the body and leaves no room for blocks: plates glued and
    screwed under it then take the feet.
    """
    stick = kit.stick("foot")
    _, section, _ = blank_section(stick)
    leveller = kit.role("leveller", Leveller)
    d.let("foot.section", section, rule="square stick")
    d.let("leveller.setting", leveller.middle, rule="levelling feet at their middle setting")
    plate = 0.0
    if under is not None:
        dowel = kit.role("foot_dowel", Dowel)
        plate = max(d.practice["foot.plate"], dowel.length / 2 + 2 * d.practice["fastener.point_cover"])
        d.let("foot.plate", plate, rule="thickness of the plates: practice, or what the dowels need")
    because = ("foot.height", "leveller.setting", *(("foot.plate",) if plate else ()))
    length = d.let(
        "foot.length",
        body.z0 - plate - d.led["leveller.setting"],
        *because,
        rule="underside of the body, or of the plates under it, to the levelling foot's seat",
    )
    d.chain(
        "chain.foot",
        "z",
        "foot.height",
        ("leveller.setting", "foot.length", *(("foot.plate",) if plate else ())),
        "leveller.setting",
        leveller.least,
        leveller.most,
    )
    if under is None:
        d.let(
            "block.length",
            d.led["base_rail.width"],
            "base_rail.width",
            rule="from the feet to the bottom",
            role=Role.INSERT,
        )
    tapers = 1 if spec.inner_only else 2
    tip = d.let("foot.tip", section - tapers * spec.taper, "foot.section", rule="as ordered: section less the tapers")
    insert = kit.role("insert", Insert)
    least = d.practice["foot.tip_share"] * insert.outside
    if tip < least or spec.taper < 0:
        d.find(
            "foot.tip",
            Severity.STOP,
            "foot",
            f"the foot's tip is {tip:.1f} mm",
            value=tip,
            limit=least,
            source="common practice",
            remedy="a tip between this and the section of the stick",
        )
        return
    if not _long_enough(d, kit, spec, leveller, length):
        return
    if under is not None:
        _on_plates(d, kit, body, spec, under, section, plate)
        return
    corners = _corners(body, section, spec.inset)
    off = d.let(
        "foot.dowel_offset",
        _dowel_offset(corners),
        "foot.section",
        "side.thickness",
        "back.thickness",
        "frame.thickness",
        rule="middle of the overlap of foot and block",
    )
    for corner in corners:
        foot, block = _wood(d, kit, body, corner, spec, (body.z0 - length, body.z0))
        _dowel(d, kit, corner, foot, block, body, off)
        _block_screws(d, kit, body, corner, block)
        _hardware(d, corner, foot, insert, leveller, body.z0 - length)


def _long_enough(d: Draft, kit: Kit, spec: FeetSpec, leveller: Leveller, length: float) -> bool:
    """True where a foot has room for its shape, and its dowel from above does not meet the levelling foot's stem."""
    bored = kit.role("foot_dowel", Dowel).length / 2 + leveller.stem_length + d.practice["fastener.point_cover"]
    shaped = spec.square + spec.cove_width + d.practice["foot.taper_least"]
    if length >= max(shaped, bored):
        return True
    d.find(
        "foot.short",
        Severity.STOP,
        "foot",
        f"the foot is {length:.1f} mm long",
        value=length,
        limit=max(shaped, bored),
        source="common practice",
        remedy="make the feet higher"
        + (" or leave out the cove" if shaped > bored else ": dowel and levelling foot meet in them"),
    )
    return False


def _on_plates(d: Draft, kit: Kit, body: Body, spec: FeetSpec, under: Placed, section: float, plate: float) -> None:
    """Place feet under plates that lie under the bottom and the lower edges of the sides."""
    insert, leveller = kit.role("insert", Insert), kit.role("leveller", Leveller)
    side = d.let("foot.plate_side", section + PLATE_ROOM, "foot.section", rule="the foot, and room for screws")
    low = body.z0 - plate - d.led["foot.length"]
    for c in _corners(body, section, spec.inset):
        foot = _foot(d, kit, c, spec, (low, body.z0 - plate))
        x = (c.foot_x[1] - side, c.foot_x[1]) if c.sign > 0 else (c.foot_x[0], c.foot_x[0] + side)
        y = (c.foot_y[0], c.foot_y[0] + side) if c.front else (c.foot_y[1] - side, c.foot_y[1])
        wood = d.box_part(
            f"foot_plate.{c.name}",
            f"plate of the {c.label} foot",
            kit.material("block", kit.finish),
            x,
            y,
            (body.z0 - plate, body.z0),
            grain="x",
            thick="z",
            coated="front back left right",
            sizes=("foot.plate_side", "foot.plate_side", "foot.plate"),
        )
        _screw_plate(d, kit, c, wood, under)
        point = ((c.foot_x[0] + c.foot_x[1]) / 2, (c.foot_y[0] + c.foot_y[1]) / 2, body.z0 - plate)
        dowel = DowelAt(dowel=kit.role("foot_dowel", Dowel), points=(point,), drive=DOWN)
        why = "a foot is never held by screws in end grain alone"
        d.joint(f"foot.{c.name}/wood~plate", JointKind.DOWEL, wood, foot, point, dowel, glued=True, why=why)
        _hardware(d, c, foot, insert, leveller, low)


def _screw_plate(d: Draft, kit: Kit, c: _Corner, plate: Placed, under: Placed) -> None:
    """Screws up into the bottom along the two inner strips of a plate, beside the foot."""
    p = d.practice
    (x0, y0, z0), (x1, y1, _) = world_box(plate)
    through, into = depth_along(plate, UP), depth_along(under, UP)
    reach = through + into - p["fastener.point_cover"]
    screw = kit.screw("wood", 8, reach - through / 2, reach)
    sunk = reach - screw.length  # a thick plate is counterbored, so that the screw bites as far as the bottom is thick
    x = x0 + PLATE_ROOM / 2 if c.sign > 0 else x1 - PLATE_ROOM / 2
    y = y1 - PLATE_ROOM / 2 if c.front else y0 + PLATE_ROOM / 2
    glued = under.part.form is Form.SHEET
    (u0, v0, _), (u1, v1, _) = world_box(under)  # not into the sides' lower edges, nor into the back's
    x0, x1, y0, y1 = max(x0, u0), min(x1, u1), max(y0, v0), min(y1, v1)
    for name, a, b in (("along", (x, y0, z0), (x, y1, z0)), ("across", (x0, y, z0), (x1, y, z0))):
        line = ScrewLine(
            screw=screw,
            start=a,
            end=b,
            drive=UP,
            count=2,
            least=1,
            ends=PLATE_ROOM / 2,
            apart=p["fastener.apart"],
            sunk=sunk,
        )
        d.joint(
            f"foot_plate.{c.name}~bottom.{name}",
            JointKind.BUTT_SCREWS if glued else JointKind.SCREWS,
            plate,
            under,
            a,
            line,
            glued=glued,
            why="no room for a corner block: the bottom lies at the underside",
        )


def _corners(body: Body, section: float, inset: float) -> tuple[_Corner, ...]:
    out = []
    back_face = body.inner_back - body.side
    for front in (True, False):
        for sign, hand in HANDS:
            place = "front" if front else "rear"
            outer = body.width / 2 - inset
            inner = body.inside / 2
            foot_y = (inset, inset + section) if front else (body.depth - inset - section, body.depth - inset)
            block_y = (body.frame, body.frame + section) if front else (back_face - section, back_face)
            out.append(
                _Corner(
                    name=f"{place}.{hand}",
                    label=f"{place} {hand}",
                    sign=sign,
                    front=front,
                    foot_x=_mirror((outer - section, outer), sign),
                    foot_y=foot_y,
                    block_x=_mirror((inner - section, inner), sign),
                    block_y=block_y,
                )
            )
    return tuple(out)


def _mirror(x: Span, sign: int) -> Span:
    return x if sign > 0 else (-x[1], -x[0])


def _foot(d: Draft, kit: Kit, c: _Corner, spec: FeetSpec, z: Span) -> Placed:
    """Place the wood of one foot, tapered and coved."""
    extra = Allowance(length=d.practice["foot.surplus"])
    foot = d.box_part(
        f"foot.{c.name}/wood",
        f"foot, {c.label}",
        kit.material("foot", kit.finish),
        c.foot_x,
        c.foot_y,
        z,
        grain="z",
        thick="y",
        shows="front back left right",
        rough=extra,
        surplus="up",
        sizes=("foot.length", "foot.section", "foot.section"),
        kind=PartKind.FOOT,
    )
    length = foot.part.blank.length
    start = length - spec.square - spec.cove_width
    inner = {foot.face_towards((-float(c.sign), 0.0, 0.0)), foot.face_towards((0.0, 1.0 if c.front else -1.0, 0.0))}
    for face in (Face.EDGE0, Face.EDGE1, Face.FACE0, Face.FACE1):
        if spec.cove_radius > 0:
            at = length - spec.square - spec.cove_width / 2
            d.cut(foot, Cove(face=face, at=at, radius=spec.cove_radius, depth=spec.cove_depth))
        if spec.taper > 0 and (face in inner or not spec.inner_only):
            d.cut(foot, Taper(face=face, towards=Face.END0, start=start, inset=spec.taper))
    return foot


def _wood(d: Draft, kit: Kit, body: Body, c: _Corner, spec: FeetSpec, z: Span) -> tuple[Placed, Placed]:
    foot = _foot(d, kit, c, spec, z)
    top = body.z0 + d.led["block.length"]
    block = d.box_part(
        f"block.{c.name}",
        f"corner block, {c.label}",
        kit.material("foot"),
        c.block_x,
        c.block_y,
        (body.z0, top),
        grain="z",
        thick="y",
        sizes=("block.length", "foot.section", "foot.section"),
    )
    for name in (f"side.{_hand(c)}", "frame/stile." + _hand(c)) if c.front else (f"side.{_hand(c)}", "base_rail"):
        bearer = d.at(name)
        d.joint(
            f"foot.{c.name}/wood~{name}",
            JointKind.GLUE,
            bearer,
            foot,
            (c.foot_x[0], c.foot_y[0], body.z0),
            Nothing(),
            why="the foot bears here",
        )
    return foot, block


def _hand(c: _Corner) -> str:
    return "left" if c.sign < 0 else "right"


def _dowel(d: Draft, kit: Kit, c: _Corner, foot: Placed, block: Placed, body: Body, off: float) -> None:
    """A dowel down through the joint, `off` from both outer faces, so that all four feet are bored alike."""
    dowel = kit.role("foot_dowel", Dowel)
    x = c.foot_x[1] - off if c.sign > 0 else c.foot_x[0] + off
    y = c.foot_y[0] + off if c.front else c.foot_y[1] - off
    point = (x, y, body.z0)
    d.joint(
        f"foot.{c.name}/wood~block",
        JointKind.DOWEL,
        block,
        foot,
        point,
        DowelAt(dowel=dowel, points=(point,), drive=DOWN),
        glued=True,
        why="a foot is never held by screws in end grain alone",
    )


def _dowel_offset(corners: tuple[_Corner, ...]) -> float:
    """Return the middle of the overlap of foot and block, from the outer faces, where the overlap is least."""
    return max(
        max(
            abs(outer - (max(f[0], b[0]) + min(f[1], b[1])) / 2)
            for outer, f, b in (
                (c.foot_x[1] if c.sign > 0 else c.foot_x[0], c.foot_x, c.block_x),
                (c.foot_y[0] if c.front else c.foot_y[1], c.foot_y, c.block_y),
            )
        )
        for c in corners
    )


def _block_screws(d: Draft, kit: Kit, body: Body, c: _Corner, block: Placed) -> None:
    """Through side and rail into the block where a moulding (or the back) covers the heads, else from inside."""
    # Off the dowel, which stands where block and foot overlap: towards the block's inner corner.
    inward = 0.75 if c.front else 0.25
    mid_y = c.block_y[0] + inward * (c.block_y[1] - c.block_y[0])
    mid_x = c.sign * (min(abs(c.block_x[0]), abs(c.block_x[1])) + 0.25 * (c.block_x[1] - c.block_x[0]))
    side, way = d.at(f"side.{_hand(c)}"), (-float(c.sign), 0.0, 0.0)
    _screw_block(d, kit, body, c, block, side, (c.sign * body.width / 2, mid_y), way, d.led["base.height"])
    x = _rail_x(c, body, d, mid_x)
    if c.front:
        rail = d.at("frame/rail.bottom")
        inner = min(abs(c.block_x[0]), abs(c.block_x[1]))
        # Where the frame's own screws or the dowel stand in the way: nearer to the block's inner edge.
        others = tuple((c.sign * share * (inner - abs(x)), 0.0, 0.0) for share in (0.4, 0.6))
        _screw_block(d, kit, body, c, block, rail, (x, 0.0), (0.0, 1.0, 0.0), d.led["base.height"], others)
    else:
        _screw_block(d, kit, body, c, block, d.at("base_rail"), (x, body.inner_back), (0.0, -1.0, 0.0), 1e4)


def _screw_block(
    d: Draft,
    kit: Kit,
    body: Body,
    c: _Corner,
    block: Placed,
    host: Placed,
    xy: tuple[float, float],
    drive: Vec,
    cover: float,
    others: tuple[Vec, ...] = (),
) -> None:
    p, length = d.practice, d.led["block.length"]
    high = min(cover, length) if cover > 0 else length
    z0, z1 = body.z0 + p["block.screw_ends"], body.z0 + high - p["block.screw_ends"]
    thickness = depth_along(host, drive)
    name = host.path.removeprefix(d.path + "/")
    start, end = (xy[0], xy[1], z0), (xy[0], xy[1], z1)
    a, b, sunk, why = (
        host,
        block,
        0.0,
        "the back covers the heads" if cover > 1e3 else "the base moulding covers the heads",
    )
    screw = kit.screw("wood", 8, thickness + p["butt.bite"] - 1.0, thickness + p["block.bite_most"], role="block_screw")
    if cover <= 0:
        # No moulding: from inside, the heads deep in the block, the points short of the outer face.
        a, b, why = block, host, "nothing covers a screw from outside"
        thick = depth_along(block, drive)
        sunk = thick - (screw.length - (thickness - p["fastener.point_cover"]))
        shift = scale(drive, thickness + thick)
        start, end, drive = add(start, shift), add(end, shift), scale(drive, -1.0)
    d.joint(
        f"block.{c.name}~{name}",
        JointKind.BUTT_SCREWS,
        a,
        b,
        start,
        ScrewLine(
            screw=screw,
            start=start,
            end=end,
            drive=drive,
            count=2,
            least=1,
            others=others,
            ends=0.0,
            apart=p["fastener.apart"],
            sunk=sunk,
        ),
        # The block's grain stands up, a solid rail's runs across: wide cross-grain glue would break it loose.
        glued=host.part.form is Form.SHEET,
        why=why,
    )


def _rail_x(c: _Corner, body: Body, d: Draft, mid_x: float) -> float:
    """Over the part of the block that the rail covers (the stile hides the rest of it)."""
    if not c.front:
        return mid_x
    stile_inner = body.outer / 2 - d.led["stile.width"]
    far = max(abs(c.block_x[0]), abs(c.block_x[1]))
    near = min(abs(c.block_x[0]), abs(c.block_x[1]))
    return c.sign * (near + min(far, stile_inner)) / 2


def _hardware(d: Draft, c: _Corner, foot: Placed, insert: Insert, leveller: Leveller, low: float) -> None:
    middle_x, middle_y = (c.foot_x[0] + c.foot_x[1]) / 2, (c.foot_y[0] + c.foot_y[1]) / 2
    level_foot(d, insert, leveller, foot, (middle_x, middle_y, low), f"foot.{c.name}", c.label)
