"""What the steps use up besides parts, hardware and finishes: abrasives by grit, filler, tape, shims, cloths, glue.

1. What is needed is read from the steps and their cautions, and from why findings were accepted: whatever of
   `SUNDRIES` they name is on the list, and every grit with which they sand or rub down.
2. How much follows from the design: the finished area for abrasives and cloths, the glued area for glue, heads and
   sheet edges for filler, the widest gaps for shims; and from the shop's practice (`supplies.…`).
3. What the design buys itself (felt, bumpers, straps) stands with the hardware and is not listed twice.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from casewright.design.assembly import Joint, JointKind, PieceDesign
from casewright.design.blocks.finish_steps import COUNTS, SCHEDULES, schedule
from casewright.design.parts import Form, Part, Placed
from casewright.packet.hardware_list import finished_areas, hardware_rows, kit_of
from casewright.packet.openings import openings
from casewright.project import Project
from casewright.solids.collide import placed_boxes
from casewright.stock.model import Pin, Screw

GLUE_ROLES = {JointKind.MITRE: "corner_glue", JointKind.INSERT: "insert_glue"}
GRITS = ("60", "80", "100", "120", "150", "180", "220", "240", "280", "320", "400", "600", "800")  # FEPA P and CAMI
SANDED = re.compile(r"\b(?:[Ss]and|[Ss]cuff|[Rr]ub|raised grain)")
GRIT = re.compile(rf"(?<![\d.,])(?:({'|'.join(GRITS)}) to )?({'|'.join(GRITS)})(?![\d.]| ?(?:mm|kg|in\b|h\b|min|%|°))")
BETWEEN = re.compile(r"\bbetween\b|each but the last")
COATS = re.compile(rf"\b({'|'.join(COUNTS)}) coats\b", re.IGNORECASE)
WIPED = re.compile(r"\b(?:[Ww]ip(?:e|ed)|[Bb]uff)\b")
DUSTED = re.compile(r"\bdust(?:ed)? off\b")
BALLAST = re.compile(r"\bballast\b|\bkg of (?:steel|iron|lead|sand)\b", re.IGNORECASE)
MASS = re.compile(r"(\d+(?:\.\d+)?) kg\b")
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Sundry:
    """A thing that steps may name: the words by which they do, and how much of it an order needs."""

    words: re.Pattern[str]
    needed: Callable[[Project, tuple[PieceDesign, ...]], ConsumableRow]


def consumable_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return abrasives from coarse to fine, then what else the steps name."""
    return (*abrasive_rows(project), *sundry_rows(project))


def said(project: Project, piece: PieceDesign) -> tuple[str, ...]:
    """Return every text that asks something of who builds a piece: steps, cautions, and why findings were accepted."""
    steps = [text for step in piece.steps for text in (step.text, *step.cautions)]
    found = [f.accepted for f in project.findings if f.accepted and f.path.partition("/")[0] == piece.path]
    return tuple(dict.fromkeys((*steps, *found)))


def abrasive_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return discs or quarter sheets by grit, for the finished areas and the number of times they are gone over."""
    areas: defaultdict[str, float] = defaultdict(float)
    for piece in project.assembly.pieces:
        for area, text in _coats(project, piece):
            for grit, times in _grits(text):
                areas[grit] += area * times
        for text in (step.text for step in piece.steps):
            for grit, _ in _grits(text):
                areas.setdefault(grit, 0.0)
    each = project.practice["supplies.disc_area"]
    return tuple(
        ConsumableRow(name=f"abrasive, grit {grit}", count=max(1, math.ceil(area / each - 1e-9)), use="discs or sheets")
        for grit, area in sorted(areas.items(), key=lambda item: int(item[0].split()[0]))
    )


def _coats(project: Project, piece: PieceDesign) -> Iterator[tuple[float, str]]:
    """Give for each coat of a piece's finishes the area in m², of all such pieces, and its words."""
    for finish, area in finished_areas(piece).items():
        if finish in SCHEDULES:
            for coat in schedule(kit_of(project, piece), finish):
                yield area * piece.count, coat.text


