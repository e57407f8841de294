"""A device let into a case: in the underside of its top, or in the inner face of an upright beside one of its bays."""

from __future__ import annotations

from casewright.design.blocks.device import (
    DOWN,
    Seat,
    channel_half,
    cut_below,
    keeper_half,
    let_in,
    let_wood,
    off_the_case,
    wood_right,
)
from casewright.design.blocks.device_steps import ROOM, in_the_top
from casewright.design.blocks.grid import Cell, Grid
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.draft import Draft
from casewright.design.features.cuts import Notch
from casewright.design.features.openings import Cutout
from casewright.design.frames import Vec
from casewright.design.kit import Kit
from casewright.design.outlines import rectangle
from casewright.design.parts import Part, Placed
from casewright.design.pieces.case_fronts import inset_depth
from casewright.design.sites import DIRECTIONS, depth_along, sink, world_box
from casewright.findings import Severity
from casewright.order.pieces.case import CaseDeviceOrder, CaseOrder
from casewright.stock.model import Device

FIXED = ("/closed[", ".kicker.", ".runner.", "blocking.", ".cleat.")  # what is in the case before a module is laid in
HEADS = 3.0  # mm: what stands out of a keeper, the heads of its screws
CLEAR = 1.0  # mm between a module with what belongs to it and the case


def in_front(d: Draft, kit: Kit, spec: CaseOrder, frame: float) -> float:
    """Return how far a module under the top lies behind the front of the case, mm: as ordered, or as near as can be."""
    assert spec.device is not None
    if spec.device.from_front is not None:
        return spec.device.from_front - d.led["top.overhang_front"]
    return _behind(d, kit, spec, frame)


def _behind(d: Draft, kit: Kit, spec: CaseOrder, frame: float) -> float:
    """Return the least distance of a module's middle behind the front of the case, mm.

    Its margin clears the face frame and what lies inset; without a frame, the stretcher keeps a strip in front.
    """
    item = kit.role("device", Device)
    strip = d.practice["cutout.least_left"] if not frame else 0.0
    return max(frame, inset_depth(kit, spec)) + strip + item.diameter / 2 + item.margin + CLEAR


def front_reach(d: Draft, kit: Kit, spec: CaseOrder, frame: float) -> float:
    """Return how far back the front stretcher must reach to be held behind the module's cut-out, mm (y)."""
    if spec.device is None or spec.device.into != "top" or not spec.covered:
        return 0.0
    item = kit.role("device", Device)
    return in_front(d, kit, spec, frame) + item.diameter / 2 + item.margin + d.practice["stretcher.land"]


def case_device(s: Shell, spec: CaseOrder, grid: Grid, made: MadeTop | None) -> None:
    """Let the ordered device in, with its channel and its keeper; what is in the way is found."""
    if spec.device is None:
        return
    item = s.kit.role("device", Device)
    in_top = spec.device.into == "top"
    seat = _in_top(s, spec, spec.device, item, made) if in_top else _in_wall(s, spec, spec.device, item, grid)
    if seat is None:
        return
    depth = let_wood(s.d, seat)
    if not wood_right(s.d, item, seat, depth):
        return
    keeper = let_in(s.d, s.kit, item, seat, depth)
    if in_top and s.covered:
        cut_below(s.d, s.kit, item, (seat.at[0], seat.at[1]), keeper)
    _through_back(s, item, seat)


def _in_top(s: Shell, spec: CaseOrder, given: CaseDeviceOrder, item: Device, made: MadeTop | None) -> Seat | None:
    """Return the place under a top over the case, or in the panel that closes it between its sides."""
    d, body = s.d, s.body
    if spec.top.kind in ("panelled", "lid"):
        what = "a frame and a panel" if spec.top.kind == "panelled" else "a lid, which would pull at the cable"
        d.find(
            "device.top",
            Severity.STOP,
            "device.into",
            f"the top is {what}: nothing to let a device into",
            source="common practice",
            remedy='a wall of a bay, or top.kind "solid", "banded", "breadboard" or "between"',
        )
        return None
    host = made.panel if made is not None else d.at("top_panel")
    half = d.led["top.length"] / 2 if made is not None else body.width / 2
    over_side, over_front = half - body.width / 2, d.led["top.overhang_front"]
    least = over_side + body.side + keeper_half(s.kit, item) + CLEAR
    if made is not None:
        # Of a top with ends of its own only the field takes it: ends move apart from it.
        least = max(least, half - min(-made.across[0], made.across[1]) + keeper_half(s.kit, item) + CLEAR)
    else:
        least += _driver_room(d)
    front = over_front + _behind(d, s.kit, spec, body.frame)
    from_side = least if given.from_side is None else given.from_side
    from_front = front if given.from_front is None else given.from_front
    least_front = front - (d.practice["cutout.least_left"] if not body.frame else 0.0)
    if not off_the_case(d, ("side", from_side, least), ("front", from_front, least_front)):
        return None
    x = (half - from_side) * (1 if given.edge == "right" else -1)
    lo, hi = world_box(host)
    return Seat(
        host=host,
        out=DOWN,
        at=(x, from_front - over_front, lo[2]),
        wood_over=_wood(d, given, item, hi[2] - lo[2]),
        thickness="top.thickness" if made is not None else "side.thickness",
        back_to=max(hi[1], body.depth),
    )


