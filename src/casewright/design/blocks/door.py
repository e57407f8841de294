"""An inset frame-and-panel door on butt hinges, with knob, stop and catch.

Trade notes 17–22. Stub tenons only with a glued sheet panel or doors up to 600 mm high.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind, Motion, MotionKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import catch_hardware, hinge_leaf, pull_hardware
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, HingeMortise, Tenon
from casewright.design.frames import Frame, Vec
from casewright.design.joints.base import Cuts
from casewright.design.joints.others import ThroughBolt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sections import blank_section
from casewright.design.sites import Span, centred, sink, span
from casewright.findings import Severity
from casewright.stock.model import Bumper, Catch, Hinge, Pull, Stick
from casewright.units.printed import Role

IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSpec:
    """What the order says of one door, mm: gap around its wood, member widths, `hinge` side (−1 left)."""

    gap: float
    stile: float
    rail: float
    hinge: int
    hinges: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leaf:
    """The door as a box: its name, spans, thickness, groove."""

    g: str
    x: Span
    z: Span
    t: float
    groove: float
    depth: float


def door(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, floor_z: float) -> None:
    """Place a whole door with its hinges, knob, stop and catch; findings where it cannot be built."""
    g = f"door[{opening.cell}]"
    leaf = _let_leaf(d, kit, body, opening, spec, g)
    if leaf is None:
        return
    _members(d, kit, leaf, spec)
    _panel(d, kit, leaf, spec)
    _hinges(d, kit, body, opening, leaf, spec)
    _knob(d, kit, leaf, spec)
    _stop_and_catch(d, kit, body, opening, leaf, spec, floor_z)
    edge = spec.hinge * (opening.x[1] - spec.gap / 2)
    d.motions.append(
        Motion(
            id=d.full(f"{g}.swing"),
            kind=MotionKind.SWING,
            members=(d.full(g),),
            origin=(edge, 0.0, leaf.z[0]),
            direction=(0.0, 0.0, float(spec.hinge)),
            reach=d.practice["door.swing"],
        )
    )


def _let_leaf(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, g: str) -> _Leaf | None:
    d.let(f"{g}.gap", spec.gap, rule="finished gap + paint film + swelling")
    width = d.let(
        f"{g}.width",
        opening.width - 2 * spec.gap,
        opening.width_name,
        f"{g}.gap",
        rule="opening less two gaps",
        role=Role.INSERT,
    )
    height = d.let(
        f"{g}.height",
        opening.height - 2 * spec.gap,
        opening.height_name,
        f"{g}.gap",
        rule="opening less two gaps",
        role=Role.INSERT,
    )
    for axis, housing, name in (("x", opening.width_name, "width"), ("z", opening.height_name, "height")):
        d.chain(
            f"{g}.chain.{axis}",
            axis,
            housing,
            (f"{g}.gap", f"{g}.{name}", f"{g}.gap"),
            f"{g}.gap",
            spec.gap * 0.4,
            spec.gap + 1.0,
        )
        d.fit(f"{g}.fit.{axis}", housing, f"{g}.{name}", spec.gap, 2 * spec.gap + 2.5, source="common practice")
    if height > d.practice["door.stub_height"]:
        d.find(
            "door.stub_tenon",
            Severity.WARN,
            g,
            f"stub tenons on a door {height:.0f} mm high",
            value=height,
            limit=d.practice["door.stub_height"],
            source="trade notes 20",
            remedy="glue the sheet panel in its groove",
        )
    sight = min(width - 2 * spec.stile, height - 2 * spec.rail)
    if sight < d.practice["door.sight_least"]:
        d.find(
            "door.too_small",
            Severity.STOP,
            g,
            f"the panel would show {sight:.1f} mm",
            value=sight,
            limit=d.practice["door.sight_least"],
            remedy="make the opening larger or the door's members narrower",
        )
        return None
    panel = d.let(f"{g}.panel.thickness", kit.sheet("door_panel").thickness, rule="panel sheet as measured")
    depth = d.let(f"{g}.groove.depth", d.practice["door.stub_tenon"], rule="practice", role=Role.HOUSING)
    mid_z = (opening.z[0] + opening.z[1]) / 2
    return _Leaf(g=g, x=centred(width), z=centred(height, mid_z), t=body.frame, groove=panel, depth=depth)


def _members(d: Draft, kit: Kit, leaf: _Leaf, spec: DoorSpec) -> None:
    g, y = leaf.g, (0.0, leaf.t)
    material = kit.material("door_frame", "paint")
    d.let(f"{g}.stile.width", spec.stile, rule="as ordered")
    d.let(f"{g}.rail.width", spec.rail, rule="as ordered")
    tenon = d.let(
        f"{g}.tenon.length",
        leaf.depth - d.practice["door.tenon_play"],
        f"{g}.groove.depth",
        rule="groove less a little, so that the shoulders close",
        role=Role.INSERT,
    )
    sight = d.let(
        f"{g}.sight.width",
        leaf.x[1] - leaf.x[0] - 2 * spec.stile,
        f"{g}.width",
        f"{g}.stile.width",
        rule="between the stiles",
    )
    length = d.let(
        f"{g}.rail.length",
        sight + 2 * tenon,
        f"{g}.sight.width",
        f"{g}.tenon.length",
        rule="between stiles + two tenons",
    )
    d.chain(
        f"{g}.chain.members",
        "x",
        f"{g}.width",
        (f"{g}.stile.width", f"{g}.sight.width", f"{g}.stile.width"),
        f"{g}.width",
        50.0,
        5e3,
    )
    d.fit(f"{g}.fit.tenon", f"{g}.groove.depth", f"{g}.tenon.length", 0.0, 2.5, source="common practice")
    for sign, hand in HANDS:
        stile = d.box_part(
            f"{g}/stile.{hand}",
            f"door stile, {hand}",
            material,
            side_x(sign, leaf.x[1], spec.stile),
            y,
            leaf.z,
            grain="z",
            thick="y",
            shows="front",
        )
        d.cut(stile, _groove(d, stile, leaf, (-float(sign), 0.0, 0.0)))
    for name, z, opens in (
        ("top", (leaf.z[1] - spec.rail, leaf.z[1]), (0.0, 0.0, -1.0)),
        ("bottom", (leaf.z[0], leaf.z[0] + spec.rail), (0.0, 0.0, 1.0)),
    ):
        rail = d.box_part(
            f"{g}/rail.{name}",
            f"door rail, {name}",
            material,
            centred(length),
            y,
            z,
            grain="x",
            thick="y",
            shows="front",
        )
        d.cut(rail, _groove(d, rail, leaf, opens))
        for sign, hand in HANDS:
            stile = d.at(f"{g}/stile.{hand}")
            end = rail.face_towards((float(sign), 0.0, 0.0))
            blank = rail.part.blank
            v0 = (blank.thickness - leaf.groove) / 2
            tongue = Tenon(face=end, u0=0.0, u1=blank.width, v0=v0, v1=v0 + leaf.groove, length=tenon)
            at = (sign * sight / 2, leaf.t / 2, (z[0] + z[1]) / 2)
            d.joint(
                f"{g}/rail.{name}~stile.{hand}",
                JointKind.STUB_TENON,
                rail,
                stile,
                at,
                Cuts(cuts=((rail.path, tongue),)),
                glued=True,
            )


def _groove(d: Draft, member: Placed, leaf: _Leaf, opens: Vec) -> Groove:
    """A groove for the panel, centred in the thickness, along the member's inner edge."""
    blank = member.part.blank
    face = member.face_towards(opens)
    v0 = (blank.thickness - leaf.groove) / 2
    return Groove(face=face, u0=0.0, u1=blank.length, v0=v0, v1=v0 + leaf.groove, depth=leaf.depth)


