"""How a front is hung on its box: the pull's bolts through both, and screws from inside the box.

Common practice. The holes in the box are wide, so that the front can be shifted while its gaps are set; behind a
solid front they are wide enough, or long enough, for its movement as well.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.drawer_front import Front
from casewright.design.blocks.drawer_place import Box
from casewright.design.blocks.drawer_pulls import NARROW, bolt_pulls
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import world_box
from casewright.findings import Severity
from casewright.stock.model import Screw


def hang_front(d: Draft, kit: Kit, box: Box, front: Front, spec: DrawerSpec) -> None:
    """Bolt the pull through front and box; screw the front on from inside the box besides."""
    z = bolt_pulls(d, kit, box, front, spec)
    if z is None:
        return
    for sign, hand in HANDS:
        lines = _lines(d, box, front, sign)
        if not lines:
            _no_screws(d, box, front)
            return
        for line in lines:
            _screws(d, kit, box, front, spec, line, hand, z)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Holes:
    """Holes in the box for the screws of a front: their width, or slots of a length."""

    wide: float
    slot: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """An upright line of screws: its x, its z span, and the part of the front that they go into."""

    x: float
    z: tuple[float, float]
    into: Placed

    @property
    def length(self) -> float:
        """Up, mm."""
        return self.z[1] - self.z[0]


def _lines(d: Draft, box: Box, front: Front, sign: int) -> list[_Line]:
    """Return the lines of screws on one side of the box, above its bottom: into a slab, the stile, or the rails.

    A stile takes them where its wood and the room for a driver inside the box meet; else each rail that reaches high
    enough; none where neither does.
    """
    z = (box.z[0] + max(20.0, box.groove_up + box.bottom + 2.0), box.z[1])
    reach = min(front.place.x[1] - front.place.x[0], box.x[1] - box.x[0]) / 2 - box.wood
    share = box.middle + sign * reach * d.practice["front.screw_share"]
    room = d.practice["front.screw_room"]
    if not front.stiles:
        return [_Line(x=share, z=z, into=front.face)] if z[1] - z[0] >= room else []
    overlap, driver = _overlap(d, box, front, sign), d.practice["fastener.driver"]

    def in_stile(clear: float) -> list[_Line]:
        """Return the line in the stile, `clear` mm inside the box at least; none where the two do not meet."""
        if overlap < clear or z[1] - z[0] < room:
            return []
        x = box.outer(sign, box.wood) - sign * (overlap + clear) / 2
        return [_Line(x=x, z=z, into=front.stiles[0 if sign < 0 else 1])]

    low, high = front.place.z
    spans = ((z[0], min(z[1], low + front.whole)), (max(z[0], high - front.whole), z[1]))
    # In a narrow front the share of its width would lie on a stile: a rail is screwed where it is alone.
    apart = min(sign * (share - box.middle), _stile_from(box, front, sign) - room / 2)
    rails = [_Line(x=box.middle + sign * apart, z=s, into=r) for s, r in zip(spans, front.rails, strict=True)]
    in_rails = [line for line in rails if line.length >= room and apart >= room / 2]
    return in_stile(max(room / 2, driver)) or in_rails or in_stile(max(room / 2, NARROW))


def _stile_from(box: Box, front: Front, sign: int) -> float:
    """Return how far a stile's inner edge stands from the middle of the box, mm."""
    lo, hi = world_box(front.stiles[0 if sign < 0 else 1])
    return (box.middle - hi[0]) if sign < 0 else (lo[0] - box.middle)


def _overlap(d: Draft, box: Box, front: Front, sign: int) -> float:
    """Return how far a stile's solid wood reaches in beyond the inner face of the box, less what a screw needs, mm."""
    edge = sign * (front.place.x[0] if sign < 0 else front.place.x[1]) - front.whole
    return sign * box.outer(sign, box.wood) - edge - d.practice["front.screw_room"] / 2 + 2.0


def _screws(d: Draft, kit: Kit, box: Box, front: Front, spec: DrawerSpec, line: _Line, hand: str, fixed: float) -> None:
    """Screw the front on along a line from inside the box; `fixed` is the z of the pull."""
    p, inside, z = d.practice, box.y[0] + box.wood, line.z
    screw = kit.screw(
        "washer-head", 8, box.wood + 8.0, box.wood + front.thickness - p["fastener.point_cover"], role="front_screw"
    )
    holes = _holes(d, front, spec, screw, max(abs(v - fixed) for v in z))
    one = line.length < p["front.screw_two"]
    detail = ScrewLine(
        screw=screw,
        start=(line.x, inside, z[0]),
        end=(line.x, inside, z[1]),
        drive=(0.0, -1.0, 0.0),
        count=1 if one else 2,
        ends=6.0 if one else 12.0,
        apart=20.0,
        least=1,
        clearance=holes.wide,
        slot=holes.slot,
        slot_way=(0.0, 0.0, 1.0),
        pilot_at=MadeAt.ASSEMBLY,
    )
    kind = JointKind.SLOTTED_SCREWS if holes.slot else JointKind.SCREWS
    why = "from inside the box, once the gaps are set"
    if front.wood.solid and not front.stiles:
        why += "; the holes leave the solid front room to move"
    name = line.into.path.rpartition("/")[2].replace(f".{hand}", "")
    inner = d.at(f"{box.name}/box_front")
    at = (line.x, box.y[0], fixed)
    d.joint(f"{box.name}/face/{name}~box.{hand}", kind, inner, line.into, at, detail, why=why)


def _no_screws(d: Draft, box: Box, front: Front) -> None:
    value, limit = box.z[1] - box.z[0] - max(20.0, box.groove_up + box.bottom + 2.0), d.practice["front.screw_room"]
    source = "common practice: practice front.screw_room"
    if front.stiles and value >= limit:
        value, limit = _overlap(d, box, front, 1), NARROW
        source = "common practice: half of an offset ratchet, inside the box beside a screw in the stile"
    d.find(
        "drawer.front_screws",
        Severity.STOP,
        f"{box.name}/box_front",
        f"box and {'frame of the ' if front.stiles else ''}front do not meet where screws could hold the front",
        value=value,
        limit=limit,
        source=source,
        remedy="a higher drawer" + (", wider stiles and rails of the front, or a slab front" if front.stiles else ""),
    )


def _holes(d: Draft, front: Front, spec: DrawerSpec, screw: Screw, far: float) -> _Holes:
    """Return the holes in the box: wide enough to set the gaps, and for what a solid front moves from its pull."""
    wide = d.practice["front.hole"]
    if not front.wood.solid or front.stiles or spec.moisture is None:
        return _Holes(wide=wide)
    moves = front.wood.range(spec.moisture, far)
    need = screw.diameter + 2 * moves + 1.0
    # The washer head must still bear all round; a longer way than that asks for slots.
    if need <= screw.head_diameter - 2.0:
        return _Holes(wide=max(wide, need))
    return _Holes(wide=wide, slot=2 * moves + screw.clearance + d.practice["top.slot_extra"])
