"""Straight knife hinges: flat leaves on a pin, let into the ends of an inset door and into the case around it.

The gap at the door's ends = washer + 2 × (leaf − mortise). The pin stands so far in from the door's edge that its
front corner clears the case: with the pin p behind the face and a in from the edge, √(a² + p²) − a must be less than
the gap (the circle of the corner; derived).
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.door_screws import IntoTenons
from casewright.design.blocks.hardware import block
from casewright.design.blocks.shared_wall import meets
from casewright.design.draft import Draft
from casewright.design.features.cuts import HingeMortise
from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame, Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Hardware, Placed
from casewright.design.sites import between, depth_along, sink
from casewright.design.volumes import Volume
from casewright.findings import Severity
from casewright.stock.fittings import KnifeHinge
from casewright.stock.model import Screw

LAND = 1.5  # wood between a leaf's mortise and the door's face
LEAST_MORTISE = 0.5
SCREW_LEAST = 9.0  # mm: a shorter screw holds no hinge
UP, DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)


def pivot_in(d: Draft, hinge: KnifeHinge, spec: DoorSpec) -> tuple[float, float]:
    """Return how far the pin stands in from the door's edge and behind its face, mm."""
    back = hinge.leaf_width / 2 + LAND
    room = max(spec.gap - d.practice["door.knife_clear"], 0.05)
    return max((back * back - room * room) / (2 * room), hinge.leaf_width / 2 + LAND), back


def mortise_depth(hinge: KnifeHinge, gap: float) -> float:
    """Return the depth of each leaf's mortise for a gap at the door's end, mm."""
    return hinge.leaf_thickness - (gap - hinge.washer) / 2


