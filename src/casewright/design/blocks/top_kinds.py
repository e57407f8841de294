"""Tops by kind: solid, banded sheet, panelled frame, breadboard ends. Each lies over a body, short of the wall.

`make_top` places one; `top_fixing.fix` screws it down. Common practice throughout: see each maker's docstring.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.joining import Making, join
from casewright.design.blocks.top import Moisture, TopSpec, let_top_size, movement_coefficient, strips, top
from casewright.design.blocks.top_ends import breadboard_end
from casewright.design.draft import Draft
from casewright.design.features.cuts import Groove
from casewright.design.features.shaping import EndCut
from casewright.design.features.stopped import rabbet
from casewright.design.frames import Vec, scale, unit
from casewright.design.joints.base import Cuts
from casewright.design.joints.tenons import tenon_thickness
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, PartKind, Placed
from casewright.design.sections import blank_section, mitre_cut
from casewright.design.sites import DIRECTIONS, Span, centred, sink, span, world_box
from casewright.stock.model import Board, Sheet
from casewright.units.printed import Role

SCREW_ROOM = 10.0  # mm: of a panelled top's front, between its screws and its groove
GROOVE_DEPTH = 8.0  # mm: of a panelled top's frame; its panel's tongue is shorter by TONGUE_SHORT
TONGUE_SHORT = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeTop:
    """A top in place: the part that is fixed to the case, where it is wood that moves (y spans), and its C in 1/%.

    `front` and `rear` are the parts that front and rear fixings go into (the panel itself, or rails of a frame),
    `front_to` is the y up to which the front is whole, `across` the x span in which fixings may go into both.
    """

    panel: Placed
    front: Placed
    rear: Placed
    across: Span
    moving: tuple[Span, ...] = ()
    coefficient: float = 0.0
    front_to: float = 1e9
    edges: tuple[str, ...] = ()  # names of parts glued to it on the bench

    def moves(self, a: float, b: float) -> float:
        """Return how much of the wood between two places (y, mm) moves."""
        lo, hi = min(a, b), max(a, b)
        return sum(max(0.0, min(hi, m[1]) - max(lo, m[0])) for m in self.moving)


def make_top(d: Draft, kit: Kit, body: Body, spec: TopSpec, kind: str, wet: Moisture) -> MadeTop:
    """Place a top of a kind: "solid", "banded", "edged", "panelled" or "breadboard". Raises KitError, ValueError."""
    if kind not in KINDS:
        raise ValueError(f"a top is {', '.join(KINDS)}, got {kind!r}")
    return KINDS[kind](d, kit, body, spec, wet)


def solid(d: Draft, kit: Kit, body: Body, spec: TopSpec, wet: Moisture) -> MadeTop:
    """A panel glued up from boards: all of it moves."""
    if isinstance(kit.sizes.item("top"), Sheet):
        raise KitError("a solid top", "a board for the role top", "a sheet")
    panel = top(d, kit, body, spec)
    return _moving(kit, panel, (_y(d, spec),))


def banded(d: Draft, kit: Kit, body: Body, spec: TopSpec, wet: Moisture) -> MadeTop:
    """A sheet with thin bands in front and at the sides, at the back too where it overhangs: nothing moves.

    Bands count in the finished size.
    """
    _sheet(kit, "banded")
    band = kit.band(spec.thickness)
    let_top_size(d, body, spec)
    ways = "front left right back" if spec.overhang_back > 0 else "front left right"
    d.let("top.cut_length", d.led["top.length"] - 2 * band.thickness, "top.length", rule="less the bands of both ends")
    bands = len(ways.split()) - 2
    d.let("top.cut_width", d.led["top.width"] - bands * band.thickness, "top.width", rule="less the bands")
    panel = d.box_part(
        "top",
        "top",
        kit.material("top", kit.top_finish),
        centred(d.led["top.length"]),
        _y(d, spec),
        span(body.z1, spec.thickness),
        grain="x",
        thick="z",
        shows="up front left right",
        coated="down",
        sizes=("top.cut_length", "top.cut_width", "top.thickness"),
        band=band,
        banded=ways,
        kind=PartKind.TOP,
    )
    return MadeTop(panel=panel, front=panel, rear=panel, across=_x(panel))


def edged(d: Draft, kit: Kit, body: Body, spec: TopSpec, wet: Moisture) -> MadeTop:
    """A sheet with solid edging, mitred at the front corners, square at the back: nothing moves.

    The edging is planed flush with the sheet, and counts in the finished size.
    """
    sheet = _sheet(kit, "edged")
    _, high, wood = blank_section(kit.stick("edging"))
    if sheet.thickness > high + 1e-6:
        raise KitError("the edging of a top", f"a strip {sheet.thickness:.1f} mm high or more", f"{high:.1f} mm")
    let_top_size(d, body, spec)
    d.let("top.edging", wood, rule="thickness of the edging")
    x, y, z = centred(d.led["top.length"]), _y(d, spec), span(body.z1, spec.thickness)
    d.let("top.cut_length", d.led["top.length"] - 2 * wood, "top.length", "top.edging", rule="less both edgings")
    d.let("top.cut_width", d.led["top.width"] - wood, "top.width", "top.edging", rule="less the front edging")
    panel = d.box_part(
        "top",
        "top",
        kit.material("top", kit.top_finish),
        (x[0] + wood, x[1] - wood),
        (y[0] + wood, y[1]),
        z,
        grain="x",
        thick="z",
        shows="up",
        coated="down back",
        sizes=("top.cut_length", "top.cut_width", "top.thickness"),
        kind=PartKind.TOP,
    )
    names = _edging(d, kit, panel, x, y, z, wood)
    return MadeTop(panel=panel, front=panel, rear=panel, across=_x(panel), edges=names)


def _edging(d: Draft, kit: Kit, panel: Placed, x: Span, y: Span, z: Span, wood: float) -> tuple[str, ...]:
    material = kit.material("edging", kit.top_finish)
    strips_at = {
        "front": (x, (y[0], y[0] + wood), "x", "y", "top.length"),
        "left": ((x[0], x[0] + wood), y, "y", "x", "top.width"),
        "right": ((x[1] - wood, x[1]), y, "y", "x", "top.width"),
    }
    placed: dict[str, Placed] = {}
    for name, (sx, sy, grain, thick, size) in strips_at.items():
        placed[name] = d.box_part(
            f"top_edging.{name}",
            f"edging of the top, {name}",
            material,
            sx,
            sy,
            z,
            grain=grain,
            thick=thick,
            shows=f"{name} up",
            sizes=(size, "top.thickness", "top.edging"),
            kind=PartKind.TOP_EDGING,
        )
        d.joint(
            f"top_edging.{name}~top",
            JointKind.GLUE,
            panel,
            placed[name],
            (sx[0], sy[0], z[0]),
            glued=True,
            why="long grain on a sheet: it needs no tongue",
        )
    for sign, hand in HANDS:
        corner: Vec = (x[0] if sign < 0 else x[1], y[0], z[0])
        n = unit((float(sign), 1.0, 0.0))
        cuts = _mitred(placed["front"], corner, n), _mitred(placed[hand], corner, scale(n, -1.0))
        pair = ((placed["front"].path, cuts[0]), (placed[hand].path, cuts[1]))
        d.joint(
            f"top_edging.front~{hand}",
            JointKind.MITRE,
            placed["front"],
            placed[hand],
            corner,
            Cuts(cuts=pair),
            glued=True,
        )
    return tuple(f"top_edging.{name}" for name in placed)


def _mitred(placed: Placed, corner: Vec, normal: Vec) -> EndCut:
    return mitre_cut(placed.frame, placed.part.blank, corner, normal)


def panelled(d: Draft, kit: Kit, body: Body, spec: TopSpec, wet: Moisture) -> MadeTop:
    """A frame of solid members around a sheet panel that lies flush with it: only the long members move.

    The short members are tenoned into the long ones; the panel's tongue is glued in their groove, its shoulders tight.
    """
    if not isinstance(kit.sizes.item("top"), Board):
        raise KitError("a panelled top", "a board for the role top", "a sheet")
    sheet = kit.sheet("top_panel")
    let_top_size(d, body, spec)
    # Screws into the front member stand behind the face frame, before its groove.
    under = spec.overhang_front + body.frame + d.practice["top.screw_from_frame"] + GROOVE_DEPTH + SCREW_ROOM
    wide = d.let("top.member_width", max(d.practice["top_rail.width"], under), rule="practice, or room for its screws")
    frame = _Frame(
        x=centred(d.led["top.length"]), y=_y(d, spec), z=span(body.z1, spec.thickness), wide=wide,
        thick=tenon_thickness(spec.thickness, d.practice),
    )  # fmt: skip
    cheek = (spec.thickness - frame.thick) / 2
    if sheet.thickness < cheek + frame.thick or sheet.thickness > spec.thickness:
        raise KitError(
            "the panel of a panelled top",
            f"a sheet of {cheek + frame.thick:.1f} to {spec.thickness:.1f} mm for the role top_panel",
            f"{sheet.thickness:.1f} mm",
        )
    front, rear = (_member(d, kit, frame, place) for place in ("front", "rear"))
    ends = [_end_member(d, kit, frame, front, rear, hand) for _, hand in HANDS]
    panel = _flush_panel(d, kit, frame, sheet)
    for member in (front, rear, *ends):
        _groove_for(d, frame, member, panel)
    names = tuple(p.path.removeprefix(d.path + "/") for p in (rear, *ends, panel))
    moving = ((frame.y[0], frame.y[0] + wide), (frame.y[1] - wide, frame.y[1]))
    c = movement_coefficient(kit, kit.board("top"))
    return MadeTop(
        panel=front,
        front=front,
        rear=rear,
        across=frame.inside[0],  # beside it stand the tenons of the end members
        moving=moving,
        coefficient=c,
        front_to=world_box(front)[1][1] - GROOVE_DEPTH,
        edges=names,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Outer spans of a panelled top, the width of its members, the thickness of tongue, tenon and groove; mm."""

    x: Span
    y: Span
    z: Span
    wide: float
    thick: float

    @property
    def inside(self) -> tuple[Span, Span]:
        return (self.x[0] + self.wide, self.x[1] - self.wide), (self.y[0] + self.wide, self.y[1] - self.wide)

    @property
    def tongue(self) -> Span:
        """Heights of the tongue: the middle of the frame."""
        return centred(self.thick, (self.z[0] + self.z[1]) / 2)


