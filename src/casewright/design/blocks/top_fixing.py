"""How a top of any kind is fixed to any parts under it: screws, slotted screws, buttons, figure-eight plates.

One line stays put, in front as a rule: all movement then goes to the wall. Common practice: a fixing every 8 to 12 in;
level parts take screws from below, in slots where the top moves; upright ones take figure-eight plates where the top
moves along them (they swing), and buttons where it moves across them (the tongue goes in and out of its groove).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import Body, hand_of
from casewright.design.blocks.drawer_seats import BlockingPlan, Seat, fix_along
from casewright.design.blocks.face_frame import Wall
from casewright.design.blocks.hardware import block
from casewright.design.blocks.joining import one_screw
from casewright.design.blocks.shared_wall import meets
from casewright.design.blocks.top import Moisture, ScrewFixing, fixings, line_name, line_y
from casewright.design.blocks.top_kinds import MadeTop
from casewright.design.draft import Draft
from casewright.design.features.base import MadeAt
from casewright.design.features.cuts import Groove
from casewright.design.features.hole_rows import spread
from casewright.design.features.holes import cylinder
from casewright.design.features.openings import Recess
from casewright.design.frames import Frame, Vec, Z, add, cross, dot, scale
from casewright.design.joints.base import Cuts, Detail, Nothing
from casewright.design.kit import Kit
from casewright.design.outlines import obround
from casewright.design.parts import Hardware, Part, Placed
from casewright.design.sites import Span, between, depth_along, entry, sink, world_box
from casewright.findings import Severity
from casewright.stock.fittings import Button, FigurePlate

SCREW_EDGE = 8.0  # mm from the groove of a top's rail to its screws
LEVEL_MOST = 40.0  # mm: a part thicker than this from below is no stretcher to screw through
DISC_PROUD = 3.0  # mm: a plate's disc stands this far over the inner face of what it is let into
PLATE_ROOM = 105.0  # mm: under a plate, for the driver of the screw into the top: an offset driver with its bit
WALL_END = 25.0  # mm: from a tie to the first button or plate along a side, at least
CLEAT_LEAST = 65.0  # mm: shorter, a plate's screw and the two that hold the cleat meet in it
APART = 60.0  # mm: two buttons or plates along a side stand no nearer to each other
TONGUE_LEAST = 3.0  # mm of a button's tongue that stay in the groove at the dry end


class Way(Enum):
    """How the top is fixed to one part."""

    AUTO = "auto"
    SCREWS = "screws, slotted where the top moves"
    BUTTONS = "buttons"
    PLATES = "figure-eight plates"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Support:
    """A part under the top: `inward` points into the case from an upright one; level ones are screwed through.

    `span` is what of its length may take fixings (y of one that runs back, mm); all of it where it is None. `part`
    says which of several spans it is, ".front" or ".rear".
    """

    placed: Placed
    name: str
    level: bool
    along_x: bool
    inward: Vec
    span: Span | None = None
    part: str = ""


def fix_made(
    d: Draft,
    kit: Kit,
    body: Body,
    made: MadeTop,
    wet: Moisture,
    supports: Sequence[Placed],
    way: Way = Way.AUTO,
    fixed: str = "front",
) -> tuple[str, ...]:
    """Fix a top to parts whose upper edges lie under it; return the names of the hardware.

    Tight is the part at `fixed` of those that run across the case ("front", "middle" or "rear"). `way` holds for
    upright parts (and is refused for level ones, which take screws). Raises KitError, ValueError.
    """
    under = sorted((_support(d, body, s) for s in supports), key=lambda s: (world_box(s.placed)[0][1], s.name))
    across = [s for s in under if s.along_x] or under[:1]
    first = across[_PLACE[fixed](len(across))]
    f = _fixing(d, kit, body, made, wet, across, fixed)
    names: list[str] = []
    for s in under:
        if s.level:
            _screwed(f, made, s)
        elif _way(s, s is first, way) is Way.PLATES:
            names += _plates(f, made, s)
        else:
            names += _buttons(f, made, s)
    return tuple(names)


_PLACE: dict[str, Callable[[int], int]] = {"front": lambda n: 0, "middle": lambda n: n // 2, "rear": lambda n: n - 1}


def _fixing(
    d: Draft, kit: Kit, body: Body, made: MadeTop, wet: Moisture, across: Sequence[_Support], fixed: str
) -> ScrewFixing:
    """Return what the lines of screws share: where the top stays put, on which of the parts across the case."""
    wanted = min(body.frame + d.practice["top.screw_from_frame"], made.front_to - SCREW_EDGE)
    front = line_y(across[0].placed, wanted)
    i = _PLACE[fixed](len(across))
    lo, hi = world_box(across[i].placed)
    line = front if i == 0 else _within(made, lo[1], hi[1])
    return ScrewFixing(
        d=d, kit=kit, wet=wet, fixed=line, coefficient=made.coefficient, moves=made.moves, stays=fixed, front=front
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """Sides that take buttons or plates between ties: `way`, the spans (y) that are free, and the sides themselves."""

    way: Way
    spans: tuple[Span, ...]
    sides: tuple[Placed, ...]


def fix_to_walls(
    d: Draft,
    kit: Kit,
    body: Body,
    made: MadeTop,
    wet: Moisture,
    ties: Sequence[Placed],
    walls: Walls,
    fixed: str = "front",
) -> tuple[str, ...]:
    """Fix a top by screws through ties, tight in the one at `fixed`, and by buttons or plates along the sides.

    Screws hold it to the rear tie as well where that is long, or where a side has no room. Returns the names of the
    hardware.
    """
    across = [_support(d, body, tie) for tie in ties]
    rear = across[-1]
    f = _fixing(d, kit, body, made, wet, across, fixed)
    for tie in across[:-1]:
        _screwed(f, made, tie)
    names: list[str] = []
    bare = False
    for side in walls.sides:
        got = []
        for i, free in enumerate(walls.spans):
            s = _support(d, body, side)
            part = f".{('front', 'rear')[i]}" if len(walls.spans) > 1 else ""
            s = replace(s, span=free, name=s.name + part, part=part)
            got += _plates_on_cleat(f, body, made, s) if walls.way is Way.PLATES else _buttons(f, made, s)
        names += got
        bare = bare or not got
    lo, hi = world_box(rear.placed)
    if not names:
        d.find(
            "top.fixing",
            Severity.STOP,
            "top.fixing",
            f"{walls.way.value} find no room along the sides, between the ties and over what is fixed there",
            source="common practice",
            remedy='top.fixing = "auto"',
        )
    if bare or fixed == "rear" or hi[0] - lo[0] > 2 * d.practice["top.fixing_spacing"]:
        _screwed(f, made, rear)
    return tuple(names)


def _plates_on_cleat(f: ScrewFixing, body: Body, made: MadeTop, side: _Support) -> list[str]:
    """Place a cleat along a side, and plates on it wherever a driver reaches their screws from below."""
    wide = f.d.practice["top.cleat_thickness"]
    plate = f.kit.role("figure_plate", FigurePlate)
    room = (wide + plate.length, plate.diameter / 2, PLATE_ROOM)
    places = _free(f, made, side, _inner_face(side), room)
    if not places or side.span is None or side.span[1] - side.span[0] < CLEAT_LEAST:
        return []
    cleat = _cleat(f, body, side, side.span, tuple(at[1] - side.span[0] for at in places))
    own = _support(f.d, body, cleat)
    return _plates(f, made, replace(own, span=side.span))


def _cleat(f: ScrewFixing, body: Body, s: _Support, y: Span, taken: tuple[float, ...]) -> Placed:
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


def _way(s: _Support, first: bool, way: Way) -> Way:
    if way is not Way.AUTO:
        return way
    return Way.PLATES if first or not s.along_x else Way.BUTTONS


def _support(d: Draft, body: Body, placed: Placed) -> _Support:
    lo, hi = world_box(placed)
    size = [hi[i] - lo[i] for i in range(3)]
    along_x = size[0] >= size[1]
    mid_x, mid_y = (lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2
    if along_x:
        inward: Vec = (0.0, 1.0 if mid_y < body.depth / 2 else -1.0, 0.0)
    else:
        inward = (1.0 if mid_x < 0 else -1.0, 0.0, 0.0)
    return _Support(
        placed=placed,
        name=placed.path.removeprefix(d.path + "/"),
        level=size[2] <= LEVEL_MOST and size[2] <= min(size[0], size[1]) + 1e-6,
        along_x=along_x,
        inward=inward,
    )


def _target(made: MadeTop, y: float) -> Placed:
    lo, hi = world_box(made.rear)
    return made.rear if lo[1] <= y <= hi[1] else made.front


def _screwed(f: ScrewFixing, made: MadeTop, s: _Support) -> None:
    """Lines of screws along a part that runs across the case, single screws at the ends of one that runs back."""
    lo, hi = world_box(s.placed)
    x = (max(lo[0], made.across[0]), min(hi[0], made.across[1]))
    if s.along_x:
        y = next((y for y in (f.fixed, f.front) if lo[1] < y < hi[1]), _within(made, lo[1], hi[1]))
        f.line(f"top~{s.name}", s.placed, _target(made, y), x, y, fixings(f.d, hi[0] - lo[0]), line_name(s.name))
        if s.name == "stretcher.front":
            f.land(s.placed, _target(made, y))
        return
    inset = f.d.practice["top.screw_ends"]
    for word, y in (("front", lo[1] + inset), ("rear", hi[1] - inset)):
        f.line(
            f"top~{s.name}.{word}", s.placed, _target(made, y), x, y, 1, line_name(f"{s.name}.{word}")
        )  # fmt: skip


def _within(made: MadeTop, low: float, high: float) -> float:
    """Return the middle of what a part and the top's rear member have in common (y)."""
    lo, hi = world_box(made.rear)
    a, b = max(low, lo[1]), min(high, hi[1])
    return (a + b) / 2 if b > a else (low + high) / 2


