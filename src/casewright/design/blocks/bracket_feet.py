"""Bracket feet: curved brackets, mitred with a spline at the front corners, on blocks, each under a screwed plate.

Common practice. The grain runs level; the curve leaves a web under the case; a block in the corner carries the load,
the plate over it is glued in and screwed up into the case. At the back a plain board stands behind the side bracket.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blanks import Blank, Face
from casewright.design.blocks.body import HANDS, Body
from casewright.design.blocks.joining import Corner, Making, join, mitre
from casewright.design.blocks.landings import Landing, landing, screw_up
from casewright.design.blocks.level_feet import floor_gap, let_setting, level_block
from casewright.design.draft import Draft
from casewright.design.features.curves import shaped_edge
from casewright.design.features.openings import ShapedEdge
from casewright.design.kit import Kit
from casewright.design.parts import Allowance, Placed
from casewright.design.sites import Span, world_box
from casewright.findings import Severity
from casewright.stock.model import Board, Leveller

DOWN = (0.0, 0.0, -1.0)
QUARTER = 0.41421356237309503  # bulge of a quarter circle: tan(90°/4)
LEVEL_LEAST = 15.0  # mm: shortest level part of the outline beyond the curve


@dataclass(frozen=True, slots=True, kw_only=True)
class BracketSpec:
    """Outline of bracket feet, mm: length along the case, width on the floor, wood left above, radius of the curve.

    `proud` is how far their faces stand out beyond the body; `levelled` puts levelling feet in their blocks.
    """

    length: float
    ankle: float
    web: float
    radius: float
    proud: float = 0.0
    levelled: bool = False
    finish: str = "paint"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Corner:
    """One corner: which, the outer corner's place, and the way into the case from it; `t` is the board's thickness."""

    hand: str
    front: bool
    x: float
    y: float
    into_x: float
    into_y: float
    t: float

    @property
    def name(self) -> str:
        return f"foot.{'front' if self.front else 'rear'}.{self.hand}"

    @property
    def label(self) -> str:
        return f"{'front' if self.front else 'rear'} {self.hand}"

    def sx(self, a: float, b: float) -> Span:
        """The span from a to b mm into the case across."""
        p, q = self.x + self.into_x * a, self.x + self.into_x * b
        return (min(p, q), max(p, q))

    def sy(self, a: float, b: float) -> Span:
        """The span from a to b mm into the case from its front or back."""
        p, q = self.y + self.into_y * a, self.y + self.into_y * b
        return (min(p, q), max(p, q))


def let_brackets(d: Draft, kit: Kit, body: Body, spec: BracketSpec) -> Span | None:
    """Record the sizes of bracket feet; return their span in height, None where the outline does not fit."""
    board = kit.board("bracket_foot")
    d.let("bracket.thickness", board.dressed, rule="what the board dresses to")
    low = 0.0
    if spec.levelled:
        leveller = kit.role("leveller", Leveller)
        let_setting(d, leveller)
        low = floor_gap(leveller, d.practice)
    d.let("bracket.gap", low, rule="over the floor; it clears it with the levelling feet fully in")
    height = d.let("bracket.height", body.z0 - low, "foot.height", "bracket.gap", rule="floor to the body's underside")
    d.let("bracket.length", spec.length, rule="as ordered, or practice")
    rise = d.let("bracket.rise", height - spec.web, "bracket.height", rule="height less the web")
    needed = spec.ankle + spec.radius + LEVEL_LEAST
    for value, limit, what in (
        (rise, spec.radius, f"the curve of {spec.radius:.0f} mm needs a higher foot or a narrower web"),
        (spec.length, max(needed, 2 * board.dressed + 30.0), "the foot is too short for its outline"),
        (body.width / 2 - 2 * board.dressed, spec.length, "the feet meet in front: make them shorter"),
        (body.depth / 2 - LEVEL_LEAST, spec.length, "the feet meet at the sides: make them shorter"),
    ):
        if value < limit:
            d.find(
                "bracket.outline",
                Severity.STOP,
                "stand",
                what,
                value=value,
                limit=limit,
                source="room for the outline (common practice)",
                remedy="change length, web, ankle or radius of the bracket feet, or the height of the stand",
            )
            return None
    return (low, body.z0)


def bracket_feet(d: Draft, kit: Kit, body: Body, spec: BracketSpec, above: Placed | None = None) -> tuple[str, ...]:
    """Place four bracket feet; `above` is the case's bottom, if that lies at the underside.

    Returns the names of what was placed: strips in the case first, where there are any, then `foot.…` groups.
    """
    z = let_brackets(d, kit, body, spec)
    if z is None:
        return ()
    t = d.led["bracket.thickness"]
    land = landing(d, kit, body, above, t - body.side + 60.0)
    corners = [
        _Corner(
            hand=hand,
            front=front,
            x=sign * (body.width / 2 + spec.proud),
            y=-spec.proud if front else body.depth,
            into_x=-float(sign),
            into_y=1.0 if front else -1.0,
            t=t,
        )
        for front in (True, False)
        for sign, hand in HANDS
    ]
    for c in corners:
        _foot(d, kit, body, spec, c, z, land)
    return (*land.strips, *(c.name for c in corners))


def _foot(d: Draft, kit: Kit, body: Body, spec: BracketSpec, c: _Corner, z: Span, land: Landing) -> None:
    length, t = spec.length, c.t
    side = _bracket(
        d, kit, spec, f"{c.name}/side", f"side bracket, {c.label}", c.sx(0.0, t), c.sy(0.0, length), z, "y", c
    )
    if c.front:
        across = _bracket(
            d, kit, spec, f"{c.name}/front", f"front bracket, {c.label}", c.sx(0.0, length), c.sy(0.0, t), z, "x", c
        )
        corner = Corner(at=(c.x, c.y, z[0]), along=(-c.into_x, 0.0, 0.0), onward=(0.0, 1.0, 0.0), z=z)
        mitre(d, kit, f"{c.name}/front~side", across, side, corner, f"{c.name}/spline")
    else:
        across = _rear_board(d, kit, spec, c, z)
        join(d, kit, f"{c.name}/rear~side", side, across, JointKind.GLUE, Making(), "the block holds the corner")
    _plate(d, kit, body, spec, c, z, (side, across), land)


def _bracket(
    d: Draft, kit: Kit, spec: BracketSpec, name: str, label: str, x: Span, y: Span, z: Span, grain: str, c: _Corner
) -> Placed:
    p = d.practice
    shows = c.hand if grain == "y" else "front"
    part = d.box_part(
        name,
        label,
        kit.material("bracket_foot", spec.finish),
        x,
        y,
        z,
        grain=grain,
        thick="x" if grain == "y" else "y",
        shows=shows,
        rough=Allowance(length=p["rough.length"], width=p["rough.width"], thickness=p["rough.thickness"]),
        sizes=("bracket.length", "bracket.height", "bracket.thickness"),
    )
    floor = part.face_towards(DOWN)
    outer = part.face_towards((-c.into_x, 0.0, 0.0) if grain == "x" else (0.0, -c.into_y, 0.0))
    d.cut(part, outline(part.part.blank, floor, outer is Face.END1, spec, d.led["bracket.rise"]))
    return part


def outline(blank: Blank, floor: Face, at_end1: bool, spec: BracketSpec, rise: float) -> ShapedEdge:
    """Return the cut that leaves the foot at one end: up from the ankle, a quarter circle, then level."""
    r, length = spec.radius, blank.length
    curve = (
        (spec.ankle, 0.0, 0.0),
        (spec.ankle, rise - r, QUARTER),
        (spec.ankle + r, rise, 0.0),
        (length, rise, 0.0),
    )
    if at_end1:
        curve = (
            (0.0, rise, 0.0),
            (length - spec.ankle - r, rise, QUARTER),
            (length - spec.ankle, rise - r, 0.0),
            (length - spec.ankle, 0.0, 0.0),
        )
    return shaped_edge(blank, floor, curve)


def _rear_board(d: Draft, kit: Kit, spec: BracketSpec, c: _Corner, z: Span) -> Placed:
    """A plain board behind the side bracket, as wide as the plate."""
    if "bracket.rear_length" not in d.led:
        d.let(
            "bracket.rear_length",
            spec.length - c.t,
            "bracket.length",
            "bracket.thickness",
            rule="inside the side bracket",
        )
    p = d.practice
    return d.box_part(
        f"{c.name}/rear",
        f"rear board, {c.label}",
        kit.material("bracket_foot"),
        c.sx(c.t, spec.length),
        c.sy(0.0, c.t),
        z,
        grain="x",
        thick="y",
        rough=Allowance(length=p["rough.length"], width=p["rough.width"], thickness=p["rough.thickness"]),
        sizes=("bracket.rear_length", "bracket.height", "bracket.thickness"),
    )


def _plate(
    d: Draft, kit: Kit, body: Body, spec: BracketSpec, c: _Corner, z: Span, boards: tuple[Placed, Placed], land: Landing
) -> None:
    """The plate over the block, within the brackets: glued to both, screwed up into the case; and the block."""
    if "bracket.plate" not in d.led:
        d.let("bracket.plate", spec.length - c.t, "bracket.length", "bracket.thickness", rule="within the brackets")
        low = d.led["leveller.setting"] if spec.levelled else 0.0
        d.let("bracket.block", kit.role("block", Board).dressed, rule="what the board dresses to, square")
        d.let(
            "bracket.block_length",
            z[1] - body.side - low,
            "bracket.height",
            "side.thickness",
            rule="floor to the plate",
        )
    plate = d.box_part(
        f"{c.name}/plate",
        f"plate of the foot, {c.label}",
        kit.material("case"),
        c.sx(c.t, spec.length),
        c.sy(c.t, spec.length),
        (z[1] - body.side, z[1]),
        grain="x",
        thick="z",
        sizes=("bracket.plate", "bracket.plate", "side.thickness"),
    )
    size = d.led["bracket.block"]
    top = z[1] - body.side
    block = d.box_part(
        f"{c.name}/block",
        f"block of the foot, {c.label}",
        kit.material("block"),
        c.sx(c.t, c.t + size),
        c.sy(c.t, c.t + size),
        (top - d.led["bracket.block_length"], top),
        grain="z",
        thick="y",
        sizes=("bracket.block_length", "bracket.block", "bracket.block"),
    )
    for board in boards:
        own = board.path.rpartition("/")[2]
        at = (c.x, c.y, z[1])
        d.joint(f"{c.name}/plate~{own}", JointKind.GLUE, board, plate, at, glued=True)
        d.joint(f"{c.name}/block~{own}", JointKind.GLUE, board, block, at, glued=True, why="narrow: it cannot tear")
    d.joint(f"{c.name}/block~plate", JointKind.GLUE, plate, block, (c.x, c.y, top), glued=True)
    # No driver reaches a screw over the block.
    (lo, hi), room = world_box(block), d.practice["fastener.driver"]
    d.keep_out(
        f"{c.name}/block.over", (lo[0] - room, lo[1] - room, top), (hi[0] + room, hi[1] + room, z[1]), of=(plate,)
    )
    screw_up(d, kit, plate, land.over(c.hand), f"{c.name}/plate~case", "from below, without glue: it comes off")
    if spec.levelled:
        level_block(d, kit, block, c.name, c.label)