def _panel(d: Draft, kit: Kit, leaf: _Leaf, spec: DoorSpec) -> None:
    g, play = leaf.g, d.practice["door.panel_play_sheet"]
    spans: list[Span] = []
    for axis, size, because in (
        ("width", leaf.x[1] - leaf.x[0] - 2 * spec.stile, f"{g}.width"),
        ("height", leaf.z[1] - leaf.z[0] - 2 * spec.rail, f"{g}.height"),
    ):
        seat = d.let(
            f"{g}.panel.seat_{axis}",
            size + 2 * leaf.depth,
            because,
            f"{g}.groove.depth",
            rule="between groove floors",
            role=Role.HOUSING,
        )
        cut = d.let(
            f"{g}.panel.{axis}",
            seat - play,
            f"{g}.panel.seat_{axis}",
            rule="a sheet panel needs little play",
            role=Role.INSERT,
        )
        d.fit(
            f"{g}.fit.panel_{axis}", f"{g}.panel.seat_{axis}", f"{g}.panel.{axis}", 0.5, 4.0, source="common practice"
        )
        spans.append(centred(cut, 0.0 if axis == "width" else (leaf.z[0] + leaf.z[1]) / 2))
    y = centred(leaf.groove, leaf.t / 2)
    panel = d.box_part(
        f"{g}/panel",
        "door panel",
        kit.material("door_panel", "paint"),
        spans[0],
        y,
        spans[1],
        grain="z",
        thick="y",
        shows="front",
    )
    for member in ("stile.left", "stile.right", "rail.top", "rail.bottom"):
        frame = d.at(f"{g}/{member}")
        d.joint(
            f"{g}/panel~{member}",
            JointKind.GROOVE,
            frame,
            panel,
            frame.frame.origin,
            glued=True,
            why="a sheet panel may be glued",
        )