def _grits(text: str) -> Iterator[tuple[str, int]]:
    """Give the grits of a step of finishing, and how often the area is gone over with each."""
    if not SANDED.search(text):
        return
    times = coats_of(text) - 1 if BETWEEN.search(text) else 1
    for found in GRIT.finditer(text):
        yield (f"{found[1]} to {found[2]}" if found[1] else found[2]), max(1, times)


def coats_of(text: str) -> int:
    """Return how many coats a step puts on: "Three coats of …" is 3; 1 where it does not say."""
    found = COATS.search(text)
    return COUNTS.index(found[1].lower()) if found else 1


def sundry_rows(project: Project) -> tuple[ConsumableRow, ...]:
    """Return what else the steps name, in the order of the table; of what is bought as hardware only what is not."""
    bought = " ".join(row.name for row in hardware_rows(project))
    out = []
    for sundry in SUNDRIES:
        asking = tuple(p for p in project.assembly.pieces if any(sundry.words.search(t) for t in said(project, p)))
        if asking and not sundry.words.search(bought):
            out.append(sundry.needed(project, asking))
    return tuple(out)


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
        for area, text in _coats(project, piece):
            count += len(DUSTED.findall(text))
            if WIPED.search(text):
                count += coats_of(text) * math.ceil(area / each - 1e-9)
    return ConsumableRow(name="lint-free cloths", count=max(count, 1), use="dusting off, wiping")


def _ballast(project: Project, pieces: tuple[PieceDesign, ...]) -> ConsumableRow:
    """Ballast, as heavy as the texts that name it say."""
    masses = [
        (float(found[1]), piece.count)
        for piece in pieces
        for text in said(project, piece)
        if BALLAST.search(text) and (found := MASS.search(text))
    ]
    total = sum(mass * count for mass, count in masses)
    much = f", {total:g} kg in all" if total else ""
    asked = any(BALLAST.search(step.text) for piece in pieces for step in piece.steps)
    use = "as the step says" if asked else "before it is used: see the end of the steps"
    return ConsumableRow(name=f"ballast{much}", count=sum(p.count for p in pieces), use=use)


def _each(name: str, use: str) -> Callable[[Project, tuple[PieceDesign, ...]], ConsumableRow]:
    """Return a need of one thing for each piece that asks for it."""
    return lambda _, pieces: ConsumableRow(name=name, count=sum(p.count for p in pieces), use=use)


def _one(name: str, use: str) -> Callable[[Project, tuple[PieceDesign, ...]], ConsumableRow]:
    """Return a need of one thing for the whole order."""
    return lambda _project, _pieces: ConsumableRow(name=name, count=1, use=use)


def _sundry(words: str, needed: Callable[[Project, tuple[PieceDesign, ...]], ConsumableRow]) -> Sundry:
    return Sundry(words=re.compile(words, re.IGNORECASE), needed=needed)


SUNDRIES = (
    _sundry(r"\bfill(?:er|ed)?\b(?! with)", _filler),
    _sundry(r"\btaped?\b", _one("masking tape, a roll", "offcuts and parts that are held by tape")),
    _sundry(r"\bshims?\b", _shims),
    _sundry(r"\brags?\b|\bwiped?\b|\bbuff\b|\bdust(?:ed)? off\b", _cloths),
    _sundry(r"\bfelt\b", _each("felt pad", "as the step says")),
    _sundry(r"\bbumpers?\b", _each("bumpers, a pair", "as the step says")),
    _sundry(
        r"\btip restraint|\banti-tip\b|\bstraps?\b|\bwall ties?\b",
        _each("tip restraint, with its screws", "fixing to the wall, as its own directions say"),
    ),
    _sundry(BALLAST.pattern, _ballast),
    _sundry(r"\bmetal can\b", _one("metal can with a lid", "oily rags, under water")),
    _sundry(r"\bdust mask\b|\brespirator\b", _one("dust mask", "sanding")),
    _sundry(r"\bgloves\b", _one("gloves", "where a caution names them")),
    _sundry(r"\beye protection\b", _one("eye protection", "where a caution names it")),
    _sundry(r"\b(?:ear|hearing) protection\b", _one("hearing protection", "where a caution names it")),
)
