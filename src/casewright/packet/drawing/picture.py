"""Pictures of a piece: a view, assembled or exploded, as lines or shaded, with marks or without."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.frames import Vec
from casewright.packet.drawing.balloons import COLUMN, MarkedPoint, marked_points, placed_balloons, seen_areas
from casewright.packet.drawing.explode import Explosion, Trail
from casewright.packet.drawing.primitives import XY, Ends, Fill, LineRole, Picture, Polyline, Primitive, Segments
from casewright.packet.drawing.shade import shaded as shaded_fills
from casewright.packet.drawing.tones import ToneOf, tone_of
from casewright.solids.collide import is_under_any
from casewright.solids.hide import Projection, free_lines, hidden_lines, project, visible_lines
from casewright.solids.lines import STEP, Run, merged, runs, uncovered
from casewright.solids.mesh import Floats, scene_of
from casewright.solids.view import View

MARGIN = 1.5  # mm of paper around what is drawn


@dataclass(frozen=True, slots=True)
class Sheet:
    """How a picture lies on paper: its size, and the map from the view's mm to the paper's."""

    width: float
    height: float
    scale: float
    shift: XY

    def xy(self, p: XY) -> XY:
        """Map a point of the view onto the paper."""
        return (p[0] * self.scale + self.shift[0], p[1] * self.scale + self.shift[1])

    def lines(self, ends: Floats, role: LineRole) -> tuple[Segments | Polyline, ...]:
        """Map lines of the view onto the paper: straight ones together, and each curve as a run."""
        chained = runs(ends * self.scale + np.array([*self.shift, *self.shift]))
        straight: list[Ends] = [(*r[0], *r[1]) for r in chained if len(r) == 2]
        curves = (_closed(r, role) for r in chained if len(r) > 2)
        return ((Segments(tuple(straight), role),) if straight else ()) + tuple(curves)

    def fill(self, fill: Fill) -> Fill:
        """Map an area of the view onto the paper."""
        return Fill(tuple(tuple(self.xy(p) for p in ring) for ring in fill.rings), fill.tone)


def picture(
    piece: PieceDesign,
    view: View,
    cache: Cache,
    *,
    fit: XY,
    shaded: bool = False,
    exploded: Explosion | Mapping[str, Vec] | None = None,
    marks: Mapping[str, str] | None = None,
    hidden: tuple[str, ...] = (),
    only: tuple[str, ...] = (),
    without: tuple[str, ...] = (),
    fasteners: bool = False,
    scale: float | None = None,
    tones: ToneOf = tone_of,
) -> Picture:
    """Return a picture of a piece that fits into `fit` (width, height in mm on paper).

    `exploded` moves things by their path (piece frame, mm); an `Explosion` also has trails. `marks` puts a
    balloon to each mark, by path. `hidden` names paths or groups whose covered edges are drawn dashed;
    `only` draws some paths or groups and `without` leaves some out. `scale` (paper : piece) may be given
    instead of found.
    Raises ValueError where nothing is left to draw or `scale` does not fit.
    """
    shown = _chosen(piece, only, without)
    scene = scene_of(shown, cache, fasteners=fasteners)
    offsets, trails = _taken_apart(exploded)
    projection = project(scene, view, offsets)
    sheet = _sheet(projection, fit, COLUMN if marks else 0.0, scale)
    items: list[Primitive] = []
    if shaded:
        items.extend(sheet.fill(f) for f in shaded_fills(projection, tuple(tones(n.thing) for n in scene.nodes)))
    seen = merged(visible_lines(projection))
    if len(trails):
        items.extend(sheet.lines(free_lines(projection, _flat(trails, view)), LineRole.TRAIL))
    if hidden:
        chosen = frozenset(i for i, n in enumerate(scene.nodes) if is_under_any(n.path, hidden))
        covered = uncovered(merged(hidden_lines(projection, chosen)), seen)
        items.extend(sheet.lines(covered.ends, LineRole.HIDDEN))
    items.extend(sheet.lines(seen.ends, LineRole.VISIBLE))
    if marks:
        points = marked_points(scene, projection, marks)
        placed = tuple(MarkedPoint(p.mark, sheet.xy(p.at), p.covered) for p in points)
        areas = seen_areas(projection) * sheet.scale + np.array(sheet.shift)
        items.extend(placed_balloons(items, placed, sheet.width, sheet.height, areas))
    alt = f"{piece.title}, {'exploded, ' if offsets else ''}{view.name} view"
    return Picture(sheet.width, sheet.height, tuple(items), alt, sheet.scale)


def _closed(run: Run, role: LineRole) -> Polyline:
    (x0, y0), (x1, y1) = run[0], run[-1]
    ring = abs(x0 - x1) < STEP and abs(y0 - y1) < STEP
    return Polyline(run[:-1] if ring else run, role, closed=ring)


def _chosen(piece: PieceDesign, only: tuple[str, ...], without: tuple[str, ...]) -> PieceDesign:
    if not only and not without:
        return piece

    def drawn(path: str) -> bool:
        wanted = not only or is_under_any(path, only)
        return wanted and not is_under_any(path, without)

    placed = tuple(p for p in piece.placed if drawn(p.path))
    return replace(piece, placed=placed, fasteners=tuple(f for f in piece.fasteners if all(map(drawn, f.parts))))


def _taken_apart(exploded: Explosion | Mapping[str, Vec] | None) -> tuple[Mapping[str, Vec], tuple[Trail, ...]]:
    if isinstance(exploded, Explosion):
        return exploded.offsets, exploded.trails
    return exploded or {}, ()


def _flat(trails: tuple[Trail, ...], view: View) -> Floats:
    ends: Floats = np.array([(t.start, t.end) for t in trails]) @ view.matrix.T
    return ends


def _sheet(projection: Projection, fit: XY, side: float, scale: float | None) -> Sheet:
    xs, ys = projection.triangles[:, 0::3], projection.triangles[:, 1::3]
    low, size = (float(xs.min()), float(ys.min())), (float(np.ptp(xs)), float(np.ptp(ys)))
    room = (fit[0] - 2 * (MARGIN + side), fit[1] - 2 * MARGIN)
    if min(room) <= 0:
        raise ValueError(f"a picture needs more room than {fit[0]} × {fit[1]} mm")
    most = min(room[0] / size[0], room[1] / size[1])
    if scale is not None and scale > most * (1 + 1e-9):
        raise ValueError(f"at {scale} the picture does not fit into {fit[0]} × {fit[1]} mm: {most:.4f} would")
    k = most if scale is None else scale
    width, height = size[0] * k + 2 * (MARGIN + side), size[1] * k + 2 * MARGIN
    return Sheet(width, height, k, (MARGIN + side - low[0] * k, MARGIN - low[1] * k))
