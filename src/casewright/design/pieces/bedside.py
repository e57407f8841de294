"""Builder of the bedside cabinet: settles the sizes, then lets the blocks place everything.

Handed pieces are designed as the left one (the bed to its right) and mirrored.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.design.assembly import PieceDesign
from casewright.design.blocks.body import Body, frame_reveal, large_enough, let_body
from casewright.design.blocks.carcass import Covered, back, carcass
from casewright.design.blocks.device import DeviceSpec, device
from casewright.design.blocks.door import door
from casewright.design.blocks.door_leaf import DoorSpec
from casewright.design.blocks.drawer import drawer
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.blocks.drawer_stock import wood_of
from casewright.design.blocks.face_frame import Opening, face_frame, frame_to_case
from casewright.design.blocks.feet import FeetSpec, feet
from casewright.design.blocks.front_place import let_gap
from casewright.design.blocks.mouldings import moulding_run
from casewright.design.blocks.top import Moisture, TopSpec, fix_top, let_wander, movement_coefficient, top
from casewright.design.blocks.top_edge import top_edge
from casewright.design.blocks.top_sound import board_gives, covers_crown
from casewright.design.draft import Draft
from casewright.design.kit import Kit
from casewright.design.pieces.bedside_steps import plan
from casewright.design.sections import blank_section, drop, projection
from casewright.findings import Severity
from casewright.order.pieces.bedside import BedsideOrder
from casewright.stock.model import Device, Hinge

BED = 1  # the left cabinet has the bed to its right


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gaps:
    """Wood gaps of drawer front and door, mm."""

    drawer: float
    door: float


def build_bedside(
    spec: BedsideOrder, kit: Kit, moisture: Moisture, path: str, overrides: Mapping[str, float]
) -> PieceDesign:
    """Return the left cabinet, in its own frame. What cannot be built is left out and found."""
    d = Draft(path=path, practice=kit.practice, place=spec.place, overrides=overrides)
    kit = replace(kit, finish=spec.finish, top_finish=spec.top.finish)
    if not _place_all(d, kit, spec, moisture):
        return d.unbuilt(kind=spec.kind, title=spec.title, width=spec.width, depth=spec.depth, height=spec.height)
    return d.finish(
        kind=spec.kind,
        title=spec.title,
        width=d.led["overall.width"],
        depth=d.led["overall.depth"],
        height=d.led["overall.height"],
    )


def _place_all(d: Draft, kit: Kit, spec: BedsideOrder, moisture: Moisture) -> bool:
    """Let every block place what is its own; False where the piece cannot be built."""
    body, top_spec = _body(d, kit, spec, moisture)
    openings = _front(d, kit, spec, body) if body is not None else None
    if body is None or openings is None:
        return False
    upper, lower = openings
    floor_z = body.z0 + d.led["bottom_rail.width"] - d.practice["case.bottom_step"]
    stands = carcass(
        d, kit, body, floor_z=floor_z, covered=_covered(d, body), front_reach=_device_reach(d, kit, spec),
        middle_tie=spec.top.fixed == "middle",
    )  # fmt: skip
    if not stands:
        return False
    panel = top(d, kit, body, top_spec)
    if spec.device is not None:
        device(d, kit, body, panel, _device_spec(spec))
    frame_to_case(d, body)
    feet(d, kit, body, _feet_spec(d, kit, spec))
    gaps = _gaps(d, kit, spec, moisture)
    drawer(d, kit, body, upper, _drawer_spec(d, spec, gaps.drawer, moisture))
    door(d, kit, body, lower, _door_spec(d, spec, gaps.door), floor_z, moisture)
    back(d, kit, body)
    fix_top(d, kit, body, panel, moisture, spec.top.fixed)
    if spec.base:
        moulding_run(d, kit, body, name="base", role="base", foot_z=body.z0)
    if spec.crown:
        moulding_run(d, kit, body, name="crown", role="crown", foot_z=body.z1 - d.led["crown.drop"])
    top_edge(d, spec.top.edge, spec.top.edge_size)
    if d.stopped:
        return False
    plan(d, kit, upper, lower, max(spec.width, spec.depth, spec.height), spec.top)
    return True


def _drawer_spec(d: Draft, spec: BedsideOrder, gap: float, wet: Moisture) -> DrawerSpec:
    margin = _or(spec.drawer.frame_margin, d.practice["applied.inset"])
    front = FrontKind.APPLIED if spec.drawer.applied_frame else FrontKind.SLAB
    return DrawerSpec(gap=gap, frame_margin=margin, front=front, moisture=wet, finish=spec.finish)


def _body(d: Draft, kit: Kit, spec: BedsideOrder, wet: Moisture) -> tuple[Body | None, TopSpec]:
    """Settle overall sizes, overhangs and the body."""
    width = d.let("overall.width", spec.width, rule="as ordered")
    depth = d.let("overall.depth", spec.depth, rule="as ordered")
    height = d.let("overall.height", spec.height, rule="as ordered")
    crown_out = projection(kit.stick("crown")) if spec.crown else 0.0
    base_out = projection(kit.stick("base")) if spec.base else 0.0
    if spec.crown:
        d.let("crown.drop", drop(kit.stick("crown")), rule="from the drawn section")
    d.let("base.height", drop(kit.stick("base")) if spec.base else 0.0, rule="from the drawn section")
    rear = spec.top.overhang_back
    moves = let_wander(d, kit, spec.top.fixed, depth, rear, wet)
    over = crown_out + d.practice["crown.reveal"]
    side = d.let("top.overhang_side", _or(spec.top.overhang_side, over), rule="crown's projection + reveal")
    front = d.let(
        "top.overhang_front",
        _or(spec.top.overhang_front, over + moves.front),
        rule="crown's projection + reveal, at the dry end too",
    )
    d.let("top.overhang_back", rear, rule="as ordered: skirting or none")
    thick = d.let(
        "top.thickness",
        _or(spec.top.thickness, d.practice["top.finished_share"] * kit.board("top").dressed),
        rule="as ordered, or what the board dresses to",
    )
    to_wall = d.led["top.to_wall"]
    top_spec = TopSpec(thickness=thick, overhang_front=front, overhang_side=side, overhang_back=rear, to_wall=to_wall)
    if not board_gives(d, kit, thick) or not covers_crown(d, front, side, crown_out, moves.front):
        return None, top_spec
    wrapped = "a moulding wraps the corner" if spec.crown or spec.base else ""
    reveal = frame_reveal(d, spec.frame_reveal, True, wrapped, spec.stile_width - kit.sheet("case").thickness)
    body_width = width - 2 * max(side, base_out) - 2 * reveal
    fronts_out = d.let(
        "fronts.projection", _fronts_out(kit, spec), rule="applied frame or hinge barrel, whichever stands out more"
    )
    body_depth = depth - max(front, base_out, fronts_out) - max(0.0, rear - to_wall)
    body_height = height - thick - spec.feet.height
    if not large_enough(d, body_width, body_depth, body_height):
        return None, top_spec
    body = let_body(
        d,
        width=body_width,
        depth=body_depth,
        foot_height=spec.feet.height,
        height=body_height,
        frame=d.practice["frame.thickness"],
        side=kit.sheet("case").thickness,
        back=kit.sheet("back").thickness,
        reveal=reveal,
    )
    return body, top_spec


def _fronts_out(kit: Kit, spec: BedsideOrder) -> float:
    """Return how far fronts and hinges stand out before the face frame, mm: they count in the overall depth."""
    applied = blank_section(kit.stick("applied_moulding"))[2] if spec.drawer.applied_frame else 0.0
    return max(applied, kit.role("hinge", Hinge).barrel_diameter)


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def _front(d: Draft, kit: Kit, spec: BedsideOrder, body: Body) -> tuple[Opening, ...] | None:
    """Check that drawer and door fit above each other, then place the frame."""
    top_rail = spec.top_rail_visible + (d.led["crown.drop"] if spec.crown else 0.0)
    bottom_rail = spec.bottom_rail_visible + d.led["base.height"]
    left = body.height - top_rail - bottom_rail - spec.drawer.height - spec.drawer_rail
    p = d.practice
    if left < p["door.opening_least"]:
        d.find(
            "front.too_tall",
            Severity.STOP,
            "front",
            f"drawer and rails leave {left:.1f} mm for the door",
            value=left,
            limit=p["door.opening_least"],
            remedy="a lower drawer, narrower rails, lower feet or a higher cabinet",
        )
        return None
    needed = body.side + body.reveal + p["blocking.least"]
    if spec.stile_width < needed:
        d.find(
            "stile.narrow",
            Severity.STOP,
            "stile_width",
            f"stiles of {spec.stile_width:.1f} mm leave no room for blocking",
            value=spec.stile_width,
            limit=needed,
            source="common practice",
            remedy=f"make them {needed:.0f} mm or wider",
        )
        return None
    for key, got, least in (
        ("drawer_rail", spec.drawer_rail, p["rail.least"]),
        ("top_rail_visible", top_rail, p["rail.least"]),
        ("bottom_rail_visible", bottom_rail, body.side + p["rail.least"]),
    ):
        if got < least:
            d.find(
                "rail.narrow",
                Severity.STOP,
                key,
                f"a rail of {got:.1f} mm is too narrow to be joined",
                value=got,
                limit=least,
                source="room for a pocket screw and a dowel (common practice)",
                remedy=f"make it {least:.0f} mm or wider, what a moulding covers included",
            )
            return None
    if body.outer - 2 * spec.stile_width < p["door.opening_least"]:
        d.find(
            "front.too_narrow",
            Severity.STOP,
            "width",
            "the stiles leave too narrow an opening",
            value=body.outer - 2 * spec.stile_width,
            limit=p["door.opening_least"],
            remedy="a wider cabinet",
        )
        return None
    return face_frame(
        d,
        kit,
        body,
        stile=spec.stile_width,
        top_rail=top_rail,
        bottom_rail=bottom_rail,
        rails=(("drawer", spec.drawer_rail, spec.drawer.height),),
    )


def _covered(d: Draft, body: Body) -> Covered:
    spans = [(body.z0, body.z0 + d.led["base.height"])]
    if "crown.drop" in d.led:
        spans.append((body.z1 - d.led["crown.drop"], body.z1))
    return Covered(spans=tuple(spans))


def _gaps(d: Draft, kit: Kit, spec: BedsideOrder, wet: Moisture) -> _Gaps:
    """Wood gap = finished gap + paint film on both faces + the front's swelling to the damp end (common practice)."""
    gap = let_gap(d, spec.gap)
    wood = kit.board("door_frame")
    members = 2 * _door_stile(d, spec)
    swell = max(0.0, movement_coefficient(kit, wood) * (wet.damp - wet.fitted) * members) / 2
    d.let("gap.swelling", swell, rule="the door's solid members, fitting day to damp end, shared by two gaps")
    front = wood_of(kit, "drawer_front").swells(wet, spec.drawer.height) / 2
    front = d.let("gap.front_swelling", front, rule="a solid front, fitting day to damp end, shared by two gaps")
    return _Gaps(drawer=gap + front, door=gap + d.led["gap.swelling"])