def knife_for(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> KnifeHinge | None:
    """Return the first knife hinge in stock that the leaf has room for, or None and a finding (once for each leaf)."""
    problem, fits = _choose(d, kit, leaf, spec)
    if problem is not None:
        _refused(d, leaf, *problem)
    return fits


def _choose(
    d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec
) -> tuple[tuple[str, str, float, float] | None, KnifeHinge | None]:
    """Return what is wrong (code, message, value, limit), or the hinge."""
    if not (spec.sill and spec.head):
        return ("door.knife_rails", "knife hinges need a level part right above and below the door", 0.0, 1.0), None
    straight = [h for h in kit.all("knife_hinge", KnifeHinge) if h.pin_out == 0]
    thin = [h for h in straight if mortise_depth(h, spec.gap) >= LEAST_MORTISE and spec.gap >= h.washer]
    if not thin:
        limit = max((h.washer + 2 * (h.leaf_thickness - LEAST_MORTISE) for h in straight), default=0.0)
        return ("door.knife_gap", f"a gap of {spec.gap:.1f} mm does not suit", spec.gap, limit), None
    # Clear of the rail's tongue in the stile.
    width = spec.stile - leaf.depth if spec.framed else leaf.x[1] - leaf.x[0]
    ends = {h.id: pivot_in(d, h, spec)[0] - h.leaf_width / 2 + h.leaf_length for h in thin}
    fits = next((h for h in thin if ends[h.id] <= width), None)
    if fits is None:
        text = f"its leaf would meet the rail's tenon: the stile has {width:.1f} mm of room"
        return ("door.knife_stile", text, width, min(ends.values())), None
    return None, fits


def _refused(d: Draft, leaf: Leaf, code: str, message: str, value: float, limit: float) -> None:
    if not any(f.code == code and f.path == d.full(leaf.g) for f in d.findings):
        d.find(
            code,
            Severity.STOP,
            leaf.g,
            message,
            value=value,
            limit=limit,
            source="geometry of knife hinges (derived)",
            remedy="butt or cup hinges, or change what stands against them",
        )


def hang_on_knives(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, hinge: KnifeHinge) -> None:
    """Let a hinge into each end of the leaf, and its fellow into the case."""
    g = leaf.g
    across, back = pivot_in(d, hinge, spec)
    d.let(f"{g}.knife.in", across, rule="so that the door's front corner clears the case as it swings")
    d.let(f"{g}.knife.back", back, rule="the leaf's mortise keeps wood before it")
    deep = d.let(f"{g}.knife.mortise", mortise_depth(hinge, spec.gap), rule="gap = washer + 2 × (leaf − mortise)")
    x, y = leaf.outer(leaf.hinge, across), leaf.y[0] + back
    for where, end, case, way in (("top", leaf.z[1], spec.head, UP), ("bottom", leaf.z[0], spec.sill, DOWN)):
        far = end + way[2] * spec.gap
        wood = d.at(leaf.member(leaf.hinge))
        own = _leaf(d, kit, leaf, hinge, f"{g}/knife.{where}", wood, (x, y, end), way, deep, pin=True)
        other = _leaf(
            d, kit, leaf, hinge, f"{g}.knife.{where}", d.at(case), (x, y, far), (0.0, 0.0, -way[2]), deep, pin=False
        )
        d.joint(f"{g}.knife.{where}.pin", JointKind.HARDWARE, other, own, (x, y, end), why="turns on its pin")


def _screw(kit: Kit, hinge: KnifeHinge, wood: Placed, out: Vec) -> Screw:
    """Return the hinge's own screw, or a shorter one of its gauge for a rail or shelf with a door on either side."""
    screw, most = kit.named_screw(hinge.screw), depth_along(wood, out) / 2 - 1.0
    last = wood.path.rpartition("/")[2]
    if screw.length <= most or not last.startswith(("rail[", "shelf[")) or most < SCREW_LEAST:
        return screw
    try:
        return kit.screw(screw.kind, screw.gauge, SCREW_LEAST, most)
    except KitError:
        return screw


def _leaf(
    d: Draft,
    kit: Kit,
    leaf: Leaf,
    hinge: KnifeHinge,
    name: str,
    wood: Placed,
    at: Vec,
    out: Vec,
    deep: float,
    *,
    pin: bool,
) -> Placed:
    """Place one leaf of a hinge; `at` is where the pin meets the wood's surface, `out` the way off it."""
    s, w = leaf.hinge, hinge.leaf_width / 2
    far = hinge.leaf_length - w
    seat = at[2] - out[2] * deep
    bodies: list[Volume] = [block((-w, w), (-w, far), (0.0, hinge.leaf_thickness))]
    if pin:
        r = hinge.pin_diameter / 2
        bodies.append(cylinder((0.0, 0.0, hinge.leaf_thickness), (0.0, 0.0, 1.0), r, r, hinge.washer))
    # Own y from the pin into the door, z off the wood.
    inward = (-float(s), 0.0, 0.0)
    x_axis = (0.0, float(s) * out[2], 0.0)
    frame = Frame(origin=(at[0], at[1], seat), x=x_axis, y=inward)
    placed = d.place_hardware(
        name,
        f"knife hinge, {name.rpartition('.')[2]}",
        Hardware(item=hinge.id, bodies=tuple(bodies), mass=hinge.mass / 4),
        frame,
    )
    x = between(at[0] + s * w, at[0] - s * far)
    z = between(at[2], seat)
    bed = sink(HingeMortise, wood, out, (x[0], at[1] - w, z[0]), (x[1], at[1] + w, z[1]))
    d.joint(f"{name}~bed", JointKind.HARDWARE, wood, placed, at, Cuts(cuts=((wood.path, bed),)))
    screw = _screw(kit, hinge, wood, out)
    d.keep_out(f"{name}~bed", (x[0], at[1] - w, z[0]), (x[1], at[1] + w, z[1]), placed)
    # Around each screw alone: pocket screws and dowels at the ends of narrow rails pass behind them.
    z, r = between(at[2], seat - out[2] * screw.length), screw.diameter / 2
    rooms = [((at[0] - s * hole - r, at[1] - r, z[0]), (at[0] - s * hole + r, at[1] + r, z[1])) for hole in hinge.holes]
    if meets(rooms, [(k.lo, k.hi) for k in d.keepouts if ".knife." in k.id and "~room[" in k.id]):
        text = "its screws meet those of the door on the other side of what lies between them"
        _refused(d, leaf, "door.knife_shared", text, screw.length, depth_along(wood, out) / 2)
    for i, (lo, hi) in enumerate(rooms):
        d.keep_out(f"{name}~room[{i + 1}]", lo, hi, placed)
    face = seat + out[2] * hinge.leaf_thickness
    last = max(hinge.holes)
    screws = ScrewLine(
        screw=screw,
        start=(at[0], at[1], face),
        end=(at[0] - s * last, at[1], face),
        drive=(0.0, 0.0, -out[2]),
        count=len(hinge.holes),
        ends=0.0,
        apart=0.0,
        forced=hinge.holes,
        bare=True,
    )
    detail = IntoTenons(line=screws, tenons=leaf.rails(d.path)) if pin else screws
    d.joint(f"{name}~wood", JointKind.HARDWARE, placed, wood, at, detail)
    return placed
