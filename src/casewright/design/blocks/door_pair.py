"""What a pair of doors needs where its leaves meet: a strip behind the gap, and bolts on the leaf that stays shut.

Common practice. The passive leaf closes first. Bolts on its inner face shoot into the floor of the opening, and into
its ceiling where there is one right above; an astragal on its inner face covers the gap, and the other leaf closes
against it.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.door_leaf import DoorSpec, Leaf, Meeting
from casewright.design.blocks.door_screws import IntoTenons
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import block
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame, Vec
from casewright.design.joints.others import Drilled, PinLine
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Form, Hardware, Part, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import centred, depth_along, span
from casewright.stock.fittings import DoorBolt

OUT: Vec = (0.0, -1.0, 0.0)
OFF_FLOOR = 2.0  # the bolt's body stands this much off what its rod shoots into
SEAT = 2.0  # of the screws' heads in the bolt's flange
SHOT = 8.0  # mm of a rod that stand in what it shoots into, at least
BLOCK = 50.0  # length of a block that a rod shoots into, twice its width
LOOSE = 0.5  # how much wider the rod's hole is


def fit_bolts(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec, floor_z: float) -> None:
    """Place the bolts of the passive leaf; behind an overlay door they shoot into the face frame's rails."""
    low, high = (spec.floor, floor_z), (spec.ceiling, spec.ceiling_z)
    if not spec.placed.inset and spec.sill.startswith("frame/"):
        low, high = (spec.sill, opening.z[0]), (spec.head, opening.z[1])
    # Where the floor lies below the edge of the opening, the bolt stays on the door: its rod reaches down, or a block
    # on the floor brings it up.
    item = kit.role("door_bolt", DoorBolt)
    lip = max(0.0, opening.z[0] - low[1])
    if lip <= item.throw - SHOT:
        _bolt(d, leaf, item, "bottom", *low, (0.0, 0.0, 1.0), kit, raised=lip)
    else:
        block_ = _block(d, kit, leaf, spec, low, opening.z[0], item)
        _bolt(d, leaf, item, "bottom", block_, opening.z[0], (0.0, 0.0, 1.0), kit)
        _on_into_floor(d, leaf, item, low, opening.z[0])
    if high[0]:
        _bolt(d, leaf, item, "top", *high, (0.0, 0.0, -1.0), kit)


def _block(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, floor: tuple[str, float], top: float, item: DoorBolt) -> str:
    """Glue a block to the floor, up to the edge of the opening, for the rod of a bolt; return its name."""
    name, at = f"{leaf.g}.bolt_block", leaf.outer(-leaf.hinge, d.practice["door.bolt_in"])
    for what, size in (("length", BLOCK), ("width", BLOCK / 2), ("height", top - floor[1])):
        d.let(f"{name}.{what}", size, rule="up to the edge of the opening, and room around the rod")
    placed = d.box_part(
        name,
        "block of the bolt",
        kit.blocking(top - floor[1], spec.finish),
        centred(BLOCK, at),
        span(leaf.y[1], BLOCK / 2),
        (floor[1], top),
        grain="x",
        thick="z",
        sizes=(f"{name}.length", f"{name}.width", f"{name}.height"),
    )
    host, where = d.at(floor[0]), (at, leaf.y[1], floor[1])
    why = "the floor lies too low for the bolt's rod"
    d.joint(f"{name}~{floor[0]}", JointKind.GLUE, host, placed, where, glued=True, why=why)
    return name


def _on_into_floor(d: Draft, leaf: Leaf, item: DoorBolt, floor: tuple[str, float], top: float) -> None:
    """Bore the floor where the rod goes on through the block, whose upper face is at `top`; the rod marks it."""
    deep = item.throw - (top - floor[1])
    if deep <= 0:
        return
    host, bolt = d.at(floor[0]), d.at(f"{leaf.g}/bolt.bottom")
    rod = (leaf.outer(-leaf.hinge, d.practice["door.bolt_in"]), leaf.y[1] + item.axis, floor[1])
    bore = Drilled(
        part=host.path,
        points=(rod,),
        drive=(0.0, 0.0, -1.0),
        diameter=item.rod + LOOSE,
        depth=deep + 1,
        made_at=MadeAt.ASSEMBLY,
    )
    why = "the rod goes on into the floor"
    d.joint(f"{leaf.g}.bolt.bottom~{floor[0]}.rod", JointKind.HELD, host, bolt, rod, bore, why=why)


