"""Scribing strips: thin wood between a built-in case and a wall or ceiling that is never straight.

Common practice: planned a little narrower than they are cut; marked along the wall with the case in place, planed to
the line, then glued and pinned. Beside a wall with a skirting board the strip is so wide that the case clears it.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import Body, hand_of, side_x
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.joints.others import PinLine
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, centred, world_box

CLEAR = 2.0  # mm: between the case and a skirting board
STEP = "Set the case in place, mark the wall on the scribing strip with a block and pencil, plane to the line, fix it"


def scribe_side(d: Draft, kit: Kit, body: Body, sign: int, finish: str = "paint", skirting: float = 0.0) -> Placed:
    """Place a strip from a side to the wall beside it, at the front; sign −1 is left. Its width is cut to the wall.

    `skirting` is how thick the board along the foot of that wall is, mm; 0 for none.
    """
    gap, thick = _sizes(d, kit, "side", skirting)
    hand = hand_of(sign)
    host = d.at(f"side.{hand}")
    lo, hi = world_box(host)
    x = side_x(sign, body.width / 2 + gap, gap)
    strip = _strip(d, kit, f"scribe.{hand}", x, (lo[1], lo[1] + thick), (lo[2], hi[2]), "z", "y", finish, hand)
    _pin(d, kit, f"scribe.{hand}", host, strip, (-float(sign), 0.0, 0.0), gap)
    return strip


def scribe_top(d: Draft, kit: Kit, body: Body, host: Placed, finish: str = "paint") -> Placed:
    """Place a strip from the front edge of a level part (a top, a top panel) up to the ceiling; cut to it."""
    gap, thick = _sizes(d, kit, "top")
    lo, hi = world_box(host)
    x = centred(hi[0] - lo[0], (lo[0] + hi[0]) / 2)
    strip = _strip(d, kit, "scribe.top", x, (lo[1], lo[1] + thick), (hi[2], hi[2] + gap), "x", "y", finish, "up")
    _pin(d, kit, "scribe.top", host, strip, (0.0, 0.0, -1.0), gap)
    return strip


def _sizes(d: Draft, kit: Kit, where: str, skirting: float = 0.0) -> Span:
    """Return how far a strip stands out to a true wall, and its thickness; one too narrow for a skirting ignores it."""
    _, wide, thick = blank_section(kit.stick("scribe"))
    if "scribe.cut" not in d.led:
        d.let("scribe.cut", max(wide, d.practice["scribe.width"]), rule="cut so wide, planed to the wall")
        d.let("scribe.thickness", thick, rule="from the drawn section")
    name = f"scribe.{where}.gap"
    if name not in d.led:
        clear = skirting + CLEAR if skirting > 0 else 0.0
        gap = max(d.practice["scribe.gap"], clear if clear <= d.led["scribe.cut"] - CLEAR else 0.0)
        d.let(name, gap, rule="practice: space to a true wall, or what clears the skirting board")
    return d.led[name], thick


def _strip(
    d: Draft, kit: Kit, name: str, x: Span, y: Span, z: Span, grain: str, thick: str, finish: str, wall: str
) -> Placed:
    size, gap = f"{name}_length", f"scribe.{'top' if grain == 'x' else 'side'}.gap"
    along = z if grain == "z" else x
    d.let(size, along[1] - along[0], rule="as long as what it stands against")
    over = d.led["scribe.cut"] - d.led[gap]
    return d.box_part(
        name,
        "scribing strip",
        kit.material("scribe", finish),
        x,
        y,
        z,
        grain=grain,
        thick=thick,
        shows="front",
        rough=Allowance(length=d.practice["rough.length"], width=over),
        surplus=wall,
        sizes=(size, gap, "scribe.thickness"),
    )


def _pin(d: Draft, kit: Kit, name: str, host: Placed, strip: Placed, drive: Vec, gap: float) -> None:
    """Glue it on its edge and pin it through its width."""
    lo, hi = world_box(strip)
    axis = 0 if drive[0] else 2
    run = 2 if axis == 0 else 0
    mid = [(lo[i] + hi[i]) / 2 for i in range(3)]
    start, end = list(mid), list(mid)
    start[axis] = end[axis] = lo[axis] if drive[axis] > 0 else hi[axis]
    start[run], end[run] = lo[run], hi[run]
    length = hi[run] - lo[run]
    into = 15.0
    line = PinLine(
        pin=kit.pin("pin", gap, into),
        start=(start[0], start[1], start[2]),
        end=(end[0], end[1], end[2]),
        drive=drive,
        count=max(2, round(length / d.practice["pin.spacing"]) + 1),
        ends=18.0,
        apart=12.0,
    )
    own = host.path.removeprefix(d.path + "/")
    d.joint(f"{name}~{own}", JointKind.PINS, strip, host, (start[0], start[1], start[2]), line, glued=True, why=STEP)
