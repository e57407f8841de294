"""The false front of a drawer: gaps, applied frame, pull, and how it is hung.

Common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank
from casewright.design.blocks.body import HANDS
from casewright.design.blocks.drawer_box import Box
from casewright.design.blocks.face_frame import Opening
from casewright.design.blocks.hardware import pull_hardware
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.shaping import end_cut_from_normal
from casewright.design.frames import Frame, Vec
from casewright.design.joints.others import PinLine, ThroughBolt
from casewright.design.joints.screws import ScrewLine
from casewright.design.kit import Kit
from casewright.design.outlines import Outline
from casewright.design.parts import Form, Part, Placed
from casewright.design.sections import blank_section, thickness_at
from casewright.design.sites import centred, world_box
from casewright.findings import Severity
from casewright.stock.model import Pull, Stick
from casewright.units.printed import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """What the order says of one drawer, mm: gap around the wood of the front, margin of the applied frame."""

    gap: float
    frame_margin: float
    applied_frame: bool = True


def drawer_front(d: Draft, kit: Kit, opening: Opening, spec: DrawerSpec, g: str) -> float:
    """Place the false front in its opening, with its applied frame; returns its thickness, mm."""
    sheet = kit.sheet("drawer_front")
    d.let(f"{g}.gap", spec.gap, rule="finished gap + paint film + swelling")
    t = d.let(f"{g}.front.thickness", sheet.thickness, rule="front sheet as measured")
    for axis, housing, name, size in (
        ("x", opening.width_name, "length", opening.width),
        ("z", opening.height_name, "width", opening.height),
    ):
        d.let(
            f"{g}.front.{name}",
            size - 2 * spec.gap,
            housing,
            f"{g}.gap",
            rule="opening less two gaps",
            role=Role.INSERT,
        )
        d.chain(
            f"{g}.chain.{axis}",
            axis,
            housing,
            (f"{g}.gap", f"{g}.front.{name}", f"{g}.gap"),
            f"{g}.gap",
            spec.gap * 0.4,
            spec.gap + 1.0,
        )
        d.fit(f"{g}.fit.{axis}", housing, f"{g}.front.{name}", spec.gap, 2 * spec.gap + 2.5, source="common practice")
    mid_z = (opening.z[0] + opening.z[1]) / 2
    front = d.box_part(
        f"{g}/face/front",
        "drawer front",
        kit.material("drawer_front", "paint"),
        centred(d.led[f"{g}.front.length"], opening.middle),
        (0.0, t),
        centred(d.led[f"{g}.front.width"], mid_z),
        grain="x",
        thick="y",
        shows="front",
        coated="back left right up down",
        sizes=(f"{g}.front.length", f"{g}.front.width", f"{g}.front.thickness"),
    )
    if spec.applied_frame:
        _applied_frame(d, kit, front, spec.frame_margin, g)
    return t


def _applied_frame(d: Draft, kit: Kit, front: Placed, margin: float, g: str) -> None:
    """Four mitred mouldings on the front, their outer edge `margin` inside the front's."""
    stick = kit.stick("applied_moulding")
    section, width, thick = blank_section(stick)
    lo, hi = world_box(front)
    x, z = (lo[0] + margin, hi[0] - margin), (lo[2] + margin, hi[2] - margin)
    d.let(f"{g}.applied.length", x[1] - x[0], f"{g}.front.length", rule="front less two margins, long points")
    d.let(f"{g}.applied.height", z[1] - z[0], f"{g}.front.width", rule="front less two margins, long points")
    # Blank y points from the outer edge to the field, z out of the front: the run goes round anticlockwise.
    sides = (
        ("bottom", (x[0], 0.0, z[0]), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), x[1] - x[0]),
        ("top", (x[1], 0.0, z[1]), (-1.0, 0.0, 0.0), (0.0, 0.0, -1.0), x[1] - x[0]),
        ("left", (x[0], 0.0, z[1]), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0), z[1] - z[0]),
        ("right", (x[1], 0.0, z[0]), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), z[1] - z[0]),
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
    part = Part(form=Form.STICK, stock=stick.id, blank=blank, features=cuts, mass_density=stick.density)
    return d.place_part(
        f"{g}/face/applied.{name}",
        f"applied moulding, {name}",
        part,
        frame,
        shows="front",
        finish="paint",
        sizes=(f"{g}.applied.{'length' if name in ('top', 'bottom') else 'height'}", "", ""),
    )


def hang_front(d: Draft, kit: Kit, box: Box, g: str, front_t: float) -> None:
    """The pull's bolts go through front and box; screws from inside the box hold the front besides."""
    p = d.practice
    pull = kit.role("drawer_pull", Pull)
    if not _base_fits(d, kit, pull, g):
        return
    front, inner = d.at(f"{g}/face/front"), d.at(f"{g}/box_front")
    lo, hi = world_box(front)
    z = (lo[2] + hi[2]) / 2
    hardware = pull_hardware(pull)
    knob = d.place_hardware(
        f"{g}/face/pull",
        "drawer pull",
        hardware,
        Frame(origin=(box.middle, 0.0, z), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0)),
    )
    d.excluded.append(knob.path)
    bolt = kit.screw("machine", 8, front_t + box.wood + 4.0, front_t + box.wood + p["pull.thread_most"])
    half = pull.centres / 2
    centres = (box.middle,) if pull.centres == 0 else (box.middle - half, box.middle + half)
    inside_y = box.y[0] + box.wood
    for i, x in enumerate(centres):
        d.joint(
            f"{g}/face/pull~front[{i + 1}]",
            JointKind.HARDWARE,
            front,
            knob,
            (x, 0.0, z),
            ThroughBolt(
                bolt=bolt,
                point=(x, inside_y, z),
                drive=(0.0, -1.0, 0.0),
                through=(front.path, inner.path),
                hole=pull.hole,
            ),
        )
    screw = kit.screw("washer-head", 8, box.wood + 8.0, box.wood + front_t - p["fastener.point_cover"])
    for sign, hand in HANDS:
        reach = min(hi[0] - lo[0], box.x[1] - box.x[0]) / 2 - box.wood
        x = box.middle + sign * reach * p["front.screw_share"]
        d.joint(
            f"{g}/face/front~box.{hand}",
            JointKind.SCREWS,
            inner,
            front,
            (x, box.y[0], z),
            ScrewLine(
                screw=screw,
                start=(x, inside_y, box.z[0] + 20.0),
                end=(x, inside_y, box.z[1]),
                drive=(0.0, -1.0, 0.0),
                count=2,
                ends=12.0,
                apart=20.0,
                clearance=p["front.hole"],
                pilot_at=MadeAt.ASSEMBLY,
            ),
            why="from inside the box, once the gaps are set",
        )


def _base_fits(d: Draft, kit: Kit, pull: Pull, g: str) -> bool:
    """A pull's base is narrower than the field inside an applied frame (common practice)."""
    if not d.has(f"{g}/face/applied.left"):
        return True
    moulding = d.at(f"{g}/face/applied.left").part.blank.width
    base = pull.base_width if pull.centres == 0 else pull.base_height
    field = d.led[f"{g}.applied.height"] - 2 * moulding
    if field >= base + d.practice["pull.field_room"]:
        return True
    d.find(
        "drawer.pull_field",
        Severity.STOP,
        f"{g}/face/front",
        f"the field inside the applied frame is {field:.1f} mm high, the pull's base {base:.1f} mm",
        value=field,
        limit=base + d.practice["pull.field_room"],
        source="common practice",
        remedy="a higher drawer, a smaller pull, a narrower moulding or margin",
    )
    return False
