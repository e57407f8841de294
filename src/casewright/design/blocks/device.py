"""A round low-voltage module let into a part from within, with a channel for its plug to the back.

Common practice. It lies in the underside of a top, or in the inner face of an upright. Device + margin must miss every
fastener, side, rail and stretcher, or these get a stated cut-out; it is held removably.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.assembly import HardwareLine, JointKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.hardware import device_hardware
from casewright.design.blocks.top import ties_of
from casewright.design.draft import Draft
from casewright.design.features.openings import Channel, Cutout, Recess
from casewright.design.frames import Frame, Vec, add, cross, scale
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline, circle, rectangle, rounded_rectangle
from casewright.design.parts import Placed
from casewright.design.sites import Span, depth_along, world_box
from casewright.findings import Severity
from casewright.stock.model import Bumper, Device

LEAST_PACKING = 0.5  # mm: less than this is no gap
DOWN: Vec = (0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceSpec:
    """Where the module goes: distances of its middle from the top's side and front edges, wood left, side (−1 left)."""

    from_side: float
    from_front: float
    wood_over: float
    side: int


def least_from_side(kit: Kit, body: Body, overhang: float) -> float:
    """Return the least distance (mm) of its middle from the top's side edge that keeps the keeper off the side."""
    return overhang + body.side + keeper_half(kit, kit.role("device", Device)) + 1.0


def least_from_front(kit: Kit, body: Body, overhang: float) -> float:
    """Return the same from the front edge: the module and its margin clear the face frame, mm."""
    device = kit.role("device", Device)
    return overhang + body.frame + device.diameter / 2 + device.margin + 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """Where a module is let in: the part, the way `out` of its recess, and its middle on the part's face, mm.

    `thickness` is the ledger name of the part's, `back_to` the y up to which nothing may bar the plug's channel.
    """

    host: Placed
    out: Vec
    at: Vec
    wood_over: float
    thickness: str
    back_to: float

    @property
    def across(self) -> int:
        """The axis of the face beside y: x under a top, z on an upright."""
        return 0 if self.out[2] else 2

    @property
    def through(self) -> int:
        """The axis along which it is sunk."""
        return 2 if self.out[2] else 0

    def box(self, across: float, y: Span, deep: float, proud: float = 0.0) -> tuple[Vec, Vec]:
        """Return the box (lo, hi) `across` mm to both sides, over `y`, from `deep` in the part to `proud` of its face.

        `y` is counted from its middle.
        """
        a, b = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        a[self.across], b[self.across] = self.at[self.across] - across, self.at[self.across] + across
        a[1], b[1] = self.at[1] + y[0], self.at[1] + y[1]
        way = self.out[self.through]
        ends = sorted((self.at[self.through] - way * deep, self.at[self.through] + way * proud))
        a[self.through], b[self.through] = ends
        return (a[0], a[1], a[2]), (b[0], b[1], b[2])


def device(d: Draft, kit: Kit, body: Body, top: Placed, spec: DeviceSpec) -> None:
    """Let the module into the underside of a solid top, and cut the stretchers under it."""
    item = kit.role("device", Device)
    lo, hi = world_box(top)
    x = (hi[0] - spec.from_side) if spec.side > 0 else (lo[0] + spec.from_side)
    y = lo[1] + spec.from_front
    seat = Seat(
        host=top, out=DOWN, at=(x, y, lo[2]), wood_over=spec.wood_over, thickness="top.thickness", back_to=hi[1]
    )
    depth = let_wood(d, seat)
    if not (wood_right(d, item, seat, depth) and _placed_right(d, kit, body, spec, lo)):
        return
    keeper = let_in(d, kit, item, seat, depth)
    cut_below(d, kit, item, (x, y), keeper)


def let_wood(d: Draft, seat: Seat) -> float:
    """Let the wood over a module, and return the depth of its recess, mm."""
    over = d.let("device.wood_over", seat.wood_over, rule="wood left over the module, after sanding")
    depth = d.let(
        "device.recess_depth",
        depth_along(seat.host, seat.out) - over,
        seat.thickness,
        "device.wood_over",
        rule="the part less the wood left over it",
    )
    d.let(
        "device.wood_at_cutting",
        over + d.practice["finish.sanding"],
        "device.wood_over",
        rule="what the recess leaves when it is cut, before the part is sanded",
    )
    return depth


