"""An inset frame-and-panel door on butt hinges, with knob, stop and catch.

Common practice. Stub tenons only with a glued sheet panel or doors up to 600 mm high.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind, Motion, MotionKind
from casewright.design.blocks.body import HANDS, Body, hand_of
from casewright.design.blocks.door_fittings import fit_knob, fit_stop_and_catch
from casewright.design.blocks.door_hinges import hang_on_hinges
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove, Tenon
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, between, centred
from casewright.findings import Severity
from casewright.stock.model import Hinge
from casewright.units.printed import Role

IN, OUT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


def door(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, floor_z: float) -> None:
    """Place a whole door with its hinges, knob, stop and catch; findings where it cannot be built."""
    g = f"door[{opening.cell}]"
    leaf = _let_leaf(d, kit, body, opening, spec, g)
    if leaf is None:
        return
    _members(d, kit, leaf, spec)
    _panel(d, kit, leaf, spec)
    hang_on_hinges(d, kit, body, opening, leaf, spec)
    fit_knob(d, kit, leaf, spec)
    fit_stop_and_catch(d, kit, body, opening, leaf, spec, floor_z)
    edge = opening.edge(spec.hinge) - spec.hinge * spec.gap / 2
    d.motions.append(
        Motion(
            id=d.full(f"{g}.swing"),
            kind=MotionKind.SWING,
            members=(d.full(g),),
            origin=(edge, -kit.role("hinge", Hinge).barrel_diameter / 2, leaf.z[0]),
            direction=(0.0, 0.0, float(spec.hinge)),
            reach=d.practice["door.swing"],
        )
    )


def _let_leaf(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, g: str) -> Leaf | None:
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
            source="common practice",
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
    return Leaf(
        g=g, x=centred(width, opening.middle), z=centred(height, mid_z), t=body.frame, groove=panel, depth=depth
    )


def _members(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> None:
    """Two stiles full height, two rails between them on stub tenons, grooves for the panel all round."""
    _let_members(d, leaf, spec)
    g, y = leaf.g, (0.0, leaf.t)
    material = kit.material("door_frame", "paint")
    for sign, hand in HANDS:
        stile = d.box_part(
            f"{g}/stile.{hand}",
            f"door stile, {hand}",
            material,
            between(leaf.outer(sign), leaf.outer(sign, spec.stile)),
            y,
            leaf.z,
            grain="z",
            thick="y",
            shows="front",
            coated="back left right up down",
            sizes=(f"{g}.height", f"{g}.stile.width", "frame.thickness"),
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
            centred(d.led[f"{g}.rail.length"], leaf.middle),
            y,
            z,
            grain="x",
            thick="y",
            shows="front",
            coated="back up down",
            sizes=(f"{g}.rail.length", f"{g}.rail.width", "frame.thickness"),
        )
        d.cut(rail, _groove(d, rail, leaf, opens))
        for sign, hand in HANDS:
            _tenon_into(d, rail, d.at(f"{g}/stile.{hand}"), leaf, sign, (z[0] + z[1]) / 2)


def _let_members(d: Draft, leaf: Leaf, spec: DoorSpec) -> None:
    g = leaf.g
    stile = d.let(f"{g}.stile.width", spec.stile, rule="as ordered")
    d.let(f"{g}.rail.width", spec.rail, rule="as ordered")
    tenon = d.let(
        f"{g}.tenon.length",
        leaf.depth - d.practice["door.tenon_play"],
        f"{g}.groove.depth",
        rule="groove less a little, so that the shoulders close",
        role=Role.INSERT,
    )
    names = (f"{g}.stile.width", f"{g}.sight.width", f"{g}.stile.width")
    width = leaf.x[1] - leaf.x[0]
    sight = d.let(names[1], width - 2 * stile, f"{g}.width", names[0], rule="between the stiles")
    d.let(f"{g}.rail.length", sight + 2 * tenon, names[1], f"{g}.tenon.length", rule="between stiles + two tenons")
    d.chain(f"{g}.chain.members", "x", f"{g}.width", names, f"{g}.width", 50.0, 5e3)
    d.fit(f"{g}.fit.tenon", f"{g}.groove.depth", f"{g}.tenon.length", 0.0, 2.5, source="common practice")


def _tenon_into(d: Draft, rail: Placed, stile: Placed, leaf: Leaf, sign: int, z: float) -> None:
    end = rail.face_towards((float(sign), 0.0, 0.0))
    blank = rail.part.blank
    v0 = (blank.thickness - leaf.groove) / 2
    length = d.led[f"{leaf.g}.tenon.length"]
    tongue = Tenon(face=end, u0=0.0, u1=blank.width, v0=v0, v1=v0 + leaf.groove, length=length)
    name = rail.path.removeprefix(d.path + "/")
    hand = hand_of(sign)
    at = (leaf.middle + sign * d.led[f"{leaf.g}.sight.width"] / 2, leaf.t / 2, z)
    d.joint(
        f"{name}~stile.{hand}", JointKind.STUB_TENON, rail, stile, at, Cuts(cuts=((rail.path, tongue),)), glued=True
    )


def _groove(d: Draft, member: Placed, leaf: Leaf, opens: Vec) -> Groove:
    """A groove for the panel, centred in the thickness, along the member's inner edge."""
    blank = member.part.blank
    face = member.face_towards(opens)
    v0 = (blank.thickness - leaf.groove) / 2
    return Groove(face=face, u0=0.0, u1=blank.length, v0=v0, v1=v0 + leaf.groove, depth=leaf.depth)


def _panel(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> None:
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
        spans.append(centred(cut, leaf.middle if axis == "width" else (leaf.z[0] + leaf.z[1]) / 2))
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
        coated="back",
        sizes=(f"{g}.panel.height", f"{g}.panel.width", f"{g}.panel.thickness"),
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
