"""What the steps use up besides parts, hardware and finishes: abrasives by grit, filler, tape, shims, cloths, glue.

1. What is needed is what steps, their cautions and acceptances of findings say they need (`Step.needs`,
   `Caution.needs`, `Acceptance.needs`), and every grit with which steps sand or rub down (`Step.sands`). Words are
   read by people only.
2. How much follows from the design: the finished area for abrasives and cloths, the glued area for glue, heads and
   sheet edges for filler, the widest gaps for shims; and from the shop's practice (`supplies.…`).
3. What the design buys itself (felt, bumpers, straps) stands with the hardware; straps that an acceptance promises
   too are not listed twice.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from casewright.design.assembly import Joint, JointKind, PieceDesign, needs_of
from casewright.design.blocks.finish_steps import SCHEDULES, Coat, schedule
from casewright.design.parts import Form, Part, Placed
from casewright.packet.hardware_list import finished_areas, kit_of
from casewright.packet.openings import openings
from casewright.project import Project
from casewright.solids.collide import is_under, placed_boxes
from casewright.stock.fittings import WallFixing
from casewright.stock.model import Pin, Screw
from casewright.stock.sundries import Need, Sundry

GLUE_ROLES = {JointKind.MITRE: "corner_glue", JointKind.INSERT: "insert_glue"}
TOUCH = 0.05  # mm between glued faces
CHEEKS = 1.0  # mm of depth from which two parts are glued on both cheeks
EDGES = 4  # of a front, at which shims stand
STACKS = 2  # of shims at each edge


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsumableRow:
    """Something used up: how many of it or how much (litres; 0 where it is counted), and what for."""

    name: str
    count: int = 0
    litres: float = 0.0
    use: str = ""


Needed = Callable[[Project, tuple[PieceDesign, ...]], ConsumableRow]  # how much of a thing pieces need


def consumable_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return abrasives from coarse to fine, then what else is needed."""
    return (*abrasive_rows(project), *sundry_rows(project))


def abrasive_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return discs or quarter sheets by grit, for the finished areas and the number of times they are gone over."""
    areas: defaultdict[str, float] = defaultdict(float)
    for piece in project.assembly.pieces:
        for area, coat in _coats(project, piece):
            for sanded in coat.sands:
                areas[sanded.grit] += area * sanded.times
        for sanded in (s for step in piece.steps for s in step.sands):
            areas.setdefault(sanded.grit, 0.0)
    each = project.practice["supplies.disc_area"]
    return tuple(
        ConsumableRow(name=f"abrasive, grit {grit}", count=max(1, math.ceil(area / each - 1e-9)), use="discs or sheets")
        for grit, area in sorted(areas.items(), key=lambda item: int(item[0].split()[0]))
    )


def _coats(project: Project, piece: PieceDesign) -> Iterator[tuple[float, Coat]]:
    """Give for each coat of a piece's finishes the area in m², of all such pieces, and the coat."""
    for finish, area in finished_areas(piece).items():
        if finish in SCHEDULES:
            for coat in schedule(kit_of(project, piece), finish):
                yield area * piece.count, coat


def sundry_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return what else is needed, in the order of the table."""
    wanted = {piece.path: {need.thing for need in _needs(project, piece)} for piece in project.assembly.pieces}
    out = []
    for thing, needed in SUNDRIES.items():
        asking = tuple(p for p in project.assembly.pieces if thing in wanted[p.path])
        if thing is Sundry.RESTRAINT:
            asking = tuple(p for p in asking if not _tied(project, p))
        if asking:
            out.append(needed(project, asking))
    return tuple(out)


def _needs(project: Project, piece: PieceDesign) -> tuple[Need, ...]:
    """Return what building a piece and the acceptances of its findings need."""
    own = [n for step in piece.steps for n in needs_of(step)]
    return (*own, *_promised(project, piece))


def _promised(project: Project, piece: PieceDesign) -> tuple[Need, ...]:
    """Return what is promised where findings of a piece are accepted."""
    found = {(f.code, f.path) for f in project.findings if f.accepted and is_under(f.path, piece.path)}
    return tuple(n for a in project.order.accepted if (a.code, a.path) in found for n in a.needs)


def _tied(project: Project, piece: PieceDesign) -> bool:
    """True where the design buys what ties a piece to the wall."""
    items = (project.stock.get(line.item) for line in piece.bought)
    return any(isinstance(item, WallFixing) and item.use == "tie" for item in items)


def glue_litres(project: Project) -> dict[str, float]:
    """Return litres of glue by the role of the shop that serves it: the glued area by the spread of practice."""
    areas: defaultdict[str, float] = defaultdict(float)
    for piece in project.assembly.pieces:
        by_path = piece.by_path()
        for joint in piece.joints:
            if joint.glued or joint.kind in GLUE_ROLES:
                role = GLUE_ROLES.get(joint.kind, "glue")
                areas[role] += _glued_area(project, by_path, joint) * piece.count
        areas["glue"] += sum(map(_strips, piece.placed)) * piece.count
    spread = project.practice["supplies.glue_spread"]
    return {role: area * 1e-6 * spread for role, area in areas.items()}


def _glued_area(project: Project, by_path: dict[str, Placed], joint: Joint) -> float:
    """Return the area in mm² over which two things meet: where their boxes overlap, both cheeks where one is let in."""
    things = tuple(by_path[path] for path in (joint.a, joint.b) if path in by_path)
    if len(things) < 2:
        return 0.0
    (a, b) = placed_boxes(things, project.cache).tolist()
    spans = sorted((min(a[3 + i], b[3 + i]) - max(a[i], b[i]) for i in range(3)), reverse=True)
    if spans[2] < -TOUCH:
        return 0.0
    return float(spans[0] * spans[1] * (2 if spans[2] > CHEEKS else 1))


def _strips(placed: Placed) -> float:
    """Return the area in mm² of the glued edges between the strips of a panel."""
    if not isinstance(placed.thing, Part) or (glued := placed.part.blank.made_of) is None:
        return 0.0
    blank = placed.part.blank
    return (math.ceil(blank.width / glued.strip_max - 1e-9) - 1) * blank.length * blank.thickness


def _filler(project: Project, pieces: tuple[PieceDesign, ...]) -> ConsumableRow:
    """Filler for the heads of screws and pins, and for the edges of sheet goods that are finished."""
    heads, edge = 0, 0.0
    for piece in pieces:
        driven = sum(isinstance(project.stock.get(f.item), Screw | Pin) for f in piece.fasteners)
        heads += driven * piece.count
        edge += sum(map(_finished_edges, piece.placed)) * piece.count
    practice = project.practice
    ml = heads * practice["supplies.filler_head"] + edge / 1000 * practice["supplies.filler_edge"]
    return ConsumableRow(name="wood filler", litres=ml / 1000, use="heads, and edges of sheet goods that are painted")


def _finished_edges(placed: Placed) -> float:
    """Return the length in mm of a sheet part's edges and ends that take a finish."""
    if not isinstance(placed.thing, Part) or placed.part.form is not Form.SHEET:
        return 0.0
    sizes, banded = placed.part.blank.size, {band.face for band in placed.part.bands}
    uses = {use.face for use in placed.part.faces if use.finish} - banded
    return sum(sizes[0 if face.axis == 1 else 1] for face in uses if face.axis < 2)


