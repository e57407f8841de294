"""A closed bay: a panel that does not open, behind the face frame or between the walls of a frameless case.

Common practice. Behind a frame it fills the bay and is glued and pinned to the frame's rear face, or held by pocket
screws at uprights that no member of the frame laps over; without a frame it lies flush with the front edges, its own
edges banded, and pocket screws from behind hold it. Solid wood is held tight at its lower edge alone, in slots of
cleats at its ends, and keeps room to swell above.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.bays import Region
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.face_frame import Wall
from casewright.design.blocks.held import How, hold
from casewright.design.blocks.joining import join
from casewright.design.blocks.shell import Shell
from casewright.design.blocks.top import Moisture
from casewright.design.joints.others import PinLine
from casewright.design.joints.screws import ScrewLine
from casewright.design.parts import Placed
from casewright.design.sites import Span, span
from casewright.units.printed import Role

FORWARD = (0.0, -1.0, 0.0)
PIN_EDGE = 4.0  # mm of wood between a pin and the opening's edge, at least
SLOT_EDGE = 10.0  # mm of wood beyond a slot
GLUE_LEAST = 3.0  # mm of lap that a glue line wants


def fixed_panel(s: Shell, region: Region, wet: Moisture) -> None:
    """Close a bay with a panel of the role `case`; `wet` decides the room of solid wood."""
    d, g = s.d, f"closed[{region.cell}]"
    bare = [w for w in (region.left, region.right) if s.framed and _lap(region, w) < GLUE_LEAST]
    # Screws draw a panel up to the uprights that it stands between; glue on a frame leaves it some play.
    play = 0.0 if bare or not s.framed or s.wood.solid else d.practice["closed.play"]
    x, z = _let_panel(s, region, wet, play)
    made_of, rough = s.glued_up(z[1] - z[0])
    panel = d.box_part(
        g,
        "fixed panel",
        s.material,
        x,
        (s.y[0], s.y[0] + s.thick),
        z,
        grain="x",
        thick="y",
        shows="front",
        coated="back",
        rough=rough,
        made_of=made_of,
        sizes=(f"{g}.width", f"{g}.height", "side.thickness"),
    )
    _clear_above(s, region, panel)
    held = {"left": region.left, "right": region.right}
    if s.wood.solid:
        _cleats(s, region, panel, wet)
        held = {}
    elif s.framed:
        _pin(s, region, panel)
        held = {towards: wall for towards, wall in held.items() if wall in bare}
    for towards, wall in held.items():
        # Between corner posts it is the posts that it meets.
        post = region.frame_left if towards == "left" else region.frame_right
        host = post if s.body.post and wall.name.startswith("side.") else wall.name
        hold(d, s.kit, panel, d.at(host), towards, How.POCKETS, opens="back")
    if held or s.wood.solid:
        hold(d, s.kit, panel, d.at(region.low.name), "down", How.POCKETS, opens="back")


def _let_panel(s: Shell, region: Region, wet: Moisture, play: float) -> tuple[Span, Span]:
    """Let a panel's width and height in its bay and return (x, z): `play` on all sides, for solid wood room above."""
    d, g = s.d, f"closed[{region.cell}]"
    out: list[Span] = []
    for name, (a, b), because in (
        ("width", region.inside, "inside.width"),
        ("height", region.within, "body.height"),
    ):
        d.let(f"{g}.room_{name}", b - a, because, rule="between the walls of its bay", role=Role.HOUSING)
        less, low, rule = play, a + play / 2, "fills its bay, less its play"
        if s.wood.solid and name == "height":
            less, low, rule = _swelling(s, region, wet), a, "fills its bay, less what it swells"
        size = d.let(f"{g}.{name}", b - a - less, f"{g}.room_{name}", rule=rule, role=Role.INSERT)
        most = max(3.0, less + 1.0)
        d.fit(f"{g}.fit_{name}", f"{g}.room_{name}", f"{g}.{name}", 0.0, most, source="common practice")
        out.append(span(low, size))
    return out[0], out[1]


def _lap(region: Region, wall: Wall) -> float:
    """Return how wide the frame's member before an upright laps over what stands beside it, mm."""
    return abs((region.x[0] if wall is region.left else region.x[1]) - wall.face)


def _swelling(s: Shell, region: Region, wet: Moisture) -> float:
    """Let what a solid panel, held at its lower edge, may grow upwards, mm."""
    g, height = f"closed[{region.cell}]", region.within[1] - region.within[0]
    rule = f"what it swells from {wet.fitted:.1f} to {wet.damp:.1f} %, and its play"
    free = s.wood.swells(wet, height) + s.d.practice["closed.play"]
    return s.d.let(f"{g}.free", free, f"{g}.room_height", rule=rule)


def cleat_depth(s: Shell) -> float:
    """Return how far behind a fixed panel the cleats that hold it reach, mm; 0 where it has none."""
    return s.thick if s.wood.solid else 0.0


