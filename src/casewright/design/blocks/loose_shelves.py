"""Adjustable shelves on pins in rows of holes, as many rows as the walls allow.

Common practice. A shelf is the room less its play; it tilts in through the opening; its front edge stands back from
the front, its pins from both edges. Holes keep the pitch of the 32 mm system.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.bays import Region
from casewright.design.blocks.drawer_stock import glue_up, over_size, wood_of
from casewright.design.blocks.face_frame import Wall
from casewright.design.blocks.hardware import block
from casewright.design.blocks.shared_wall import meets
from casewright.design.blocks.shell import Shell
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import cylinder
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Hardware, Part
from casewright.design.sites import DIRECTIONS, Span, centred, world_box
from casewright.findings import Severity
from casewright.stock.fittings import EdgeBand, ShelfPin
from casewright.units.printed import Role

WALLS = (("left", 1.0), ("right", -1.0))  # the wall, and the way from it into the bay


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """The rows of holes of one bay: heights of the holes, their distances from the front (y) by wall, mm."""

    heights: tuple[float, ...]
    left: tuple[float, float]
    right: tuple[float, float]

    def at(self, hand: str) -> tuple[float, float]:
        return self.left if hand == "left" else self.right


def loose_shelves(s: Shell, region: Region, count: int, front: float) -> None:
    """Place `count` adjustable shelves in a bay, spread over its height, all behind y = `front` (mm)."""
    if count == 0:
        return
    p = s.d.practice
    g = f"loose[{region.cell}]"
    pin = s.kit.role("shelf_pin", ShelfPin)
    y = (max(front, s.y[0]) + p["shelf.behind"], s.y[1] - p["shelf.off_back"])
    rows = _rows(s, region, count, y)
    if rows is None:
        return
    _let_shelf(s, region, g, y)
    for hand, way in WALLS:
        _bore(s, region, rows, pin, hand, way)
    free = _free_holes(s, region, rows, pin, y)
    for i, place in enumerate(_nearest(_spread(len(rows.heights), count), free)):
        _shelf(s, region, rows, pin, f"{g}/{i + 1}", rows.heights[place], y)


def _rows(s: Shell, region: Region, count: int, y: Span) -> _Rows | None:
    d, p = s.d, s.d.practice
    low, high = region.own
    pitch, margin = p["shelf.pin_pitch"], p["shelf.pin_margin"]
    n = int((high - low - 2 * margin + 1e-6) // pitch) + 1
    inset = p["shelf.pin_inset"]
    if n < max(2, count) or y[1] - y[0] < 3 * inset:
        d.find(
            "shelf.no_room",
            Severity.STOP,
            f"bays[{region.key}]",
            f"{count} adjustable shelves need more room than {high - low:.0f} × {y[1] - y[0]:.0f} mm",
            value=high - low,
            limit=2 * margin + pitch * (max(2, count) - 1),
            source="practice shelf.pin_margin, shelf.pin_pitch, shelf.pin_inset",
            remedy="fewer shelves, or a higher bay",
        )
        return None
    first = low + (high - low - (n - 1) * pitch) / 2
    heights = tuple(first + i * pitch for i in range(n))
    # Rows on both sides of a divider must not meet in its thickness.
    apart = 0.0 if region.right.name.startswith("side.") else p["shelf.rows_apart"]
    # Between corner posts the rows stay in the sides.
    front = max(y[0] + inset, s.body.side_y[0] + p["shelf.row_edge"])
    rear = min(y[1] - inset, s.body.side_y[1] - p["shelf.row_edge"])
    left, right = (
        (_clear(s, wall, heights, front + a, 1.0), _clear(s, wall, heights, rear - a, -1.0))
        for wall, a in ((region.left, 0.0), (region.right, apart))
    )
    return _Rows(heights=heights, left=left, right=right)


def _clear(s: Shell, wall: Wall, heights: tuple[float, ...], wanted: float, way: float) -> float:
    """Return the y of a row, moved into the shelf as far as it takes to miss the screws of hardware in that wall."""
    off = s.d.practice["shelf.screw_off"]
    low, high = heights[0] - off, heights[-1] + off
    taken = [p[1] for p in s.d.fixed_screws(s.d.at(wall.name)) if low <= p[2] <= high]
    y = wanted
    while any(abs(y - t) < off for t in taken):
        y += way
    return y


def _spread(holes: int, count: int) -> tuple[int, ...]:
    """Return which holes `count` shelves take, as even as they allow."""
    return tuple(round((i + 1) * (holes - 1) / (count + 1)) for i in range(count))


def _free_holes(s: Shell, region: Region, rows: _Rows, pin: ShelfPin, y: Span) -> tuple[int, ...]:
    """Return the holes in which a shelf meets nothing in its bay: what hinges, rods and drawers have there."""
    (x0, x1), thick = region.inside, s.kit.panel_thickness("shelf")
    low, high = (x0 + 1.0, y[0], -pin.hole), (x1 - 1.0, y[1], pin.above + thick)
    kept = [(k.lo, k.hi) for k in s.d.keepouts if not k.of]
    names = [path.removeprefix(s.d.path + "/") for path in s.d.under("")]
    beside = [
        s.d.at(n) for n in names if n == "fixing_rail" or (n.startswith(("drawer[", "door[", "rail[")) and "/" not in n)
    ]
    kept += [world_box(placed) for placed in beside if isinstance(placed.thing, Part)]

    def free(z: float) -> bool:
        box = ((low[0], low[1], z + low[2]), (high[0], high[1], z + high[2]))
        return not meets([box], kept)

    return tuple(i for i, z in enumerate(rows.heights) if free(z))


def _nearest(wanted: tuple[int, ...], free: tuple[int, ...]) -> tuple[int, ...]:
    """Return a free hole near each wanted one, each another; the wanted ones where there are too few."""
    left, out = list(free), []
    for place in wanted:
        if not left:
            return wanted
        out.append(min(left, key=lambda i: (abs(i - place), i)))
        left.remove(out[-1])
    return tuple(sorted(out))


def _let_shelf(s: Shell, region: Region, g: str, y: Span) -> None:
    d = s.d
    a, b = region.inside
    d.let(f"{g}.room", b - a, "inside.width", "side.thickness", rule="between the walls of its bay", role=Role.HOUSING)
    play = d.practice["shelf.play"] + 2 * d.practice["finish.film_face"]
    d.let(
        f"{g}.length",
        b - a - play,
        f"{g}.room",
        rule="room less play and paint, so that it tilts in",
        role=Role.INSERT,
    )
    d.fit(f"{g}.fit", f"{g}.room", f"{g}.length", 1.5, 6.0, source="common practice")
    taped = _band(s)
    band = taped.thickness if taped is not None else 0.0
    d.let(f"{g}.width", y[1] - y[0] - band, "body.depth", rule="behind the front, clear of the back, less a band")
    d.let(f"{g}.thickness", s.kit.panel_thickness("shelf"), rule="shelf stock as measured")


def _band(s: Shell) -> EdgeBand | None:
    """Return the band of a shelf's front edge, None where it shows no layers: solid wood, fibreboard."""
    wood = wood_of(s.kit, "shelf")
    return s.kit.band(wood.thickness) if wood.banded else None


