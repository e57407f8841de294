"""Drawings of a whole piece: front, side and plan with overall sizes, and sections with every chain of sizes.

Each chain of the design is shown once, in the first drawing where all its ends can be seen as lines. Sections are cut where
things move: level through the middle of each drawer and door, and upright through the middle of each column.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.parts import Part
from casewright.design.printed_sizes import printed_sizes
from casewright.packet.drawing.chains_located import Link, LocatedChain, located_chains
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.cutting import Cut, CutPart, Plane, cut_piece
from casewright.packet.drawing.hatching import TONES, Material, filled, hatched, material_of
from casewright.packet.drawing.lettering import corners_of
from casewright.packet.drawing.measured_view import SizedView, drawn, packed_rows
from casewright.packet.drawing.primitives import (
    XY,
    Ends,
    Fill,
    LineRole,
    Picture,
    Polyline,
    Primitive,
    Segments,
    Text,
)  # fmt: skip
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.subject import SizeWords
from casewright.solids.collide import is_under, placed_boxes
from casewright.solids.hide import project, visible_lines
from casewright.solids.lines import merged
from casewright.solids.mesh import Floats, scene_of
from casewright.solids.view import FRONT, LEFT_SIDE, PLAN, SIDE, View
from casewright.units import LengthStyle, Role, format_length

OFF = 0.37  # mm: planes keep off faces that lie in the very middle
NEIGHBOURS = 40.0  # mm: planes nearer to each other show the same
LEAST_LINK = 10.0  # mm of the piece: chains with smaller links are for sections
LEAST_LINE = 2.0  # mm of a line that shows where a chain ends
MARGIN_OF_TEXT = 0.5  # mm that hatching keeps off texts
TICK = 4.0  # mm: the thick ends of a section plane


@dataclass(frozen=True, slots=True, kw_only=True)
class Sectioned:
    """A section by its letter, and where it is cut."""

    letter: str
    plane: Plane
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What drawings of a piece are made with; `marks` are by path."""

    piece: PieceDesign
    cache: Cache
    style: LengthStyle
    convention: Convention
    marks: Mapping[str, str]

    def words(self, path: str) -> SizeWords:
        """Return how the sizes of one part are printed."""
        printed = printed_sizes(self.piece, self.style)
        return SizeWords(style=self.style, sizes=self.piece.sizes, printed=printed, path=path)

    def printed(self, mm: float) -> str:
        """Return a size without its unit."""
        return format_length(mm, Role.FREE, self.style, unit=False)


def sections_of(piece: PieceDesign, cache: Cache) -> tuple[Sectioned, ...]:
    """Return where a piece is cut: upright through each column, level through each thing that moves."""
    groups = [_box(piece, motion.members, cache) for motion in piece.motions]
    middles = _apart(sorted({round((b[0] + b[3]) / 2, 1) for b in groups} or {0.0}))
    upright = [Sectioned(letter="", plane=Plane(LEFT_SIDE, -x + OFF), what="looking to the right") for x in middles]
    heights = _apart(sorted({round((b[2] + b[5]) / 2, 1) for b in groups}, reverse=True))
    level = [Sectioned(letter="", plane=Plane(PLAN, z + OFF), what="looking down") for z in heights]
    return tuple(replace(s, letter=chr(65 + i)) for i, s in enumerate((*upright, *level)))


def _apart(places: list[float]) -> list[float]:
    """Leave out places that are next to one that is kept."""
    kept: list[float] = []
    for at in places:
        if all(abs(at - k) > NEIGHBOURS for k in kept):
            kept.append(at)
    return kept


def _box(piece: PieceDesign, members: Sequence[str], cache: Cache) -> list[float]:
    things = tuple(
        p for p in piece.placed if any(is_under(p.path, m) for m in members) and p.path not in piece.excluded
    )
    boxes = placed_boxes(things, cache)
    return [*boxes[:, :3].min(axis=0).tolist(), *boxes[:, 3:].max(axis=0).tolist()]


def assembled_drawings(stage: Stage, fit: XY) -> tuple[Picture, ...]:
    """Return front, side, plan and every section, each within `fit`."""
    piece, cache = stage.piece, stage.cache
    chains = list(located_chains(piece, cache, stage.style))
    cuts = sections_of(piece, cache)
    out = [_orthographic(stage, FRONT, chains, cuts, fit)]
    sections = [_section(stage, s, chains, fit) for s in sorted(cuts, key=lambda s: s.plane.view is not PLAN)]
    out += [_orthographic(stage, view, chains, (), fit) for view in (SIDE, PLAN)]
    order = sorted(zip((s.letter for s in sorted(cuts, key=lambda s: s.plane.view is not PLAN)), sections, strict=True))
    return (*out, *(picture for _, picture in order))