# --- buttons ---


def button_hardware(button: Button) -> Hardware:
    """Return a button: x across its width, y from its shoulder along the tongue, z up; its upper face is z = 0."""
    half, body = button.width / 2, button.length - button.tongue_length
    low = -button.tongue_drop - button.tongue_thickness
    return Hardware(
        item=button.id,
        bodies=(
            block((-half, half), (-body, 0.0), (-button.thickness, 0.0)),
            block((-half, half), (0.0, button.tongue_length), (max(low, -button.thickness), -button.tongue_drop)),
        ),
        mass=button.mass,
    )


def _buttons(f: ScrewFixing, made: MadeTop, s: _Support) -> list[str]:
    d, button = f.d, f.kit.role("button", Button)
    lo, hi = world_box(s.placed)
    face = _inner_face(s)
    across = dot(s.inward, (0.0, 1.0, 0.0)) != 0.0
    gap = _button_gap(f, made, s, button, face) if across else 1.0
    # A thin side takes less of the tongue: the shoulder then stands further off.
    gap = max(gap, button.tongue_length + 1.0 - _groove_depth(s, button))
    names: list[str] = []
    half = button.width / 2
    room = (button.length - button.tongue_length + gap, half, button.thickness)
    for i, at in enumerate(_free(f, made, s, face, room)):
        point = add(at, scale(s.inward, face + gap - dot(at, s.inward)))
        top = _target(made, point[1])
        frame = Frame(origin=(point[0], point[1], hi[2]), x=cross(scale(s.inward, -1.0), Z), y=scale(s.inward, -1.0))
        name = f"button.{s.name}[{i + 1}]"
        placed = d.place_hardware(name, "button", button_hardware(button), frame)
        cuts: Detail = Nothing()
        if s.span is not None:
            cuts = Cuts(cuts=((s.placed.path, _groove(d, s, button, *_slot(f, made, s, button, point))),))
        elif i == 0:
            cuts = Cuts(cuts=((s.placed.path, _groove(d, s, button, lo, hi)),))
        d.joint(f"{name}~{s.name}", JointKind.BUTTONS, s.placed, placed, point, cuts, why=_button_why(across))
        screw = f.kit.named_screw(button.screw)
        body = button.length - button.tongue_length
        start = add((point[0], point[1], hi[2] - button.thickness), scale(s.inward, body / 2))
        d.joint(
            f"{name}~top",
            JointKind.SCREWS,
            placed,
            top,
            start,
            one_screw(f.kit, screw, start, Z, button.thickness, top, MadeAt.ASSEMBLY),
        )
        names.append(name)
    return names


