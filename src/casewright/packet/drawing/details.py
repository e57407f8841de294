"""Details at larger scale: stacks of mouldings at full size, joints, hardware and what surrounds it, let-in devices.

A detail is a window of a section. Its sizes are the links of chains that end inside it, the width and height of
every moulding, and how far the parts of a joint reach into each other. None is lost: each goes to the largest scale
that fits, and where a sheet has no room for all of its sizes and marks it is drawn twice with a share each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from casewright.design.features.openings import Recess
from casewright.design.parts import Hardware, Placed
from casewright.packet.drawing.chains_located import Link, LocatedChain, located_chains
from casewright.packet.drawing.cutting import Cut, CutPart, Plane, cut_piece
from casewright.packet.drawing.joint_details import joint_details
from casewright.packet.drawing.measured_view import SizedView, surely_drawn
from casewright.packet.drawing.primitives import Picture
from casewright.packet.drawing.rows import Side
from casewright.packet.drawing.sections import section_view, sections_of
from casewright.packet.drawing.stage import Stage
from casewright.packet.drawing.subject import is_moulding, listed
from casewright.solids.collide import placed_boxes
from casewright.solids.view import LEFT_SIDE, PLAN

AROUND = 12.0  # mm of the piece around what a detail is about
LARGE, TINY = 2.0, 30.0  # times full size that a detail is drawn at whose window is smaller than that, mm
LONGEST = 70.0  # mm of a long thing that its detail shows
ONE_SIZE = 0.4  # mm: sizes that print alike and whose ends are no further apart are given once
NEAR = 30.0  # mm between mouldings of one stack
HAIR = 0.5  # mm²: outlines that differ by less are the same line on paper
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """A window of a section, and what it is about."""

    name: str
    cut: Cut
    box: Box
    across: tuple[Link, ...] = ()  # sizes across and up the paper that only this detail gives
    up: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnDetail:
    """A detail and what it shows: its name and sizes, and what its window holds of each part, from its own corner.

    `marks` are those of the parts, in their order; `pictures` is called for the drawings.
    """

    name: str
    sizes: tuple[str, ...]
    stocks: tuple[str, ...]
    outlines: tuple[BaseGeometry, ...]
    marks: tuple[str, ...]
    pictures: Callable[[], tuple[Picture, ...]]

    def shows_what(self, other: DrawnDetail) -> bool:
        """True where another detail shows the same but for the marks: every part to a hair, every size as printed."""
        if (self.name, self.sizes, self.stocks) != (other.name, other.sizes, other.stocks):
            return False
        pairs = zip(self.outlines, other.outlines, strict=True)
        return all(one.symmetric_difference(two).area < HAIR for one, two in pairs)


def detail_drawings(stage: Stage, fit: tuple[float, float]) -> tuple[Picture, ...]:
    """Return every detail within `fit`, at full size where there is room, else at the largest scale that fits."""
    return tuple(shown for detail in drawn_details(stage, fit) for shown in detail.pictures())


def drawn_details(stage: Stage, fit: tuple[float, float]) -> tuple[DrawnDetail, ...]:
    """Return every detail, to be drawn within `fit`."""
    chains = located_chains(stage.piece, stage.cache, stage.style)
    return tuple(_drawn(stage, detail, chains, fit) for detail in details_of(stage))


def _drawn(stage: Stage, detail: Detail, chains: Sequence[LocatedChain], fit: tuple[float, float]) -> DrawnDetail:
    frame, (x, y) = shapely.box(*detail.box), detail.box[:2]
    inside = [(p.placed, p.area.intersection(frame)) for p in detail.cut.parts if p.area.intersects(frame)]
    seen = [(placed, shapely.transform(area, lambda at: at - (x, y))) for placed, area in inside]
    seen.sort(key=lambda one: (_drawn_as(one[0]), *(round(v) for v in one[1].bounds)))
    return DrawnDetail(
        name=detail.name,
        sizes=tuple(link.text for i in (0, 1) for row in _links(stage, detail, chains, i) for link in row),
        stocks=tuple(_drawn_as(placed) for placed, _ in seen),
        outlines=tuple(area for _, area in seen),
        marks=tuple(stage.marks[placed.path] for placed, _ in seen if placed.path in stage.marks),
        pictures=lambda: surely_drawn(_view(stage, detail, chains), stage.convention, fit, _largest(detail)),
    )


def _drawn_as(placed: Placed) -> str:
    """Return what decides how a part is hatched: bought things are grey, whatever they are."""
    return "" if isinstance(placed.thing, Hardware) else placed.thing.stock


def _stock(placed: Placed) -> str:
    return placed.thing.item if isinstance(placed.thing, Hardware) else placed.thing.stock


def _largest(detail: Detail) -> float:
    """Full size, so that it can be held against the work; what is tiny is drawn larger."""
    x0, y0, x1, y1 = detail.box
    return LARGE if max(x1 - x0, y1 - y0) < TINY else 1.0


def details_of(stage: Stage) -> tuple[Detail, ...]:
    """Return the details of a piece: stacks of mouldings, joints and joined hardware, let-in devices."""
    out: list[Detail] = []
    for section in sections_of(stage.piece, stage.cache):
        if section.plane.view is PLAN:
            continue
        cut = cut_piece(stage.piece, section.plane, stage.cache, without=stage.piece.excluded)
        for parts in _clusters([p for p in cut.parts if _is_moulding(p)]):
            names = dict.fromkeys(p.placed.name.partition(",")[0] for p in parts)
            name = f"{listed(list(names))}, of section {section.name}"
            out.append(Detail(name=name, cut=cut, box=_around(parts)))
    joints = (Detail(name=j.name, cut=j.cut, box=j.box, across=j.across, up=j.up) for j in joint_details(stage))
    return (*_unlike(out), *joints, *_devices(stage))


def _devices(stage: Stage) -> list[Detail]:
    """Return a section through each bought thing that sits in a recess."""
    out = []
    for placed in stage.piece.placed:
        if isinstance(placed.thing, Hardware) and _is_let_in(stage, placed):
            low = placed_boxes((placed,), stage.cache)[0].tolist()
            middle = [(low[i] + low[i + 3]) / 2 for i in range(3)]
            plane = Plane(LEFT_SIDE, -middle[0])
            cut = cut_piece(stage.piece, plane, stage.cache, without=stage.piece.excluded, deep=60.0)
            box = (-low[4] - 2 * AROUND, low[2] - 2 * AROUND, -low[1] + 2 * AROUND, low[5] + 2 * AROUND)
            name = f"{placed.name}, cut through its middle, looking to the right"
            out.append(Detail(name=name, cut=cut, box=box, up=_recess_links(stage, placed)))
    return out


def _recess_links(stage: Stage, placed: Placed) -> tuple[Link, ...]:
    """Return how deep the recess is and how much wood is left behind it, where it is sunk upright."""
    other, recess = next(_recesses(stage, placed))
    blank, words = other.part.blank, stage.words(other.path)
    mouth = other.frame.point(blank.point(recess.face, (0.0, 0.0)))[2]
    floor = other.frame.point(blank.point(recess.face, (0.0, 0.0), recess.depth))[2]
    back = other.frame.point(blank.point(recess.face.opposite, (0.0, 0.0)))[2]
    if abs(mouth - floor) < 1e-6:
        return ()
    deep, left = sorted((mouth, floor)), sorted((floor, back))
    return (
        Link(deep[0], deep[1], f"{other.path} recess", words.text(recess.depth)),
        Link(left[0], left[1], f"{other.path} wood left", words.text(left[1] - left[0])),
    )


def _is_let_in(stage: Stage, placed: Placed) -> bool:
    return next(_recesses(stage, placed), None) is not None


def _recesses(stage: Stage, placed: Placed) -> Iterator[tuple[Placed, Recess]]:
    """Return the parts and recesses that a thing sits in."""
    at = placed.frame.origin
    for other in stage.piece.placed:
        if isinstance(other.thing, Hardware):
            continue
        for feature in other.part.features:
            if type(feature) is Recess:
                x0, y0, x1, y1 = feature.outline.box
                u, v = feature.face.uv_axes
                p = other.frame.local_point(at)
                depth = other.part.blank.size[feature.face.axis]
                if x0 < p[u] < x1 and y0 < p[v] < y1 and -1.0 <= p[feature.face.axis] <= depth + 1.0:
                    yield other, feature


def _is_moulding(part: CutPart) -> bool:
    thing = part.placed.thing
    return not isinstance(thing, Hardware) and is_moulding(thing)


def _clusters(parts: Sequence[CutPart]) -> list[list[CutPart]]:
    """Group cut parts that are close to each other."""
    groups: list[list[CutPart]] = []
    for part in parts:
        near = [g for g in groups if any(part.area.distance(o.area) < NEAR for o in g)]
        groups = [g for g in groups if g not in near] + [[p for g in near for p in g] + [part]]
    return groups


def _around(parts: list[CutPart]) -> Box:
    """Return the window around some cut parts: of long ones the lower left end, where the front is."""
    x0, y0, x1, y1 = shapely.union_all([p.area for p in parts]).bounds
    return (x0 - AROUND, y0 - AROUND, min(x1, x0 + LONGEST) + AROUND, min(y1, y0 + LONGEST) + AROUND)


def _unlike(details: list[Detail]) -> list[Detail]:
    """Leave out details that show the same parts, or their mirror image, again."""
    kept: dict[tuple[str, ...], Detail] = {}
    for d in details:
        frame = shapely.box(*d.box)
        stocks = sorted(_stock(p.placed) for p in d.cut.parts if p.area.intersects(frame))
        kept.setdefault(tuple(stocks), d)
    return list(kept.values())


def _view(stage: Stage, detail: Detail, chains: Sequence[LocatedChain]) -> SizedView:
    rows = {Side.BELOW: _links(stage, detail, chains, 0), Side.LEFT: _links(stage, detail, chains, 1)}
    name = f"Detail: {detail.name}"
    return section_view(stage, detail.cut, detail.box, {s: r for s, r in rows.items() if r}, name, torn=True)


def _links(stage: Stage, detail: Detail, chains: Sequence[LocatedChain], i: int) -> list[list[Link]]:
    """Return rows of the links that end inside the window, and of its mouldings' sizes."""
    view = detail.cut.plane.view
    direction = (view.right, view.up)[i]
    low, high = detail.box[i], detail.box[i + 2]
    found: list[Link] = []
    for chain in chains:
        way = direction[chain.axis]
        if abs(way) > 0.9:
            for link in chain.links:
                a, b = sorted((link.low * way, link.high * way))
                if low + 0.5 < a and b < high - 0.5 and _is_drawn(detail, i, a, b):
                    found.append(Link(a, b, link.name, link.text))
    for part in detail.cut.parts:
        bounds = part.area.bounds
        if _is_moulding(part) and shapely.box(*detail.box).contains(part.area):
            words = stage.words(part.placed.path)
            size = bounds[i + 2] - bounds[i]
            found.append(Link(bounds[i], bounds[i + 2], f"{part.placed.path} {'hw'[1 - i]}", words.text(size)))
    return _packed([*found, *(detail.up if i else detail.across)])


def _is_drawn(detail: Detail, i: int, low: float, high: float) -> bool:
    """True where both ends of a link are edges of something that is cut inside the window."""
    frame = shapely.box(*detail.box)
    inside = [p.area.bounds for p in detail.cut.parts if p.area.intersects(frame)]
    ends = [b[k] for b in inside for k in (i, i + 2)]
    return all(any(abs(e - at) < 0.05 for e in ends) for at in (low, high))


def _prints_alike(a: Link, b: Link) -> bool:
    """True where two sizes are one on paper: a panel 0.05 mm thinner than the frame that it is flush with."""
    near = max(abs(a.low - b.low), abs(a.high - b.high))
    return near < 0.01 or (a.text == b.text and near < ONE_SIZE)


def _packed(links: list[Link]) -> list[list[Link]]:
    rows: list[list[Link]] = []
    unlike: list[Link] = []
    for link in sorted(links, key=lambda k: (k.high - k.low, k.low)):
        if not any(_prints_alike(link, other) for other in unlike):
            unlike.append(link)
    for link in unlike:
        for row in rows:
            if all(link.high <= k.low + 0.01 or link.low >= k.high - 0.01 for k in row):
                row.append(link)
                break
        else:
            rows.append([link])
    return rows
