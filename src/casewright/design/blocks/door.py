"""A whole door or pair: leaves, hinges, knobs, stops and catches, and how it swings.

Common practice. One leaf is `door[c1,r1]`; those of a pair are `door[c1,r1].left` and `.right`.
"""

from __future__ import annotations

from dataclasses import replace

from casewright.design.assembly import Motion, MotionKind
from casewright.design.blocks.body import Body, hand_of
from casewright.design.blocks.door_fittings import fit_stop_and_catch, packed_floor
from casewright.design.blocks.door_frame import door_frame, let_groove, members_fit
from casewright.design.blocks.door_hinges import hang_leaf, hinge_line, hinges_suit
from casewright.design.blocks.door_leaf import DoorSpec, Leaf, LeafKind
from casewright.design.blocks.door_pair import fit_astragal, fit_bolts
from casewright.design.blocks.door_panel import glass_pane, sheet_panel, solid_panel
from casewright.design.blocks.door_pulls import fit_pull
from casewright.design.blocks.door_slab import slab, slab_fits, slab_stock
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.front_place import let_front
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.sites import Span
from casewright.units.printed import Role

# Where nobody says how the air changes: no solid wood moves.
STILL = Moisture(dry=8.0, damp=8.0, fitted=8.0)


def door(
    d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec, floor_z: float, wet: Moisture = STILL
) -> None:
    """Place a door or a pair with all that belongs to it; findings where it cannot be built.

    `floor_z` is the upper face of the part `spec.floor` behind the opening; `wet` decides the room of solid panels.
    """
    leaves = [let_groove(d, kit, leaf, spec, wet) for leaf in let_leaves(d, kit, body, opening, spec)]
    suited = [
        members_fit(d, leaf, spec) and slab_fits(d, kit, leaf, spec) and hinges_suit(d, kit, leaf, spec)
        for leaf in leaves
    ]
    if not all(suited):
        return
    spec, floor_z = packed_floor(d, kit, body, opening, spec, floor_z)
    for leaf in leaves:
        _build(d, kit, opening, leaf, spec, wet)
        hang_leaf(d, kit, body, opening, leaf, spec)
        fit_pull(d, kit, opening, leaf, spec, floor_z)
        if leaf.active or not spec.bolted:
            fit_stop_and_catch(d, kit, body, opening, leaf, spec, floor_z)
        else:
            fit_bolts(d, kit, opening, leaf, spec, floor_z)
    for leaf in leaves:
        if not leaf.active:
            fit_astragal(d, kit, opening, leaf, spec)
    for leaf in leaves:
        origin, reach = hinge_line(d, kit, leaf, spec)
        d.motions.append(
            Motion(
                id=d.full(f"{leaf.g}.swing"),
                kind=MotionKind.SWING,
                members=(d.full(leaf.g),),
                origin=origin,
                direction=(0.0, 0.0, float(leaf.hinge)),
                reach=reach,
            )
        )


def _build(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec, wet: Moisture) -> None:
    if spec.kind is LeafKind.SLAB:
        slab(d, kit, opening, leaf, spec, wet)
        return
    door_frame(d, kit, leaf, spec)
    fill = {LeafKind.SHEET: sheet_panel, LeafKind.SOLID: solid_panel, LeafKind.GLASS: glass_pane}[spec.kind]
    fill(d, kit, leaf, spec, wet)


def let_leaves(d: Draft, kit: Kit, body: Body, opening: Opening, spec: DoorSpec) -> tuple[Leaf, ...]:
    """Let the sizes of a door's leaves and return them as boxes, from the left."""
    g = f"door[{opening.cell}]"
    t, thick = _thickness(d, kit, body, spec, g)
    place = let_front(d, opening, spec.placed, t, g, names=("width", "height"))
    whole = Leaf(
        g=g,
        x=place.x,
        y=place.y,
        z=place.z,
        hinge=spec.hinge,
        edge=opening.edge(spec.hinge),
        latch=opening.edge(-spec.hinge),
        host=_host(opening, spec, spec.hinge),
        thick=thick,
    )
    return tuple(_halves(d, opening, whole, spec)) if spec.pair else (whole,)


def _halves(d: Draft, opening: Opening, whole: Leaf, spec: DoorSpec) -> list[Leaf]:
    """Two leaves with a gap between them; an inset pair has three gaps across."""
    g, gap = whole.g, f"{whole.g}.gap"
    width = (whole.x[1] - whole.x[0] - spec.placed.gap) / 2
    middle, out = whole.middle, []
    names = [f"{g}.{hand_of(sign)}.width" for sign in (-1, 1)]
    for sign in (-1, 1):
        leaf = f"{g}.{hand_of(sign)}"
        size = d.let(f"{leaf}.width", width, f"{g}.width", gap, rule="half of the pair less its gap", role=Role.INSERT)
        d.let(f"{leaf}.height", whole.height, f"{g}.height", rule="as high as the pair", role=Role.INSERT)
        x: Span = (whole.x[0], whole.x[0] + size) if sign < 0 else (whole.x[1] - size, whole.x[1])
        out.append(
            replace(
                whole,
                g=leaf,
                x=x,
                hinge=sign,
                edge=opening.edge(sign),
                latch=middle,
                host=_host(opening, spec, sign),
                active=sign == spec.hinge,
            )
        )
    for sign in (-1, 1):
        leaf = f"{g}.{hand_of(sign)}"
        if spec.placed.inset:
            d.chain(
                f"{leaf}.chain.x",
                "x",
                opening.width_name,
                (gap, names[0], gap, names[1], gap),
                gap,
                0.0,
                spec.gap + 1.0,
            )
            d.chain(f"{leaf}.chain.z", "z", opening.height_name, (gap, f"{leaf}.height", gap), gap, 0.0, spec.gap + 1.0)
        else:
            d.chain(f"{leaf}.chain.x", "x", f"{g}.width", (names[0], gap, names[1]), gap, 0.0, spec.gap + 2.0)
    return out


def _thickness(d: Draft, kit: Kit, body: Body, spec: DoorSpec, g: str) -> tuple[float, str]:
    """Return a door's thickness and the name of that size: members are planed as the face frame is."""
    if spec.kind is LeafKind.SLAB:
        wood = slab_stock(kit, spec)
        return d.let(f"{g}.thickness", wood.thickness, rule=f"{wood.what} as measured"), f"{g}.thickness"
    if body.frame > 0:
        return body.frame, "frame.thickness"
    return d.let(f"{g}.thickness", d.practice["frame.thickness"], rule="door members, planed"), f"{g}.thickness"


def _host(opening: Opening, spec: DoorSpec, sign: int) -> str:
    given = spec.host if sign == spec.hinge else spec.far_host
    return given or opening.wall(sign).name
