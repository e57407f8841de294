"""The bottom of a drawer box: a sheet in grooves on four sides, or solid wood that slides in from behind.

Common practice. A solid bottom has its grain from side to side: it moves front to back, held at the front groove and
by one screw in a slot under the back.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import Span, centred, sink, span
from casewright.findings import Severity
from casewright.units.printed import Role

LOOSE = 1.0  # mm: a bottom with more room than this in its groove rattles


def box_bottom(d: Draft, kit: Kit, box: Box, wood: Wood, wet: Moisture | None) -> None:
    """Place the bottom and cut its grooves."""
    g, p = box.name, d.practice
    groove = d.let(
        f"{g}.groove.depth",
        min(box.wood * p["drawer.groove_share"], p["drawer.groove_most"]),
        f"{g}.box.thickness",
        rule="half the side, 6 mm at most",
        role=Role.HOUSING,
    )
    # To the nearest division, not up: a slip is less than half of one, and the next wider groove would rattle.
    slot, name = box.bottom + p["fit.slip"], f"{g}.groove.width"
    d.let(name, slot, f"{g}.bottom.thickness", rule="bottom as measured, and it slips in")
    d.fit(f"{g}.fit.bottom_groove", name, f"{g}.bottom.thickness", 0.0, LOOSE, source="common practice")
    across = _let_across(d, box, groove)
    z = span(box.z[0] + box.groove_up, box.bottom)
    if wood.solid and wet is not None:
        _solid_bottom(d, kit, box, wood, wet, groove, across, z)
    else:
        _sheet_bottom(d, box, wood, groove, across, z)


def _let_across(d: Draft, box: Box, groove: float) -> Span:
    g = box.name
    return _let_in_seat(d, g, "length", d.led[f"{g}.box.inside"], groove, box.middle, f"{g}.box.inside")


def _let_in_seat(d: Draft, g: str, axis: str, size: float, groove: float, base: float, because: str) -> Span:
    seat, name = f"{g}.bottom.seat_{axis}", f"{g}.bottom.{axis}"
    d.let(seat, size + 2 * groove, because, f"{g}.groove.depth", rule="between groove floors", role=Role.HOUSING)
    cut = d.let(
        name,
        size + 2 * groove - d.practice["drawer.bottom_play"],
        seat,
        rule="play so that it slides in",
        role=Role.INSERT,
    )
    d.fit(f"{g}.fit.bottom_{axis}", seat, name, 0.5, 4.0, source="common practice")
    return centred(cut, base)


def _sheet_bottom(d: Draft, box: Box, wood: Wood, groove: float, across: Span, z: Span) -> None:
    g = box.name
    deep = box.depth - 2 * box.wood
    along = _let_in_seat(d, g, "width", deep, groove, (box.y[0] + box.y[1]) / 2, f"{g}.box.depth")
    bottom = d.box_part(
        f"{g}/bottom",
        "drawer bottom",
        wood.material,
        across,
        along,
        z,
        grain="x",
        thick="z",
        sizes=(f"{g}.bottom.length", f"{g}.bottom.width", f"{g}.bottom.thickness"),
        kind=PartKind.DRAWER_BOTTOM,
    )
    _grooves(d, box, bottom, groove, z, ("side.left", "side.right", "box_front", "box_back"))


def _solid_bottom(
    d: Draft, kit: Kit, box: Box, wood: Wood, wet: Moisture, groove: float, across: Span, z: Span
) -> None:
    g = box.name
    start = box.y[0] + box.wood - groove
    growth = d.let(
        f"{g}.bottom.growth",
        wood.swells(wet, box.y[1] - start),
        f"{g}.box.depth",
        rule="front to back, from fitting day to the damp end",
    )
    seat = d.let(
        f"{g}.bottom.seat_width",
        box.y[1] - start,
        f"{g}.box.depth",
        f"{g}.box.thickness",
        f"{g}.groove.depth",
        rule="from the front groove's floor to the back's outer face",
        role=Role.HOUSING,
    )
    width = d.let(
        f"{g}.bottom.width",
        seat - growth,
        f"{g}.bottom.seat_width",
        f"{g}.bottom.growth",
        rule="short of the back's outer face by its growth",
        role=Role.INSERT,
    )
    d.fit(f"{g}.fit.bottom_width", f"{g}.bottom.seat_width", f"{g}.bottom.width", 0.0, growth + 3.0)
    _stays_under_back(d, box, wood, wet, width, growth)
    strips = glue_up(wood, width, d.practice)
    bottom = d.box_part(
        f"{g}/bottom",
        "drawer bottom",
        wood.material,
        across,
        span(start, width),
        z,
        grain="x",
        thick="z",
        rough=over_size(strips, d.practice),
        made_of=strips,
        sizes=(f"{g}.bottom.length", f"{g}.bottom.width", f"{g}.bottom.thickness"),
        kind=PartKind.DRAWER_BOTTOM,
    )
    _grooves(d, box, bottom, groove, z, ("side.left", "side.right", "box_front"))
    _screw_to_back(d, kit, box, wood, wet, bottom, start + width)


def _stays_under_back(d: Draft, box: Box, wood: Wood, wet: Moisture, width: float, growth: float) -> None:
    """At the dry end the bottom must still lie under the back, screw and all."""
    left = box.wood - growth - wood.shrinks(wet, width)
    least = box.wood * d.practice["drawer.bottom_under_share"]
    if left < least:
        d.find(
            "drawer.bottom_shrinks",
            Severity.STOP,
            f"{box.name}/bottom",
            f"at the dry end only {left:.1f} mm of the bottom would lie under the back",
            value=left,
            limit=least,
            source="movement of the species over the room's humidity (Wood Handbook Eq. 13-2)",
            remedy="a sheet bottom, a shallower drawer, or a wood that moves less",
        )


def _screw_to_back(d: Draft, kit: Kit, box: Box, wood: Wood, wet: Moisture, bottom: Placed, rear: float) -> None:
    """One screw up into the back, in a slot that is open to the rear: the bottom moves past it."""
    g, p = box.name, d.practice
    back = d.at(f"{g}/box_back")
    y, low = box.y[1] - box.wood / 2, bottom.frame.origin[2]
    screw = kit.screw("pan", 6, box.bottom + 5.0, box.bottom + 16.0, role="bottom_screw")
    fixed = y - (box.y[0] + box.wood)
    # Held at the front, the wood moves back past the screw as it swells; as it shrinks, the screw has the open end.
    ahead = wood.swells(wet, fixed) + p["top.slot_extra"] / 2
    slot = d.let(
        f"{g}.bottom.slot",
        ahead + screw.clearance / 2 + rear - y + screw.clearance,
        f"{g}.bottom.width",
        rule="open to the rear; in front of the screw as much as the bottom swells, and spare",
        role=Role.HOUSING,
    )
    forward = ahead + screw.clearance / 2
    detail = ScrewLine(
        screw=screw,
        start=(box.x[0], y, low),
        end=(box.x[1], y, low),
        drive=(0.0, 0.0, 1.0),
        count=1,
        ends=box.wood,
        apart=p["fastener.apart"],
        slot=slot,
        slot_way=(0.0, 1.0, 0.0),
        slot_at=forward - slot / 2,
    )
    why = "one screw in the middle, in a slot: the bottom moves front to back"
    d.joint(f"{g}/bottom~box_back", JointKind.SLOTTED_SCREWS, bottom, back, (box.middle, y, low), detail, why=why)


def _grooves(d: Draft, box: Box, bottom: Placed, groove: float, z: Span, into: tuple[str, ...]) -> None:
    g, t = box.name, box.wood
    z = (z[0], z[1] + d.practice["fit.slip"])  # the bottom lies on the lower wall
    walls: dict[str, tuple[Vec, Vec, Vec]] = {
        "side.left": ((1.0, 0.0, 0.0), (box.x[0], box.y[0], z[0]), (box.x[0] + t, box.y[1], z[1])),
        "side.right": ((-1.0, 0.0, 0.0), (box.x[1] - t, box.y[0], z[0]), (box.x[1], box.y[1], z[1])),
        "box_front": ((0.0, 1.0, 0.0), (box.x[0], box.y[0], z[0]), (box.x[1], box.y[0] + t, z[1])),
        "box_back": ((0.0, -1.0, 0.0), (box.x[0], box.y[1] - t, z[0]), (box.x[1], box.y[1], z[1])),
    }
    for name in into:
        opens, lo, hi = walls[name]
        wall = d.at(f"{g}/{name}")
        shallow = _to_depth(lo, hi, opens, groove)
        cut = sink(Groove, wall, opens, *shallow)
        d.joint(f"{g}/bottom~{name}", JointKind.GROOVE, wall, bottom, shallow[0], Cuts(cuts=((wall.path, cut),)))


def _to_depth(lo: Vec, hi: Vec, opens: Vec, depth: float) -> tuple[Vec, Vec]:
    """Return the part of a box that lies within `depth` of its side towards `opens`."""
    axis = next(i for i in range(3) if opens[i])
    a, b = list(lo), list(hi)
    if opens[axis] > 0:
        a[axis] = b[axis] - depth
    else:
        b[axis] = a[axis] + depth
    return (a[0], a[1], a[2]), (b[0], b[1], b[2])
