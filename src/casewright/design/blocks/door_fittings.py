"""Knob, stop and catch of an inset door (common practice)."""

from __future__ import annotations

from casewright.design.assembly import HardwareLine, JointKind
from casewright.design.blocks.body import Body, hand_of
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import catch_hardware, pull_hardware
from casewright.design.draft import Draft
from casewright.design.frames import Frame
from casewright.design.joints.others import ThroughBolt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.sections import blank_section
from casewright.design.sites import between, span
from casewright.stock.model import Bumper, Catch, Pull, Stick

IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


def fit_knob(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> None:
    """Place the knob on the latch stile and bolt it through."""
    pull = kit.role("door_pull", Pull)
    stile = d.at(f"{leaf.g}/stile.{hand_of(-spec.hinge)}")
    x = leaf.outer(-spec.hinge, spec.stile / 2)
    z = leaf.z[1] - d.practice["door.pull_below_top"]
    knob = d.place_hardware(
        f"{leaf.g}/pull",
        "door knob",
        pull_hardware(pull),
        Frame(origin=(x, 0.0, z), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0)),
    )
    d.excluded.append(knob.path)
    bolt = kit.screw("machine", 8, leaf.t + 4.0, leaf.t + d.practice["pull.thread_most"])
    d.joint(
        f"{leaf.g}/pull~stile",
        JointKind.HARDWARE,
        stile,
        knob,
        (x, 0.0, z),
        ThroughBolt(bolt=bolt, point=(x, leaf.t, z), drive=OUT, through=(stile.path,), hole=pull.hole),
    )


def fit_stop_and_catch(
    d: Draft, kit: Kit, body: Body, opening: Opening, leaf: Leaf, spec: DoorSpec, floor_z: float
) -> None:
    """A stop block and a magnetic catch on the case's bottom, behind the latch stile."""
    p, g = d.practice, leaf.g
    bottom, latch = d.at("bottom"), -spec.hinge
    bumper = kit.role("bumper", Bumper)
    y0 = leaf.t + d.let(f"{g}.bumper", bumper.thickness, rule="thickness of the bumper")
    stick = kit.stick("door_stop")
    width, height, depth = p["stop.length"], *_stop_size(stick)
    edge = opening.edge(latch) - latch * p["stop.from_edge"]
    x = between(edge, edge - latch * width)
    for name, size in (("length", width), ("height", height), ("depth", depth)):
        d.let(f"{g}.stop.{name}", size, rule="practice; height and depth are the strip's")
    stop = d.box_part(
        f"{g}.stop",
        "door stop",
        kit.material("door_stop", "paint"),
        x,
        span(y0, depth),
        span(floor_z, height),
        grain="x",
        thick="y",
        sizes=(f"{g}.stop.length", f"{g}.stop.height", f"{g}.stop.depth"),
    )
    screw = kit.screw("wood", 6, height + 9.0, height + body.side - p["fastener.point_cover"])
    z = floor_z + height
    d.joint(
        f"{g}.stop~bottom",
        JointKind.SCREWS,
        stop,
        bottom,
        (x[0], y0, floor_z),
        ScrewLine(
            screw=screw,
            start=(x[0], y0 + depth / 2, z),
            end=(x[1], y0 + depth / 2, z),
            drive=(0.0, 0.0, -1.0),
            count=2,
            ends=12.0,
            apart=20.0,
        ),
        why="set to the hung door, so not glued",
    )
    d.bought.append(HardwareLine(item=bumper.id, count=2, path=stop.path))
    catch = kit.role("catch", Catch)
    beside = (x[0] - 6.0 - catch.width) if latch > 0 else (x[1] + 6.0)
    middle_x = beside + catch.width / 2
    placed = d.place_hardware(
        f"{g}.catch",
        "magnetic catch",
        catch_hardware(catch),
        Frame(origin=(middle_x, y0, floor_z), x=(1.0, 0.0, 0.0), y=IN),
    )
    small = kit.named_screw(catch.screw)
    seat = floor_z + small.head_height + 2.0
    d.joint(
        f"{g}.catch~bottom",
        JointKind.HARDWARE,
        placed,
        bottom,
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
        ),
    )


def _stop_size(stick: Stick) -> tuple[float, float]:
    """Return (height, depth) of the stop: the strip stands on its narrow edge."""
    _, width, thick = blank_section(stick)
    return max(width, thick), min(width, thick)
