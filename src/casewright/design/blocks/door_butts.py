"""Butt hinges let into door and case: gap = closed thickness − both mortises (common practice)."""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.hardware import hinge_leaf
from casewright.design.draft import Draft
from casewright.design.features.cuts import HingeMortise
from casewright.design.frames import Frame
from casewright.design.joints.base import Cuts
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import depth_along, sink
from casewright.findings import Severity
from casewright.stock.model import Hinge

IN = (0.0, 1.0, 0.0)


def hang_on_butts(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, hinge: Hinge, heights: tuple[float, ...]) -> None:
    """Place the hinges with their mortises; a finding where they close thicker or thinner than the gap."""
    g, s, edge = leaf.g, leaf.hinge, leaf.edge
    mortise = (
        d.let(
            f"{g}.hinge.mortise",
            (hinge.closed - spec.gap) / 2,
            _gap_name(leaf),
            rule="gap = closed thickness − both mortises",
        )
        if hinge.closed > spec.gap
        else 0.0
    )
    if mortise <= 0.2:
        d.find(
            "door.hinge_gap",
            Severity.STOP,
            g,
            f"hinge closes at {hinge.closed:.1f} mm, the gap is {spec.gap:.1f} mm",
            value=spec.gap,
            limit=hinge.closed,
            source="common practice",
            remedy="use a thicker hinge or a smaller gap",
        )
        return
    for number, z in enumerate(heights):
        where = f"{number + 1}"
        for member, name, seat, out in (
            ("door", leaf.member(s), edge - s * (spec.gap + mortise), float(s)),
            ("frame", leaf.host, edge + s * mortise, -float(s)),
        ):
            wood = d.at(name)
            lo = (min(seat, seat + out * mortise), 0.0, z - hinge.height / 2)
            hi = (max(seat, seat + out * mortise), hinge.leaf_width, z + hinge.height / 2)
            bed = sink(HingeMortise, wood, (out, 0.0, 0.0), lo, hi)
            up = (0.0, 0.0, 1.0) if out < 0 else (0.0, 0.0, -1.0)
            frame = Frame(origin=(seat, -hinge.barrel_diameter / 2, z), x=up, y=IN)
            item = hinge_leaf(hinge, member == "door", mortise + spec.gap / 2)
            group = f"{g}/" if member == "door" else f"{g}."
            placed = d.place_hardware(
                f"{group}hinge[{where}].{member}_leaf", f"hinge {where}, {member} leaf", item, frame
            )
            _hinge_screws(d, kit, placed, wood, hinge, bed, (seat, z), out)
        d.joint(
            f"{g}.hinge[{where}].pin",
            JointKind.HARDWARE,
            d.at(f"{g}.hinge[{where}].frame_leaf"),
            d.at(f"{g}/hinge[{where}].door_leaf"),
            (edge, 0.0, z),
            why="the leaves turn on one pin",
        )


def _gap_name(leaf: Leaf) -> str:
    """Return the ledger name of a leaf's gap: a pair shares one."""
    return f"{leaf.g.removesuffix('.left').removesuffix('.right')}.gap"


def _hinge_screws(
    d: Draft, kit: Kit, leaf: Placed, wood: Placed, hinge: Hinge, bed: HingeMortise, at: tuple[float, float], out: float
) -> None:
    seat, z = at
    screw = kit.named_screw(hinge.screw)
    cover = d.practice["fastener.point_cover"]
    room = depth_along(wood, (out, 0.0, 0.0)) - bed.depth - cover + hinge.leaf_thickness
    if "/stile[u" in wood.path:
        # Another door may hang on the other edge of a stile between columns: each has half of it.
        room = (depth_along(wood, (out, 0.0, 0.0)) - cover) / 2 - bed.depth + hinge.leaf_thickness
    if screw.length > room:
        screw = kit.screw(screw.kind, screw.gauge, 9.0, room)
    name = leaf.path.removeprefix(d.path + "/")
    x = seat + out * hinge.leaf_thickness
    half = hinge.height / 2
    d.keep_out(
        f"{name}~room",
        (min(x, seat - out * screw.length), 0.0, z - half),
        (max(x, seat - out * screw.length), hinge.leaf_width, z + half),
        leaf,
    )
    d.joint(f"{name}~bed", JointKind.HARDWARE, wood, leaf, (seat, 0.0, z), Cuts(cuts=((wood.path, bed),)))
    for i, from_pin in enumerate(sorted({h[1] for h in hinge.holes})):
        y = from_pin - hinge.barrel_diameter / 2
        forced = tuple(h[0] for h in hinge.holes if h[1] == from_pin)
        start = (x, y, z - hinge.height / 2)
        d.joint(
            f"{name}~wood[{i + 1}]",
            JointKind.HARDWARE,
            leaf,
            wood,
            (seat, y, z),
            ScrewLine(
                screw=screw,
                start=start,
                end=(x, y, z + hinge.height / 2),
                drive=(-out, 0.0, 0.0),
                count=len(forced),
                ends=0.0,
                apart=0.0,
                forced=forced,
                bare=True,
            ),
        )