def _orthographic(stage: Stage, view: View, chains: list[LocatedChain], cuts: Sequence[Sectioned], fit: XY) -> Picture:
    ends = merged(visible_lines(project(scene_of(stage.piece, stage.cache), view))).ends
    box = _bounds(ends)
    rows = _rows(stage, view, _shown_chains(view, ends, chains, LEAST_LINK), box)
    marks = _plane_ends(cuts, box)

    def lines(k: float) -> list[Primitive]:
        return [_segments(ends, k, box, LineRole.OUTLINE), *_ticks(marks, k, box)]

    sized = SizedView(
        box, lines, rows, words=[(letter, at) for letter, at, _, _ in marks], caption=view.name.capitalize(),
        alt=f"{stage.piece.title}, {view.name} with overall sizes", first=6.0 + (TICK + 5.0 if marks else 0.0),
    )  # fmt: skip
    return drawn(sized, stage.convention, fit)


def _section(stage: Stage, section: Sectioned, chains: list[LocatedChain], fit: XY) -> Picture:
    cut = cut_piece(stage.piece, section.plane, stage.cache, without=stage.piece.excluded)
    outlines = _outline_ends(cut)
    box = _bounds(np.concatenate((cut.beyond, outlines)))
    shown = _shown_chains(section.plane.view, np.concatenate((outlines, cut.beyond)), chains)
    rows = _rows(stage, section.plane.view, shown, box, overall=False)
    depth = 0 if section.plane.view.right[1] else 1
    row = touching_row(stage, cut, depth)
    if row:
        rows[Side.LEFT if depth else Side.BELOW].append(row)
    caption = f"Section {section.letter}–{section.letter}, {section.what}"
    sized = section_view(stage, cut, box, rows, caption)
    return drawn(sized, stage.convention, fit)


def section_view(
    stage: Stage, cut: Cut, box: tuple[float, float, float, float], rows: dict[Side, list[list[Link]]], caption: str
) -> SizedView:
    """Return a cut piece as a view that can be drawn at any scale, within a box of the view."""
    frame = shapely.box(*box)
    parts = [replace(p, area=area) for p in cut.parts if (area := p.area.intersection(frame)).area > 0.01]
    beyond = _clipped(cut.beyond, frame)

    def lines(k: float) -> list[Primitive]:
        return [_segments(beyond, k, box, LineRole.BEYOND), *(i for p in parts for i in _outline(p, k, box))]

    def finish(items: list[Primitive], k: float, at: XY) -> list[Primitive]:
        texts = [shapely.Polygon(corners_of(i)).buffer(MARGIN_OF_TEXT) for i in items if isinstance(i, Text)]
        fills: list[Primitive] = []
        hatches: list[Primitive] = []
        for number, part in enumerate(parts):
            area = shapely.transform(part.area, lambda c: (c - np.array(box[:2])) * k + np.array(at))
            fills.append(filled(area, material_of(part)))
            hatch = hatched(part, area, cut.plane, number, texts)
            hatches += [hatch] if hatch is not None else []
        return [*fills, *hatches, *items]

    return SizedView(
        box, lines, rows, balloons=_balloons(stage, parts), caption=caption, alt=f"{stage.piece.title}, {caption}",
        finish=finish,
    )  # fmt: skip


def touching_row(stage: Stage, cut: Cut, i: int) -> list[Link]:
    """Return the longest row of cut parts that touch each other along direction i of a section, with the size of each."""
    spans = sorted((p.area.bounds[i], p.area.bounds[i + 2], n) for n, p in enumerate(cut.parts) if p.grain is not None)
    best: dict[int, tuple[float, int, int | None]] = {}  # reach, count, part before
    for low, high, n in spans:
        before = [
            m for a, b, m in spans if m in best and abs(b - low) < 0.05 and _beside(cut.parts[m], cut.parts[n], 1 - i)
        ]
        prior = max(before, key=lambda m: best[m][:2], default=None)
        reach, count = best[prior][:2] if prior is not None else (0.0, 0)
        best[n] = (reach + high - low, count + 1, prior)
    last = max((m for m in best if best[m][1] > 1), key=lambda m: best[m][:2], default=None)
    row: list[Link] = []
    while last is not None:
        part = cut.parts[last]
        low, high = part.area.bounds[i], part.area.bounds[i + 2]
        words = stage.words(part.placed.path)
        row.append(Link(low, high, part.placed.path, words.text(high - low)))
        last = best[last][2]
    return row[::-1] if len(row) > 1 else []


