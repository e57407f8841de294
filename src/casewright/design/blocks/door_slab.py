"""A door of one flat panel: banded sheet, or solid wood with battens across its back.

Common practice. A solid slab moves across its whole width, so it is kept narrow; battens hold it flat, tight in the
middle and in slots at their ends, and never glued.
"""

from __future__ import annotations

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank, Face
from casewright.design.blocks.door_leaf import DoorSpec, Leaf
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size, wood_of
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Draft
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.parts import Band, Part, PartKind, Placed
from casewright.design.sites import Span, box_frame, centred
from casewright.findings import Severity
from casewright.units.printed import Role

EDGES = (Face.END0, Face.END1, Face.EDGE0, Face.EDGE1)
THREE_BATTENS_FROM = 1200.0
CLEAR_OF_KNOB = 130.0  # from the ends of the door: above or below the knob's bolt and the catch


def slab_stock(kit: Kit, spec: DoorSpec) -> Wood:
    """Return what a slab is cut from. Raises KitError where the role has neither sheet nor board."""
    return wood_of(kit, "door_slab", spec.finish)


def slab_fits(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> bool:
    """True where a slab of this width stays flat in its opening; else a finding."""
    width, p = leaf.x[1] - leaf.x[0], d.practice
    if spec.framed or not slab_stock(kit, spec).solid or width <= p["door.slab_solid_most"]:
        return True
    d.find(
        "door.slab_wide",
        Severity.STOP,
        leaf.g,
        f"a solid slab of {width:.0f} mm moves and cups too much",
        value=width,
        limit=p["door.slab_solid_most"],
        source="common practice: practice door.slab_solid_most",
        remedy="a frame-and-panel door, a sheet, or a pair of doors",
    )
    return False


def slab(d: Draft, kit: Kit, opening: Opening, leaf: Leaf, spec: DoorSpec, wet: Moisture) -> None:
    """Place the slab, with battens where it is solid; `wet` says how much it moves."""
    wood = slab_stock(kit, spec)
    width, p = leaf.x[1] - leaf.x[0], d.practice
    if not wood.solid:
        banded_panel(
            d, kit, f"{leaf.g}/slab", "door", wood, leaf.x, leaf.y, leaf.z, ("z", "y"), leaf_sizes(leaf),
            shows="front", kind=PartKind.DOOR_SLAB,
        )  # fmt: skip
        return
    strips = glue_up(wood, width, p)
    panel = d.box_part(
        f"{leaf.g}/slab",
        "door",
        wood.material,
        leaf.x,
        leaf.y,
        leaf.z,
        grain="z",
        thick="y",
        shows="front",
        coated="back left right up down",
        rough=over_size(strips, p),
        made_of=strips,
        sizes=leaf_sizes(leaf),
        kind=PartKind.DOOR_SLAB,
    )
    _battens(d, kit, leaf, spec, panel, wood, wet)


def leaf_sizes(leaf: Leaf) -> tuple[str, str, str]:
    """Return the ledger names of a slab's length, width and thickness."""
    return (f"{leaf.g}.height", f"{leaf.g}.width", leaf.thick)


def banded_panel(
    d: Draft,
    kit: Kit,
    name: str,
    label: str,
    wood: Wood,
    x: Span,
    y: Span,
    z: Span,
    lies: tuple[str, str],
    sizes: tuple[str, str, str],
    *,
    shows: str,
    kind: PartKind,
) -> Placed:
    """Place a panel of sheet that fills a box, its four edges banded where the sheet asks for it.

    `lies` are the axes of its grain and of its thickness; `sizes` name its finished sizes; `kind` is what it is where
    parts are cut to fit.
    """
    grain, thick = lies
    edges = {"z": "left right up down", "y": "left right front back"}
    across = {"y": "back", "z": "down"}[thick]
    coated = " ".join(w for w in f"{across} {edges['z' if thick == 'y' else 'y']}".split() if w not in shows.split())
    spans = {"x": x, "y": y, "z": z}
    band = kit.band(spans[thick][1] - spans[thick][0]) if wood.banded else None
    less = band.thickness if band is not None else 0.0
    inner = {a: s if a == thick else (s[0] + less, s[1] - less) for a, s in spans.items()}
    wide = next(a for a in "xyz" if a not in lies)
    size = {a: s[1] - s[0] for a, s in inner.items()}
    part = Part(
        form=wood.material.form,
        stock=wood.material.item,
        blank=Blank(length=size[grain], width=size[wide], thickness=size[thick]),
        bands=tuple(Band(face=f, item=band.id, thickness=band.thickness) for f in EDGES) if band is not None else (),
        grain=wood.material.grain,
        mass_density=wood.material.density,
        kind=kind,
    )
    frame = box_frame(inner["x"], inner["y"], inner["z"], grain, thick)
    return d.place_part(name, label, part, frame, shows=shows, coated=coated, finish=wood.material.finish, sizes=sizes)


def _battens(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec, panel: Placed, wood: Wood, wet: Moisture) -> None:
    g, p = leaf.g, d.practice
    board = kit.board("door_frame")
    thick = d.let(f"{g}.batten.thickness", board.dressed, rule="planed")
    tall = d.let(f"{g}.batten.width", p["door.batten_width"], rule="practice")
    inset = p["door.batten_inset"]
    length = d.let(
        f"{g}.batten.length", leaf.x[1] - leaf.x[0] - 2 * inset, f"{g}.width", rule="short of the door's edges"
    )
    move = d.let(f"{g}.batten.movement", wood.range(wet, length / 2), f"{g}.batten.length", rule="half of the slab's")
    material = kit.material("door_frame", spec.finish)
    for number, z in enumerate(_batten_heights(leaf), start=1):
        batten = d.box_part(
            f"{g}/batten[{number}]",
            "door batten",
            material,
            centred(length, leaf.middle),
            (leaf.y[1], leaf.y[1] + thick),
            centred(tall, z),
            grain="x",
            thick="y",
            coated="back up down left right",
            sizes=(f"{g}.batten.length", f"{g}.batten.width", f"{g}.batten.thickness"),
        )
        _batten_screws(d, kit, leaf, batten, panel, (length, tall, thick), z, move, number)


def _batten_heights(leaf: Leaf) -> tuple[float, ...]:
    end = max(0.18 * leaf.height, CLEAR_OF_KNOB)
    middle = (leaf.z[0] + leaf.z[1]) / 2
    if leaf.height < 2 * CLEAR_OF_KNOB + 100.0:
        return (middle,)
    if leaf.height < THREE_BATTENS_FROM:
        return (leaf.z[1] - end, leaf.z[0] + end)
    return (leaf.z[1] - end, middle, leaf.z[0] + end)


def _batten_screws(
    d: Draft,
    kit: Kit,
    leaf: Leaf,
    batten: Placed,
    panel: Placed,
    size: tuple[float, float, float],
    z: float,
    move: float,
    number: int,
) -> None:
    """Screw a batten tight in its middle, in slots at its ends."""
    length, _, thick = size
    p, g = d.practice, leaf.g
    screw = kit.screw("washer-head", 8, thick + 8.0, thick + leaf.t - p["fastener.point_cover"], role="front_screw")
    slot = move + screw.diameter + p["top.slot_extra"]
    if f"{g}.batten.slot" not in d.led:
        d.let(f"{g}.batten.slot", slot, f"{g}.batten.movement", rule="movement + shank + spare", role=Role.HOUSING)
    far = length / 2 - max(25.0, slot)
    lines = [("middle", 0.0, 0.0)]
    if far > 40.0:
        lines += [("left", -far, slot), ("right", far, slot)]
    for name, x, slotted in lines:
        at = leaf.middle + x
        d.joint(
            f"{g}/batten[{number}]~slab.{name}",
            JointKind.SLOTTED_SCREWS if slotted else JointKind.SCREWS,
            batten,
            panel,
            (at, leaf.y[1], z),
            ScrewLine(
                screw=screw,
                start=(at - 15.0, leaf.y[1] + thick, z),
                end=(at + 15.0, leaf.y[1] + thick, z),
                drive=(0.0, -1.0, 0.0),
                count=1,
                ends=15.0,
                apart=0.0,
                forced=(15.0,),
                slot=slotted,
                slot_way=(1.0, 0.0, 0.0),
            ),
            why="slots: the slab moves along its batten"
            if slotted
            else "tight in the middle: it moves both ways alike",
        )
