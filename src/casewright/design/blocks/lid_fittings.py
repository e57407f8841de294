"""Hinges and stays of a lid (common practice).

A stay is rated by the moment that it bears at the hinge line: weight × half of the lid's depth (its maker's data).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.hardware import block, hinge_leaf
from casewright.design.draft import Draft
from casewright.design.features.cuts import HingeMortise
from casewright.design.frames import Frame, scale
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Hardware, Part, Placed
from casewright.design.sites import bounds, depth_along, sink, world_box
from casewright.findings import Severity
from casewright.stock.fittings import LidStay
from casewright.stock.model import Hinge

GRAVITY = 9.80665  # m/s²
DOWN, UP = (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)
CLEAR = 10.0  # of the stays to what stands behind and below them
PLATE = 3.0  # of a stay under its screws' heads
APART = 32.0  # its two screws


def hang_lid(d: Draft, kit: Kit, panel: Placed, strip: Placed, hinge: Hinge, wanted: int, *, flat: bool) -> None:
    """Let butt hinges into lid and strip, barrels up: into their meeting edges, or `flat` into their upper faces."""
    lo, hi = world_box(panel)
    y = (hi[1], world_box(strip)[0][1])
    length = hi[0] - lo[0]
    seat = _Seat(
        hinge=hinge, gap=d.led["lid.gap"], middle=(y[0] + y[1]) / 2, top=hi[2], deep=_depth(d, hinge, flat), flat=flat
    )
    count = wanted or max(2, math.ceil(length / d.practice["lid.hinge_spacing"]) + 1)
    end = d.practice["door.hinge_end"] + hinge.height
    step = (length - 2 * end) / (count - 1)
    for number in range(count):
        where, x = f"hinge[{number + 1}]", lo[0] + end + number * step
        own = _leaf(d, kit, seat, f"lid/{where}", panel, x, -1.0, barrel=True)
        other = _leaf(d, kit, seat, f"lid.{where}", strip, x, 1.0, barrel=False)
        at = (x, seat.middle, seat.top)
        d.joint(f"lid.{where}.pin", JointKind.HARDWARE, other, own, at, why="the leaves turn on one pin")


def _depth(d: Draft, hinge: Hinge, flat: bool) -> float:
    """Let how deep each leaf is let in, mm."""
    if flat:
        return d.let("lid.hinge.mortise", hinge.leaf_thickness, rule="flush with the upper face")
    deep = (hinge.closed - d.led["lid.gap"]) / 2
    return d.let("lid.hinge.mortise", deep, "lid.gap", rule="gap = closed thickness − both mortises")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seat:
    """Where the hinges of a lid sit: `middle` (y) of the gap, upper face `top` (z), depth of the beds, mm."""

    hinge: Hinge
    gap: float
    middle: float
    top: float
    deep: float
    flat: bool

    def frame(self, x: float, away: float) -> Frame:
        """Return a leaf's frame: own x along the pin, y into the leaf, z off its bed; `away` (±1) from the gap."""
        r = self.hinge.barrel_diameter / 2
        if self.flat:
            # The barrel lies on the gap, above both faces.
            return Frame(origin=(x, self.middle, self.top - self.deep), x=(away, 0.0, 0.0), y=(0.0, away, 0.0))
        bed = self.middle + away * (self.gap / 2 + self.deep)
        return Frame(origin=(x, bed, self.top + r), x=(-away, 0.0, 0.0), y=DOWN)

    @property
    def lie(self) -> float:
        """How high the pin lies above a leaf's bed, mm."""
        return self.hinge.leaf_thickness + self.hinge.barrel_diameter / 2 if self.flat else self.deep + self.gap / 2


def _leaf(d: Draft, kit: Kit, seat: _Seat, name: str, wood: Placed, x: float, away: float, *, barrel: bool) -> Placed:
    """Place one leaf with its bed and screws."""
    hinge, half, r = seat.hinge, seat.hinge.height / 2, seat.hinge.barrel_diameter / 2
    frame = seat.frame(x, away)
    placed = d.place_hardware(name, "hinge of the lid", hinge_leaf(hinge, barrel, seat.lie), frame)
    bed = [
        frame.point((s * half, along, up)) for s, along, up in ((-1.0, r, 0.0), (1.0, r + hinge.leaf_width, seat.deep))
    ]
    lo, hi = bounds(bed)
    cut = sink(HingeMortise, wood, frame.z, lo, hi)
    d.joint(f"{name}~bed", JointKind.HARDWARE, wood, placed, frame.origin, Cuts(cuts=((wood.path, cut),)))
    screw = kit.named_screw(hinge.screw)
    room = depth_along(wood, frame.z) - d.practice["fastener.point_cover"] - seat.deep + hinge.leaf_thickness
    if screw.length > room:
        screw = kit.screw(screw.kind, screw.gauge, 9.0, room)
    lo, hi = bounds([*bed, frame.point((0.0, r, hinge.leaf_thickness - screw.length))])
    d.keep_out(f"{name}~room", lo, hi, placed)
    for i, from_pin in enumerate(sorted({h[1] for h in hinge.holes})):
        forced = tuple(h[0] for h in hinge.holes if h[1] == from_pin)
        line = ScrewLine(
            screw=screw,
            start=frame.point((-half, from_pin, hinge.leaf_thickness)),
            end=frame.point((half, from_pin, hinge.leaf_thickness)),
            drive=scale(frame.z, -1.0),
            count=len(forced),
            ends=0.0,
            apart=0.0,
            forced=forced,
            bare=True,
        )
        d.joint(f"{name}~wood[{i + 1}]", JointKind.HARDWARE, placed, wood, frame.origin, line)
    return placed