def _beside(one: CutPart, two: CutPart, across: int) -> bool:
    a, b = one.area.bounds, two.area.bounds
    return min(a[across + 2], b[across + 2]) - max(a[across], b[across]) > 1.0


def _balloons(stage: Stage, parts: list[CutPart]) -> list[tuple[str, tuple[XY, ...]]]:
    """Return one balloon for each mark, with points inside the areas that it may point at, the widest areas first."""
    found: dict[str, list[tuple[float, XY]]] = {}
    for part in parts:
        mark = stage.marks.get(part.placed.path)
        if mark is not None:
            for piece in shapely.get_parts(part.area):
                p = piece.representative_point()
                found.setdefault(mark, []).append((-piece.area, (p.x, p.y)))
    return [(mark, tuple(p for _, p in sorted(points)[:4])) for mark, points in sorted(found.items())]


def _shown_chains(
    view: View, ends: Floats, chains: list[LocatedChain], least: float = 0.0
) -> dict[int, list[LocatedChain]]:
    """Take the chains whose ends are all lines of a view; by 0 (across the paper) and 1 (up)."""
    out: dict[int, list[LocatedChain]] = {0: [], 1: []}
    for chain in [c for c in chains if min(k.high - k.low for k in c.links) >= least]:
        for i, direction in enumerate((view.right, view.up)):
            way = direction[chain.axis]
            if abs(way) < 0.9:
                continue
            at = sorted({p * way for link in chain.links for p in (link.low, link.high)})
            if all(_is_line(p, i, ends) for p in at):
                out[i].append(_flipped(chain) if way < 0 else chain)
                chains.remove(chain)
                break
    return out


def _flipped(chain: LocatedChain) -> LocatedChain:
    def turn(link: Link) -> Link:
        return replace(link, low=-link.high, high=-link.low)

    return replace(chain, links=tuple(turn(k) for k in reversed(chain.links)), total=turn(chain.total))


def _is_line(at: float, i: int, ends: Floats) -> bool:
    """True where some line of a view runs square to direction i at a coordinate."""
    a, b = ends[:, i], ends[:, 2 + i]
    long = np.abs(ends[:, 1 - i] - ends[:, 3 - i]) > LEAST_LINE
    found = bool(((np.abs(a - at) < 0.1) & (np.abs(b - at) < 0.1) & long).any())
    return found or (i == 1 and abs(at) < 0.1)  # the floor is no line


def _rows(
    stage: Stage, view: View, chains: dict[int, list[LocatedChain]], box: tuple[float, float, float, float],
    overall: bool = True,
) -> dict[Side, list[list[Link]]]:  # fmt: skip
    across, up = packed_rows(chains[0]), packed_rows(chains[1])
    if overall:
        across += [[link] for link in _overall(stage, view.right)]
        up += [[link] for link in _overall(stage, view.up)]
    half = (len(up) + 1) // 2 if len(up) > 3 else len(up)
    return {Side.BELOW: across, Side.LEFT: up[:half], Side.RIGHT: up[half:]}


def _overall(stage: Stage, direction: tuple[float, float, float]) -> list[Link]:
    """Return the body's size and the overall size along a direction of the view."""
    axis = max(range(3), key=lambda i: abs(direction[i]))
    piece, sizes = stage.piece, {s.name: s.value for s in stage.piece.sizes}
    name = ("width", "depth", "height")[axis]
    whole = (piece.width, piece.depth, piece.height)[axis]
    things = tuple(p for p in piece.placed if p.path not in piece.excluded and isinstance(p.thing, Part))
    boxes = placed_boxes(things, stage.cache)
    high = float(boxes[:, 3 + axis].max())
    low = high - whole
    out = []
    body = sizes.get(f"body.{name}")
    if body is not None and axis < 2 and body < whole - 1.0:
        start = -body / 2 if axis == 0 else 0.0
        out.append(Link(start, start + body, f"body.{name}", stage.printed(body)))
    out.append(Link(low, high, f"overall.{name}", stage.printed(whole)))
    flip = direction[axis] < 0
    return [replace(n, low=-n.high, high=-n.low) if flip else n for n in out]


