"""Concealed hinges: a 35 mm cup bored into the door, an arm on a plate on the case.

Geometry (common practice of the 32 mm system): overlay = 13 − crank + distance of the cup from the door's edge −
height of the plate, which a hinge's data state as its overlay at one distance and one plate. Cranks of about 0, 9 and
18 mm make the full, half and inset kind. The plate's screws stand 37 mm behind the case's front edge, for an inset
door its thickness further back; behind a face frame the plate needs a block that is flush with the opening.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.door_screws import ThroughPacking
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import block
from casewright.design.blocks.shared_wall import keep_screws, moved_clear, screw_boxes, taken_in
from casewright.design.draft import Draft
from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame
from casewright.design.joints.base import Box
from casewright.design.joints.others import Drilled
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Hardware, Placed
from casewright.design.sites import between, centred, depth_along
from casewright.findings import Severity
from casewright.stock.fittings import CupHinge

FLANGE = 1.2  # of the cup's two wings, on the door's back; its rim lies flush in the bore
WING = 1.5  # of the plate, under its screws' heads
ARM_WIDE, ARM_HIGH = 14.0, 12.0
BLOCK_EDGE = 10.0  # mm from an edge of the block to its screws
BLOCK_WOOD = 30.0  # under the heads of a block's screws
BLOCK_LONG = 96.0  # room for the plate and a screw on both sides of it
INTO_CASE, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cup:
    """A hinge with the cup's distance from the door's edge (edge to rim) and the height of its plate, mm."""

    hinge: CupHinge
    edge: float
    plate: float

    @property
    def middle(self) -> float:
        """From the door's edge to the middle of the cup."""
        return self.edge + self.hinge.cup_diameter / 2


def overlay_of(hinge: CupHinge, edge: float, plate: float) -> float:
    """Return how far a door laps over the case with its cup `edge` mm from its edge on a plate `plate` mm high."""
    return hinge.overlay + (edge - hinge.bore_from_edge) - (plate - hinge.plate)


def cups_for(hinges: tuple[CupHinge, ...], overlay: float, host: str) -> tuple[Cup, ...]:
    """Return every hinge and plate that gives an overlay (below zero: inset), the usual distance of the cup first."""
    found = []
    for hinge in hinges:
        for plate in hinge.plates:
            edge = hinge.bore_from_edge + overlay - overlay_of(hinge, hinge.bore_from_edge, plate)
            if hinge.host == host and hinge.bore_from_edge_least - 1e-6 <= edge <= hinge.bore_from_edge_most + 1e-6:
                found.append(Cup(hinge=hinge, edge=edge, plate=plate))
    return tuple(sorted(found, key=lambda c: (abs(c.edge - c.hinge.bore_from_edge), c.plate, c.hinge.id)))


