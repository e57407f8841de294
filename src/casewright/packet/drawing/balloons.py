"""Marks in balloons beside a picture, each with a leader to its part.

Balloons find their places by the placer (`placing`). Where a picture has no room for that, and around layouts, they
stand in columns; where those are full, or something in them could not be read, `NoRoom` is raised.

1. A part's anchor is the point deepest inside what is seen of it (of all parts with the mark: the one seen
   best); a part that is not seen at all is pointed at through what covers it, with a dashed leader.
2. Balloons stand in two columns, each anchor's on its nearer side, as close to its height as there is room.
3. Two leaders of a column that cross swap their balloons; each swap makes the two shorter together, so
   this ends, and none is left crossing another of the same column.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from casewright.packet.drawing.lettering import em_for, width_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.placing import NoRoom, Note, place_notes
from casewright.packet.drawing.primitives import WHITE, XY, Circle, Leader, LineRole, Picture, Primitive, Text
from casewright.packet.drawing.raster import Raster
from casewright.solids.hide import Projection, front_at
from casewright.solids.mesh import Scene

RADIUS = 3.4  # mm
APART = 0.9  # mm between balloons
COLUMN = 2 * RADIUS + 6.0  # mm of paper that a column takes beside the picture
LETTER = 2.5  # mm: height of the capitals of a mark
SAMPLES = 170  # along the longer side of the picture

Ids = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class MarkedPoint:
    """A mark and the place that it points at; `covered` if something hides it."""

    mark: str
    at: XY
    covered: bool


def marked_points(scene: Scene, projection: Projection, marks: Mapping[str, str]) -> tuple[MarkedPoint, ...]:
    """Return one point for each mark, in the projection's mm; `marks` are by path."""
    seen, x, y = _seen(projection)
    depth = _depth(seen)
    best: dict[str, tuple[int, XY]] = {}
    for i, node in enumerate(scene.nodes):
        mark = marks.get(node.path)
        if mark is None:
            continue
        inside = np.where(seen == i, depth, 0)
        k = int(inside.argmax())
        value = int(inside.flat[k])
        if value > best.get(mark, (-1, (0.0, 0.0)))[0]:
            row, column = divmod(k, seen.shape[1])
            at = (float(x[column]), float(y[row])) if value else _middle(projection, i)
            best[mark] = (value, at)
    return tuple(MarkedPoint(mark, at, value == 0) for mark, (value, at) in sorted(best.items(), key=_mark_order))


def balloons(points: tuple[MarkedPoint, ...], width: float, height: float) -> tuple[Primitive, ...]:
    """Return balloons and leaders for points on a picture of a given size in mm, all of it on the picture.

    Raises NoRoom where the two columns do not hold them all.
    """
    left = sorted((p for p in points if p.at[0] <= width / 2), key=lambda p: p.at[0])
    right = [p for p in points if p.at[0] > width / 2]
    room = int((height - 1.0 + APART) / (2 * RADIUS + APART))
    if len(points) > 2 * room:
        raise NoRoom(f"{len(points)} marks beside a picture {height:.0f} mm high")
    # Where one side is full its points nearest the middle go over.
    while len(left) > room and len(right) < len(left):
        right.append(left.pop())
    right.sort(key=lambda p: -p.at[0])
    while len(right) > room and len(left) < len(right):
        left.append(right.pop())
    sides = ((left, RADIUS + 0.5), (right, width - RADIUS - 0.5))
    return tuple(item for side, x in sides for item in _column(side, x, height))


def placed_balloons(
    items: Sequence[Primitive], points: tuple[MarkedPoint, ...], width: float, height: float, solid: Sequence[XY]
) -> tuple[Primitive, ...]:
    """Return balloons and leaders by the placer, beside what is drawn (`solid`: points of its areas).

    Where it finds none they stand in columns. Raises NoRoom.
    """
    raster = Raster(width, height)
    raster.ink(items)
    raster.mark(raster.solid, np.array(solid).reshape(-1, 2))
    border = ((0.6, 0.6), (width - 0.6, 0.6), (width - 0.6, height - 0.6), (0.6, height - 0.6), (0.6, 0.6))
    raster.run(raster.texts, (border,))
    em = em_for(LETTER)
    notes = [Note((p.mark,), (p.at,), em, covered=p.covered, ring=ring_of(p.mark)) for p in points]
    try:
        return place_notes(raster, notes)
    except NoRoom:
        columns = balloons(points, width, height)
        faults = overlaps(Picture(width, height, columns))
        if faults:
            raise NoRoom(f"{faults[0].kind}: {faults[0].text}") from None
        return columns