def _plane_ends(cuts: Sequence[Sectioned], box: tuple[float, float, float, float]) -> list[tuple[str, XY, XY, XY]]:
    """Return for each end of each plane on the front view: letter, where it stands, and the tick outside the outline."""
    x0, y0, x1, y1 = box
    out: list[tuple[str, XY, XY, XY]] = []
    for cut in cuts:
        if cut.plane.view is PLAN:
            for x, s in ((x0, -1.0), (x1, 1.0)):
                out.append((cut.letter, (x + s * 25.0, cut.plane.at), (x, cut.plane.at), (s, 0.0)))
        else:
            for y, s in ((y0, -1.0), (y1, 1.0)):
                out.append((cut.letter, (-cut.plane.at, y + s * 25.0), (-cut.plane.at, y), (0.0, s)))
    return out


def _ticks(marks: list[tuple[str, XY, XY, XY]], k: float, box: tuple[float, float, float, float]) -> list[Primitive]:
    ends: list[Ends] = []
    for _, _, (x, y), (sx, sy) in marks:
        px, py = (x - box[0]) * k + sx * 1.2, (y - box[1]) * k + sy * 1.2
        ends.append((px, py, px + sx * TICK, py + sy * TICK))
    return [Segments(tuple(ends), LineRole.OUTLINE)] if ends else []


def _outline_ends(cut: Cut) -> Floats:
    out = []
    for part in cut.parts:
        for ring in _rings(part):
            c = shapely.get_coordinates(ring)
            out.append(np.concatenate((c[:-1], c[1:]), axis=1))
    return np.concatenate(out) if out else np.zeros((0, 4))


def _rings(part: CutPart) -> list[shapely.LinearRing]:
    return [r for s in shapely.get_parts(part.area) if s.geom_type == "Polygon" for r in (s.exterior, *s.interiors)]


def _outline(part: CutPart, k: float, box: tuple[float, float, float, float]) -> list[Primitive]:
    """Return the outline of what is cut; metal in thin lines, or small screws and slides would be black."""
    role = LineRole.BEYOND if material_of(part) is Material.METAL else LineRole.SECTION
    return [
        Polyline(
            tuple(((x - box[0]) * k, (y - box[1]) * k) for x, y in shapely.get_coordinates(r).tolist()[:-1]), role, True
        )
        for r in _rings(part)
    ]


def _clipped(ends: Floats, frame: shapely.Polygon) -> Floats:
    if not len(ends):
        return ends
    lines = shapely.intersection(shapely.linestrings(ends.reshape(-1, 2, 2)), frame)
    kept = [
        shapely.get_coordinates(g) for g in shapely.get_parts(lines) if g.geom_type == "LineString" and g.length > 0.05
    ]
    return np.array([[*c[0], *c[-1]] for c in kept]) if kept else np.zeros((0, 4))


def _bounds(ends: Floats) -> tuple[float, float, float, float]:
    xs, ys = ends[:, [0, 2]], ends[:, [1, 3]]
    return (float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max()))


def _segments(ends: Floats, k: float, box: tuple[float, float, float, float], role: LineRole) -> Segments:
    moved = (ends - np.array([box[0], box[1], box[0], box[1]])) * k
    return Segments(tuple((a, b, c, d) for a, b, c, d in moved.tolist()), role)


def hatch_key(convention: Convention) -> Picture:
    """Return a small picture that says what each pattern of a section means."""
    items: list[Primitive] = []
    x = 1.0
    from casewright.packet.drawing.lettering import width_of
    from casewright.packet.drawing.primitives import Anchor

    for material in Material:
        ring = ((x, 1.0), (x + 8.0, 1.0), (x + 8.0, 5.0), (x, 5.0))
        items += [Fill((ring,), TONES[material]), Polyline(ring, LineRole.SECTION, True)]
        if material is Material.END_GRAIN:
            items.append(
                Segments(
                    tuple(
                        (x + d, 1.0, min(x + d + 4.0, x + 8.0), min(5.0, 1.0 + (x + 8.0 - x - d)))
                        for d in (0.5, 2.5, 4.5, 6.5)
                    ),
                    LineRole.HATCH,
                )
            )
        if material in (Material.LONG_GRAIN, Material.PLIES):
            pitch = 1.0
            items.append(
                Segments(tuple((x, 1.0 + pitch * i, x + 8.0, 1.0 + pitch * i) for i in (1, 2, 3)), LineRole.HATCH)
            )
        items.append(Text((x + 9.5, 3.0), material.value, convention.em, Anchor.START))
        x += 13.0 + width_of(material.value, convention.em)
    return Picture(x, 6.0, tuple(items), "key to the hatching of sections", 1.0, convention.thick)