def _bolt(
    d: Draft, leaf: Leaf, item: DoorBolt, where: str, case: str, z: float, up: Vec, kit: Kit, raised: float = 0.0
) -> None:
    """Place one bolt; `up` leads from what its rod shoots into to the bolt, which stands `raised` mm further off."""
    g, half = leaf.g, item.width / 2
    into = d.at(case)
    if case.startswith("shelf["):
        # A bolt of another pair may come from its other face: each rod has half of it, less half a millimetre.
        raised = max(raised, item.throw + 1.0 - (depth_along(into, up) - 1.0) / 2)
    x, y = leaf.outer(-leaf.hinge, d.practice["door.bolt_in"]), leaf.y[1]
    rod, reach = item.rod / 2, OFF_FLOOR + item.throw
    bodies = (
        block((-half, half), (0.0, item.length), (0.0, item.height)),
        cylinder((0.0, -reach, item.axis), (0.0, 1.0, 0.0), rod, rod, reach),
    )
    base = (x, y, z + up[2] * (OFF_FLOOR + raised))
    placed = d.place_hardware(
        f"{g}/bolt.{where}",
        f"bolt, {where}",
        Hardware(item=item.id, bodies=bodies, mass=item.mass),
        Frame(origin=base, x=(-up[2], 0.0, 0.0), y=up),
    )
    screw = kit.named_screw(item.screw)
    wood = d.at(leaf.member(-leaf.hinge))
    for i, side in enumerate((-1.0, 1.0)):
        sx = x + side * (half - 3.0)
        ends = [(sx, y + SEAT, base[2] + up[2] * along) for along in (0.0, item.length)]
        line = ScrewLine(
            screw=screw,
            start=ends[0],
            end=ends[1],
            drive=OUT,
            count=2,
            ends=0.0,
            apart=0.0,
            forced=(8.0, item.length - 8.0),
            bare=True,
        )
        into_door = IntoTenons(line=line, tenons=leaf.rails(d.path))
        d.joint(f"{g}/bolt.{where}~door[{i + 1}]", JointKind.HARDWARE, placed, wood, (sx, y, base[2]), into_door)
    point = (x, y + item.axis, z)
    why = "bored at assembly, where the rod marks it"
    wide = d.let(f"{g}.bolt.{where}.hole_width", item.rod + LOOSE, rule=why)
    deep = d.let(f"{g}.bolt.{where}.hole_depth", item.throw + 1.0 - raised, rule=why)
    hole = Drilled(
        part=into.path,
        points=(point,),
        drive=(0.0, 0.0, -up[2]),
        diameter=wide,
        depth=deep,
        made_at=MadeAt.ASSEMBLY,
    )
    d.joint(f"{g}.bolt.{where}~{case}", JointKind.HELD, into, placed, point, hole, why="its rod shoots into it")


def fit_astragal(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec) -> None:
    """Glue and pin the strip to the back of the passive leaf, half of it beyond the leaf's edge; silent without one."""
    if spec.meeting is not Meeting.ASTRAGAL:
        return
    g, stick = leaf.g, kit.stick("astragal")
    section, width, thick = blank_section(stick)
    low = max(leaf.z[0], opening.z[0]) + spec.gap
    length = d.let(
        f"{g}.astragal.length",
        min(leaf.z[1], opening.z[1]) - spec.gap - low,
        f"{g}.height",
        rule="clear of what is above and below the opening",
    )
    part = Part(
        form=Form.STICK,
        stock=stick.id,
        blank=Blank(length=length, width=width, thickness=thick, section=section),
        mass_density=stick.density,
    )
    strip = d.place_part(
        f"{g}/astragal",
        "astragal",
        part,
        Frame(origin=(leaf.latch - width / 2, leaf.y[1], low), x=(0.0, 0.0, 1.0), y=(1.0, 0.0, 0.0)),
        coated="back left right",
        finish=spec.finish,
        sizes=(f"{g}.astragal.length", "", ""),
    )
    _pin_strip(d, kit, leaf, strip, width, thick)


def _pin_strip(d: Draft, kit: Kit, leaf: Leaf, strip: Placed, width: float, thick: float) -> None:
    wood = d.at(leaf.member(-leaf.hinge))
    across = width / 2 + leaf.hinge * width / 4
    length = strip.part.blank.length
    line = PinLine(
        pin=kit.pin("pin", thick, leaf.t),
        start=strip.frame.point((0.0, across, thick)),
        end=strip.frame.point((length, across, thick)),
        drive=OUT,
        count=max(2, round(length / d.practice["pin.spacing"])),
        ends=min(25.0, length / 4),
        apart=10.0,
    )
    name = f"{leaf.g}/astragal~door"
    detail = IntoTenons(line=line, tenons=leaf.rails(d.path))
    why = "its grain runs with the leaf's"
    d.joint(name, JointKind.PINS, strip, wood, strip.frame.origin, detail, glued=True, why=why)
