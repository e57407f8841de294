"""Views of a part: which way each looks, and its lines on paper, with the arcs of its features as true arcs.

Lines come from the hidden-line view of the part's mesh, so that whatever features do to each other is right. Facets
that lie on a circle of the part (from its volumes, axis along the view) are then replaced by that circle's own arcs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.frames import Frame, Vec, cross, dot, scale
from casewright.design.outlines import arc_circle
from casewright.design.parts import Part
from casewright.design.volumes import Cone, Lowered, Prism
from casewright.packet.drawing.primitives import Arc, Circle, Ends, LineRole, Primitive, Segments
from casewright.solids.hide import hidden_lines, project, visible_lines
from casewright.solids.lines import merged, uncovered
from casewright.solids.mesh import Floats, Node, Scene, mesh_of
from casewright.solids.view import View

NORMALS: dict[Face, Vec] = {
    Face.END0: (-1.0, 0.0, 0.0), Face.END1: (1.0, 0.0, 0.0), Face.EDGE0: (0.0, -1.0, 0.0),
    Face.EDGE1: (0.0, 1.0, 0.0), Face.FACE0: (0.0, 0.0, -1.0), Face.FACE1: (0.0, 0.0, 1.0),
}  # fmt: skip
ON_RIM = 0.03  # of the radius: how far facets of a small circle may be off it
OFF_RIM = 0.1  # mm: how far those of any circle may be: what lies further off is another line
JOINED = 1.0  # mm: facets of one circle nearer than this are one arc
FACET = math.radians(32.0)  # the widest facet of a circle


@dataclass(frozen=True, slots=True)
class PartView:
    """A view of a blank: the face that is seen, what lies right and up on paper (blank directions)."""

    face: Face
    right: Vec
    up: Vec

    @property
    def view(self) -> View:
        """The view of the kernel."""
        return View(name=self.face.value, right=self.right, up=self.up)

    def flat(self, p: Vec) -> tuple[float, float]:
        """Map a point of the blank onto the view, mm."""
        return (dot(p, self.right), dot(p, self.up))

    def box(self, size: Vec) -> tuple[float, float, float, float]:
        """Return the view's x0 y0 x1 y1 of a blank of a size, mm."""
        x, y = self.flat(size)
        return (min(0.0, x), min(0.0, y), max(0.0, x), max(0.0, y))

    def axis(self, direction: Vec) -> tuple[int, float]:
        """Return which blank axis a view direction runs along, and which way."""
        i = max(range(3), key=lambda k: abs(direction[k]))
        return i, direction[i]


def main_view(face: Face) -> PartView:
    """Return the main view: face 1 or face 0, end 0 on the left."""
    return PartView(face, (1.0, 0.0, 0.0), (0.0, 1.0, 0.0) if face is Face.FACE1 else (0.0, -1.0, 0.0))


def folded(main: PartView, face: Face) -> PartView:
    """Return the view of another face, folded out from the main view."""
    towards = cross(main.right, main.up)
    normal = NORMALS[face]
    back = scale(main.up, -1.0)
    if normal == towards:
        return main
    if abs(dot(normal, main.up)) > 0.5:
        return PartView(face, main.right, towards if dot(normal, main.up) < 0 else _neg(towards))
    if abs(dot(normal, main.right)) > 0.5:
        return PartView(face, _neg(towards) if dot(normal, main.right) > 0 else towards, main.up)
    return PartView(face, main.right, _clean(back))


def lines_of(
    part: Part, view: PartView, cache: Cache, hidden: Part | None, role: LineRole = LineRole.OUTLINE
) -> tuple[Primitive, ...]:
    """Return the lines of a part in a view, in mm of the view; `hidden` is the part with what is to be drawn dashed."""
    dashed = hidden.key if hidden is not None else ""
    key = (part.key, view.face.value, view.right, view.up, dashed, role.value)
    return cache.made("part-view", key, lambda: _lines_of(part, view, cache, hidden, role))


def _lines_of(part: Part, view: PartView, cache: Cache, hidden: Part | None, role: LineRole) -> tuple[Primitive, ...]:
    seen = merged(visible_lines(project(_scene(part, cache), view.view)))
    rims = rims_of(part.lowered(), view)
    out = _arced(seen.ends, rims, role)
    if hidden is not None:
        projection = project(_scene(hidden, cache), view.view)
        covered = uncovered(merged(hidden_lines(projection, frozenset((0,)))), seen)
        out += _arced(covered.ends, rims, LineRole.HIDDEN)
    return tuple(out)