def _in_wall(s: Shell, spec: CaseOrder, given: CaseDeviceOrder, item: Device, grid: Grid) -> Seat | None:
    """Return the place in the left or right wall of a bay."""
    cell = _cell(s, given, grid)
    if cell is None:
        return None
    region, left = cell.region, given.into == "left wall"
    wall = region.left if left else region.right
    host = s.d.at(wall.name)
    if s.body.post and wall.name.startswith("side."):
        s.d.find(
            "device.post",
            Severity.STOP,
            "device.into",
            "a rear corner post bars the way of its plug",
            source="common practice",
            remedy="the top, or a divider",
        )
        return None
    if not _other_side_clear(s, item, host, cell, grid):
        return None
    out: Vec = (1.0, 0.0, 0.0) if left else (-1.0, 0.0, 0.0)
    low, high = region.within
    front = _behind(s.d, s.kit, spec, s.body.frame)
    y = (front + s.y[1]) / 2 if given.from_front is None else given.from_front
    z = (high - low) / 2 if given.from_floor is None else given.from_floor
    half = keeper_half(s.kit, item) + CLEAR + _driver_room(s.d)
    places = (("front", y, front), ("floor", z, half), ("ceiling", high - low - z, half))
    if not off_the_case(s.d, *places):
        return None
    return Seat(
        host=host,
        out=out,
        at=(wall.face, y, low + z),
        wood_over=_wood(s.d, given, item, depth_along(host, out)),
        thickness="side.thickness",
        back_to=s.body.depth,
    )


def _driver_room(d: Draft) -> float:
    """Return what a driver on the outer screw of the keeper needs beyond its end, mm."""
    return max(0.0, d.practice["fastener.driver"] - d.practice["keeper.lap"] / 2)


def _cell(s: Shell, given: CaseDeviceOrder, grid: Grid) -> Cell | None:
    """Return the bay on whose wall it goes: as named, or the first without a drawer; None, found, where none is."""
    free = {c.region.cell: c for c in grid.cells if c.bay.holds in ("open", "door", "pair")}
    cell = free.get(given.bay) if given.bay else next(iter(free.values()), None)
    if cell is None:
        s.d.find(
            "device.bay",
            Severity.STOP,
            "device.bay",
            f"there is no bay {given.bay} that is open or has a door" if given.bay else "every bay has a drawer",
            source="common practice: a module on a wall is reached through its bay",
            remedy=f"one of {', '.join(free)}" if free else "the top",
        )
    return cell


def _other_side_clear(s: Shell, item: Device, host: Placed, cell: Cell, grid: Grid) -> bool:
    """True where no drawer runs on the other face of an upright: its slides would be screwed into the module."""
    low, high = cell.region.within
    for other in grid.cells:
        beside = host.path in (s.d.full(other.region.left.name), s.d.full(other.region.right.name))
        overlaps = other.region.z[0] < high and other.region.z[1] > low
        if other is not cell and beside and overlaps and other.bay.holds == "drawer":
            s.d.find(
                "device.slides",
                Severity.STOP,
                "device.into",
                f"on the other face of this wall runs the drawer of bay {other.region.cell}",
                source="common practice",
                remedy="another wall, or another bay",
            )
            return False
    return True


def _wood(d: Draft, given: CaseDeviceOrder, item: Device, thickness: float) -> float:
    """Return the wood over a module, mm: as ordered, or the middle of its range, less where it needs the room."""
    if given.wood_over is not None:
        return given.wood_over
    room = thickness - item.thickness - d.practice["device.air"]
    least = max(item.range_least, d.practice["device.wood_least"])
    return max(least, min((least + item.range_most) / 2, room))


