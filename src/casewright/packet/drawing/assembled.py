"""Drawings of a whole piece: front, side and plan with overall sizes, and sections with every chain of sizes.

Each chain of the design is shown once, in the first drawing where all its ends can be seen as lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from casewright.design.parts import Part
from casewright.packet.drawing.chains_located import Link, LocatedChain, located_chains
from casewright.packet.drawing.cutting import cut_piece
from casewright.packet.drawing.measured_view import SizedView, packed_rows, surely_drawn
from casewright.packet.drawing.primitives import XY, Ends, LineRole, Picture, Primitive, Segments
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.sections import (
    Sectioned,
    bounds_of,
    outline_ends,
    section_view,
    sections_of,
    segments_of,
    touching_row,
)  # fmt: skip
from casewright.packet.drawing.stage import Stage
from casewright.solids.collide import placed_boxes
from casewright.solids.hide import project, visible_lines
from casewright.solids.lines import merged
from casewright.solids.mesh import Floats, scene_of
from casewright.solids.view import FRONT, PLAN, SIDE, View

__all__ = ["Stage", "assembled_drawings", "front_drawing"]

LEAST_LINKS = (10.0, 30.0, 60.0)  # mm of the piece: chains with smaller links are for sections
SAME = 0.1  # mm: sizes whose ends are this close are given once
LEAST_LINE = 2.0  # mm of a line that shows where a chain ends
TICK = 4.0  # mm: the thick ends of a section plane


def assembled_drawings(stage: Stage, fit: XY) -> tuple[Picture, ...]:
    """Return front, side, plan and every section, each within `fit`; nothing that they show is lost. Raises NoRoom.

    Side and plan are no larger than the front, so that the three can be compared. NoRoom is raised only where `fit`
    does not hold a bare view at the smallest scale.
    """
    piece, cache = stage.piece, stage.cache
    chains = list(located_chains(piece, cache, stage.style))
    cuts = sections_of(piece, cache)
    out = [*_orthographic(stage, FRONT, chains, cuts, fit)]
    # Level sections choose their chains first: in them the most faces are lines.
    order = sorted(range(len(cuts)), key=lambda i: cuts[i].plane.view is not PLAN)
    sections = {i: _section(stage, cuts[i], chains, fit) for i in order}
    for view in (SIDE, PLAN):
        out += _orthographic(stage, view, chains, (), fit, out[0].scale)
    return (*out, *(shown for i in range(len(cuts)) for shown in sections[i]))


def front_drawing(stage: Stage, fit: XY) -> Picture:
    """Return the front alone, within `fit`, with the chains that it has room for."""
    return _orthographic(stage, FRONT, list(located_chains(stage.piece, stage.cache, stage.style)), (), fit)[0]


def _orthographic(
    stage: Stage,
    view: View,
    chains: list[LocatedChain],
    cuts: Sequence[Sectioned],
    fit: XY,
    largest: float = 1.0,
) -> tuple[Picture, ...]:
    ends = merged(visible_lines(project(scene_of(stage.piece, stage.cache), view))).ends
    box = bounds_of(ends)
    marks = _plane_ends(cuts, box)

    def lines(k: float) -> list[Primitive]:
        return [segments_of(ends, k, box, LineRole.OUTLINE), *_ticks(marks, k, box)]

    def with_chains(least: float, left: list[LocatedChain], both_sides: bool) -> tuple[Picture, ...]:
        taken = _shown_chains(view, ends, left, least)
        sized = SizedView(
            box, lines, _rows(stage, view, taken, both_sides, ends), totals=_totals(taken),
            letters=[(letter, at, way) for letter, at, way in marks], caption=view.name.capitalize(),
            alt=f"{stage.piece.title}, {view.name} with overall sizes", first=6.0 + (TICK + 5.0 if marks else 0.0),
        )  # fmt: skip
        return surely_drawn(sized, stage.convention, fit, largest)

    best, kept = with_chains(1e9, list(chains), False), list(chains)
    for least in LEAST_LINKS:  # as many chains as leave the view as large as none would
        for both_sides in (False, True):
            left = list(chains)
            found = with_chains(least, left, both_sides)
            if len(found) == 1 and found[0].scale >= best[0].scale - 1e-9:
                chains[:] = left
                return found
    chains[:] = kept
    return best


def _section(stage: Stage, section: Sectioned, chains: list[LocatedChain], fit: XY) -> tuple[Picture, ...]:
    cut = cut_piece(stage.piece, section.plane, stage.cache, without=stage.piece.excluded)
    outlines = outline_ends(cut)
    box = bounds_of(np.concatenate((cut.beyond, outlines)))
    shown = _shown_chains(section.plane.view, np.concatenate((outlines, cut.beyond)), chains)
    rows = _rows(stage, section.plane.view, shown, both_sides=len(shown[1]) > 3)
    depth = 0 if section.plane.view.right[1] else 1
    row = touching_row(stage, cut, depth)
    if row:
        rows[Side.LEFT if depth else Side.BELOW].append(row)
    caption = f"Section {section.name}–{section.name}, {section.what}"
    sized = replace(section_view(stage, cut, box, rows, caption), totals=_totals(shown))
    return surely_drawn(sized, stage.convention, fit)


def _totals(chains: dict[int, list[LocatedChain]]) -> dict[int, list[Link]]:
    return {i: [chain.total for chain in own] for i, own in chains.items()}


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
    stage: Stage, view: View, chains: dict[int, list[LocatedChain]], both_sides: bool, ends: Floats | None = None
) -> dict[Side, list[list[Link]]]:
    """Return the rows of chains; with a view's lines (`ends`), also overall sizes and the body's seen in it."""
    across, up = packed_rows(chains[0]), packed_rows(chains[1])
    if ends is not None:
        for i, (row, way) in enumerate(((across, view.right), (up, view.up))):
            *body, whole = _overall(stage, way)
            body = [link for link in body if _is_line(link.low, i, ends) and _is_line(link.high, i, ends)]
            row += [[link] for link in (*body, whole) if not any(_is_same(link, other) for r in row for other in r)]
    half = (len(up) + 1) // 2 if both_sides else len(up)
    return {Side.BELOW: across, Side.LEFT: up[:half], Side.RIGHT: up[half:]}


def _is_same(one: Link, other: Link) -> bool:
    return abs(one.low - other.low) < SAME and abs(one.high - other.high) < SAME


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


def _plane_ends(cuts: Sequence[Sectioned], box: tuple[float, float, float, float]) -> list[tuple[str, XY, XY]]:
    """Return for each end of a plane on the front view: name, where it meets the border of the view, way out."""
    x0, y0, x1, y1 = box
    out: list[tuple[str, XY, XY]] = []
    for cut in cuts:
        if cut.plane.view is PLAN:
            for x, s in ((x0, -1.0), (x1, 1.0)):
                out.append((cut.name, (x, cut.plane.at), (s, 0.0)))
        else:
            for y, s in ((y0, -1.0), (y1, 1.0)):
                out.append((cut.name, (-cut.plane.at, y), (0.0, s)))
    return out


def _ticks(marks: list[tuple[str, XY, XY]], k: float, box: tuple[float, float, float, float]) -> list[Primitive]:
    ends: list[Ends] = []
    for _, (x, y), (sx, sy) in marks:
        px, py = (x - box[0]) * k + sx * 1.2, (y - box[1]) * k + sy * 1.2
        ends.append((px, py, px + sx * TICK, py + sy * TICK))
    return [Segments(tuple(ends), LineRole.OUTLINE)] if ends else []
