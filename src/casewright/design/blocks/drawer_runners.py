"""Wooden runners: one under each side of the box, guides beside it, kickers above it, and stops behind it.

Common practice. The box slides on hardwood runners between guides with 1.0 to 1.6 mm of play on each side; kickers
just above its sides keep it from dropping as it is drawn out; an inset drawer goes in as far as its stops.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_ride import Ride, strip_size
from casewright.design.blocks.drawer_seats import BlockingPlan, Seat, fix_along, seats
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, between, span, world_box
from casewright.findings import Severity
from casewright.stock.model import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """What a strip beside the box is called, where it lies, and why it is there."""

    name: str
    label: str
    z: Span
    why: str


def runners(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DrawerSpec, ride: Ride, box: Box) -> None:
    """Place guides (where the wall stands back), runners, kickers and stops."""
    assert ride.runner is not None
    g, stick = box.name, ride.runner
    wide, high = strip_size(stick)
    y = span(max(body.frame, box.y[0]), ride.length)  # behind the frame, or behind an inset front
    (z0, z1), reach = opening.z, min(high + d.practice["runner.guide"], opening.height / 2)
    lower, upper = (z0, z0 + reach), (z1 - reach, z1)
    found = _seats(d, kit, opening, spec, g, "blocking", y, lower, (z0 + high + z0 + reach) / 2)
    above = _seats(d, kit, opening, spec, g, "upper_blocking", y, upper, (z1 - high + z1 - reach) / 2)
    if found is None or above is None or not _carries(d, g, box, found, wide):
        return
    d.let(f"{g}.runner.length", ride.length, "body.depth", "back.thickness", rule="from the frame nearly to the back")
    if ride.wear is not None:
        because = (f"{g}.runner.length", f"{g}.box.depth")
        d.let(f"{g}.wear.length", box.y[1] - y[0], *because, rule="under the box, short of its stop")
    strips = (
        _Strip(name="runner", label="drawer runner", z=span(z0, high), why="under the side: wax it"),
        _Strip(
            name="kicker",
            label="drawer kicker",
            z=(z1 - high, z1),
            why="above the side: the box cannot drop",
        ),
    )
    for sign, _ in HANDS:
        placed = {
            s.name: _strip(d, kit, g, spec, stick, seats_of[sign], s, y)
            for s, seats_of in zip(strips, (found, above), strict=True)
        }
        rail = placed["runner"] if ride.wear is None else _wear(d, kit, box, ride.wear, found[sign], placed["runner"])
        _rests(d, box, found[sign], rail)
        if spec.lies.inset:
            _stop(d, kit, box, found[sign], placed["runner"], stick)


def _seats(
    d: Draft, kit: Kit, opening: Opening, spec: DrawerSpec, g: str, name: str, y: Span, z: Span, screw_z: float
) -> dict[int, Seat] | None:
    """Place what runners or kickers are fixed to, where the walls stand back from the opening; it guides the box too.

    Its own screws stand at `screw_z`, beside the strip that will lie on it.
    """
    plan = BlockingPlan(y=y, z=z, screw_z=screw_z, why="beside the box: it keeps it from going askew", name=name)
    return seats(
        d, kit, opening, g, spec, plan, ("from the frame to the runner's end", "the strip and a guide beside it")
    )


def _carries(d: Draft, g: str, box: Box, found: dict[int, Seat], wide: float) -> bool:
    """The runner reaches under the whole side of the box."""
    need = max(abs(box.outer(s, box.wood) - found[s].face) for s, _ in HANDS)
    if wide >= need - 1e-6:
        return True
    d.find(
        "drawer.runner_narrow",
        Severity.STOP,
        g,
        f"a runner {wide:.1f} mm wide does not reach under a drawer side whose inner face is {need:.1f} mm away",
        value=wide,
        limit=need,
        source="common practice",
        remedy="a wider stick for the role drawer_runner, or thinner drawer sides",
    )
    return False


def _strip(d: Draft, kit: Kit, g: str, spec: DrawerSpec, stick: Stick, seat: Seat, strip: _Strip, y: Span) -> Placed:
    wide, _ = strip_size(stick)
    part = d.box_part(
        f"{g}.{strip.name}.{seat.hand}",
        f"{strip.label}, {seat.hand}",
        kit.material("drawer_runner"),
        between(seat.face, seat.face - seat.sign * wide),
        y,
        strip.z,
        grain="y",
        thick="z",
        sizes=(f"{g}.runner.length", "", ""),
    )
    plan = BlockingPlan(y=y, z=strip.z, screw_z=_screw_height(strip, d.practice["fastener.driver"]), why=strip.why)
    fix_along(d, kit, seat, part, seat.onto, spec.moisture, (wide, seat.face), plan)
    return part


EDGE = 6.0  # mm: the least wood beside a strip's screw


def _screw_height(strip: _Strip, driver: float) -> float:
    """Return where a strip's screws stand: in its middle, or `driver` mm clear of what it lies against."""
    low, high = strip.z
    if strip.name == "runner":
        return min(max((low + high) / 2, low + driver), high - EDGE)
    return max(min((low + high) / 2, high - driver), low + EDGE)