def lid_moment(d: Draft) -> float:
    """Return the moment of everything on the lid at its hinge line, N·m: weight × half of its depth."""
    mass = 0.0
    for path in d.under("lid"):
        thing = d.at(path.removeprefix(d.path + "/")).thing
        if isinstance(thing, Part):
            size = thing.blank.size
            mass += size[0] * size[1] * size[2] * thing.mass_density * 1e-9
    return mass * GRAVITY * d.led["lid.width"] / 2 / 1000.0


def hold_open(d: Draft, kit: Kit, body: Body, panel: Placed, rear: Placed, floor_z: float) -> float:
    """Place two stays before the part `rear`, the weakest in stock that bear the lid; returns how far they let it open.

    A finding where none bears it, or the case (down to `floor_z`) has no room for them.
    """
    moment = lid_moment(d)
    stays = sorted(kit.all("lid_stay", LidStay), key=lambda s: (s.torque, s.id))
    strong = [s for s in stays if 2 * s.torque >= moment]
    stay = strong[0] if strong else stays[-1]
    room = body.z1 - floor_z - CLEAR
    if not strong:
        most = 2 * stay.torque
        _lacking(d, "lid.stay", f"two stays bear {most:.1f} N·m, the lid needs {moment:.1f} N·m", moment, most)
    elif stay.case_height > room:
        _lacking(d, "lid.stay_room", f"a stay needs {stay.case_height:.0f} mm of height", stay.case_height, room)
    else:
        y = min(world_box(panel)[1][1], world_box(rear)[0][1]) - CLEAR - stay.case_depth / 2
        for sign, hand in HANDS:
            _stay(d, kit, body, panel, stay, sign, hand, y)
    return stay.opening


def _lacking(d: Draft, code: str, message: str, value: float, limit: float) -> None:
    d.find(
        code,
        Severity.STOP,
        "lid",
        message,
        value=value,
        limit=limit,
        source="a lid that falls crushes fingers: what holds it open must bear it (the stay's own data)",
        remedy="a lighter lid, two lids, stronger stays for the role lid_stay, or a higher case",
    )


def _stay(d: Draft, kit: Kit, body: Body, panel: Placed, stay: LidStay, sign: int, hand: str, y: float) -> None:
    """Place one stay, closed, beside a side of the case: its body on the side, its foot under the lid."""
    face, half = sign * body.inside / 2, stay.case_depth / 2
    # Own z off the side into the case, x along its depth: the item is its own mirror image.
    bodies = (block((-half, half), (0.0, stay.case_height), (0.0, stay.thickness)),)
    frame = Frame(origin=(face, y, body.z1), x=(0.0, float(sign), 0.0), y=DOWN)
    item = Hardware(item=stay.id, bodies=bodies, mass=stay.mass)
    placed = d.place_hardware(f"lid_stay.{hand}", f"{hand} lid stay", item, frame)
    x, z = face - sign * PLATE, body.z1 - stay.case_height + 15.0
    ends = ((x, y - APART / 2, z), (x, y + APART / 2, z))
    side, drive = d.at(f"side.{hand}"), (float(sign), 0.0, 0.0)
    d.joint(f"lid_stay.{hand}~side", JointKind.HARDWARE, placed, side, (face, y, z), _pair(kit, stay, ends, drive))
    x, z = face - sign * stay.thickness / 2, body.z1 - PLATE
    ends = ((x, y - APART / 2, z), (x, y + APART / 2, z))
    d.joint(f"lid_stay.{hand}~lid", JointKind.HARDWARE, placed, panel, (x, y, z), _pair(kit, stay, ends, UP))


def _pair(
    kit: Kit,
    stay: LidStay,
    ends: tuple[tuple[float, float, float], tuple[float, float, float]],
    drive: tuple[float, float, float],
) -> ScrewLine:
    return ScrewLine(
        screw=kit.named_screw(stay.screw),
        start=ends[0],
        end=ends[1],
        drive=drive,
        count=2,
        ends=0.0,
        apart=0.0,
        forced=(0.0, APART),
        bare=True,
    )