def _slot(f: ScrewFixing, made: MadeTop, s: _Support, button: Button, at: Vec) -> tuple[Vec, Vec]:
    """Return the box (lo, hi) of a side in which one button's slot lies: it slides along that as the top moves."""
    lo, hi = world_box(s.placed)
    move = f.coefficient * (f.wet.damp - f.wet.dry) * made.moves(f.fixed, at[1])
    half = button.width / 2 + move + f.d.practice["button.play"]
    return (lo[0], at[1] - half, lo[2]), (hi[0], at[1] + half, hi[2])


def _button_why(across: bool) -> str:
    return "the top moves across: the tongue goes in and out" if across else "the top moves along the groove"


def _button_gap(f: ScrewFixing, made: MadeTop, s: _Support, button: Button, face: float) -> float:
    """Return how far the shoulder stands off the part: what the top can still grow towards it, and 1 mm."""
    y = abs(face)
    distance = made.moves(f.fixed, y)
    grow = f.coefficient * (f.wet.damp - f.wet.fitted) * distance
    shrink = f.coefficient * (f.wet.fitted - f.wet.dry) * distance
    gap = max(0.0, grow) + 1.0
    left = button.tongue_length - gap - max(0.0, shrink)
    if left < TONGUE_LEAST:
        f.d.find(
            "button.short",
            Severity.WARN,
            s.name,
            f"{left:.1f} mm of the buttons' tongues stay in the groove at the dry end",
            value=left,
            limit=TONGUE_LEAST,
            source="common practice: movement of the top between its fixed line and the groove",
            remedy="buttons with a longer tongue, or a fixed line in the middle of the top",
        )
    return gap