def _door_stile(d: Draft, spec: BedsideOrder) -> float:
    return _or(spec.door.stile_width, d.practice["door.stile_width"])


def _door_spec(d: Draft, spec: BedsideOrder, gap: float) -> DoorSpec:
    stile = _door_stile(d, spec)
    return DoorSpec(
        gap=gap,
        stile=stile,
        rail=_or(spec.door.rail_width, stile),
        hinge=BED if spec.door.hinged_at_bed else -BED,
        hinges=spec.door.hinges,
        host="frame/stile.right" if spec.door.hinged_at_bed else "frame/stile.left",
        finish=spec.finish,
    )


def _device_spec(spec: BedsideOrder) -> DeviceSpec:
    assert spec.device is not None
    return DeviceSpec(
        from_side=spec.device.from_bed_side,
        from_front=spec.device.from_front,
        wood_over=spec.device.wood_over,
        side=BED,
    )


def _device_reach(d: Draft, kit: Kit, spec: BedsideOrder) -> float:
    """How far back the front stretcher must reach to be held behind the module's cut-out, mm (y)."""
    if spec.device is None:
        return 0.0
    item = kit.role("device", Device)
    middle = spec.device.from_front - d.led["top.overhang_front"]
    return middle + item.diameter / 2 + item.margin + d.practice["stretcher.land"]


def _feet_spec(d: Draft, kit: Kit, spec: BedsideOrder) -> FeetSpec:
    _, section, _ = blank_section(kit.stick("foot"))
    return FeetSpec(
        inset=spec.feet.inset,
        taper=(section - spec.feet.tip) / (2 if spec.feet.tapered == 4 else 1),
        square=spec.feet.square,
        cove_radius=spec.feet.cove,
        cove_depth=spec.feet.cove * d.practice["foot.cove_share"],
        inner_only=spec.feet.tapered != 4,
    )