def _cleats(s: Shell, region: Region, panel: Placed, wet: Moisture) -> None:
    """Glue a cleat to each upright behind a solid panel, grain on grain, and screw the panel to both in slots."""
    d, g = s.d, f"closed[{region.cell}]"
    wide, end = d.practice["closed.cleat"], d.practice["closed.cleat_ends"]
    z = (region.within[0] + end, region.within[1] - end)
    d.let(f"{g}.cleat.length", z[1] - z[0], f"{g}.room_height", rule="short of its bay at both ends")
    d.let(f"{g}.cleat.width", wide, rule="practice: room for a driver beside the upright")
    far = z[1] - region.within[0]
    d.let(f"{g}.movement", s.wood.range(wet, far), f"{g}.height", rule="between its lower edge and the last slot")
    for wall, (sign, hand) in zip((region.left, region.right), HANDS, strict=True):
        x = span(wall.face, wide) if sign < 0 else span(wall.face - wide, wide)
        cleat = d.box_part(
            f"{g}.cleat.{hand}",
            f"cleat, {hand}",
            s.material,
            x,
            span(s.y[0] + s.thick, s.thick),
            z,
            grain="z",
            thick="y",
            sizes=(f"{g}.cleat.length", f"{g}.cleat.width", "side.thickness"),
        )
        why = "long grain to long grain"
        join(d, s.kit, f"{g}.cleat.{hand}~{wall.name}", d.at(wall.name), cleat, JointKind.GLUE, why=why)
        line = _slotted(s, (x[0] + x[1]) / 2, z, d.led[f"{g}.movement"], _off_middle(s, wet, far))
        if f"{g}.slot" not in d.led:
            rule = "movement + shank + spare"
            d.let(f"{g}.slot", line.slot, f"{g}.movement", rule=rule, role=Role.HOUSING)
        d.joint(
            f"{g}~cleat.{hand}",
            JointKind.SLOTTED_SCREWS,
            cleat,
            panel,
            (x[0], s.y[0] + s.thick, z[0]),
            line,
            why="slots: the solid panel moves up and down from its lower edge",
        )


def _off_middle(s: Shell, wet: Moisture, far: float) -> float:
    """Return how far over the middle of its slot the last screw stands on the day of fitting, mm."""
    return s.wood.moves * (wet.fitted - (wet.dry + wet.damp) / 2) * far


def _slotted(s: Shell, x: float, z: Span, movement: float, off: float) -> ScrewLine:
    """Return the screws of a cleat at `x` over a height: from behind, in slots as long as the last one needs."""
    p, t = s.d.practice, s.thick
    screw = s.kit.screw("washer-head", 8, t + 8.0, 2 * t - p["fastener.point_cover"], role="top_screw")
    slot, y = movement + screw.diameter + p["top.slot_extra"], s.y[0] + 2 * t
    return ScrewLine(
        screw=screw,
        start=(x, y, z[0]),
        end=(x, y, z[1]),
        drive=FORWARD,
        count=max(2, round((z[1] - z[0]) / p["butt.screw_spacing"])),
        ends=slot / 2 + SLOT_EDGE,
        apart=slot + SLOT_EDGE,
        least=1,
        slot=slot,
        slot_way=(0.0, 0.0, 1.0),
        slot_at=off,
    )


def _pin_at(lap: float, room: float) -> float:
    """Return how far from the wall a pin stands in a lap: in its middle, or as far off as a nailer needs."""
    return max(lap / 2, room)


def _clear_above(s: Shell, region: Region, panel: Placed) -> None:
    """Keep the top's screws, which go up through the front stretcher, out of the panel and off it for their driver."""
    d, tie = s.d, region.high.name
    if tie != "stretcher.front":
        return
    (x0, x1), (_, z1), y = region.inside, region.within, s.y[0]
    off = d.practice["fastener.driver"] / 2  # the other half is the screw's own room
    boxes = {"head": ((x0, x1), s.thick + off)}
    if s.wood.solid:
        wide = d.practice["closed.cleat"]
        boxes |= {"cleat.left": ((x0, x0 + wide), 2 * s.thick), "cleat.right": ((x1 - wide, x1), 2 * s.thick)}
    for name, (x, deep) in boxes.items():
        box = (x[0], y, z1 - s.thick), (x[1], y + deep, z1)
        d.keep_out(f"closed[{region.cell}].{name}", *box, panel, of=(d.at(tie),))


def _pin(s: Shell, region: Region, panel: Placed) -> None:
    """Glue and pins from behind into the members of the frame that the panel laps over."""
    d, y = s.d, s.y[0] + s.thick
    pin = s.kit.pin("brad", s.thick, s.body.frame)
    (x0, x1), (z0, z1) = region.x, region.z
    left, right, high = x0 - region.left.face, region.right.face - x1, region.high.face - z1
    room = d.practice["closed.nailer"]
    sides = (
        (
            region.frame_left,
            (region.left.face + _pin_at(left, room), z0),
            (region.left.face + _pin_at(left, room), z1),
            left,
        ),
        (
            region.frame_right,
            (region.right.face - _pin_at(right, room), z0),
            (region.right.face - _pin_at(right, room), z1),
            right,
        ),
        (
            region.frame_high,
            (x0, region.high.face - _pin_at(high, room)),
            (x1, region.high.face - _pin_at(high, room)),
            high,
        ),
    )
    for member, a, b, lap in sides:
        if lap < room + PIN_EDGE:
            # Too narrow a lap for a pin, or for the nailer beside the wall: glue alone joins it there.
            if lap >= GLUE_LEAST:
                name = f"closed[{region.cell}]~{member.removeprefix('frame/')}"
                join(d, s.kit, name, panel, d.at(member), JointKind.GLUE, why="too narrow a lap for pins")
            continue
        length = abs(b[0] - a[0]) + abs(b[1] - a[1])
        line = PinLine(
            pin=pin,
            start=(a[0], y, a[1]),
            end=(b[0], y, b[1]),
            drive=FORWARD,
            count=max(2, round(length / d.practice["pin.spacing"]) + 1),
            ends=min(20.0, length / 4),
            apart=12.0,
        )
        name = member.removeprefix("frame/")
        d.joint(
            f"closed[{region.cell}]~{name}", JointKind.PINS, panel, d.at(member), (a[0], s.y[0], a[1]), line, glued=True
        )
