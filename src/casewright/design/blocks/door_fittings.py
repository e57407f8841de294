"""Stop, catch and strike of a door, and what its floor is packed with (common practice).

An inset door needs a stop at its thickness and a bumper; an overlay one lands on the case, with bumpers. Butt and
knife hinges need a catch, spring-loaded cup hinges do not. Where the floor lies deep behind the rail before it, a
packing strip behind that rail brings it up for stop, catch and bolts.
"""

from __future__ import annotations

from dataclasses import replace

from casewright.design.assembly import HardwareLine, JointKind
from casewright.design.blocks.body import Body
from casewright.design.blocks.door_leaf import DoorSpec, Hinging, Leaf, Meeting
from casewright.design.blocks.door_screws import IntoTenons
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import block, catch_hardware
from casewright.design.blocks.joining import join
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.frames import Frame
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Hardware, Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, between, depth_along, span, world_box
from casewright.stock.fittings import Strike
from casewright.stock.model import Bumper, Catch, Stick

IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)
LIP = 12.0  # mm: a floor that lies deeper behind its rail is packed up; a thinner strip would hold no screw
PACKING_PLAY = 1.0  # mm at both ends of the packing strip


def packed_floor(
    d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, floor_z: float
) -> tuple[DoorSpec, float]:
    """Return the specification and the floor's height of a door whose floor is packed up to the rail before it.

    Both are as given where the floor lies at the rail's edge, or where nothing stands on it.
    """
    height = opening.z[0] - floor_z
    if not (spec.placed.inset and spec.sill.startswith("frame/") and height > LIP):
        return spec, floor_z
    name, p = f"door[{opening.cell}].packing", d.practice
    d.let(f"{name}.length", opening.width - 2 * PACKING_PLAY, opening.width_name, rule="the opening, less its play")
    d.let(f"{name}.height", height, "bottom_rail.width", rule="from the floor to the edge of the rail before it")
    d.let(f"{name}.depth", p["door.packing_depth"], rule="practice: room for stop, catch and bolts")
    strip = d.box_part(
        name,
        "packing strip",
        kit.blocking(p["door.packing_depth"], spec.finish),
        (opening.x[0] + PACKING_PLAY, opening.x[1] - PACKING_PLAY),
        span(body.frame, p["door.packing_depth"]),
        (floor_z, opening.z[0]),
        grain="x",
        thick="y",
        coated="up back",
        sizes=(f"{name}.length", f"{name}.height", f"{name}.depth"),
    )
    for host in (spec.floor, spec.sill):
        why = "its grain runs with what it lies on"
        join(d, kit, f"{name}~{host.removeprefix('frame/')}", d.at(host), strip, JointKind.GLUE, why=why)
    return replace(spec, floor=name), opening.z[0]


def fit_stop_and_catch(
    d: Draft, kit: Kit, body: Body, opening: Opening, leaf: Leaf, spec: DoorSpec, floor_z: float
) -> None:
    """Give a leaf what it closes against, and a catch where its hinges do not hold it shut."""
    bumper = kit.role("bumper", Bumper)
    if not spec.placed.inset or spec.meeting is Meeting.ASTRAGAL:
        d.bought.append(HardwareLine(item=bumper.id, count=2, path=d.full(leaf.member(-leaf.hinge))))
    if not spec.placed.inset:
        return
    thick = d.let(f"{leaf.g}.bumper", bumper.thickness, rule="thickness of the bumper")
    x = _stop_span(d, leaf)
    if spec.meeting is not Meeting.ASTRAGAL:
        _stop(d, kit, leaf, spec, x, leaf.y[1] + thick, floor_z, bumper)
    if spec.hinging is not Hinging.CUP:
        _catch(d, kit, leaf, spec, x, leaf.y[1] + thick, floor_z)


def _stop_span(d: Draft, leaf: Leaf) -> Span:
    latch = -leaf.hinge
    edge = leaf.latch - latch * d.practice["stop.from_edge"]
    return between(edge, edge - latch * d.practice["stop.length"])