def _shims(project: Project, pieces: tuple[PieceDesign, ...]) -> ConsumableRow:
    """Shims for one front at a time: two stacks at each edge, as high as the gap of the front that takes most."""
    thick = project.practice["shim.thickness"]
    most = 0
    for piece in pieces:
        for o in openings(project, piece):
            edges = [e for across in (o.width, o.height) for e in (across.low, across.high)]
            most = max(most, sum(STACKS * int(round(e.mm, 2) / thick + 1e-6) for e in edges if not e.laps))
    name = f"shims of card or plastic, {thick:g} mm"
    return ConsumableRow(name=name, count=max(most, EDGES * STACKS), use="gaps of one front at a time")


def _cloths(project: Project, pieces: tuple[PieceDesign, ...]) -> ConsumableRow:
    """Cloths: one for each dusting off, and for wiped coats one for so much area."""
    count, each = 0, project.practice["supplies.cloth_area"]
    for piece in pieces:
        for area, coat in _coats(project, piece):
            count += coat.dusted + coat.wiped * math.ceil(area / each - 1e-9)
    return ConsumableRow(name="lint-free cloths", count=max(count, 1), use="dusting off, wiping")


def _ballast(project: Project, pieces: tuple[PieceDesign, ...]) -> ConsumableRow:
    """Ballast, as heavy as steps and acceptances say."""
    total = sum(
        need.mass * piece.count for piece in pieces for need in _needs(project, piece) if need.thing is Sundry.BALLAST
    )
    asked = any(need.thing is Sundry.BALLAST for piece in pieces for step in piece.steps for need in step.needs)
    use = "as the step says" if asked else "before it is used: see the end of the steps"
    return ConsumableRow(name=f"ballast, {total:g} kg in all", count=sum(p.count for p in pieces), use=use)


def _each(name: str, use: str) -> Needed:
    """Return a need of one thing for each piece that asks for it."""
    return lambda _, pieces: ConsumableRow(name=name, count=sum(p.count for p in pieces), use=use)


def _one(name: str, use: str) -> Needed:
    """Return a need of one thing for the whole order."""
    return lambda _project, _pieces: ConsumableRow(name=name, count=1, use=use)


SUNDRIES: Mapping[Sundry, Needed] = {
    Sundry.FILLER: _filler,
    Sundry.TAPE: _one("masking tape, a roll", "offcuts and parts that are held by tape"),
    Sundry.SHIMS: _shims,
    Sundry.CLOTHS: _cloths,
    Sundry.RESTRAINT: _each("tip restraint, with its screws", "fixing to the wall, as its own directions say"),
    Sundry.BALLAST: _ballast,
    Sundry.CAN: _one("metal can with a lid", "oily rags, under water"),
    Sundry.MASK: _one("dust mask", "sanding"),
    Sundry.RESPIRATOR: _one("respirator, as the maker of the finish names it", "where a caution names it"),
    Sundry.GLOVES: _one("gloves", "where a caution names them"),
    Sundry.EYES: _one("eye protection", "where a caution names it"),
    Sundry.EARS: _one("hearing protection", "where a caution names it"),
}
