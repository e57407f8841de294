"""Hidden lines: which part of which edge is seen in a view.

Every edge is cut against every front triangle over it (casewright.solids.kernel); what no triangle
covers is visible. A triangle hides what lies more than 0.02 mm behind it, so that faces which touch do
not flicker. Method and measurements: docs/solids.md.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from casewright.design.frames import Vec
from casewright.solids.evaluate import placed_points
from casewright.solids.lines import SHORTEST, Lines
from casewright.solids.mesh import Floats, Indices, Mesh, Scene
from casewright.solids.view import View

BEHIND = 0.02  # mm: a triangle hides only what lies this far behind it
INSIDE = 1e-5  # mm: a triangle's border counts as inside by this
THINNEST = 1e-4  # mm: triangles that look thinner hide nothing; their planes are not to be trusted
EDGE_ON = 1e-4  # cosine below which a face is taken to be seen edge on
CELLS = 128  # of the grid along the longer side
NOWHERE: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Triangles by cells of the picture plane."""

    x0: float
    y0: float
    cell: float
    nx: int
    ny: int
    start: Indices
    members: Indices


@dataclass(frozen=True, slots=True, eq=False)
class Projection:
    """A scene as a view sees it: x right, y up, z to the viewer, mm.

    Front triangles: corners (m, 9), planes (m, 3) of z = a x + b y + c, normals (m, 3), owner node (m,).
    Edges: ends p and q (n, 3), owner (n,), `faced` if a neighbour is seen from the front, `drawn` if it is
    a sharp edge or an outline.
    """

    triangles: Floats
    planes: Floats
    normals: Floats
    triangle_owner: Indices
    p: Floats
    q: Floats
    edge_owner: Indices
    faced: NDArray[np.bool_]
    drawn: NDArray[np.bool_]
    grid: Grid


def project(scene: Scene, view: View, offsets: Mapping[str, Vec] | None = None) -> Projection:
    """Return the scene as the view sees it; `offsets` (mm, piece frame) move nodes by their path first.

    Raises ValueError for an empty scene.
    """
    if not scene.nodes:
        raise ValueError("there is nothing to draw")
    looks = [_look(scene.meshes[n.key], *_placed(scene, i, view, offsets or {}), i) for i, n in enumerate(scene.nodes)]
    columns: list[Any] = [np.concatenate(column) for column in zip(*looks, strict=True)]
    corners, normals, triangle_owner, p, q, edge_owner, faced, drawn = columns
    triangles = corners.reshape(-1, 9)
    return Projection(
        triangles=triangles,
        planes=_planes(corners, normals),
        normals=normals,
        triangle_owner=triangle_owner,
        p=p,
        q=q,
        edge_owner=edge_owner,
        faced=faced,
        drawn=drawn,
        grid=_grid(triangles),
    )


def visible_lines(projection: Projection, *, all_edges: bool = False) -> Lines:
    """Return what is seen of the drawn edges, or of every edge of a front face where `all_edges`."""
    wanted = projection.faced if all_edges else projection.faced & projection.drawn
    return _lines(projection, np.flatnonzero(wanted), visible=True)


def hidden_lines(projection: Projection, owners: frozenset[int]) -> Lines:
    """Return what is covered of the drawn edges of the chosen nodes (indices in the scene)."""
    chosen = projection.drawn & np.isin(projection.edge_owner, sorted(owners))
    return _lines(projection, np.flatnonzero(chosen), visible=False)


def free_lines(projection: Projection, ends: Floats) -> Floats:
    """Return what is seen of free lines (k, 2, 3) given in the view's own x, y, z: (n, 4) x0 y0 x1 y1."""
    p, q = ends[:, 0], ends[:, 1]
    which, t0, t1 = _gaps(*_spans(projection, p, q))
    flat = q[which, :2] - p[which, :2]
    start = p[which, :2]
    seen: Floats = np.concatenate((start + flat * t0[:, None], start + flat * t1[:, None]), axis=1)
    return seen


def front_at(projection: Projection, points: Floats) -> Indices:
    """Return for each point (k, 2) the front triangle nearest to the viewer there, or −1."""
    from casewright.solids import kernel

    g = projection.grid
    found: Indices = kernel.topmost(
        np.ascontiguousarray(points), projection.triangles, projection.planes, g.start, g.members,
        g.x0, g.y0, g.cell, g.nx, g.ny,
    )  # fmt: skip
    return found


