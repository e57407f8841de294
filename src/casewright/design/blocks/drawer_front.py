"""The false front of a drawer as a slab: sheet with its edges banded or filled, or solid wood; an applied frame on it.

Common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.drawer_framed_front import framed_front
from casewright.design.blocks.drawer_spec import DrawerSpec, FrontKind
from casewright.design.blocks.drawer_stock import Wood, glue_up, over_size, wood_of
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.front_place import FrontPlace, let_front
from casewright.design.draft import Draft
from casewright.design.features.shaping import end_cut_from_normal
from casewright.design.frames import Frame, Vec
from casewright.design.joints.others import PinLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline
from casewright.design.parts import Form, Part, PartKind, Placed
from casewright.design.sections import blank_section, thickness_at
from casewright.findings import Severity
from casewright.stock.model import Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """A front in its place: spans, thickness (mm), the wood of a slab, and the part that pull and screws go into.

    `stiles` (from the left) and `rails` (from below) are those of a framed front, whole over `whole` mm from their
    outer edges; `block` fills the room behind its panel where the pull is bolted through.
    """

    place: FrontPlace
    thickness: float
    wood: Wood
    face: Placed
    stiles: tuple[Placed, ...] = ()
    rails: tuple[Placed, ...] = ()
    whole: float = 0.0
    block: Placed | None = None

    @property
    def behind(self) -> float:
        """The y of its back, where the drawer box begins."""
        return self.place.y[1]

    @property
    def middle(self) -> float:
        """Where its middle lies across."""
        return (self.place.x[0] + self.place.x[1]) / 2


def drawer_front(d: Draft, kit: Kit, opening: Opening, spec: DrawerSpec, g: str) -> Front | None:
    """Place the front; None and a finding where it cannot be made as it is wanted."""
    if spec.front is FrontKind.PANEL:
        return _framed(d, kit, opening, spec, g)
    wood = wood_of(kit, "drawer_front", spec.finish)
    t = d.let(f"{g}.front.thickness", wood.thickness, rule="front sheet as measured")
    place = let_front(d, opening, spec.lies, t, g, names=("front.length", "front.width"))
    if wood.solid and not _may_be_solid(d, spec, wood, place, g):
        return None
    front = _slab(d, kit, spec, wood, place, g)
    if spec.front is FrontKind.APPLIED:
        _applied_frame(d, kit, front, place, spec.frame_margin, g)
    return Front(place=place, thickness=t, wood=wood, face=front)


def _framed(d: Draft, kit: Kit, opening: Opening, spec: DrawerSpec, g: str) -> Front | None:
    wood = wood_of(kit, "door_frame", spec.finish)
    t = d.let(f"{g}.front.thickness", d.practice["frame.thickness"], rule="face frame and fronts, planed")
    place = let_front(d, opening, spec.lies, t, g, names=("front.length", "front.width"))
    made = framed_front(d, kit, spec, place, g)
    if made is None:
        return None
    return Front(
        place=place,
        thickness=t,
        wood=wood,
        face=made.panel,
        stiles=made.stiles,
        rails=made.rails,
        whole=made.whole,
        block=made.block,
    )


def _slab(d: Draft, kit: Kit, spec: DrawerSpec, wood: Wood, place: FrontPlace, g: str) -> Placed:
    band = kit.band(wood.thickness) if wood.banded else None
    names = (f"{g}.front.length", f"{g}.front.width")
    upright = spec.upright and not wood.solid
    strips = glue_up(wood, place.z[1] - place.z[0], d.practice)
    return d.box_part(
        f"{g}/face/front",
        "drawer front",
        wood.material,
        place.x,
        place.y,
        place.z,
        grain="z" if upright else "x",
        thick="y",
        shows="front",
        coated="back left right up down",
        rough=over_size(strips, d.practice),
        made_of=strips,
        band=band,
        banded="left right down up" if band is not None else "",
        sizes=(*(names[::-1] if upright else names), f"{g}.front.thickness"),
        run=(spec.run, spec.run_place),
        kind=PartKind.DRAWER_FRONT,
    )


def _may_be_solid(d: Draft, spec: DrawerSpec, wood: Wood, place: FrontPlace, g: str) -> bool:
    """Solid fronts move up and down: no frame is glued across them, and an inset one must not bind at the damp end."""
    if spec.front is FrontKind.APPLIED:
        d.find(
            "drawer.cross_grain",
            Severity.STOP,
            f"{g}/face/front",
            "an applied frame would be glued across the grain of a solid front",
            source="wide solid wood is never glued across its grain (common practice)",
            remedy="a sheet for the role drawer_front, a frame-and-panel front, or no applied frame",
        )
        return False
    if spec.moisture is None or not spec.lies.inset:
        return True
    grows = wood.swells(spec.moisture, place.z[1] - place.z[0])
    left = 2 * spec.lies.gap - grows
    if left < d.practice["front.gap_least"]:
        d.find(
            "drawer.front_binds",
            Severity.STOP,
            f"{g}/face/front",
            f"the solid front grows {grows:.1f} mm to the damp end and leaves {left:.1f} mm of its two gaps",
            value=left,
            limit=d.practice["front.gap_least"],
            source="movement of the species over the room's humidity (Wood Handbook Eq. 13-2)",
            remedy="wider gaps, a lower front, or a sheet front",
        )
        return False
    return True


def _applied_frame(d: Draft, kit: Kit, front: Placed, place: FrontPlace, margin: float, g: str) -> None:
    """Four mitred mouldings on the front, their outer edge `margin` inside the front's."""
    stick = kit.stick("applied_moulding")
    section, width, thick = blank_section(stick)
    face = place.y[0]
    x, z = (place.x[0] + margin, place.x[1] - margin), (place.z[0] + margin, place.z[1] - margin)
    d.let(f"{g}.applied.length", x[1] - x[0], f"{g}.front.length", rule="front less two margins, long points")
    d.let(f"{g}.applied.height", z[1] - z[0], f"{g}.front.width", rule="front less two margins, long points")
    # Blank y points from the outer edge to the field, z out of the front: the run goes round anticlockwise.
    sides = (
        ("bottom", (x[0], face, z[0]), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), x[1] - x[0]),
        ("top", (x[1], face, z[1]), (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0), x[1] - x[0]),
        ("left", (x[0], face, z[1]), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0), z[1] - z[0]),
        ("right", (x[1], face, z[0]), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), z[1] - z[0]),
    )
    placed = [
        _applied(d, kit, g, stick, section, (width, thick), name, at, run, inward, length)
        for name, at, run, inward, length in sides
    ]
    # Through the thick outer part of the section, from its face.
    across = width / 4
    deep = thickness_at(section, across)
    pin = kit.pin("pin", deep, front.part.blank.thickness)
    for p in placed:
        a, b = p.frame.point((0.0, across, deep)), p.frame.point((p.part.blank.length, across, deep))
        name = p.path.removeprefix(d.path + "/")
        count = max(2, round(p.part.blank.length / d.practice["pin.spacing"]))
        line = PinLine(
            pin=pin,
            start=a,
            end=b,
            drive=(0.0, 1.0, 0.0),
            count=count,
            ends=min(2 * width, 0.36 * p.part.blank.length),
            apart=10.0,
        )
        d.joint(f"{name}~front", JointKind.PINS, p, front, p.frame.origin, line, glued=True)
    for a_name, b_name in (("bottom", "left"), ("left", "top"), ("top", "right"), ("right", "bottom")):
        p, q = d.at(f"{g}/face/applied.{a_name}"), d.at(f"{g}/face/applied.{b_name}")
        d.joint(f"{g}/face/applied.{a_name}~{b_name}", JointKind.MITRE, p, q, q.frame.origin, glued=True)


def _applied(
    d: Draft,
    kit: Kit,
    g: str,
    stick: Stick,
    section: Outline,
    size: tuple[float, float],
    name: str,
    at: Vec,
    run: Vec,
    inward: Vec,
    length: float,
) -> Placed:
    # Blank x along the run, y from the outer edge to the field, z out of the front (x × y must be −y of the piece).
    frame = Frame(origin=at, x=run, y=inward)
    blank = Blank(length=length, width=size[0], thickness=size[1], section=section)
    half = size[0] / 2
    cuts = (
        end_cut_from_normal((-1.0, 1.0, 0.0), half),
        end_cut_from_normal((1.0, 1.0, 0.0), length - half),
    )
    part = Part(
        form=Form.STICK, stock=stick.id, blank=blank, features=cuts, mass_density=stick.density, kind=PartKind.APPLIED
    )
    return d.place_part(
        f"{g}/face/applied.{name}",
        f"applied moulding, {name}",
        part,
        frame,
        shows="front",
        finish=kit.finish,
        sizes=(f"{g}.applied.{'length' if name in ('top', 'bottom') else 'height'}", "", ""),
    )