def let_in(d: Draft, kit: Kit, item: Device, seat: Seat, depth: float) -> Placed:
    """Recess, channel, module and keeper, and what fasteners must keep out of; return the keeper."""
    host = seat.host
    radius = item.diameter / 2 + item.clearance
    face = host.face_towards(seat.out)
    u, v = face.uv_axes
    local = host.frame.local_point(seat.at)
    floor = add(seat.at, scale(seat.out, -depth))
    forwards: Vec = (0.0, -1.0, 0.0)
    frame = Frame(origin=floor, x=cross(forwards, seat.out), y=forwards)
    module = d.place_hardware("device", item.name, device_hardware(item), frame)
    recess = Recess(face=face, outline=circle(local[u], local[v], radius).canonical_start(), depth=depth)
    channel = Channel(
        face=face,
        outline=_channel(seat, item, kit),
        depth=item.plug_height + kit.practice["device.channel_play"],
    )
    name = host.path.removeprefix(d.path + "/")
    cuts = Cuts(cuts=((host.path, recess), (host.path, channel)))
    d.joint(f"device~{name}", JointKind.HELD, host, module, floor, cuts)
    keeper = _keeper(d, kit, seat, item, module)
    reach = radius + item.margin
    lo, hi = seat.box(reach, (-reach, reach), depth_along(host, seat.out))
    d.keep_out("device.keepout", lo, hi, module, keeper)
    lo, hi = seat.box(channel_half(kit, item), (0.0, seat.back_to - seat.at[1]), channel.depth)
    d.keep_out("device.channel", lo, hi, module)
    if (packing := depth - item.thickness) > LEAST_PACKING:
        pad, count = _felt(kit, packing)
        d.bought.append(HardwareLine(item=pad.id, count=count, path=keeper.path))
        d.find(
            "device.packing",
            Severity.NOTE,
            "device",
            f"pack {packing:.1f} mm between module and keeper with felt",
            value=packing,
            source="common practice",
        )
    return keeper


def _felt(kit: Kit, thick: float) -> tuple[Bumper, int]:
    """Return which pad to pack a gap with and how many: as little over it as there is (felt gives), then the fewest."""
    stacks = [(pad, math.ceil(thick / pad.thickness - 1e-9)) for pad in kit.all("packing", Bumper)]
    return min(stacks, key=lambda s: (round(s[0].thickness * s[1], 3), s[1]))


def channel_half(kit: Kit, item: Device) -> float:
    """Return half the width of the channel that takes a module's plug, mm."""
    return item.plug_width / 2 + kit.practice["device.channel_play"] / 2


def wood_right(d: Draft, item: Device, seat: Seat, depth: float) -> bool:
    """True where a module works through the wood over it and its recess takes it; else it is found."""
    key = "device"
    if not item.range_least <= seat.wood_over <= item.range_most:
        d.find(
            "device.wood_over",
            Severity.STOP,
            key,
            f"{seat.wood_over:.1f} mm of wood over the module",
            value=seat.wood_over,
            limit=item.range_most,
            source=item.source,
            remedy=f"leave {item.range_least:.0f} to {item.range_most:.0f} mm"
            if item.range_most > 0
            else "for the role device, a module that works through wood",
        )
        return False
    if depth < item.thickness:
        d.find(
            "device.recess",
            Severity.STOP,
            key,
            f"the recess is {depth:.1f} mm deep, the module {item.thickness:.1f} mm",
            value=depth,
            limit=item.thickness,
            remedy=f"a thicker {'top' if seat.out[2] else 'panel'}, or a flatter module",
        )
        return False
    return True


def _placed_right(d: Draft, kit: Kit, body: Body, spec: DeviceSpec, lo: Vec) -> bool:
    """True where a module under a top whose box begins at `lo` clears side and frame; else it is found."""
    return off_the_case(
        d,
        ("side", spec.from_side, least_from_side(kit, body, body_overhang(body, lo))),
        ("front", spec.from_front, least_from_front(kit, body, -lo[1])),
    )


def off_the_case(d: Draft, *places: tuple[str, float, float]) -> bool:
    """True where each (edge, distance from it, least distance) in mm holds; the first that does not is found."""
    for what, got, least in places:
        if got < least - 1e-6:
            d.find(
                "device.place",
                Severity.STOP,
                "device",
                f"the module sits {got:.1f} mm from the {what} edge and meets the case",
                value=got,
                limit=least,
                source="common practice",
                remedy=f"move it to {least:.0f} mm or more from the {what}",
            )
            return False
    return True


def body_overhang(body: Body, top_lo: tuple[float, float, float]) -> float:
    """Return the side overhang of a top whose box begins at `top_lo`, mm."""
    return -body.width / 2 - top_lo[0]


