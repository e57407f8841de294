"""A round low-voltage module let into the underside of a top, with a channel for its plug to the back.

Common practice. Device + margin must miss every fastener, side, rail and stretcher, or these get a stated
cut-out; it is held removably.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.hardware import device_hardware
from casewright.design.draft import Draft
from casewright.design.features.openings import Channel, Cutout, Recess
from casewright.design.frames import Frame
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline, circle, rectangle, rounded_rectangle
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred, span, world_box
from casewright.findings import Severity
from casewright.stock.model import Device

UP, DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceSpec:
    """Where the module goes: distances of its middle from the top's side and front edges, wood left, side (−1 left)."""

    from_side: float
    from_front: float
    wood_over: float
    side: int


def least_from_side(kit: Kit, body: Body, overhang: float) -> float:
    """Return the least distance (mm) of its middle from the top's side edge that keeps the keeper off the side."""
    return overhang + body.side + _keeper_half(kit, kit.role("device", Device)) + 1.0


def least_from_front(kit: Kit, body: Body, overhang: float) -> float:
    """Return the same from the front edge: the module and its margin clear the face frame, mm."""
    device = kit.role("device", Device)
    return overhang + body.frame + device.diameter / 2 + device.margin + 1.0


def _keeper_half(kit: Kit, device: Device) -> float:
    return device.diameter / 2 + kit.practice["keeper.lap"]


def device(d: Draft, kit: Kit, body: Body, top: Placed, spec: DeviceSpec) -> None:
    """Recess, channel, module, keeper and the stretchers' cut-outs; keepouts for everything else."""
    item = kit.role("device", Device)
    lo, hi = world_box(top)
    over = d.let("device.wood_over", spec.wood_over, rule="wood left over the module, after sanding")
    depth = d.let(
        "device.recess_depth",
        hi[2] - lo[2] - over,
        "top.thickness",
        "device.wood_over",
        rule="top less the wood left over it",
    )
    d.let(
        "device.wood_at_cutting",
        over + d.practice["finish.sanding"],
        "device.wood_over",
        rule="what the recess leaves when it is cut, before the top is sanded",
    )
    x = (hi[0] - spec.from_side) if spec.side > 0 else (lo[0] + spec.from_side)
    y = lo[1] + spec.from_front
    if not _sound(d, kit, body, item, spec, depth, lo):
        return
    radius = item.diameter / 2 + item.clearance
    seat = (x, y, lo[2] + depth)
    face = top.face_towards(DOWN)
    local = top.frame.local_point(seat)
    module = d.place_hardware(
        "device", item.name, device_hardware(item), Frame(origin=seat, x=(1.0, 0.0, 0.0), y=(0.0, -1.0, 0.0))
    )
    recess = Recess(face=face, outline=circle(local[0], local[1], radius).canonical_start(), depth=depth)
    channel = Channel(
        face=face,
        outline=_channel(top, item, kit, (x, y)),
        depth=item.plug_height + kit.practice["device.channel_play"],
    )
    d.joint("device~top", JointKind.HELD, top, module, seat, Cuts(cuts=((top.path, recess), (top.path, channel))))
    keeper = _keeper(d, kit, top, item, module, (x, y, lo[2]))
    d.keep_out(
        "device.keepout",
        (x - radius - item.margin, y - radius - item.margin, lo[2]),
        (x + radius + item.margin, y + radius + item.margin, hi[2]),
        module,
        keeper,
    )
    half = item.plug_width / 2 + kit.practice["device.channel_play"] / 2
    d.keep_out("device.channel", (x - half, y, lo[2]), (x + half, hi[1], lo[2] + channel.depth), module)
    _cut_below(d, kit, item, (x, y), keeper)
    packing = depth - item.thickness
    if packing > 0.5:
        d.find(
            "device.packing",
            Severity.NOTE,
            "device",
            f"pack {packing:.1f} mm between module and keeper with felt",
            value=packing,
            source="common practice",
        )


def _sound(
    d: Draft, kit: Kit, body: Body, item: Device, spec: DeviceSpec, depth: float, lo: tuple[float, float, float]
) -> bool:
    key = "device"
    if not item.range_least <= spec.wood_over <= item.range_most:
        d.find(
            "device.wood_over",
            Severity.STOP,
            key,
            f"{spec.wood_over:.1f} mm of wood over the module",
            value=spec.wood_over,
            limit=item.range_most,
            source=item.source,
            remedy=f"leave {item.range_least:.0f} to {item.range_most:.0f} mm",
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
            remedy="a thicker top, or a flatter module",
        )
        return False
    overhang = body_overhang(body, lo)
    for what, got, least in (
        ("side", spec.from_side, least_from_side(kit, body, overhang)),
        ("front", spec.from_front, least_from_front(kit, body, -lo[1])),
    ):
        if got < least - 1e-6:
            d.find(
                "device.place",
                Severity.STOP,
                key,
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


def _channel(top: Placed, item: Device, kit: Kit, at: tuple[float, float]) -> Outline:
    """From the recess to the top's back edge, wide enough for the plug."""
    half = item.plug_width / 2 + kit.practice["device.channel_play"] / 2
    hi = world_box(top)[1]
    a = top.frame.local_point((at[0] - half, at[1], 0.0))
    b = top.frame.local_point((at[0] + half, hi[1] + 1.0, 0.0))
    return rectangle(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])).canonical_start()


def _keeper(d: Draft, kit: Kit, top: Placed, item: Device, module: Placed, at: tuple[float, float, float]) -> Placed:
    """A strip across the recess, screwed to the top's underside: the module comes out again."""
    p = d.practice
    half = _keeper_half(kit, item)
    sheet = kit.sheet("drawer_bottom")
    d.let("keeper.length", 2 * half, rule="module + lap at both ends")
    d.let("keeper.width", p["keeper.width"], rule="practice")
    d.let("keeper.thickness", sheet.thickness, rule="sheet as measured")
    keeper = d.box_part(
        "device_keeper",
        "keeper of the module",
        kit.material("drawer_bottom"),
        centred(2 * half, at[0]),
        centred(p["keeper.width"], at[1]),
        span(at[2] - sheet.thickness, sheet.thickness),
        grain="x",
        thick="z",
        sizes=("keeper.length", "keeper.width", "keeper.thickness"),
    )
    screw = kit.screw("pan", 6, sheet.thickness + 5.0, sheet.thickness + 16.0)
    z = at[2] - sheet.thickness
    lap = p["keeper.lap"] / 2
    d.joint(
        "device_keeper~top",
        JointKind.HELD,
        keeper,
        top,
        at,
        ScrewLine(
            screw=screw,
            start=(at[0] - half, at[1], z),
            end=(at[0] + half, at[1], z),
            drive=UP,
            count=2,
            ends=0.0,
            apart=0.0,
            forced=(lap, 2 * half - lap),
        ),
        why="two screws, so that the module can be changed",
    )
    d.joint("device~keeper", JointKind.HELD, keeper, module, at, why="carries the module")
    return keeper


def _cut_below(d: Draft, kit: Kit, item: Device, at: tuple[float, float], keeper: Placed) -> None:
    """Cut the stretchers wherever module, keeper and margin would meet them."""
    r = item.diameter / 2 + item.margin
    half = _keeper_half(kit, item) + kit.practice["keeper.room"]
    for name in ("stretcher.front", "stretcher.rear"):
        part = d.at(name)
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