def seen_areas(projection: Projection) -> NDArray[np.float64]:
    """Return points (n, 2), in the projection's mm, on what is seen, close enough to leave no gap."""
    seen, x, y = _seen(projection)
    rows, columns = np.nonzero(seen >= 0)
    return np.column_stack((x[columns], y[rows]))


def _column(points: list[MarkedPoint], x: float, height: float) -> list[Primitive]:
    ordered = sorted(points, key=lambda p: (p.at[1], p.at[0]))
    heights = spread([p.at[1] for p in ordered], 2 * RADIUS + APART, RADIUS + 0.5, height - RADIUS - 0.5)
    ports = [(x, y) for y in heights]
    _uncross(ordered, ports)
    out: list[Primitive] = [
        Leader((_rim(port, p.at, RADIUS), p.at), p.covered) for p, port in zip(ordered, ports, strict=True)
    ]
    for p, port in zip(ordered, ports, strict=True):
        out.append(Circle(port, max(RADIUS, ring_of(p.mark)), LineRole.LEADER, WHITE))
        out.append(Text(port, p.mark, em_for(LETTER)))
    return out


def ring_of(mark: str) -> float:
    """Return the radius of the balloon that a mark needs, mm."""
    em = em_for(LETTER)
    return max(0.8 * em, width_of(mark, em) / 2 + 0.8)


def spread(wanted: list[float], pitch: float, low: float, high: float) -> list[float]:
    """Return heights in the same order, `pitch` apart and within bounds, close to the wanted ones."""
    heights: list[float] = []
    for i, w in enumerate(wanted):
        floor = low + i * pitch if not heights else heights[-1] + pitch
        heights.append(max(w, floor))
    ceiling = high
    for i in reversed(range(len(heights))):
        heights[i] = min(heights[i], ceiling)
        ceiling = heights[i] - pitch
    return heights


def _uncross(points: list[MarkedPoint], ports: list[XY]) -> None:
    crossed = True
    while crossed:
        crossed = False
        for i in range(len(points)):
            for j in range(i + 1, len(points)):
                if _cross(points[i].at, ports[i], points[j].at, ports[j]):
                    ports[i], ports[j] = ports[j], ports[i]
                    crossed = True


def _cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _rim(centre: XY, towards: XY, radius: float) -> XY:
    dx, dy = towards[0] - centre[0], towards[1] - centre[1]
    far = float(np.hypot(dx, dy))
    return centre if far < 1e-9 else (centre[0] + dx / far * radius, centre[1] + dy / far * radius)


def _seen(projection: Projection) -> tuple[Ids, NDArray[np.float64], NDArray[np.float64]]:
    """Return which node is seen at each point of a raster, and the raster's x and y."""
    xs, ys = projection.triangles[:, 0::3], projection.triangles[:, 1::3]
    step = max(float(np.ptp(xs)), float(np.ptp(ys))) / SAMPLES
    x = np.arange(float(xs.min()) + step / 2, float(xs.max()), step)
    y = np.arange(float(ys.min()) + step / 2, float(ys.max()), step)
    points = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    face = front_at(projection, points)
    return np.where(face >= 0, projection.triangle_owner[face], -1).reshape(len(y), len(x)), x, y


def _depth(seen: Ids) -> Ids:
    """Return how many steps each raster point lies inside the area of its node."""
    depth = np.ones(seen.shape, np.int64)
    padded = np.pad(seen, 1, constant_values=-2)
    rows, columns = seen.shape
    shifts = [padded[i : i + rows, j : j + columns] for i, j in ((0, 1), (2, 1), (1, 0), (1, 2))]
    core = np.logical_and.reduce([s == seen for s in shifts])
    for _ in range(SAMPLES):
        if not core.any():
            break
        depth[core] += 1
        ring = np.pad(core, 1)
        core = core & ring[:-2, 1:-1] & ring[2:, 1:-1] & ring[1:-1, :-2] & ring[1:-1, 2:]
    return depth


def _middle(projection: Projection, node: int) -> XY:
    own = projection.triangles[projection.triangle_owner == node]
    return (float(own[:, 0::3].mean()), float(own[:, 1::3].mean()))


def _mark_order(item: tuple[str, tuple[int, XY]]) -> tuple[int, str]:
    return (len(item[0]), item[0])
