"""Stiles and rails of a door, and how they are joined.

Common practice. Stub tenons as long as the panel's groove is deep carry a glued sheet panel, or doors up to 600 mm
high; else the tenons are 25 mm long and stand in mortises, haunched so that the stile's end keeps its wood. Behind
glass the groove is a rabbet, open to the back, and the rail's end fills it.
"""

from __future__ import annotations

from dataclasses import replace

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, hand_of
from casewright.design.blocks.door_leaf import DoorSpec, Leaf, LeafKind
from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Groove, Notch, Rabbet, Tenon
from casewright.design.features.openings import mortise
from casewright.design.frames import Vec
from casewright.design.joints.base import Cuts
from casewright.design.kit import Kit
from casewright.design.parts import PartKind, Placed
from casewright.design.sites import Span, between, centred, sink
from casewright.findings import Severity
from casewright.units.printed import Role


def let_groove(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, wet: Moisture) -> Leaf:
    """Return the leaf with the groove of its panel and the length of its tenons settled; a slab has none."""
    if not spec.framed:
        return leaf
    p, g = d.practice, leaf.g
    if spec.kind is LeafKind.SHEET:
        groove = d.let(f"{g}.panel.thickness", kit.sheet("door_panel").thickness, rule="panel sheet as measured")
    else:
        groove = d.let(
            f"{g}.groove.width", p["door.tenon_share"] * leaf.t, rule="a third of the members", role=Role.HOUSING
        )
    wanted, rule = p["door.stub_tenon"], "practice"
    if spec.kind is LeafKind.SOLID:
        wanted = deep_enough(d, kit, leaf.x[1] - leaf.x[0] - 2 * spec.stile, wet)
        rule = "holds the panel at the dry end, and lets it swell"
    depth = d.let(f"{g}.groove.depth", wanted, rule=rule, role=Role.HOUSING)
    stub = spec.kind is LeafKind.SHEET or leaf.height <= p["door.stub_height"]
    tenon = depth - p["door.tenon_play"] if stub else max(p["door.tenon"], depth)
    return replace(leaf, groove=groove, depth=depth, tenon=tenon)


def deep_enough(d: Draft, kit: Kit, sight: float, wet: Moisture) -> float:
    """Return the depth of groove (mm) that keeps a solid panel in it at the dry end and lets it swell at the damp one.

    `sight` is what shows of it across, mm.
    """
    p = d.practice
    wood = wood_of(kit, "door_panel_solid")
    width = sight + 2 * p["door.groove_most"]
    room = wood.swells(wet, width) / 2 + p["door.panel_free"]
    return max(p["door.stub_tenon"], p["door.panel_in_groove"] + room + wood.shrinks(wet, width) / 2)


def members_fit(d: Draft, leaf: Leaf, spec: DoorSpec) -> bool:
    """True where the members leave a panel, its groove can hold it, and the stiles have wood for the tenons."""
    p, g = d.practice, leaf.g
    if not spec.framed:
        return True
    width, height = leaf.x[1] - leaf.x[0], leaf.height
    sight = min(width - 2 * spec.stile, height - 2 * spec.rail)
    if sight < p["door.sight_least"]:
        d.find(
            "door.too_small",
            Severity.STOP,
            g,
            f"the panel would show {sight:.1f} mm",
            value=sight,
            limit=p["door.sight_least"],
            remedy="make the opening larger or the door's members narrower",
        )
        return False
    if leaf.depth > max(p["door.groove_most"], p["door.stub_tenon"]):
        d.find(
            "door.panel_moves",
            Severity.STOP,
            g,
            f"a solid panel of this width needs grooves {leaf.depth:.1f} mm deep to stay in them over the year",
            value=leaf.depth,
            limit=p["door.groove_most"],
            source="movement of the species over the room's moisture range (Wood Handbook Eq. 13-2)",
            remedy="a sheet panel, a calmer wood, two narrower doors, or a narrower range of humidity",
        )
        return False
    if spec.stile - leaf.tenon < p["door.tenon_land"]:
        d.find(
            "door.stile_narrow",
            Severity.STOP,
            g,
            f"tenons of {leaf.tenon:.1f} mm leave {spec.stile - leaf.tenon:.1f} mm of the stile",
            value=spec.stile - leaf.tenon,
            limit=p["door.tenon_land"],
            source="common practice",
            remedy="wider stiles",
        )
        return False
    return True


