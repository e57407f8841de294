"""How a front is hung on its box: the pull's bolts through both, and screws from inside the box.

Common practice. The holes in the box are wide, so that the front can be shifted while its gaps are set; behind a
solid front they are wide enough, or long enough, for its movement as well.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.drawer_box import Box
from casewright.design.blocks.drawer_front import Front
from casewright.design.blocks.drawer_spec import DrawerSpec
from casewright.design.blocks.hardware import pull_hardware
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.frames import Frame
from casewright.design.joints.others import ThroughBolt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import world_box
from casewright.findings import Severity
from casewright.stock.model import Pull, Screw


def hang_front(d: Draft, kit: Kit, box: Box, front: Front, spec: DrawerSpec) -> None:
    """Bolt the pull through front and box; screw the front on from inside the box besides."""
    g = box.name
    pull = kit.role("drawer_pull", Pull)
    if not _base_fits(d, pull, g):
        return
    z = (front.place.z[0] + front.place.z[1]) / 2
    wide = front.place.x[1] - front.place.x[0]
    places = (
        ((f"{g}/face/pull", "drawer pull", front.middle),)
        if spec.pulls == 1
        else tuple(
            (f"{g}/face/pull.{hand}", f"drawer pull, {hand}", front.middle + sign * wide * d.practice["pull.share"] / 2)
            for sign, hand in HANDS
        )
    )
    for name, label, x in places:
        _pull(d, kit, box, front, pull, name, label, x, z)
    for low, part, tag in _screw_lines(box, front):
        _screws(d, kit, box, front, spec, part, low, tag, z)


def _pull(d: Draft, kit: Kit, box: Box, front: Front, pull: Pull, name: str, label: str, x: float, z: float) -> None:
    p, face = d.practice, world_box(front.face)[0][1]
    knob = d.place_hardware(
        name, label, pull_hardware(pull), Frame(origin=(x, face, z), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
    )
    d.excluded.append(knob.path)
    inside = box.y[0] + box.wood
    through = inside - face
    bolt = kit.screw("machine", 8, through + 4.0, through + p["pull.thread_most"])
    inner = d.at(f"{box.name}/box_front")
    parts = (front.face.path, *((front.block.path,) if front.block is not None else ()), inner.path)
    centres = (x,) if pull.centres == 0 else (x - pull.centres / 2, x + pull.centres / 2)
    for i, cx in enumerate(centres):
        d.joint(
            f"{name}~front[{i + 1}]",
            JointKind.HARDWARE,
            front.face,
            knob,
            (cx, face, z),
            ThroughBolt(bolt=bolt, point=(cx, inside, z), drive=(0.0, -1.0, 0.0), through=parts, hole=pull.hole),
        )


def _screw_lines(box: Box, front: Front) -> list[tuple[tuple[float, float], Placed, str]]:
    """Return the z spans on which screws may stand, the part that they go into, and what tells their joints apart."""
    above = box.z[0] + max(20.0, box.groove_up + box.bottom + 2.0)
    if not front.rails:
        return [((above, box.z[1]), front.face, "")]
    out = []
    for rail, name in zip(front.rails, ("bottom", "top"), strict=True):
        lo, hi = world_box(rail)
        out.append(((max(above, lo[2]), min(box.z[1], hi[2])), rail, f".{name}"))
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class _Holes:
    """Holes in the box for the screws of a front: their width, or slots of a length."""

    wide: float
    slot: float = 0.0


def _screws(
    d: Draft,
    kit: Kit,
    box: Box,
    front: Front,
    spec: DrawerSpec,
    into: Placed,
    z: tuple[float, float],
    tag: str,
    fixed: float,
) -> None:
    p, inside = d.practice, box.y[0] + box.wood
    if z[1] - z[0] < p["front.screw_room"]:
        return _no_screws(d, box, into, z)
    thick = front.thickness
    screw = kit.screw("washer-head", 8, box.wood + 8.0, box.wood + thick - p["fastener.point_cover"])
    holes = _holes(d, front, spec, screw, max(abs(v - fixed) for v in z))
    inner = d.at(f"{box.name}/box_front")
    name = into.path.rpartition("/")[2] if tag else "front"
    low = z[1] - z[0] < 44.0  # one screw, where two would stand too close
    for sign, hand in HANDS:
        reach = min(front.place.x[1] - front.place.x[0], box.x[1] - box.x[0]) / 2 - box.wood
        x = box.middle + sign * reach * p["front.screw_share"]
        line = ScrewLine(
            screw=screw,
            start=(x, inside, z[0]),
            end=(x, inside, z[1]),
            drive=(0.0, -1.0, 0.0),
            count=1 if low else 2,
            ends=6.0 if low else 12.0,
            apart=20.0,
            least=1,
            clearance=holes.wide,
            slot=holes.slot,
            slot_way=(0.0, 0.0, 1.0),
            pilot_at=MadeAt.ASSEMBLY,
        )
        kind = JointKind.SLOTTED_SCREWS if holes.slot else JointKind.SCREWS
        why = "from inside the box, once the gaps are set"
        if front.wood.solid and not front.rails:
            why += "; the holes leave the solid front room to move"
        d.joint(f"{box.name}/face/{name}~box.{hand}", kind, inner, into, (x, box.y[0], fixed), line, why=why)
    return None


def _no_screws(d: Draft, box: Box, into: Placed, z: tuple[float, float]) -> None:
    d.find(
        "drawer.front_screws",
        Severity.STOP,
        into.path.removeprefix(d.path + "/"),
        f"box and front meet over {z[1] - z[0]:.1f} mm here, too little for a screw",
        value=z[1] - z[0],
        limit=d.practice["front.screw_room"],
        source="common practice: practice front.screw_room",
        remedy="a higher drawer, wider rails of the front, or a slab front",
    )


def _holes(d: Draft, front: Front, spec: DrawerSpec, screw: Screw, far: float) -> _Holes:
    """Return the holes in the box: wide enough to set the gaps, and for what a solid front moves from its pull."""
    wide = d.practice["front.hole"]
    if not front.wood.solid or front.rails or spec.moisture is None:
        return _Holes(wide=wide)
    moves = front.wood.range(spec.moisture, far)
    need = screw.diameter + 2 * moves + 1.0
    # The washer head must still bear all round; a longer way than that asks for slots.
    if need <= screw.head_diameter - 2.0:
        return _Holes(wide=max(wide, need))
    return _Holes(wide=wide, slot=2 * moves + screw.clearance + d.practice["top.slot_extra"])


def _base_fits(d: Draft, pull: Pull, g: str) -> bool:
    """A pull's base is narrower than the field inside an applied frame (common practice)."""
    if not d.has(f"{g}/face/applied.left"):
        return True
    moulding = d.at(f"{g}/face/applied.left").part.blank.width
    base = pull.base_width if pull.centres == 0 else pull.base_height
    field = d.led[f"{g}.applied.height"] - 2 * moulding
    if field >= base + d.practice["pull.field_room"]:
        return True
    d.find(
        "drawer.pull_field",
        Severity.STOP,
        f"{g}/face/front",
        f"the field inside the applied frame is {field:.1f} mm high, the pull's base {base:.1f} mm",
        value=field,
        limit=base + d.practice["pull.field_room"],
        source="common practice",
        remedy="a higher drawer, a smaller pull, a narrower moulding or margin",
    )
    return False
