"""Figure-eight plates under a top: they lie flush in their beds and swing as the top moves along."""

from __future__ import annotations

from dataclasses import replace

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import Body, hand_of
from casewright.design.blocks.drawer_seats import BlockingPlan, Seat, fix_along
from casewright.design.blocks.face_frame import Wall
from casewright.design.blocks.hardware import block
from casewright.design.blocks.joining import one_screw
from casewright.design.blocks.top import ScrewFixing
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.blocks.top_support import Support, free_places, inner_face, over, support_of
from casewright.design.features.base import MadeAt
from casewright.design.features.holes import cylinder
from casewright.design.features.openings import Recess
from casewright.design.frames import Frame, Vec, Z, add, cross, dot, scale
from casewright.design.joints.base import Cuts
from casewright.design.outlines import obround
from casewright.design.parts import Hardware, Placed
from casewright.design.sites import Span, between, entry, world_box
from casewright.findings import Severity
from casewright.stock.fittings import FigurePlate

DISC_PROUD = 3.0  # mm: a plate's disc stands this far over the inner face of what it is let into
PLATE_ROOM = 105.0  # mm: under a plate, for the driver of the screw into the top: an offset driver with its bit
CLEAT_LEAST = 65.0  # mm: shorter, a plate's screw and the two that hold the cleat meet in it


def plates_on_cleat(f: ScrewFixing, body: Body, made: MadeTop, side: Support) -> list[str]:
    """Place a cleat along a side, and plates on it wherever a driver reaches their screws from below."""
    wide = f.d.practice["top.cleat_thickness"]
    plate = f.kit.role("figure_plate", FigurePlate)
    room = (wide + plate.length, plate.diameter / 2, PLATE_ROOM)
    places = free_places(f, made, side, inner_face(side), room)
    if not places or side.span is None or side.span[1] - side.span[0] < CLEAT_LEAST:
        return []
    cleat = _cleat(f, body, side, side.span, tuple(at[1] - side.span[0] for at in places))
    own = support_of(f.d, body, cleat)
    return fix_plates(f, made, replace(own, span=side.span))


def _cleat(f: ScrewFixing, body: Body, s: Support, y: Span, taken: tuple[float, ...]) -> Placed:
    """Place a strip of solid wood along a side under the top: plates want side grain for their screws."""
    d, p, side = f.d, f.d.practice, s.placed
    sign = -1 if side.path.endswith(".left") else 1
    sizes = f"top_cleat{s.part}"
    wide, high = p["top.cleat_thickness"], p["top.cleat_height"]
    for name, size in (("length", y[1] - y[0]), ("height", high), ("thickness", wide)):
        if f"{sizes}.{name}" not in d.led:
            d.let(f"{sizes}.{name}", size, rule="between the stretchers" if name == "length" else "practice")
    face = sign * body.inside / 2
    cleat = d.box_part(
        f"top_cleat.{hand_of(sign)}{s.part}",
        f"cleat under the top, {hand_of(sign)}",
        f.kit.blocking(wide),
        between(face, face - sign * wide),
        y,
        (body.z1 - high, body.z1),
        grain="y",
        thick="x",
        sizes=(f"{sizes}.length", f"{sizes}.height", f"{sizes}.thickness"),
    )
    wall = Wall(name=f"side.{hand_of(sign)}", face=face, thickness=body.side, member="", sheet="side.thickness")
    seat = Seat(sign=sign, face=face, onto=side, wall=side, beside=wall, blocking=0.0)
    why = "side grain under the top for the plates' screws"
    plan = BlockingPlan(y=y, z=(body.z1 - high, body.z1), screw_z=body.z1 - high * 0.6, taken=taken, why=why)
    fix_along(d, f.kit, seat, cleat, side, f.wet, (wide, face), plan)
    return cleat


def plate_hardware(plate: FigurePlate) -> Hardware:
    """Return a plate: its discs on the y axis, the first at the origin; z up, its upper face is z = 0."""
    r, t = plate.diameter / 2, plate.thickness
    apart = plate.length - plate.diameter
    discs = tuple(cylinder((0.0, y, -t), (0.0, 0.0, 1.0), r, r, t) for y in (0.0, apart))
    return Hardware(item=plate.id, bodies=(*discs, block((-r / 2, r / 2), (0.0, apart), (-t, 0.0))), mass=plate.mass)


def fix_plates(f: ScrewFixing, made: MadeTop, s: Support) -> list[str]:
    """Place plates along an upright part, each in its bed, screwed from above and into the top; return their names."""
    d, plate = f.d, f.kit.role("figure_plate", FigurePlate)
    top_z = world_box(s.placed)[1][2]
    inner = inner_face(s) - (plate.diameter / 2 - DISC_PROUD)
    apart = plate.length - plate.diameter
    screw = f.kit.named_screw(plate.screw)
    names: list[str] = []
    room = (plate.length, plate.diameter / 2, PLATE_ROOM)
    for i, at in enumerate(free_places(f, made, s, inner_face(s), room)):
        disc = add(at, scale(s.inward, inner - dot(at, s.inward)))
        far = add(disc, scale(s.inward, apart))
        top = over(made, far[1])
        name = f"plate.{s.name}[{i + 1}]"
        frame = Frame(origin=disc, x=cross(s.inward, Z), y=s.inward)
        placed = d.place_hardware(name, "figure-eight plate", plate_hardware(plate), frame)
        d.joint(
            f"{name}~{s.name}.bed",
            JointKind.FIGURE_PLATES,
            s.placed,
            placed,
            disc,
            Cuts(cuts=((s.placed.path, _bed(s, plate, disc)),)),
            why="the plate lies flush and can swing",
        )
        d.joint(
            f"{name}~{s.name}",
            JointKind.HARDWARE,
            placed,
            s.placed,
            disc,
            one_screw(f.kit, screw, disc, (0.0, 0.0, -1.0), 0.0, s.placed),
        )
        low = (far[0], far[1], top_z - plate.thickness)
        d.joint(
            f"{name}~top",
            JointKind.FIGURE_PLATES,
            placed,
            top,
            far,
            one_screw(f.kit, screw, low, Z, plate.thickness, top, MadeAt.ASSEMBLY),
            why="it swings as the top moves",
        )
        names.append(name)
    if names:
        _swings(f, made, s, plate)
    return names


def _bed(s: Support, plate: FigurePlate, disc: Vec) -> Recess:
    """A recess open to the inside, wide enough for the plate to swing."""
    face, at, _ = entry(s.placed, disc, (0.0, 0.0, -1.0))
    local = s.placed.frame.local_direction(s.inward)
    u, v = face.uv_axes
    far = (at[0] + local[u] * plate.length, at[1] + local[v] * plate.length)
    outline = obround(at, far, plate.diameter + plate.swing)
    return Recess(face=face, outline=outline, depth=plate.thickness)


def _swings(f: ScrewFixing, made: MadeTop, s: Support, plate: FigurePlate) -> None:
    """A plate follows the top as far as it swings; farther, it would be torn out."""
    lo, hi = world_box(s.placed)
    distance = max(made.moves(f.fixed, lo[1]), made.moves(f.fixed, hi[1]))
    move = f.coefficient * max(f.wet.damp - f.wet.fitted, f.wet.fitted - f.wet.dry) * distance
    if move > plate.swing:
        f.d.find(
            "plate.swing",
            Severity.WARN,
            s.name,
            f"the top moves {move:.1f} mm where a plate swings {plate.swing:.1f} mm",
            value=move,
            limit=plate.swing,
            source=plate.source,
            remedy="larger plates, or slotted screws",
        )