def door_frame(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> None:
    """Place two stiles full height and two rails between them, with grooves for the panel all round."""
    _let_members(d, leaf, spec)
    g = leaf.g
    material = kit.material("door_frame", spec.finish)
    for sign, hand in HANDS:
        stile = d.box_part(
            f"{g}/stile.{hand}",
            f"door stile, {hand}",
            material,
            between(leaf.outer(sign), leaf.outer(sign, spec.stile)),
            leaf.y,
            leaf.z,
            grain="z",
            thick="y",
            shows="front",
            coated="back left right up down",
            sizes=(f"{g}.height", f"{g}.stile.width", leaf.thick),
            kind=PartKind.DOOR_MEMBER,
        )
        d.cut(stile, _groove(stile, leaf, spec, (-float(sign), 0.0, 0.0)))
    for name, z, opens in (
        ("top", (leaf.z[1] - spec.rail, leaf.z[1]), (0.0, 0.0, -1.0)),
        ("bottom", (leaf.z[0], leaf.z[0] + spec.rail), (0.0, 0.0, 1.0)),
    ):
        rail = d.box_part(
            f"{g}/rail.{name}",
            f"door rail, {name}",
            material,
            centred(d.led[f"{g}.rail.length"], leaf.middle),
            leaf.y,
            z,
            grain="x",
            thick="y",
            shows="front",
            coated="back up down",
            sizes=(f"{g}.rail.length", f"{g}.rail.width", leaf.thick),
            kind=PartKind.DOOR_MEMBER,
        )
        d.cut(rail, _groove(rail, leaf, spec, opens))
        for sign, hand in HANDS:
            _join(d, rail, d.at(f"{g}/stile.{hand}"), leaf, spec, sign, z)


def _let_members(d: Draft, leaf: Leaf, spec: DoorSpec) -> None:
    g = leaf.g
    stile = d.let(f"{g}.stile.width", spec.stile, rule="as ordered")
    d.let(f"{g}.rail.width", spec.rail, rule="as ordered")
    housing = f"{g}.groove.depth"
    if leaf.tenon > leaf.depth:
        housing = f"{g}.mortise.depth"
        d.let(housing, leaf.tenon + d.practice["door.tenon_play"], rule="practice", role=Role.HOUSING)
    tenon = d.let(
        f"{g}.tenon.length",
        leaf.tenon,
        housing,
        rule="groove less a little, so that the shoulders close",
        role=Role.INSERT,
    )
    names = (f"{g}.stile.width", f"{g}.sight.width", f"{g}.stile.width")
    width = leaf.x[1] - leaf.x[0]
    sight = d.let(names[1], width - 2 * stile, f"{g}.width", names[0], rule="between the stiles")
    d.let(f"{g}.rail.length", sight + 2 * tenon, names[1], f"{g}.tenon.length", rule="between stiles + two tenons")
    d.chain(f"{g}.chain.members", "x", f"{g}.width", names, f"{g}.width", 50.0, 5e3)
    d.fit(f"{g}.fit.tenon", housing, f"{g}.tenon.length", 0.0, 2.5, source="common practice")


def _groove(member: Placed, leaf: Leaf, spec: DoorSpec, opens: Vec) -> Groove | Rabbet:
    """Return the groove for the panel along a member's inner edge, or the rabbet for glass, open to the back."""
    blank = member.part.blank
    face = member.face_towards(opens)
    v0 = (blank.thickness - leaf.groove) / 2
    if spec.kind is not LeafKind.GLASS:
        return Groove(face=face, u0=0.0, u1=blank.length, v0=v0, v1=v0 + leaf.groove, depth=leaf.depth)
    back_high = member.face_towards((0.0, 1.0, 0.0)).high
    v = (v0, blank.thickness) if back_high else (0.0, blank.thickness - v0)
    return Rabbet(face=face, u0=0.0, u1=blank.length, v0=v[0], v1=v[1], depth=leaf.depth)


def _join(d: Draft, rail: Placed, stile: Placed, leaf: Leaf, spec: DoorSpec, sign: int, z: Span) -> None:
    name = rail.path.removeprefix(d.path + "/")
    hand = hand_of(sign)
    at = (leaf.middle + sign * d.led[f"{leaf.g}.sight.width"] / 2, leaf.middle_y, (z[0] + z[1]) / 2)
    if spec.kind is LeafKind.GLASS or leaf.tenon > leaf.depth:
        cuts = _shouldered(d, rail, stile, leaf, spec, sign, z)
    else:
        end = rail.face_towards((float(sign), 0.0, 0.0))
        blank = rail.part.blank
        v0 = (blank.thickness - leaf.groove) / 2
        tongue = Tenon(
            face=end, u0=0.0, u1=blank.width, v0=v0, v1=v0 + leaf.groove, length=d.led[f"{leaf.g}.tenon.length"]
        )
        cuts = ((rail.path, tongue),)
    kind = JointKind.TENON if leaf.tenon > leaf.depth else JointKind.STUB_TENON
    d.joint(f"{name}~stile.{hand}", kind, rail, stile, at, Cuts(cuts=cuts), glued=True)


def _shouldered(
    d: Draft, rail: Placed, stile: Placed, leaf: Leaf, spec: DoorSpec, sign: int, z: Span
) -> tuple[tuple[str, Feature], ...]:
    """Cut the rail's end in steps, and the mortise of a long tenon.

    Before the tongue goes all of the tenon's length; behind it as much, or for glass what the rabbet does not take;
    at the rail's outer edge a haunch fills the groove.
    """
    length = d.led[f"{leaf.g}.tenon.length"]
    shoulder = leaf.middle + sign * d.led[f"{leaf.g}.sight.width"] / 2
    stub = min(length, leaf.depth - d.practice["door.tenon_play"])
    tongue = (leaf.y[0] + leaf.cheek, leaf.y[0] + leaf.cheek + leaf.groove)
    glass, out = spec.kind is LeafKind.GLASS, (float(sign), 0.0, 0.0)
    upper = z[1] > (leaf.z[0] + leaf.z[1]) / 2
    haunch = (z[1] - leaf.depth, z[1]) if upper else (z[0], z[0] + leaf.depth)

    def step(kind: type[Rabbet] | type[Notch], y: Span, over: Span, start: float) -> tuple[str, Feature]:
        x = between(shoulder + sign * start, shoulder + sign * length)
        return rail.path, sink(kind, rail, out, (x[0], y[0], over[0]), (x[1], y[1], over[1]))

    cuts = [step(Rabbet, (leaf.y[0], tongue[0]), z, 0.0)]
    behind = stub if glass else 0.0
    if length - behind > 1e-6:
        cuts.append(step(Rabbet, (tongue[1], leaf.y[1]), z, behind))
    if length > stub + 1e-6:
        cuts.append(step(Notch, tongue, haunch, stub))
        inner = (z[0] + leaf.depth, z[1] - leaf.depth)
        cuts.append((stile.path, _mortise(d, stile, leaf, shoulder, sign, tongue, inner)))
    return tuple(cuts)


def _mortise(d: Draft, stile: Placed, leaf: Leaf, shoulder: float, sign: int, y: Span, z: Span) -> Feature:
    depth = d.led[f"{leaf.g}.mortise.depth"]
    face = stile.face_towards((-float(sign), 0.0, 0.0))
    a, b = stile.frame.local_point((shoulder, y[0], z[0])), stile.frame.local_point((shoulder, y[1], z[1]))
    u, v = face.uv_axes
    return mortise(face, between(a[u], b[u]), between(a[v], b[v]), depth)