def _hinges(d: Draft, kit: Kit, body: Body, opening: Opening, leaf: _Leaf, spec: DoorSpec) -> None:
    g, hinge, s = leaf.g, kit.role("hinge", Hinge), spec.hinge
    mortise = (
        d.let(
            f"{g}.hinge.mortise",
            (hinge.closed - spec.gap) / 2,
            f"{g}.gap",
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
            source="trade notes 22",
            remedy="use a thicker hinge or a smaller gap",
        )
        return
    edge = s * opening.x[1]
    door_side, frame_side = f"{g}/stile.{_hand(s)}", f"frame/stile.{_hand(s)}"
    inset = d.practice["door.hinge_end"] + hinge.height / 2
    step = (leaf.z[1] - leaf.z[0] - 2 * inset) / (spec.hinges - 1)
    for number in range(spec.hinges):
        where, z = f"{number + 1}", leaf.z[1] - inset - number * step
        for member, name, seat, out in (
            ("door", door_side, edge - s * (spec.gap + mortise), float(s)),
            ("frame", frame_side, edge + s * mortise, -float(s)),
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


def _hand(sign: int) -> str:
    return "left" if sign < 0 else "right"


def _hinge_screws(
    d: Draft, kit: Kit, leaf: Placed, wood: Placed, hinge: Hinge, bed: HingeMortise, at: tuple[float, float], out: float
) -> None:
    seat, z = at
    screw = kit.named_screw(hinge.screw)
    name = leaf.path.removeprefix(d.path + "/")
    x = seat + out * hinge.leaf_thickness
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


def _knob(d: Draft, kit: Kit, leaf: _Leaf, spec: DoorSpec) -> None:
    pull = kit.role("door_pull", Pull)
    stile = d.at(f"{leaf.g}/stile.{_hand(-spec.hinge)}")
    x = -spec.hinge * (leaf.x[1] - spec.stile / 2)
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


def _stop_and_catch(
    d: Draft, kit: Kit, body: Body, opening: Opening, leaf: _Leaf, spec: DoorSpec, floor_z: float
) -> None:
    """A stop block and a magnetic catch on the case's bottom, behind the latch stile."""
    p, g = d.practice, leaf.g
    bottom, latch = d.at("bottom"), -spec.hinge
    bumper = kit.role("bumper", Bumper)
    y0 = leaf.t + d.let(f"{g}.bumper", bumper.thickness, rule="thickness of the bumper")
    stick = kit.stick("door_stop")
    width, height, depth = p["stop.length"], *_stop_size(stick)
    x1 = opening.x[1] - p["stop.from_edge"]
    x = (x1 - width, x1) if latch > 0 else (-x1, -x1 + width)
    stop = d.box_part(
        f"{g}.stop",
        "door stop",
        kit.material("door_stop", "paint"),
        x,
        span(y0, depth),
        span(floor_z, height),
        grain="x",
        thick="y",
    )
    screw = kit.screw("wood", 6, body.side + 6.0, body.side + height - p["fastener.point_cover"])
    z = floor_z - body.side
    d.joint(
        f"{g}.stop~bottom",
        JointKind.BUTT_SCREWS,
        bottom,
        stop,
        (x[0], y0, floor_z),
        ScrewLine(
            screw=screw,
            start=(x[0], y0 + depth / 2, z),
            end=(x[1], y0 + depth / 2, z),
            drive=(0.0, 0.0, 1.0),
            count=2,
            ends=12.0,
            apart=20.0,
        ),
        glued=True,
        why="from below, where nobody sees it",
    )
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