def cup_for(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> Cup | None:
    """Return the hinge that suits a leaf, or None and a finding (once for each leaf)."""
    host = "frame" if _on_frame(leaf, spec) else "wall"
    overlay = -leaf.stands_off
    hinges = kit.all("cup_hinge", CupHinge)
    found = cups_for(hinges, overlay, host)
    if not found:
        spans = [overlay_of(h, e, q) for h in hinges if h.host == host for e in _range(h) for q in h.plates]
        nearest = min(spans, key=lambda s: abs(s - overlay), default=0.0)
        text = f"no cup hinge in stock lets a door lap {overlay:.1f} mm over a {host}"
        _refused(
            d,
            leaf,
            "door.cup_overlay",
            text,
            overlay,
            nearest,
            "another lap or gap, or another hinge for the role cup_hinge",
        )
        return None
    cup = next((c for c in found if c.hinge.door_least - 0.5 <= leaf.t <= c.hinge.door_most), None)
    if cup is None:
        h = found[0].hinge
        limit = h.door_least if leaf.t < h.door_least else h.door_most
        text = f"the hinge takes no door of {leaf.t:.1f} mm"
        _refused(d, leaf, "door.cup_thickness", text, leaf.t, limit, "a thinner or thicker door, or a hinge for it")
        return None
    return cup if _stile_holds(d, leaf, spec, cup) else None


def _on_frame(leaf: Leaf, spec: DoorSpec) -> bool:
    """True where the plate goes on a frame's edge: an overlay door whose host is not the wall itself."""
    return not spec.placed.inset and leaf.host.startswith("frame/")


def _range(hinge: CupHinge) -> tuple[float, float]:
    return (hinge.bore_from_edge_least, hinge.bore_from_edge_most)


def _stile_holds(d: Draft, leaf: Leaf, spec: DoorSpec, cup: Cup) -> bool:
    """Stile ≥ distance of the cup + cup + 3 + groove (trade rule)."""
    if not spec.framed:
        return True
    needed = cup.edge + cup.hinge.cup_diameter + d.practice["door.cup_wall"] + leaf.depth
    if spec.stile + 1e-6 >= needed:
        return True
    message = f"a stile of {spec.stile:.1f} mm has no room for cup and groove"
    _refused(d, leaf, "door.cup_stile", message, spec.stile, needed, f"stiles of {needed:.0f} mm or more")
    return False


def _refused(d: Draft, leaf: Leaf, code: str, message: str, value: float, limit: float, remedy: str) -> None:
    if not any(f.code == code and f.path == d.full(leaf.g) for f in d.findings):
        d.find(
            code,
            Severity.STOP,
            leaf.g,
            message,
            value=value,
            limit=limit,
            source="geometry of cup hinges (common practice)",
            remedy=remedy,
        )


def hang_on_cups(
    d: Draft,
    kit: Kit,
    body: Body,
    opening: Opening,
    leaf: Leaf,
    spec: DoorSpec,
    cup: Cup,
    heights: tuple[float, ...],
) -> None:
    """Bore the cups, place the plates, and the blocks that bring them flush behind a frame."""
    g = leaf.g
    d.let(f"{g}.cup.edge", cup.edge, f"{g}.width", rule="so that the hinge laps as the door does; edge to rim")
    d.let(f"{g}.cup.plate", cup.plate, rule="height of the mounting plate")
    line = cup.hinge.plate_line + (leaf.t if spec.placed.inset else 0.0)
    d.let(f"{g}.cup.plate_line", line, rule="behind the front edge, an inset door's thickness further")
    for number, wanted in enumerate(heights):
        where = f"hinge[{number + 1}]"
        host = d.at(leaf.host)
        z = _clear_height(d, kit, opening, leaf, cup, line, wanted)
        if body.frame > 0 and cup.hinge.host == "wall":
            behind = _block(d, kit, body, opening, leaf, where, line, z)
            if behind is None:
                return
            host = behind
        door_part = _cup(d, kit, leaf, cup, where, z)
        plate = _plate(d, kit, opening, leaf, cup, where, z, line, host)
        d.joint(
            f"{g}.{where}.arm", JointKind.HARDWARE, plate, door_part, plate.frame.origin, why="clipped on the plate"
        )


def _clear_height(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, cup: Cup, line: float, wanted: float) -> float:
    """Return the height of a hinge near the wanted one whose screws miss what is fixed to the wall's other face."""
    s, half = leaf.hinge, cup.hinge.plate_spacing / 2
    wall = d.at(opening.wall(s).name)
    face = opening.wall(s).face

    def boxes(z: float) -> list[Box]:
        low, high = (face, line, z - half), (face, line, z + half)
        return screw_boxes(_own_holes(kit, cup.hinge.plate_screw, low, high, (float(s), 0.0, 0.0), 2 * half))

    most = d.practice["door.hinge_moved"]
    return moved_clear(boxes, taken_in(d, wall), wanted, (wanted - most, wanted + most))


def _cup(d: Draft, kit: Kit, leaf: Leaf, cup: Cup, where: str, z: float) -> Placed:
    g, h, s = leaf.g, cup.hinge, leaf.hinge
    x, y = leaf.outer(s, cup.middle), leaf.y[1]
    half, r = h.screw_spacing / 2 + 5.0, h.cup_diameter / 2
    bodies = (
        cylinder((0.0, 0.0, -h.cup_depth), (0.0, 0.0, 1.0), r, r, h.cup_depth),
        block((-half, half), (h.screw_offset - 6.0, h.screw_offset + 6.0), (0.0, FLANGE)),
    )
    # Own y away from the door's edge, z out of its back: the item is its own mirror image.
    frame = Frame(origin=(x, y, z), x=(0.0, 0.0, -float(s)), y=(-float(s), 0.0, 0.0))
    placed = d.place_hardware(
        f"{g}/{where}.cup",
        f"{where.replace('[', ' ').rstrip(']')}, cup",
        Hardware(item=h.id, bodies=bodies, mass=h.mass / 2),
        frame,
    )
    wood = d.at(leaf.member(s))
    d.keep_out(f"{g}/{where}.bore", (x - r, y - h.cup_depth, z - r), (x + r, y, z + r), placed)
    bore = Drilled(part=wood.path, points=((x, y, z),), drive=OUT, diameter=h.cup_diameter, depth=h.cup_depth)
    d.joint(f"{g}/{where}.cup~bore", JointKind.HARDWARE, wood, placed, (x, y, z), bore)
    sx = leaf.outer(s, cup.middle + h.screw_offset)
    low, high = z - h.screw_spacing / 2, z + h.screw_spacing / 2
    own = kit.named_screw(h.screw)
    wide = own.head_diameter / 2
    d.keep_out(f"{g}/{where}.screws", (sx - wide, y - own.length, low - wide), (sx + wide, y, high + wide), placed)
    d.joint(
        f"{g}/{where}.cup~door",
        JointKind.HARDWARE,
        placed,
        wood,
        (sx, y, z),
        _own_holes(kit, h.screw, (sx, y + FLANGE, low), (sx, y + FLANGE, high), OUT, h.screw_spacing),
    )
    return placed


def _own_holes(
    kit: Kit,
    screw: str,
    start: tuple[float, float, float],
    end: tuple[float, float, float],
    drive: tuple[float, float, float],
    apart: float,
) -> ScrewLine:
    """Return two screws in a fitting's own holes, at both ends of a line."""
    return ScrewLine(
        screw=kit.named_screw(screw),
        start=start,
        end=end,
        drive=drive,
        count=2,
        ends=0.0,
        apart=0.0,
        forced=(0.0, apart),
        bare=True,
    )


def _plate(
    d: Draft, kit: Kit, opening: Opening, leaf: Leaf, cup: Cup, where: str, z: float, line: float, host: Placed
) -> Placed:
    g, h, s = leaf.g, cup.hinge, leaf.hinge
    wing = max(cup.plate, WING)
    half = h.plate_spacing / 2
    near = leaf.y[1] + FLANGE + 0.3 - line  # the arm passes over the cup's flange
    reach = max(ARM_HIGH, cup.middle + leaf.stands_off)
    bodies = (
        block((-half - 6.0, half + 6.0), (max(-6.0, near), 6.0), (0.0, wing)),
        block((-ARM_WIDE / 2, ARM_WIDE / 2), (near, h.arm_reach - h.plate_line), (wing, ARM_HIGH)),
        block((-ARM_WIDE / 2, ARM_WIDE / 2), (near, near + 8.0), (wing, reach)),
    )
    # Own y to the back, z into the opening.
    frame = Frame(origin=(leaf.edge, line, z), x=(0.0, 0.0, float(s)), y=INTO_CASE)
    placed = d.place_hardware(
        f"{g}.{where}.plate",
        f"{where.replace('[', ' ').rstrip(']')}, arm and plate",
        Hardware(item=h.id, bodies=bodies, mass=h.mass / 2),
        frame,
    )
    x = between(leaf.edge, leaf.edge - s * ARM_HIGH)
    d.keep_out(
        f"{g}.{where}.arm",
        (x[0], line + near, z - half - 6.0),
        (x[1], line + h.arm_reach - h.plate_line, z + half + 6.0),
        placed,
    )
    sx = leaf.edge - s * WING
    screws = _own_holes(
        kit, h.plate_screw, (sx, line, z - half), (sx, line, z + half), (float(s), 0.0, 0.0), h.plate_spacing
    )
    keep_screws(d, f"{g}.{where}.plate", screws, placed)
    wall = d.at(opening.wall(s).name)
    thin = (
        host is not wall
        and depth_along(host, (1.0, 0.0, 0.0)) < screws.screw.length + d.practice["fastener.point_cover"]
    )
    if host.path.startswith(d.full(f"{g}.{where}")) and thin:
        through = depth_along(host, (1.0, 0.0, 0.0)) + WING
        most = through + depth_along(wall, (1.0, 0.0, 0.0)) - d.practice["fastener.point_cover"]
        longer = replace(screws, screw=kit.screw("wood-metric", None, through + 10.0, most, shortest=True))
        keep_screws(d, f"{g}.{where}.plate.long", longer, placed)
        detail = ThroughPacking(line=longer, packing=host.path)
        d.joint(f"{g}.{where}.plate~wall", JointKind.HARDWARE, placed, wall, (sx, line, z), detail)
        d.joint(f"{g}.{where}.plate~block", JointKind.HARDWARE, placed, host, (sx, line, z))
    else:
        d.joint(f"{g}.{where}.plate~wall", JointKind.HARDWARE, placed, host, (sx, line, z), screws)
    return placed


def _block(
    d: Draft, kit: Kit, body: Body, opening: Opening, leaf: Leaf, where: str, line: float, z: float
) -> Placed | None:
    """Place the block that carries a plate flush with the opening behind a face frame; None where it has no room."""
    g, s = leaf.g, leaf.hinge
    wall = opening.wall(s)
    if abs(opening.behind(s)) < 0.01:
        return d.at(wall.name)
    least = d.practice["blocking.least"]
    if opening.behind(s) < least:
        _refused(
            d,
            leaf,
            "door.cup_block",
            f"{opening.behind(s):.1f} mm between the opening's edge and the wall behind it: no block holds the plate",
            opening.behind(s),
            least,
            "a wider stile, one flush with the wall, or butt hinges",
        )
        return None
    size = BLOCK_LONG
    name = f"{g}.{where}.block"
    thick = f"{g}.cup.block"
    if thick not in d.led:
        d.let(thick, opening.behind(s), rule="from the wall to the opening's edge, planed")
        d.let(f"{thick}_length", size, rule="room for the plate and a screw on both sides of it")
    placed = d.box_part(
        name,
        "hinge block",
        kit.blocking(d.led[thick]),
        between(leaf.edge, wall.face),
        (body.frame, line + 25.0),
        centred(size, z),
        grain="z",
        thick="x",
        sizes=(f"{thick}_length", "", thick),
    )
    through = opening.behind(s)
    # Heads sunk in thick blocks: an ordinary screw then reaches the wall.
    sunk = max(0.0, through - BLOCK_WOOD)
    wood = through - sunk
    screw = kit.screw(
        "wood", 8, wood + 8.0, wood + wall.thickness - d.practice["fastener.point_cover"], role="block_screw"
    )
    y = (body.frame + line + 25.0) / 2
    aside = max(0.0, (line + 25.0 - body.frame) / 2 - BLOCK_EDGE)
    d.joint(
        f"{name}~wall",
        JointKind.SCREWS,
        placed,
        d.at(wall.name),
        (wall.face, y, z),
        ScrewLine(
            screw=screw,
            start=(leaf.edge, y, z - size / 2),
            end=(leaf.edge, y, z + size / 2),
            drive=(float(s), 0.0, 0.0),
            count=2,
            ends=9.0,
            apart=40.0,
            # Beside the middle where a block, or a plate, on the wall's other face has its screws there.
            others=((0.0, aside, 0.0), (0.0, -aside, 0.0)),
            sunk=sunk,
        ),
        glued=True,
        why="brings the plate flush with the opening",
    )
    return placed