def rims_of(lowered: Lowered, view: PartView) -> list[tuple[float, float, float]]:
    """Return the circles (x, y, radius) of volumes whose axis runs along the view."""
    towards = cross(view.right, view.up)
    rims: set[tuple[float, float, float]] = set()
    for volume in (*lowered.base, *lowered.removals, *lowered.additions):
        if not isinstance(volume, (Prism, Cone)) or abs(abs(dot(volume.frame.z, towards)) - 1) > 1e-9:
            continue
        if isinstance(volume, Cone):
            x, y = view.flat(volume.frame.origin)
            rims.update((round(x, 6), round(y, 6), r) for r in (volume.r0, volume.r1) if r > 0)
        else:
            rims.update(_arc_rims(volume, view))
    return sorted(rims)


def _arc_rims(prism: Prism, view: PartView) -> list[tuple[float, float, float]]:
    out = []
    for a, b, k in prism.outline.sides:
        if k:
            (cx, cy), r = arc_circle(a, b, k)
            x, y = view.flat(prism.frame.point((cx, cy, 0.0)))
            out.append((round(x, 6), round(y, 6), r))
    return out


def _scene(part: Part, cache: Cache) -> Scene:
    mesh = mesh_of(part, cache)
    return Scene(meshes={part.key: mesh}, nodes=(Node("part", "part", part.key, Frame(), part),))


def _arced(ends: Floats, rims: list[tuple[float, float, float]], role: LineRole) -> list[Primitive]:
    """Return lines as segments, and those that are facets of a circle as its arcs."""
    left = np.ones(len(ends), np.bool_)
    out: list[Primitive] = []
    for x, y, r in rims:
        on = left & _facets(ends, x, y, r)
        if on.any():
            left &= ~on
            out += _circle_arcs(ends[on], x, y, r, role)
    straight: list[Ends] = [(e[0], e[1], e[2], e[3]) for e in ends[left].tolist()]
    return ([Segments(tuple(straight), role)] if straight else []) + out


def _facets(ends: Floats, x: float, y: float, r: float) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    a, b = ends[:, :2] - (x, y), ends[:, 2:] - (x, y)
    slack = min(ON_RIM * r, OFF_RIM) + 0.01
    rim = (np.abs(np.hypot(*a.T) - r) < slack) & (np.abs(np.hypot(*b.T) - r) < slack)
    chord = np.hypot(*(b - a).T)
    longest = min(2 * r * math.sin(FACET / 2), math.sqrt(8 * r * OFF_RIM))  # the chord that rises so far
    found: np.ndarray[tuple[int], np.dtype[np.bool_]] = rim & (chord < longest)
    return found


def _circle_arcs(ends: Floats, x: float, y: float, r: float, role: LineRole) -> list[Primitive]:
    """Return the arcs that facets of one circle cover, or the whole circle."""
    turns = np.degrees(np.arctan2(ends[:, [1, 3]] - y, ends[:, [0, 2]] - x)) % 360.0
    spans = []
    for a, b in turns.tolist():
        low, high = (a, b) if (b - a) % 360.0 < 180.0 else (b, a)
        spans.append((low, low + (high - low) % 360.0))
    spans.sort()
    near = min(2.0, math.degrees(JOINED / r))
    joined: list[list[float]] = []
    for low, high in spans:
        if joined and low <= joined[-1][1] + near:
            joined[-1][1] = max(joined[-1][1], high)
        else:
            joined.append([low, high])
    if len(joined) > 1 and joined[0][0] + 360.0 <= joined[-1][1] + near:
        joined[0][0] = joined.pop()[0] - 360.0
    if len(joined) == 1 and joined[0][1] - joined[0][0] >= 357.0:
        return [Circle((x, y), r, role)]
    return [Arc((x, y), r, low, high, role) for low, high in joined]


def on_paper(items: tuple[Primitive, ...], k: float, dx: float, dy: float) -> list[Primitive]:
    """Return lines of a view at a scale, moved to their place on paper."""
    out: list[Primitive] = []
    for item in items:
        match item:
            case Segments():
                ends = tuple((a * k + dx, b * k + dy, c * k + dx, d * k + dy) for a, b, c, d in item.ends)
                out.append(replace(item, ends=ends))
            case Circle() | Arc():
                centre = (item.centre[0] * k + dx, item.centre[1] * k + dy)
                out.append(replace(item, centre=centre, radius=item.radius * k))
            case _:
                raise TypeError(f"a view has no {type(item).__name__}")
    return out


def _neg(v: Vec) -> Vec:
    return _clean(scale(v, -1.0))


def _clean(v: Vec) -> Vec:
    return (v[0] + 0.0, v[1] + 0.0, v[2] + 0.0)