def _groove(d: Draft, s: _Support, button: Button, lo: Vec, hi: Vec) -> Groove:
    """A groove along the inner face; the tongue bears on its upper wall, the play lies below."""
    high = hi[2] - button.tongue_drop
    low = high - button.tongue_thickness - d.practice["button.play"]
    deep = _groove_depth(s, button)
    face = _inner_face(s)
    a, b = list(lo), list(hi)
    axis = 1 if s.along_x else 0
    way = s.inward[axis]
    a[axis], b[axis] = sorted((face * way, (face - deep) * way))
    if s.span is not None:
        d.keep_out(f"{s.name}.slot[{lo[1]:.0f}]", (a[0], a[1], low), (b[0], b[1], high), of=(s.placed,))
    return sink(Groove, s.placed, s.inward, (a[0], a[1], low), (b[0], b[1], high))


def _free(f: ScrewFixing, made: MadeTop, s: _Support, face: float, room: tuple[float, float, float]) -> list[Vec]:
    """Return the places of a support where nothing stands in the way of a fitting.

    `room` is how far it reaches inwards from the inner `face`, to both sides, and below the top, mm.
    """
    if s.span is None:
        return _places(f, s)
    d, (inwards, half, down) = f.d, room
    # What is kept free for fasteners of the top and of this part counts too: drivers pass there.
    ours = {s.placed.path, made.front.path, made.rear.path}
    taken = [(k.lo, k.hi) for k in d.keepouts if not k.of or set(k.of) & ours]
    names = (path.removeprefix(d.path + "/") for path in d.under(""))
    taken += [world_box(p) for p in map(d.at, names) if isinstance(p.thing, Part) and p.path != s.placed.path]
    out = []
    for at in _places(f, s):
        x = sorted((face * s.inward[0], (face + inwards) * s.inward[0]))
        box = ((x[0], at[1] - half, at[2] - down), (x[1], at[1] + half, at[2] - 1e-3))
        if not meets([box], taken):
            out.append(at)
    return out