def _channel(seat: Seat, item: Device, kit: Kit) -> Outline:
    """From the recess out at the part's rear edge, wide enough for the plug."""
    host, half = seat.host, channel_half(kit, item)
    u, v = host.face_towards(seat.out).uv_axes
    lo, hi = seat.box(half, (0.0, world_box(host)[1][1] + 1.0 - seat.at[1]), 0.0)
    a, b = host.frame.local_point(lo), host.frame.local_point(hi)
    return rectangle(min(a[u], b[u]), min(a[v], b[v]), max(a[u], b[u]), max(a[v], b[v])).canonical_start()


def keeper_half(kit: Kit, item: Device) -> float:
    """Return half the length of the strip that holds a module, mm."""
    return item.diameter / 2 + kit.practice["keeper.lap"]


def keeper_box(kit: Kit, item: Device, seat: Seat) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) of the strip that holds a module, on the face of its part."""
    half = kit.practice["keeper.width"] / 2
    return seat.box(keeper_half(kit, item), (-half, half), 0.0, kit.sheet("drawer_bottom").thickness)


def _keeper(d: Draft, kit: Kit, seat: Seat, item: Device, module: Placed) -> Placed:
    """A strip across the recess, screwed to the part: the module comes out again."""
    p, host = d.practice, seat.host
    half = keeper_half(kit, item)
    sheet = kit.sheet("drawer_bottom")
    d.let("keeper.length", 2 * half, rule="module + lap at both ends")
    d.let("keeper.width", p["keeper.width"], rule="practice")
    d.let("keeper.thickness", sheet.thickness, rule="sheet as measured")
    lo, hi = keeper_box(kit, item, seat)
    keeper = d.box_part(
        "device_keeper",
        "keeper of the module",
        kit.material("drawer_bottom"),
        (lo[0], hi[0]),
        (lo[1], hi[1]),
        (lo[2], hi[2]),
        grain="xyz"[seat.across],
        thick="xyz"[seat.through],
        sizes=("keeper.length", "keeper.width", "keeper.thickness"),
    )
    into = min(16.0, depth_along(host, seat.out) - p["fastener.point_cover"])
    screw = kit.screw("pan", 6, sheet.thickness + 5.0, sheet.thickness + into)
    start = add(seat.at, scale(seat.out, sheet.thickness))
    along: Vec = (half, 0.0, 0.0) if seat.across == 0 else (0.0, 0.0, half)
    lap = p["keeper.lap"] / 2
    name = host.path.removeprefix(d.path + "/")
    d.joint(
        f"device_keeper~{name}",
        JointKind.HELD,
        keeper,
        host,
        seat.at,
        ScrewLine(
            screw=screw,
            start=add(start, scale(along, -1.0)),
            end=add(start, along),
            drive=scale(seat.out, -1.0),
            count=2,
            ends=0.0,
            apart=0.0,
            forced=(lap, 2 * half - lap),
        ),
        why="two screws, so that the module can be changed",
    )
    d.joint("device~keeper", JointKind.HELD, keeper, module, seat.at, why="carries the module")
    return keeper


def cut_below(d: Draft, kit: Kit, item: Device, at: tuple[float, float], keeper: Placed) -> None:
    """Cut the stretchers wherever module, keeper and margin would meet them."""
    r = item.diameter / 2 + item.margin
    half = keeper_half(kit, item) + kit.practice["keeper.room"]
    for part in ties_of(d):
        name = part.path.removeprefix(d.path + "/")
        lo, hi = world_box(part)
        x, y = (max(lo[0] - 8.0, at[0] - half), min(hi[0] + 8.0, at[0] + half)), (at[1] - r, at[1] + r)
        if y[1] <= lo[1] or y[0] >= hi[1]:
            continue
        # A sliver left at an end or edge breaks in the cut: run out past it instead.
        x, y = _run_out(x, (lo[0], hi[0]), kit), _run_out(y, (lo[1], hi[1]), kit)
        a, b = part.frame.local_point((x[0], y[0], lo[2])), part.frame.local_point((x[1], y[1], lo[2]))
        outline = rounded_rectangle(
            min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]), kit.practice["cutout.radius"]
        )
        cut = Cutout(face=part.face_towards(DOWN), outline=outline.canonical_start(), depth=hi[2] - lo[2])
        d.cut(part, cut)
        d.keep_out(f"{name}.cutout", (x[0], y[0], lo[2]), (x[1], y[1], hi[2]), keeper, of=(part,))


def _run_out(cut: Span, part: Span, kit: Kit) -> Span:
    """Return the cut, run past an end of the part where less than the least strip would be left."""
    least, past = kit.practice["cutout.least_left"], kit.practice["cutout.radius"] + 1.0
    return (
        part[0] - past if cut[0] - part[0] < least else cut[0],
        part[1] + past if part[1] - cut[1] < least else cut[1],
    )