def _bore(s: Shell, region: Region, rows: _Rows, pin: ShelfPin, hand: str, way: float) -> None:
    wall = region.left if hand == "left" else region.right
    placed = s.d.at(wall.name)
    face = placed.face_towards((way, 0.0, 0.0))
    pitch = s.d.practice["shelf.pin_pitch"]
    low, high = rows.heights[0], rows.heights[-1]
    for row, y in zip(("front", "rear"), rows.at(hand), strict=True):
        ends = [placed.frame.local_point((wall.face, y, z)) for z in (low, high)]
        u, v = face.uv_axes
        first = min((e[u], e[v]) for e in ends)
        s.d.cut(
            placed,
            HoleRow(
                face=face,
                u=first[0],
                v=first[1],
                along=0,
                count=len(rows.heights),
                pitch=pitch,
                diameter=pin.hole,
                depth=pin.depth,
            ),
        )
        r, into = pin.hole / 2, wall.face - way * pin.depth
        lo = (min(into, wall.face), y - r, low - r)
        hi = (max(into, wall.face), y + r, high + r)
        s.d.keep_out(f"loose[{region.cell}].holes.{row}.{hand}", lo, hi)


def _shelf(s: Shell, region: Region, rows: _Rows, pin: ShelfPin, name: str, z: float, y: Span) -> None:
    d = s.d
    g = name.rpartition("/")[0]
    a, b = region.inside
    rest = z + pin.above
    strips = glue_up(wood_of(s.kit, "shelf"), d.led[f"{g}.width"], d.practice)
    board = d.box_part(
        f"{name}/board",
        "adjustable shelf",
        s.kit.material("shelf", s.finish),
        centred(d.led[f"{g}.length"], (a + b) / 2),
        y,
        (rest, rest + d.led[f"{g}.thickness"]),
        grain="x",
        thick="z",
        shows="front",
        coated="up down left right",
        sizes=(f"{g}.length", f"{g}.width", f"{g}.thickness"),
        band=_band(s),
        rough=over_size(strips, d.practice),
        made_of=strips,
        banded="front",
    )
    for hand, way in WALLS:
        wall = region.left if hand == "left" else region.right
        for row, place in zip(("front", "rear"), rows.at(hand), strict=True):
            item = d.place_hardware(
                f"{name}/pin.{row}.{hand}", "shelf pin", _pin(pin), _out_of((wall.face, place, z), way)
            )
            host = d.at(wall.name)
            d.joint(
                f"{name}/pin.{row}.{hand}~{wall.name}",
                JointKind.HARDWARE,
                host,
                item,
                item.frame.origin,
                why="pushed in",
            )
            d.joint(
                f"{name}/board~pin.{row}.{hand}", JointKind.HELD, item, board, item.frame.origin, why="lies on its pins"
            )


def _out_of(origin: Vec, way: float) -> Frame:
    """Return the frame of a pin: z out of the wall, y up."""
    return Frame(origin=origin, x=(0.0, way, 0.0), y=DIRECTIONS["up"])


def _pin(pin: ShelfPin) -> Hardware:
    """Return a pin: its shank in the wall, and the arm or spoon whose upper side carries the shelf."""
    r = pin.hole / 2
    shank = cylinder((0.0, 0.0, -pin.depth), (0.0, 0.0, 1.0), r, r, pin.depth)
    if pin.above > 0:
        arm = cylinder((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), pin.above, pin.above, pin.reach)
        return Hardware(item=pin.id, bodies=(shank, arm), mass=pin.mass)
    spoon = block((-r, r), (-r, 0.0), (0.0, pin.reach))
    return Hardware(item=pin.id, bodies=(shank, spoon), mass=pin.mass)