def _stop(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, x: Span, y0: float, floor_z: float, bumper: Bumper) -> None:
    """A block on the floor of the opening, behind the latch stile."""
    p, g, floor = d.practice, leaf.g, d.at(spec.floor)
    height, depth = stop_size(kit.stick("door_stop"))
    for name, size in (("length", p["stop.length"]), ("height", height), ("depth", depth)):
        d.let(f"{g}.stop.{name}", size, rule="practice; height and depth are the strip's")
    stop = d.box_part(
        f"{g}.stop",
        "door stop",
        kit.material("door_stop", spec.finish),
        x,
        span(y0, depth),
        span(floor_z, height),
        grain="x",
        thick="y",
        sizes=(f"{g}.stop.length", f"{g}.stop.height", f"{g}.stop.depth"),
    )
    under = depth_along(floor, (0.0, 0.0, 1.0))
    screw = kit.screw("wood", 6, height + 9.0, height + under - p["fastener.point_cover"])
    z = floor_z + height
    d.joint(
        f"{g}.stop~{spec.floor}",
        JointKind.SCREWS,
        stop,
        floor,
        (x[0], y0, floor_z),
        ScrewLine(
            screw=screw,
            start=(x[0], y0 + depth / 2, z),
            end=(x[1], y0 + depth / 2, z),
            drive=(0.0, 0.0, -1.0),
            count=2,
            least=1,
            ends=12.0,
            apart=20.0,
            pilot_at=MadeAt.ASSEMBLY,
        ),
        why="set to the hung door, so not glued",
    )
    d.bought.append(HardwareLine(item=bumper.id, count=2, path=stop.path))


def _catch(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, stop_x: Span, y0: float, floor_z: float) -> None:
    """A magnetic catch beside the stop, its strike on the back of the door."""
    g, floor = leaf.g, d.at(spec.floor)
    catch = kit.role("catch", Catch)
    beside = (stop_x[0] - 6.0 - catch.width) if leaf.hinge < 0 else (stop_x[1] + 6.0)
    middle_x = beside + catch.width / 2
    thick = _strike(d, kit, leaf, spec, middle_x, floor_z + catch.height / 2)
    y0 = max(y0, leaf.y[1] + thick)
    placed = d.place_hardware(
        f"{g}.catch",
        "magnetic catch",
        catch_hardware(catch),
        Frame(origin=(middle_x, y0, floor_z), x=(1.0, 0.0, 0.0), y=IN),
    )
    small = kit.named_screw(catch.screw)
    seat = floor_z + small.head_height + 2.0
    d.joint(
        f"{g}.catch~{spec.floor}",
        JointKind.HARDWARE,
        placed,
        floor,
        (middle_x, y0, floor_z),
        ScrewLine(
            screw=small,
            start=(middle_x - catch.width / 2, y0 + catch.depth / 2, seat),
            end=(middle_x + catch.width / 2, y0 + catch.depth / 2, seat),
            drive=(0.0, 0.0, -1.0),
            count=2,
            ends=0.0,
            apart=0.0,
            forced=(6.0, catch.width - 6.0),
            bare=True,
            pilot_at=MadeAt.ASSEMBLY,
        ),
    )


def _strike(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, x: float, z: float) -> float:
    """Screw the strike to the door's back, opposite the catch; returns its thickness, mm."""
    strike = kit.role("strike", Strike)
    z = max(z, leaf.z[0] + 1.0 + strike.height / 2)
    half, high, t = strike.width / 2, strike.height / 2, strike.thickness
    body = block((-half, half), (-high, high), (0.0, t))
    placed = d.place_hardware(
        f"{leaf.g}/strike",
        "strike plate",
        Hardware(item=strike.id, bodies=(body,), mass=strike.mass),
        Frame(origin=(x, leaf.y[1], z), x=(-1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0)),
    )
    wood, apart, tenons = _behind(d, leaf, x, half - 6.0)
    line = ScrewLine(
        screw=kit.named_screw(strike.screw),
        start=(x - half, leaf.y[1] + t, z),
        end=(x + half, leaf.y[1] + t, z),
        drive=OUT,
        count=len(apart),
        ends=0.0,
        apart=0.0,
        forced=tuple(half + a for a in apart),
        bare=True,
    )
    detail = IntoTenons(line=line, tenons=tenons) if tenons else line
    d.joint(f"{leaf.g}/strike~door", JointKind.HARDWARE, placed, wood, (x, leaf.y[1], z), detail)
    return t


def _behind(d: Draft, leaf: Leaf, x: float, off: float) -> tuple[Placed, tuple[float, ...], tuple[str, ...]]:
    """Return the part at a leaf's lower end at x, where screws beside x have wood in it, and whose tenon is in it."""
    if not leaf.groove:
        return d.at(f"{leaf.g}/slab"), (-off, off), ()
    rail = d.at(f"{leaf.g}/rail.bottom")
    left, right = world_box(d.at(f"{leaf.g}/stile.left")), world_box(d.at(f"{leaf.g}/stile.right"))
    between_stiles = (left[1][0], right[0][0])
    room = min(x - between_stiles[0], between_stiles[1] - x) - 3.0
    if room > 0:
        return rail, ((-off, off) if room >= off else (0.0,)), ()
    stile = d.at(leaf.member(-1 if x < leaf.middle else 1))
    return stile, (0.0,), (rail.path,)


def stop_size(stick: Stick) -> tuple[float, float]:
    """Return (height, depth) of the stop: the strip stands on its narrow edge."""
    _, width, thick = blank_section(stick)
    return max(width, thick), min(width, thick)