def _member(d: Draft, kit: Kit, f: _Frame, place: str) -> Placed:
    y = (f.y[0], f.y[0] + f.wide) if place == "front" else (f.y[1] - f.wide, f.y[1])
    return d.box_part(
        f"top_frame.{place}",
        f"{place} member of the top",
        kit.material("top", kit.top_finish),
        f.x,
        y,
        f.z,
        grain="x",
        thick="z",
        shows=f"up left right {'front' if place == 'front' else ''}",
        coated="down" if place == "front" else "down back",
        rough=_rough(d),
        sizes=("top.length", "top.member_width", "top.thickness"),
        kind=PartKind.TOP_MEMBER,
    )


def _rough(d: Draft) -> Allowance:
    p = d.practice
    return Allowance(length=p["rough.length"], width=p["rough.width"], thickness=p["rough.thickness"])


def _end_member(d: Draft, kit: Kit, f: _Frame, front: Placed, rear: Placed, hand: str) -> Placed:
    _, (y0, y1) = f.inside
    tenon = min(d.practice["door.tenon"] + 5.0, f.wide - d.practice["tenon.end"])
    length = "top.end_length"
    if length not in d.led:
        d.let(
            length, y1 - y0 + 2 * tenon, "top.width", "top.member_width", rule="between the long members + two tenons",
            role=Role.FREE,
        )  # fmt: skip
    x = (f.x[0], f.x[0] + f.wide) if hand == "left" else (f.x[1] - f.wide, f.x[1])
    end = d.box_part(
        f"top_frame.{hand}",
        f"{hand} member of the top",
        kit.material("top", kit.top_finish),
        x,
        (y0 - tenon, y1 + tenon),
        f.z,
        grain="y",
        thick="z",
        shows=f"up {hand}",
        coated="down",
        rough=_rough(d),
        sizes=(length, "top.member_width", "top.thickness"),
        kind=PartKind.TOP_MEMBER,
    )
    shoulder = d.practice["tenon.end"]
    for member in (front, rear):
        name = member.path.rpartition(".")[2]
        join(d, kit, f"top_frame.{hand}~{name}", member, end, JointKind.TENON, Making(shoulders=(shoulder, shoulder)))
    return end