def _placed(scene: Scene, index: int, view: View, offsets: Mapping[str, Vec]) -> tuple[Floats, Floats]:
    node = scene.nodes[index]
    mesh = scene.meshes[node.key]
    frame = node.frame.moved(offsets.get(node.path, NOWHERE))
    turn = view.matrix
    points = placed_points(mesh.positions, frame) @ turn.T
    normals = mesh.normals @ np.array([frame.x, frame.y, frame.z]) @ turn.T
    return points, normals


def _look(mesh: Mesh, points: Floats, normals: Floats, index: int) -> tuple[Any, ...]:
    front = normals[:, 2] > EDGE_ON
    one, two = front[mesh.neighbours[:, 0]], front[mesh.neighbours[:, 1]]
    occluders = np.flatnonzero(front)
    corners = points[mesh.triangles[occluders]]
    wide = _widths(corners) > THINNEST
    corners, occluders = corners[wide], occluders[wide]
    return (
        corners,
        normals[occluders],
        np.full(len(corners), index, np.int64),
        points[mesh.edges[:, 0]],
        points[mesh.edges[:, 1]],
        np.full(len(mesh.edges), index, np.int64),
        one | two,
        mesh.sharp | (one != two),
    )


def _widths(corners: Floats) -> Floats:
    """Return how wide each triangle looks at its narrowest: its area against its longest side."""
    sides = np.roll(corners, -1, axis=1)[:, :, :2] - corners[:, :, :2]
    longest = np.sqrt((sides**2).sum(axis=2).max(axis=1))
    twice = np.abs(sides[:, 0, 0] * sides[:, 1, 1] - sides[:, 0, 1] * sides[:, 1, 0])
    widths: Floats = twice / np.maximum(longest, 1e-12)
    return widths


def _planes(triangles: Floats, normals: Floats) -> Floats:
    slope = -normals[:, :2] / normals[:, 2:]
    middle = triangles.mean(axis=1)
    return np.column_stack((slope, middle[:, 2] - (slope * middle[:, :2]).sum(axis=1)))


def _grid(triangles: Floats) -> Grid:
    from casewright.solids import kernel

    xs, ys = triangles[:, 0::3], triangles[:, 1::3]
    x0, y0 = float(xs.min()), float(ys.min())
    wide, high = float(xs.max()) - x0, float(ys.max()) - y0
    cell = max(wide, high, 1e-6) / (CELLS - 0.5)
    nx, ny = int(wide / cell) + 1, int(high / cell) + 1
    start, members = kernel.bin_triangles(triangles, x0, y0, cell, nx, ny)
    return Grid(x0, y0, cell, nx, ny, start, members)


def _lines(projection: Projection, edges: Indices, *, visible: bool) -> Lines:
    p, q = projection.p[edges], projection.q[edges]
    first, spans = _spans(projection, p, q)
    which, t0, t1 = _gaps(first, spans) if visible else _covered(first, spans)
    flat = q[which, :2] - p[which, :2]
    keep = np.hypot(flat[:, 0], flat[:, 1]) * (t1 - t0) > SHORTEST
    which, t0, t1, flat = which[keep], t0[keep], t1[keep], flat[keep]
    start = p[which, :2]
    ends = np.concatenate((start + flat * t0[:, None], start + flat * t1[:, None]), axis=1)
    return Lines(ends=ends, owner=projection.edge_owner[edges][which], edge=edges[which])


def _spans(projection: Projection, p: Floats, q: Floats) -> tuple[Indices, Floats]:
    from casewright.solids import kernel

    g = projection.grid
    first, spans = kernel.hidden_spans(
        np.ascontiguousarray(p), np.ascontiguousarray(q), projection.triangles, projection.planes,
        g.start, g.members, g.x0, g.y0, g.cell, g.nx, g.ny, BEHIND, INSIDE,
    )  # fmt: skip
    return first, spans


def _covered(first: Indices, spans: Floats) -> tuple[Indices, Floats, Floats]:
    which = np.repeat(np.arange(len(first) - 1), np.diff(first))
    return which, spans[:, 0], spans[:, 1]


def _gaps(first: Indices, spans: Floats) -> tuple[Indices, Floats, Floats]:
    # Edge e has one gap more than it has spans: before the first, between them, after the last.
    counts = np.diff(first)
    which = np.repeat(np.arange(len(counts)), counts + 1)
    place = np.arange(len(which)) - np.repeat(first[:-1] + np.arange(len(counts)), counts + 1)
    t0, t1 = np.zeros(len(which)), np.ones(len(which))
    after, before = place > 0, place < counts[which]
    t0[after], t1[before] = spans[:, 1], spans[:, 0]
    return which, t0, t1