def _groove_depth(s: _Support, button: Button) -> float:
    """Return how deep a tongue's groove is, mm: the tongue and a little, in a side at most half its thickness."""
    deep = button.tongue_length + 1.0
    return deep if s.span is None else min(deep, depth_along(s.placed, s.inward) / 2)


def _inner_face(s: _Support) -> float:
    """Return how far the inner face of an upright part lies along its inward direction."""
    lo, hi = world_box(s.placed)
    return max(dot(lo, s.inward), dot(hi, s.inward))


def _places(f: ScrewFixing, s: _Support) -> list[Vec]:
    lo, hi = world_box(s.placed)
    axis = 0 if s.along_x else 1
    mid: Vec = ((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, hi[2])
    out: list[Vec] = []
    if s.span is not None:
        (low, high), spare = s.span, WALL_END
        if high - low < 2 * spare:
            return out
        if high - low < 2 * spare + APART:
            return [(mid[0], (low + high) / 2, mid[2])]
        count = max(1, math.ceil((high - low - 2 * spare) / f.d.practice["top.fixing_spacing"]) + 1)
        step = (high - low - 2 * spare) / max(1, count - 1)
        return [(mid[0], low + spare + i * step, mid[2]) for i in range(count)]
    length = hi[axis] - lo[axis]
    for at in spread(length, min(f.d.practice["top.screw_ends"] * 1.5, length / 4), f.d.practice["top.fixing_spacing"]):
        p = list(mid)
        p[axis] = lo[axis] + at
        out.append((p[0], p[1], p[2]))
    return out


# --- figure-eight plates ---


def plate_hardware(plate: FigurePlate) -> Hardware:
    """Return a plate: its discs on the y axis, the first at the origin; z up, its upper face is z = 0."""
    r, t = plate.diameter / 2, plate.thickness
    apart = plate.length - plate.diameter
    discs = tuple(cylinder((0.0, y, -t), (0.0, 0.0, 1.0), r, r, t) for y in (0.0, apart))
    return Hardware(item=plate.id, bodies=(*discs, block((-r / 2, r / 2), (0.0, apart), (-t, 0.0))), mass=plate.mass)


def _plates(f: ScrewFixing, made: MadeTop, s: _Support) -> list[str]:
    d, plate = f.d, f.kit.role("figure_plate", FigurePlate)
    top_z = world_box(s.placed)[1][2]
    inner = _inner_face(s) - (plate.diameter / 2 - DISC_PROUD)
    apart = plate.length - plate.diameter
    screw = f.kit.named_screw(plate.screw)
    names: list[str] = []
    room = (plate.length, plate.diameter / 2, PLATE_ROOM)
    for i, at in enumerate(_free(f, made, s, _inner_face(s), room)):
        disc = add(at, scale(s.inward, inner - dot(at, s.inward)))
        far = add(disc, scale(s.inward, apart))
        top = _target(made, far[1])
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


def _bed(s: _Support, plate: FigurePlate, disc: Vec) -> Recess:
    """A recess open to the inside, wide enough for the plate to swing."""
    face, at, _ = entry(s.placed, disc, (0.0, 0.0, -1.0))
    local = s.placed.frame.local_direction(s.inward)
    u, v = face.uv_axes
    far = (at[0] + local[u] * plate.length, at[1] + local[v] * plate.length)
    outline = obround(at, far, plate.diameter + plate.swing)
    return Recess(face=face, outline=outline, depth=plate.thickness)


def _swings(f: ScrewFixing, made: MadeTop, s: _Support, plate: FigurePlate) -> None:
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