def _flush_panel(d: Draft, kit: Kit, f: _Frame, sheet: Sheet) -> Placed:
    """The panel, rabbeted above (and below, where it is thicker) to a tongue on all four edges."""
    (x0, x1), (y0, y1) = f.inside
    reach = GROOVE_DEPTH - TONGUE_SHORT
    d.let("top.panel_length", x1 - x0 + 2 * reach, "top.length", "top.member_width", rule="inside + two tongues")
    d.let("top.panel_width", y1 - y0 + 2 * reach, "top.width", "top.member_width", rule="inside + two tongues")
    panel = d.box_part(
        "top",
        "panel of the top",
        kit.material("top_panel", kit.top_finish),
        (x0 - reach, x1 + reach),
        (y0 - reach, y1 + reach),
        (f.z[1] - sheet.thickness, f.z[1]),
        grain="x",
        thick="z",
        shows="up",
        coated="down",
        sizes=("top.panel_length", "top.panel_width", ""),
        kind=PartKind.TOP_PANEL,
    )
    blank = panel.part.blank
    low, high = f.tongue
    for way, depth in (("up", f.z[1] - high), ("down", low - (f.z[1] - sheet.thickness))):
        if depth < 1e-6:
            continue
        face = panel.face_towards(DIRECTIONS[way])
        sides = [panel.face_towards(DIRECTIONS[w]) for w in ("left", "right", "front", "back")]
        d.cut(panel, *(rabbet(blank, face, side, reach, depth) for side in sides))
    return panel


