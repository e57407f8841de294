"""A closed bay: a panel that does not open, behind the face frame or between the walls of a frameless case.

Common practice. Behind a frame it fills the bay and is glued and pinned to the frame's rear face; without one it lies
flush with the front edges, its own edges banded, and pocket screws from behind hold it.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.bays import Region
from casewright.design.blocks.held import How, hold
from casewright.design.blocks.joining import join
from casewright.design.blocks.shell import Shell
from casewright.design.joints.others import PinLine
from casewright.design.parts import Placed
from casewright.units.printed import Role

FORWARD = (0.0, -1.0, 0.0)
PIN_EDGE = 4.0  # mm of wood between a pin and the opening's edge, at least
GLUE_LEAST = 3.0  # mm of lap that a glue line wants


def fixed_panel(s: Shell, region: Region) -> None:
    """Close a bay with a panel of the role `case`."""
    d, g = s.d, f"closed[{region.cell}]"
    play = d.practice["closed.play"] if s.framed else 0.0
    (x0, x1), (z0, z1) = region.inside, region.within
    for name, size, because in (("width", x1 - x0, "inside.width"), ("height", z1 - z0, "body.height")):
        d.let(f"{g}.room_{name}", size, because, rule="between the walls of its bay", role=Role.HOUSING)
        rule = "fills its bay, less its play"
        d.let(f"{g}.{name}", size - play, f"{g}.room_{name}", rule=rule, role=Role.INSERT)
        d.fit(f"{g}.fit_{name}", f"{g}.room_{name}", f"{g}.{name}", 0.0, 3.0, source="common practice")
    inset = play / 2
    panel = d.box_part(
        g,
        "fixed panel",
        s.material,
        (x0 + inset, x1 - inset),
        (s.y[0], s.y[0] + s.thick),
        (z0 + inset, z1 - inset),
        grain="x",
        thick="y",
        shows="front",
        coated="back",
        sizes=(f"{g}.width", f"{g}.height", "side.thickness"),
    )
    _clear_above(s, region, panel)
    if s.framed:
        _pin(s, region, panel)
        return
    for towards, host in (("left", region.left.name), ("right", region.right.name), ("down", region.low.name)):
        hold(d, s.kit, panel, d.at(host), towards, How.POCKETS, opens="back")


def _pin_at(lap: float, room: float) -> float:
    """Return how far from the wall a pin stands in a lap: in its middle, or as far off as a nailer needs."""
    return max(lap / 2, room)


def _clear_above(s: Shell, region: Region, panel: Placed) -> None:
    """Keep the top's screws, which go up through the front stretcher, out of the panel."""
    d, tie = s.d, region.high.name
    if tie != "stretcher.front":
        return
    (x0, x1), (_, z1), y = region.inside, region.within, s.y[0]
    d.keep_out(f"closed[{region.cell}].head", (x0, y, z1 - s.thick), (x1, y + s.thick, z1), panel, of=(d.at(tie),))


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
