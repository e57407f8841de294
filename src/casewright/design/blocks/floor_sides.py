"""Sides that run to the floor: a toe notch with its board, a notch for the skirting, relief between the corners.

Common practice: a toe notch is 3-1/2 to 4 in high and 3 in deep; a side stands on its two corners, cut back between
them by 6 mm, so that it does not rock.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import JointKind
from casewright.design.blocks.body import HANDS, Body, side_x
from casewright.design.blocks.joining import Making, join
from casewright.design.blocks.level_feet import floor_gap, let_setting, level_block
from casewright.design.draft import Draft
from casewright.design.features.cuts import Notch
from casewright.design.frames import Vec
from casewright.design.kit import Kit
from casewright.design.parts import Placed
from casewright.design.sites import Span, centred, sink, world_box
from casewright.findings import Severity
from casewright.stock.model import Board, Leveller, Sheet

LEFT: Vec = (-1.0, 0.0, 0.0)
RIGHT: Vec = (1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SidesSpec:
    """What is cut out of sides that run to the floor, mm: toe (height, depth), skirting (height, depth); 0 for none.

    `notched` false leaves the sides whole in front, and the toe board stands back between them. `levelled` puts
    levelling feet inside the corners; the body then starts at `side_gap` above the floor.
    """

    toe_height: float
    toe_depth: float
    notched: bool = True
    skirting_height: float = 0.0
    skirting_depth: float = 0.0
    levelled: bool = False
    finish: str = "paint"


def side_gap(d: Draft, kit: Kit, spec: SidesSpec) -> float:
    """Return how high above the floor sides start: 0, or what levelling feet need to go fully in."""
    return floor_gap(kit.role("leveller", Leveller), d.practice) if spec.levelled else 0.0


def sides_to_floor(d: Draft, kit: Kit, body: Body, spec: SidesSpec, bottom: Placed) -> tuple[str, ...]:
    """Cut the sides and place the toe board under the front of the bottom; return the names of what was placed.

    A bottom that does not lie on the toe board (at `toe_height`), or a notch that leaves no side, is found.
    """
    under = world_box(bottom)[0][2]
    if not _fits(d, body, spec, under):
        return ()
    for sign, hand in HANDS:
        _cut_side(d, body, spec, d.at(f"side.{hand}"), LEFT if sign > 0 else RIGHT)
    names = ["toe_board"] if spec.toe_height > 0 else []
    if names:
        _toe_board(d, kit, body, spec, bottom, under)
    if spec.levelled:
        names += _blocks(d, kit, body, spec, bottom)
    return tuple(names)


def _fits(d: Draft, body: Body, spec: SidesSpec, under: float) -> bool:
    p = d.practice
    heels = spec.toe_depth * spec.notched + spec.skirting_depth + 2 * p["floor.heel"]
    for value, limit, what in (
        (body.depth - body.frame, heels + 20.0, "the notches leave too little of the sides on the floor"),
        (under - body.z0, 40.0 if spec.toe_height > 0 else 0.0, "the toe board is too low to be screwed"),
        (body.height / 2, spec.skirting_height, "the skirting is too high for its notch"),
    ):
        if value < limit - 1e-6:
            d.find(
                "sides.notch",
                Severity.STOP,
                "stand",
                what,
                value=value,
                limit=limit,
                source="common practice",
                remedy="smaller notches, a higher bottom, or another stand",
            )
            return False
    return True


def _cut_side(d: Draft, body: Body, spec: SidesSpec, side: Placed, way: Vec) -> None:
    """Notch a side from its inner face, which looks `way`: the two sides are mirror images of each other."""
    p, (lo, hi) = d.practice, world_box(side)
    front, rear = lo[1], hi[1]
    z0 = lo[2]
    if spec.notched and spec.toe_height > 0:
        d.cut(side, _through(side, way, (lo[1], lo[1] + spec.toe_depth), (z0, z0 + spec.toe_height)))
        front += spec.toe_depth
    if spec.skirting_height > 0:
        d.cut(side, _through(side, way, (hi[1] - spec.skirting_depth, hi[1]), (z0, z0 + spec.skirting_height)))
        rear -= spec.skirting_depth
    heel = p["floor.heel"]
    d.cut(side, _through(side, way, (front + heel, rear - heel), (z0, z0 + p["floor.relief"])))


def _through(side: Placed, way: Vec, y: Span, z: Span) -> Notch:
    lo, hi = world_box(side)
    return sink(Notch, side, way, (lo[0], y[0], z[0]), (hi[0], y[1], z[1]))


def _toe_board(d: Draft, kit: Kit, body: Body, spec: SidesSpec, bottom: Placed, under: float) -> None:
    """Between the sides, its face at the depth of the notch; pockets behind, into sides and bottom."""
    item = kit.sizes.panel("plinth")
    thick = d.let("toe.thickness", item.thickness if isinstance(item, Sheet) else item.dressed, rule="as measured")
    d.let("toe.height", under - body.z0, rule="from the underside of the body to the bottom")
    d.let("toe.length", body.inside, "inside.width", rule="between the sides")
    front = body.frame + spec.toe_depth
    board = d.box_part(
        "toe_board",
        "toe board",
        kit.material("plinth", spec.finish),
        centred(body.inside),
        (front, front + thick),
        (body.z0, under),
        grain="x",
        thick="y",
        shows="front",
        sizes=("toe.length", "toe.height", "toe.thickness"),
    )
    why = "pockets behind it"
    for _, hand in HANDS:
        side = d.at(f"side.{hand}")
        join(d, kit, f"toe_board~side.{hand}", side, board, JointKind.POCKET_SCREWS, Making(opens="back"), why)
    join(d, kit, "toe_board~bottom", bottom, board, JointKind.POCKET_SCREWS, Making(opens="back"), why)


def _blocks(d: Draft, kit: Kit, body: Body, spec: SidesSpec, bottom: Placed) -> list[str]:
    """A block with a levelling foot inside each corner, under the bottom, glued to the side."""
    under = world_box(bottom)[0][2]
    low = let_setting(d, kit.role("leveller", Leveller))
    size = d.let("level_block.side", kit.role("block", Board).dressed, rule="what the board dresses to, square")
    d.let("level_block.length", under - low, "leveller.setting", rule="levelling foot to the bottom")
    behind = body.frame + spec.toe_depth + (d.led["toe.thickness"] if spec.toe_height > 0 else 0.0)
    last = body.inner_back - max(0.0, spec.skirting_depth - body.back) - (body.side if d.has("base_rail") else 0.0)
    names = []
    for place, y in (("front", (behind, behind + size)), ("rear", (last - size, last))):
        for sign, hand in HANDS:
            name = f"level.{place}.{hand}"
            block = d.box_part(
                f"{name}/wood",
                f"levelling block, {place} {hand}",
                kit.material("block"),
                side_x(sign, body.inside / 2, size),
                y,
                (low, under),
                grain="z",
                thick="y",
                sizes=("level_block.length", "level_block.side", "level_block.side"),
            )
            join(d, kit, f"{name}~side", d.at(f"side.{hand}"), block, JointKind.GLUE, Making(), "along its grain")
            level_block(d, kit, block, name, f"{place} {hand}", (bottom,))
            names.append(name)
    return names