def _groove_for(d: Draft, f: _Frame, member: Placed, panel: Placed) -> None:
    """A groove along the panel, a slip wider than its tongue, stopped so that it does not show at the ends."""
    place = member.path.rpartition(".")[2]
    (x0, x1), (y0, y1) = f.inside
    opens = {"front": "back", "rear": "front", "left": "right", "right": "left"}[place]
    low, high = f.tongue[0], f.tongue[1] + d.practice["fit.slip"]
    g = GROOVE_DEPTH
    boxes: dict[str, tuple[Span, Span]] = {
        "front": ((x0 - g, x1 + g), (y0 - g, y0)),
        "rear": ((x0 - g, x1 + g), (y1, y1 + g)),
        "left": ((x0 - g, x0), (y0, y1)),
        "right": ((x1, x1 + g), (y0, y1)),
    }
    bx, by = boxes[place]
    cut = sink(Groove, member, DIRECTIONS[opens], (bx[0], by[0], low), (bx[1], by[1], high))
    d.joint(
        f"top_frame.{place}~panel",
        JointKind.GROOVE,
        member,
        panel,
        (bx[0], by[0], low),
        Cuts(cuts=((member.path, cut),)),
        glued=True,
        why="a sheet panel does not move: its tongue is glued",
    )


def breadboard(d: Draft, kit: Kit, body: Body, spec: TopSpec, wet: Moisture) -> MadeTop:
    """A glued-up panel between two ends whose grain runs across it: it stays flat and moves in their grooves."""
    if not isinstance(kit.sizes.item("top"), Board):
        raise KitError("a top with breadboard ends", "a board for the role top", "a sheet")
    p = d.practice
    let_top_size(d, body, spec)
    wide = d.let("top.end_width", p["breadboard.width"], rule="practice")
    tongue = d.let("top.tongue", min(p["breadboard.tongue"], wide / 2), "top.end_width", rule="practice")
    length = d.let(
        "top.field_length",
        d.led["top.length"] - 2 * wide + 2 * tongue,
        "top.length",
        "top.end_width",
        "top.tongue",
        rule="between the ends + two tongues",
    )
    y = _y(d, spec)
    panel = d.box_part(
        "top",
        "top",
        kit.material("top", kit.top_finish),
        centred(length),
        y,
        span(body.z1, spec.thickness),
        grain="x",
        thick="z",
        shows="up front",
        coated="down back",
        rough=_rough(d),
        made_of=strips(d),
        sizes=("top.field_length", "top.width", "top.thickness"),
        kind=PartKind.TOP,
    )
    c = movement_coefficient(kit, kit.board("top"))
    move = d.let(
        "top.end_movement",
        c * (wet.damp - wet.dry) * d.led["top.width"] / 2,
        "top.width",
        rule=f"C {c:.5f} × ({wet.damp:.1f} − {wet.dry:.1f}) % × half the width, either way from the middle",
    )
    ends = [breadboard_end(d, kit, panel, sign, wide, tongue, move) for sign, _ in HANDS]
    names = tuple(e.path.removeprefix(d.path + "/") for e in ends)
    field = (-length / 2 + tongue, length / 2 - tongue)
    return MadeTop(panel=panel, front=panel, rear=panel, across=field, moving=(y,), coefficient=c, edges=names)


def _y(d: Draft, spec: TopSpec) -> Span:
    return span(-spec.overhang_front, d.led["top.width"])


def _x(panel: Placed) -> Span:
    lo, hi = world_box(panel)
    return (lo[0], hi[0])


def _moving(kit: Kit, panel: Placed, spans: tuple[Span, ...]) -> MadeTop:
    c = movement_coefficient(kit, kit.board("top"))
    return MadeTop(panel=panel, front=panel, rear=panel, across=_x(panel), moving=spans, coefficient=c)


def _sheet(kit: Kit, kind: str) -> Sheet:
    item = kit.sizes.item("top")
    if not isinstance(item, Sheet):
        raise KitError(f"a top that is {kind}", "a sheet for the role top", "a board")
    return item


KINDS: dict[str, Callable[[Draft, Kit, Body, TopSpec, Moisture], MadeTop]] = {
    "solid": solid,
    "banded": banded,
    "edged": edged,
    "panelled": panelled,
    "breadboard": breadboard,
}
