"""How a moulding is held: glue and pins along the grain; across that of solid wood, glue in front and slots behind."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.drawer_stock import moves_of
from casewright.design.draft import Draft
from casewright.design.frames import Vec, add, dot, scale
from casewright.design.joints.others import PinLine
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline
from casewright.design.parts import Part, Placed
from casewright.design.sections import Run, installed
from casewright.design.sites import Span, depth_along, world_box
from casewright.stock.model import Stick

SLOTTED_LEAST = 60.0  # mm of a moulding behind its glued front that need a screw
HEAD_ROOM = 6.0  # mm for a screw's head inside the case
BITE_LEAST = 4.0  # mm of a screw in a moulding that bears nothing but itself
NEARLY = 0.5  # mm: places of a section that differ by less are as thick as each other
AROUND = 20.0  # mm above and below the line of screws in which nothing may stand against the side

_Against = tuple[Placed, Vec, Vec]  # a part against the inner face of a side, and its box


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """A piece of moulding in place: its name, the part behind it, its wall line over `length` mm.

    `moisture` is the range of the room in % of the wood's moisture content.
    """

    name: str
    part: Placed
    host: Placed
    run: Run
    length: float
    moisture: float

    def moves(self, kit: Kit) -> float:
        """Return how much a mm of the host moves along the moulding; 0 along its grain and for sheets."""
        crosses = abs(dot(self.host.frame.x, self.run.along)) < 0.5
        return moves_of(kit, self.host) * self.moisture if crosses else 0.0

    def joint(self, d: Draft) -> str:
        """Return the name of its joint."""
        return f"{self.name}~{self.host.path.removeprefix(d.path + '/')}"


def fix_moulding(d: Draft, kit: Kit, stick: Stick, f: Fixed) -> None:
    """Glue and headless pins at the height where the section is thickest against the wall.

    Across the grain of solid wood only the first few inches from the front are glued; slotted screws from within hold
    the rest.
    """
    height, face = pin_place(installed(stick))
    wall = add(f.run.start, (0.0, 0.0, height))
    at = add(wall, scale(f.run.out, face))
    # Pins go into the host only, so the line keeps off what stands beside it.
    lo, hi = _overlap(f.host, f.run, f.length)
    glued, rest, why = (lo, hi), (hi, hi), ""
    if f.moves(kit) > 0:
        most, forward = d.practice["moulding.glued_front"], f.run.along[1] > 0
        glued = (lo, min(hi, lo + most)) if forward else (max(lo, hi - most), hi)
        rest = (glued[1], hi) if forward else (lo, glued[0])
        why = f"across the grain of solid wood: glue the first {most:.0f} mm from the front, and no more"
    pin = kit.pin("pin", face, depth_along(f.host, f.run.out))
    line = PinLine(
        pin=pin,
        start=add(at, scale(f.run.along, glued[0])),
        end=add(at, scale(f.run.along, glued[1])),
        drive=scale(f.run.out, -1.0),
        count=max(2, round((glued[1] - glued[0]) / d.practice["pin.spacing"]) + 1),
        ends=18.0,
        apart=12.0,
    )
    d.joint(f.joint(d), JointKind.PINS, f.host, f.part, f.run.start, line, glued=not why, why=why)
    if rest[1] - rest[0] > SLOTTED_LEAST:
        _slotted(d, kit, stick, f, rest)


def _slotted(d: Draft, kit: Kit, stick: Stick, f: Fixed, where: Span) -> None:
    """Screws from inside the case, in slots as long as the side moves behind the glued front.

    Raises KitError where the moulding is too thin for every screw in stock.
    """
    p, run, through = d.practice, f.run, depth_along(f.host, f.run.out)
    into = scale(run.out, -through)
    heights = thickest(installed(stick))
    # The height at which the least stands against the side inside, so that the screws and their driver have room.
    against = _against(d, f, add(run.start, into)[0])
    height, face = min(heights, key=lambda h: _taken(_near(against, run.start[2] + h[0])))
    wall = add(run.start, (0.0, 0.0, height))
    inner = add(wall, into)
    screw = kit.screw("washer-head", None, through + BITE_LEAST, through + face - 1.0)
    length = where[1] - where[0]
    _keep_off(d, f, _near(against, inner[2]))
    line = ScrewLine(
        screw=screw,
        start=add(inner, scale(run.along, where[0])),
        end=add(inner, scale(run.along, where[1])),
        drive=run.out,
        count=max(1, round(length / p["moulding.slots_apart"])),
        least=1,
        ends=min(25.0, length / 3),
        apart=p["fastener.apart"],
        slot=screw.clearance + f.moves(kit) * length + p["top.slot_extra"],
        slot_way=run.along,
    )
    why = "the side moves behind the moulding: slots in the side, no glue"
    d.joint(f"{f.joint(d)}.slots", JointKind.SLOTTED_SCREWS, f.host, f.part, wall, line, why=why)


def _against(d: Draft, f: Fixed, x: float) -> list[_Against]:
    """Return the parts that stand against the inner face of the host, at x, with their boxes."""
    found = []
    for path in d.under(""):
        other = d.at(path.removeprefix(d.path + "/"))
        if path in (f.part.path, f.host.path) or not isinstance(other.thing, Part):
            continue
        lo, hi = world_box(other)
        if min(abs(lo[0] - x), abs(hi[0] - x)) < HEAD_ROOM:
            found.append((other, lo, hi))
    return found


def _near(against: list[_Against], z: float) -> list[_Against]:
    """Return those that stand in the way of screws at a height."""
    return [(other, lo, hi) for other, lo, hi in against if lo[2] < z + AROUND and hi[2] > z - AROUND]


def _taken(near: list[_Against]) -> float:
    """Return how much of the depth they take, mm."""
    return sum(hi[1] - lo[1] for _, lo, hi in near)


def _keep_off(d: Draft, f: Fixed, near: list[_Against]) -> None:
    """Keep the screws out of what stands against the inner face of the host, at their height."""
    room = d.practice["fastener.driver"]
    for other, lo, hi in near:
        name = f"{f.name}.inside[{other.path.removeprefix(d.path + '/')}]"
        low, high = (lo[0] - 1.0, lo[1] - room, lo[2] - room), (hi[0] + 1.0, hi[1] + room, hi[2] + room)
        d.keep_out(name, low, high, other, of=(f.part,))


def _overlap(host: Placed, run: Run, length: float) -> tuple[float, float]:
    size = host.part.blank.size
    ends = [host.frame.point((a, b, c)) for a in (0.0, size[0]) for b in (0.0, size[1]) for c in (0.0, size[2])]
    places = [dot(e, run.along) - dot(run.start, run.along) for e in ends]
    return max(0.0, min(places)), min(length, max(places))


def pin_place(section: Outline) -> tuple[float, float]:
    """Return (height, distance from the wall) of a place on the face for pins: a third up the section."""
    _, y0, _, y1 = section.box
    height = y0 + (y1 - y0) / 3
    return height, _reach(section, height)


def _reach(section: Outline, height: float) -> float:
    """Return how far the section stands out from the wall at a height."""
    crossings = [0.0]
    points = section.points(0.05)
    for i, a in enumerate(points):
        b = points[(i + 1) % len(points)]
        if (a[1] - height) * (b[1] - height) < 0:
            crossings.append(a[0] + (b[0] - a[0]) * (height - a[1]) / (b[1] - a[1]))
    return min(section.box[2], max(crossings))


def thickest(section: Outline) -> list[tuple[float, float]]:
    """Return (height, distance from the wall) of places away from its ends, the thickest and most central first.

    Only places about as thick as the thickest are among them: what bites there bites in all of them.
    """
    _, y0, _, y1 = section.box
    places = [(h, _reach(section, h)) for h in (y0 + (y1 - y0) * i / 20 for i in range(4, 17))]
    most = max(reach for _, reach in places)
    near = [place for place in places if place[1] > most - NEARLY]
    return sorted(near, key=lambda p: (-round(p[1], 3), abs(p[0] - (y0 + y1) / 2)))
