"""A rod for clothes on hangers, between two sides or dividers, in sockets screwed to them.

Common practice: 12 in from the back, which is half a hanger; 2-1/2 in of room over it for the hooks. Where other
hardware is screwed into the same uprights, from this side or the other, the rod moves forward, back or down until its
sockets' screws are clear of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.hardware import block
from casewright.design.blocks.joining import one_screw
from casewright.design.blocks.shared_wall import STEP, keep_screws, meets, screw_boxes, taken_in
from casewright.design.draft import Draft
from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame, Vec, add
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Form, Hardware, Part, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, world_box
from casewright.findings import Severity
from casewright.stock.fittings import RodEnd

FLOOR = 3.0  # mm: wood or metal behind the rod's end
PLAY = 1.0  # mm: the rod is shorter than the room between the floors of its sockets
BORE = 0.5  # mm: the socket is wider than the rod
MOST = 60.0  # mm: a rod moves so far, and no further, to be clear of other hardware's screws
CLOTHES = 40.0  # kg of clothes on a metre of rod (common practice: a full rod of winter coats)

Hand: TypeAlias = tuple[str, Placed, float, float]  # its name, the upright, the x of its face, the way off it


def socket_hardware(end: RodEnd) -> Hardware:
    """Return a socket: x across its width, y up, z out of the side it stands on; bored for the rod."""
    w, h = end.width / 2, end.height / 2
    r = (end.rod + BORE) / 2
    bore = cylinder((0.0, 0.0, FLOOR), (0.0, 0.0, 1.0), r, r, end.depth)
    return Hardware(item=end.id, bodies=(block((-w, w), (-h, h), (0.0, end.depth)),), hollows=(bore,), mass=end.mass)


def hanging_rod(d: Draft, kit: Kit, name: str, left: Placed, right: Placed, under: float, back: float) -> Placed:
    """Place a rod between two upright parts, below `under` (z) and before `back` (y), both the faces there; mm.

    Names: `name/rod`, `name/socket.left`, `name/socket.right`. A rod too long for its load, or a case too shallow for
    hangers, is found. Returns the rod.
    """
    p, end = d.practice, kit.role("rod_end", RodEnd)
    x: Span = (world_box(left)[1][0], world_box(right)[0][0])
    front = world_box(left)[0][1]
    y = max(back - p["rod.from_back"], (front + back) / 2)
    _room(d, name, x[1] - x[0], back - front, end)
    hands = (("left", left, x[0], 1.0), ("right", right, x[1], -1.0))
    y, z = _clear(d, kit, name, end, hands, (y, under - p["rod.from_top"]), front)
    rod = _rod(d, kit, name, x, y, z)
    for hand, side, face, sign in hands:
        at: Vec = (face, y, z)
        frame = Frame(origin=at, x=(0.0, sign, 0.0), y=(0.0, 0.0, 1.0))
        socket = d.place_hardware(f"{name}/socket.{hand}", f"{hand} socket of the rod", socket_hardware(end), frame)
        for word, line in _screws(kit, end, side, at, sign):
            own = f"{name}/socket.{hand}~{word}"
            d.joint(own, JointKind.HARDWARE, socket, side, line.start, line, why="the socket's own hole")
            keep_screws(d, own, line, socket)
        d.joint(f"{name}/rod~socket.{hand}", JointKind.HELD, socket, rod, at, why="it lifts out")
    return rod


def _clear(
    d: Draft, kit: Kit, name: str, end: RodEnd, hands: Sequence[Hand], wanted: tuple[float, float], front: float
) -> tuple[float, float]:
    """Return the (y, z) nearest to the wanted one at which the screws of both sockets are clear; else a finding.

    Rather along the upright than down: rods side by side stay level.
    """
    taken = {side.path: taken_in(d, side) for _, side, _, _ in hands}

    def free(y: float, z: float) -> bool:
        return not any(
            meets(screw_boxes(line), taken[side.path])
            for _, side, face, sign in hands
            for _, line in _screws(kit, end, side, (face, y, z), sign)
        )

    away = [i * STEP for i in range(int(MOST / STEP) + 1)]
    for down in away[:: int(end.height // STEP)]:
        for off in away:
            for y in (wanted[0] - off, wanted[0] + off):
                if y - end.width / 2 > front and free(y, wanted[1] - down):
                    return y, wanted[1] - down
    d.find(
        "rod.no_room",
        Severity.STOP,
        name,
        f"within {MOST:.0f} mm its sockets' screws have no place among those of other hardware in the same uprights",
        value=0.0,
        limit=MOST,
        source="common practice",
        remedy="no rod in this bay, or other drawers and doors beside it",
    )
    return wanted


def _rod(d: Draft, kit: Kit, name: str, x: Span, y: float, z: float) -> Placed:
    stick = kit.stick("hanging_rod")
    section, wide, thick = blank_section(stick)
    length = d.let(
        f"{name}.rod_length", x[1] - x[0] - 2 * FLOOR - PLAY, rule="between the sockets' floors, less the play"
    )
    origin = ((x[0] + x[1]) / 2 - length / 2, y - wide / 2, z - thick / 2)
    part = Part(
        form=Form.STICK,
        stock=stick.id,
        blank=Blank(length=length, width=wide, thickness=thick, section=section),
        mass_density=stick.density,
    )
    return d.place_part(f"{name}/rod", "hanging rod", part, Frame(origin=origin), sizes=(f"{name}.rod_length", "", ""))


def _screws(kit: Kit, end: RodEnd, side: Placed, at: Vec, sign: float) -> list[tuple[str, ScrewLine]]:
    """Return the two screws of a socket at `at`, above and below the bore, their heads on its flange."""
    off = ((end.rod + BORE) / 2 + end.height / 2) / 2
    screw = kit.named_screw(end.screw)
    return [
        (word, one_screw(kit, screw, add(at, (sign * FLOOR, 0.0, dz)), (-sign, 0.0, 0.0), FLOOR, side))
        for word, dz in (("upper", off), ("lower", -off))
    ]


def _room(d: Draft, name: str, span: float, depth: float, end: RodEnd) -> None:
    p = d.practice
    if span > p["rod.span"]:
        d.find(
            "rod.span",
            Severity.WARN,
            name,
            f"a rod over {span:.0f} mm sags under a full load of clothes",
            value=span,
            limit=p["rod.span"],
            source="common practice",
            remedy="a divider, or a support in the middle",
        )
    load = CLOTHES * span / 1000 / 2
    if load > end.load:
        d.find(
            "rod.load",
            Severity.WARN,
            name,
            f"a full rod puts {load:.0f} kg on each socket",
            value=load,
            unit="kg",
            limit=end.load,
            source=end.source,
            remedy="stronger sockets, or a shorter rod",
        )
    if depth < 1.5 * p["rod.from_back"]:
        d.find(
            "rod.depth",
            Severity.WARN,
            name,
            f"hangers stand out of a case that is {depth:.0f} mm deep inside",
            value=depth,
            limit=1.5 * p["rod.from_back"],
            source="half a hanger is 12 in (common practice)",
            remedy="a deeper case, or a rod that runs from front to back",
        )