def _through_back(s: Shell, item: Device, seat: Seat) -> None:
    """Cut the back where it closes the channel, so that the plug passes."""
    d = s.d
    deep = item.plug_height + d.practice["device.channel_play"]
    lo, hi = seat.box(channel_half(s.kit, item), (0.0, s.body.depth - seat.at[1]), deep)
    backs = [p for p in d.under("") if p.removeprefix(d.path + "/").startswith("back")]
    for panel in (d.at(p.removeprefix(d.path + "/")) for p in backs):
        low, high = world_box(panel)
        a, b = [max(lo[i], low[i]) for i in range(3)], [min(hi[i], high[i]) for i in range(3)]
        if any(b[i] - a[i] < 1e-6 for i in range(3)):
            continue
        whole = all(low[i] < a[i] - 1e-6 and b[i] + 1e-6 < high[i] for i in (0, 2))
        if not whole:
            d.cut(panel, sink(Notch, panel, DIRECTIONS["back"], (a[0], a[1], a[2]), (b[0], b[1], b[2])))
            continue
        face = panel.face_towards(DIRECTIONS["back"])
        u, v = face.uv_axes
        p, q = panel.frame.local_point((a[0], a[1], a[2])), panel.frame.local_point((b[0], b[1], b[2]))
        outline = rectangle(min(p[u], q[u]), min(p[v], q[v]), max(p[u], q[u]), max(p[v], q[v]))
        d.cut(panel, Cutout(face=face, outline=outline.canonical_start(), depth=s.body.back))


def device_clear(s: Shell) -> None:
    """Find what a let-in module and its keeper would meet, once everything stands."""
    d = s.d
    if not d.has("device_keeper"):
        return
    keeper = d.at("device_keeper")
    parts = [d.at(path.removeprefix(d.path + "/")) for path in d.under("")]
    others = [p for p in parts if p.path != keeper.path and isinstance(p.thing, Part) and not _cut_for_it(d, p)]
    lo, hi = _swept(d, world_box(keeper), HEADS)
    for placed in others:
        low, high = world_box(placed)
        # A divider ends under the stretchers, which are cut out here: it would stand under nothing.
        under = s.thick + CLEAR if placed.path.startswith(d.full("divider[")) else 0.0
        if all(low[i] < hi[i] - 1e-6 and high[i] > lo[i] + 1e-6 - (under if i == 2 else 0.0) for i in range(3)):
            _meets(d, f"the strip that holds it meets {placed.name}")
            return
    if in_the_top(d):
        return
    middle, radius = d.at("device").frame.origin, s.kit.role("device", Device).diameter / 2
    flat = world_box(keeper)
    across = [abs(c) < 0.5 for c in d.at("device").frame.direction((0.0, 0.0, 1.0))]
    a = [min(flat[0][i], middle[i] - radius * across[i]) for i in range(3)]
    b = [max(flat[1][i], middle[i] + radius * across[i]) for i in range(3)]
    lo, hi = _swept(d, ((a[0], a[1], a[2]), (b[0], b[1], b[2])), ROOM)
    for placed in (p for p in others if any(word in p.path for word in FIXED)):
        near, far = world_box(placed)
        if all(near[i] < hi[i] - 1e-6 and far[i] > lo[i] + 1e-6 for i in range(3)):
            _meets(d, f"it could not be laid in past {placed.name}")
            return


def _swept(d: Draft, box: tuple[Vec, Vec], way: float) -> tuple[Vec, Vec]:
    """Return a box of what belongs to a module with its way out of the recess, mm long."""
    out = d.at("device").frame.direction((0.0, 0.0, way))
    lo = [box[0][i] + min(0.0, out[i]) for i in range(3)]
    hi = [box[1][i] + max(0.0, out[i]) for i in range(3)]
    return (lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2])


def _meets(d: Draft, text: str) -> None:
    d.find(
        "device.meets",
        Severity.STOP,
        "device",
        text,
        source="common practice",
        remedy="another place for it: from_side, from_front or from_floor",
    )


def _cut_for_it(d: Draft, placed: Placed) -> bool:
    """True for a part that is cut out around it."""
    return any(k.id == f"{placed.path}.cutout" for k in d.keepouts)