def _wear(d: Draft, kit: Kit, box: Box, strip: Stick, seat: Seat, runner: Placed) -> Placed:
    """A strip of harder wood on a soft runner, under the whole length of the box."""
    lo, hi = world_box(runner)
    wide, _ = strip_size(strip)
    y = (lo[1], box.y[1])
    part = d.box_part(
        f"{box.name}.wear.{seat.hand}",
        f"wear strip, {seat.hand}",
        kit.material("edging"),
        between(seat.face, seat.face - seat.sign * wide),
        y,
        (hi[2], box.z[0]),
        grain="y",
        thick="z",
        sizes=(f"{box.name}.wear.length", "", ""),
    )
    d.joint(
        f"{box.name}.wear.{seat.hand}~runner",
        JointKind.GLUE,
        runner,
        part,
        (seat.face, y[0], hi[2]),
        glued=True,
        why="the runner is soft; no metal where the box slides",
    )
    return part


def _rests(d: Draft, box: Box, seat: Seat, runner: Placed) -> None:
    side = d.at(f"{box.name}/side.{seat.hand}")
    at = (box.outer(seat.sign), box.y[0], box.z[0])
    d.joint(
        f"{box.name}.runner.{seat.hand}~side",
        JointKind.HELD,
        runner,
        side,
        at,
        why="the side slides on the runner",
    )


def _stop(d: Draft, kit: Kit, box: Box, seat: Seat, runner: Placed, stick: Stick) -> None:
    """A block on the runner's end behind the box: the front comes to rest flush."""
    g, (wide, high), low = box.name, strip_size(stick), world_box(runner)[1][2]
    stop = d.box_part(
        f"{g}.stop.{seat.hand}",
        f"drawer stop, {seat.hand}",
        kit.material("drawer_runner"),
        between(seat.face, seat.face - seat.sign * wide),
        span(box.y[1], high),
        span(low, high),
        grain="x",
        thick="z",
        sizes=("", "", ""),
    )
    screw = kit.screw("wood", 6, high + 8.0, 2 * high - d.practice["fastener.point_cover"])
    y = box.y[1] + high / 2
    d.joint(
        f"{g}.stop.{seat.hand}~runner",
        JointKind.SCREWS,
        stop,
        runner,
        (seat.face, y, low),
        ScrewLine(
            screw=screw,
            # Off the wall, so that a driver goes in beside it.
            start=(seat.face - seat.sign * max(wide / 4, 2 * d.practice["fastener.driver"] - wide), y, low + high),
            end=(seat.face - seat.sign * wide, y, low + high),
            drive=(0.0, 0.0, -1.0),
            count=1,
            ends=min(wide / 4, 5.0),
            apart=10.0,
        ),
        why="set to the hung drawer, so not glued",
    )
