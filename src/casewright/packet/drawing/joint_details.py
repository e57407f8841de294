"""Which joints of a piece are shown in detail, and where each is cut: chosen by kinds of joints alone.

1. Every kind of joint whose making a drawing must show has a detail, one for each pair of materials that meet in it
   (plain butts and dowels one in all); so has every pair of bought things that are joined to each other (the leaves
   of a hinge, the members of a slide).
2. The plane lies along the joint's fastener, or along the axis of what is turned; without these it is square to the
   longest side of where the two meet: a groove is cut across, a hinge level, a slide upright.
3. The sizes are how far the two reach into each other, and their own where both sides are in the window.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from casewright.design.assembly import Joint, JointKind, PieceDesign
from casewright.design.frames import Frame, Vec
from casewright.design.parts import Fastener, Hardware, Placed
from casewright.design.volumes import Cone
from casewright.packet.drawing.chains_located import Link
from casewright.packet.drawing.cutting import Cut, CutPart, Plane, cut_piece
from casewright.packet.drawing.stage import Stage
from casewright.solids.collide import placed_boxes
from casewright.solids.view import FRONT, LEFT_SIDE, PLAN, View
from casewright.units import Role

# Kinds that say all in words or are seen in every section, and those that have details of their own.
PLAIN = frozenset((JointKind.GLUE, JointKind.PINS, JointKind.MITRE, JointKind.SCREWS, JointKind.THREAD, JointKind.HELD))
ONCE = frozenset((JointKind.BUTT_SCREWS, JointKind.DOWEL))  # alike in all materials
VIEWS: tuple[tuple[View, str], ...] = (
    (LEFT_SIDE, "looking to the right"), (FRONT, "looking to the back"), (PLAN, "looking down"),
)  # by the axis that the plane is square to  # fmt: skip
OFF = 0.23  # mm: planes keep off faces that lie in the very middle
AROUND, AROUND_BOUGHT = 12.0, 28.0  # mm of the piece around where two things meet
LEAST, MOST = 16.0, 50.0  # mm: half the window
DEEP = 60.0  # mm behind the plane that are shown
SLIVER, SLIVER_WHOLE = 6.0, 24.0  # mm: less of a part than this is a sliver; a window grows by so much to show it whole
PAST = 2.0  # mm that such a window shows beyond the part
ROUNDS = 3  # of widening, which may meet further parts
ENGAGED = 0.4  # mm: what reaches less into each other has no size
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class JointDetail:
    """A joint cut: what it is called, the cut, its window in the view, and sizes across and up the paper."""

    name: str
    cut: Cut
    box: Box
    across: tuple[Link, ...]
    up: tuple[Link, ...]


def joint_details(stage: Stage) -> Iterator[JointDetail]:
    """Return a detail of each kind of joint in a piece, for each pair of materials that meet in it."""
    placed = stage.piece.by_path()
    shown: set[tuple[str, ...]] = set()
    for joint in stage.piece.joints:
        a, b = placed.get(joint.a), placed.get(joint.b)
        if a is None or b is None or not _matters(joint, a, b):
            continue
        sign = (joint.kind.name, *(() if joint.kind in ONCE else sorted((_material(a), _material(b)))))
        if sign not in shown:
            shown.add(sign)
            yield _detail(stage, joint, a, b)


def _matters(joint: Joint, a: Placed, b: Placed) -> bool:
    bought = isinstance(a.thing, Hardware) and isinstance(b.thing, Hardware)
    return bought if joint.kind is JointKind.HARDWARE else joint.kind not in PLAIN


def _material(placed: Placed) -> str:
    thing = placed.thing
    return thing.item if isinstance(thing, Hardware) else f"{thing.stock} {thing.blank.thickness:.1f}"


def _detail(stage: Stage, joint: Joint, a: Placed, b: Placed) -> JointDetail:
    low, high = _contact(stage, a, b)
    screws = [f for f in stage.piece.fasteners if f.joint == joint.id]
    axis, at = _square_to(a, b, low, high, screws)
    view, words = VIEWS[axis]
    plane = Plane(view, (at + OFF) * (1.0 if axis == 2 else -1.0))
    box = _window(view, a, b, low, high, screws)
    near = _near(stage, view, _wider(box, 2 * SLIVER_WHOLE))
    cut = cut_piece(near, plane, stage.cache, without=stage.piece.excluded, deep=DEEP)
    box = _without_slivers(cut, box)
    cut = _without_screws(cut)
    bought = isinstance(a.thing, Hardware) and isinstance(b.thing, Hardware)
    pairs = [(a, b), *(_hosts(stage, (a, b)) if bought else ())]
    across, up = ([k for one, two in pairs for k in _sizes(stage, cut, box, one, two, i)] for i in (0, 1))
    kind = "" if bought else f"{joint.words}: "
    name = f"{kind}{' and '.join(dict.fromkeys((a.name, b.name)))}, {words}"
    return JointDetail(name=name, cut=cut, box=box, across=tuple(across), up=tuple(up))


def _contact(stage: Stage, a: Placed, b: Placed) -> tuple[Vec, Vec]:
    """Return the box where the boxes of two things meet, or what lies between them."""
    one, two = placed_boxes((a, b), stage.cache).tolist()
    spans = [sorted((max(one[i], two[i]), min(one[i + 3], two[i + 3]))) for i in range(3)]
    return (spans[0][0], spans[1][0], spans[2][0]), (spans[0][1], spans[1][1], spans[2][1])


def _square_to(a: Placed, b: Placed, low: Vec, high: Vec, screws: Sequence[Fastener]) -> tuple[int, float]:
    """Return which axis the plane is square to, and where on it the plane lies."""
    turned = next((p for p in (b, a) if isinstance(p.thing, Hardware)), None)
    both = isinstance(a.thing, Hardware) and isinstance(b.thing, Hardware)
    frame = screws[0].frame if screws else turned.frame if turned is not None and not both else None
    size = [h - n for n, h in zip(low, high, strict=True)]
    if frame is None:
        axis = max(range(3), key=lambda i: size[i])
        return axis, (low[axis] + high[axis]) / 2
    slant = [round(abs(c), 2) for c in frame.z]
    axis = min(range(3), key=lambda i: (slant[i], -size[i]))
    return axis, frame.origin[axis] - OFF


def _window(view: View, a: Placed, b: Placed, low: Vec, high: Vec, screws: Sequence[Fastener]) -> Box:
    bought = isinstance(a.thing, Hardware) and isinstance(b.thing, Hardware)
    if screws:
        ends = (screws[0].frame.origin, screws[0].tip)
    else:
        ends = (low, high)
    out: list[tuple[float, float]] = []
    for direction in (view.right, view.up):
        p, q = sorted(sum(c * d for c, d in zip(end, direction, strict=True)) for end in ends)
        half = min(MOST, max(LEAST, (q - p) / 2 + (AROUND_BOUGHT if bought else AROUND)))
        out.append(((p + q) / 2 - half, (p + q) / 2 + half))
    return (out[0][0], out[1][0], out[0][1], out[1][1])


def _wider(box: Box, by: float) -> Box:
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def _without_slivers(cut: Cut, box: Box) -> Box:
    """Return a window made wider where its border leaves a part that is a sliver, which would pass for a thin sheet.

    The part is shown whole where `SLIVER_WHOLE` more suffice, else as much of it as is no sliver; what the wider
    window meets is looked at again.
    """
    for _ in range(ROUNDS):
        wider = _widened(cut, box)
        if wider == box:
            break
        box = wider
    return box


def _widened(cut: Cut, box: Box) -> Box:
    sides = list(box)
    frame = shapely.box(*box)
    for part in cut.parts:
        seen = part.area.intersection(frame)
        if part.grain is None or seen.area <= 0.01:
            continue
        for i in (0, 1):
            thin = SLIVER - (seen.bounds[i + 2] - seen.bounds[i])
            for side, way in ((i, -1.0), (i + 2, 1.0)) if thin > 0 else ():
                over = way * (part.area.bounds[side] - box[side])
                if over > 0.01:
                    more = over + PAST if over + PAST <= SLIVER_WHOLE else thin
                    sides[side] = way * max(way * sides[side], way * box[side] + more)
    return (sides[0], sides[1], sides[2], sides[3])


def _near(stage: Stage, view: View, box: Box) -> PieceDesign:
    """Return the piece with what reaches into a window of a view alone, its screws as bought things."""
    boxes = placed_boxes(stage.piece.placed, stage.cache).tolist()
    kept = [p for p, b in zip(stage.piece.placed, boxes, strict=True) if _reaches(view, b, box)]
    screws = [_as_placed(f) for f in stage.piece.fasteners if any(p.path in f.parts for p in kept)]
    return replace(stage.piece, placed=(*kept, *screws), fasteners=())


def _reaches(view: View, b: Sequence[float], box: Box) -> bool:
    for i, direction in enumerate((view.right, view.up)):
        axis = max(range(3), key=lambda k: abs(direction[k]))
        p, q = sorted((b[axis] * direction[axis], b[axis + 3] * direction[axis]))
        if q < box[i] or p > box[i + 2]:
            return False
    return True


def _as_placed(screw: Fastener) -> Placed:
    bodies = [Cone(frame=Frame(), height=screw.length, r0=screw.shank_radius, r1=screw.shank_radius)]
    if screw.head_height > 0 and screw.head_radius > 0:
        bodies.append(Cone(frame=Frame(), height=screw.head_height, r0=screw.head_radius, r1=screw.shank_radius))
    thing = Hardware(item=screw.item, bodies=tuple(bodies), mass=screw.mass)
    return Placed(path=screw.path, name=screw.item, thing=thing, frame=screw.frame)


def _without_screws(cut: Cut) -> Cut:
    """Take what is bought out of the wood that it bites into, and draw it last."""
    bought = [p for p in cut.parts if p.grain is None]
    wood = []
    for part in cut.parts:
        if part.grain is not None:
            area = part.area
            for thing in bought:
                area = area.difference(thing.area)
            wood.append(replace(part, area=area))
    return replace(cut, parts=(*wood, *bought))


def _hosts(stage: Stage, pair: tuple[Placed, Placed]) -> list[tuple[Placed, Placed]]:
    """Return what each of two bought things is fixed to, with it."""
    placed = stage.piece.by_path()
    out = []
    for thing in pair:
        for joint in stage.piece.joints:
            other = joint.b if joint.a == thing.path else joint.a if joint.b == thing.path else ""
            host = placed.get(other)
            if host is not None and not isinstance(host.thing, Hardware):
                out.append((host, thing))
                break
    return out


def _sizes(stage: Stage, cut: Cut, box: Box, a: Placed, b: Placed, i: int) -> Iterator[Link]:
    """Return how far two things reach into each other along a direction, and their own sizes inside the window."""
    areas = {p.placed.path: p for p in cut.parts}
    one, two = areas.get(a.path), areas.get(b.path)
    for part in (one, two):
        if part is not None and part.grain is not None and (span := _inside(part, box, i)) is not None:
            yield _link(stage, part.placed, "size", i, span)
    if one is None or two is None:
        return
    span = _engaged(one, two, i)
    within = box[i] + 0.3 < span[0] and span[1] < box[i + 2] - 0.3
    if within and span[1] - span[0] > ENGAGED and span not in (_span(one, i), _span(two, i)):
        yield _link(stage, b, f"in {a.path}", i, span)


def _engaged(one: CutPart, two: CutPart, i: int) -> tuple[float, float]:
    """Return from where to where along a direction the smaller of two tongues reaches into the other part."""
    tongues = [_solid(p.area.intersection(shapely.box(*q.area.bounds))) for p, q in ((one, two), (two, one))]
    found = [t for t in tongues if not t.is_empty]
    if not found:
        return (0.0, 0.0)
    bounds = min(found, key=lambda t: float(t.area)).bounds
    return (bounds[i], bounds[i + 2])


def _solid(area: BaseGeometry) -> BaseGeometry:
    """Leave out the lines along which areas touch."""
    return shapely.union_all([a for a in shapely.get_parts(area) if a.geom_type == "Polygon"])


def _span(part: CutPart, i: int) -> tuple[float, float]:
    return (part.area.bounds[i], part.area.bounds[i + 2])


def _inside(part: CutPart, box: Box, i: int) -> tuple[float, float] | None:
    low, high = _span(part, i)
    return (low, high) if box[i] + 0.3 < low and high < box[i + 2] - 0.3 else None


def _link(stage: Stage, placed: Placed, what: str, i: int, span: tuple[float, float]) -> Link:
    text = stage.words(placed.path).shallow(span[1] - span[0], Role.FREE)
    return Link(span[0], span[1], f"{placed.path} {what} {'across' if i == 0 else 'up'}", text)
