"""One view of a part on paper with its rows of sizes, before it has its place among the others."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import Enum

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.frames import Vec, add, scale
from casewright.design.parts import Part
from casewright.packet.drawing.callouts import Place
from casewright.packet.drawing.conventions import Convention
from casewright.packet.drawing.part_plan import Plan, PlannedView, place_on
from casewright.packet.drawing.part_views import lines_of, on_paper
from casewright.packet.drawing.primitives import XY, Arc, Circle, LineRole, Primitive, Segments, Shown
from casewright.packet.drawing.rows import Row, Side, Span, Stop, chain_row, running_row
from casewright.packet.drawing.shortening import WHOLE, Shortening, shortening_of
from casewright.packet.drawing.subject import Subject

FURTHER = 25.0  # mm on paper that a line must save to start on the less usual side
TICK = 6.0  # mm on paper: lines at an edge on which another part will stand
SMALL = 2.5  # mm: radius of circles that are drawn thin


class Rows(Enum):
    """Where the running sizes of a view stand."""

    BOTH_SIDES = "on both sides, each where it saves a long line"
    ONE_SIDE = "on the usual side, the whole size across from them"
    WITH_WHOLE = "on the usual side, the whole width at the end of their row: it takes least room"


@dataclass(slots=True)
class DrawnView:
    """A view on paper before it has its place: lower left of its blank at (0, 0)."""

    planned: PlannedView
    where: str
    width: float
    height: float
    items: list[Primitive] = field(default_factory=list)
    depth: dict[Side, float] = field(default_factory=lambda: dict.fromkeys(Side, 0.0))
    at: XY = (0.0, 0.0)
    short: Shortening = WHOLE

    def paper(self, flat: XY, k: float, low: XY) -> XY:
        """Map a place of the view (mm) onto paper; `low` is the lower left corner of the blank in the view."""
        x, y = flat
        return ((self.short.at(x) - low[0]) * k, (y - low[1]) * k)


def along(plan: Plan, planned: PlannedView, short: Shortening) -> Shortening:
    """Return what a view leaves out: views of the ends show no length."""
    return short if planned.view.axis(planned.view.right)[0] == 0 else WHOLE


def stretch_left_out(plan: Plan, cache: Cache, k: float) -> Shortening:
    """Return what the views of a plan can leave out of the length."""
    main = plan.main.view
    lines: list[Primitive] = []
    for planned in plan.views:
        if planned.view.axis(planned.view.right)[0] == 0:
            hidden = _dashed(plan.part, planned.view.face) if planned.view is main else None
            lines += lines_of(plan.part, planned.view, cache, hidden)
            lines += _seats(plan, planned, k)
    places = [
        p[0] + r for c in plan.callouts if c.hole for place in c.places for p in place.points
        for r in (-place.radius, place.radius)
    ]  # fmt: skip
    return shortening_of(lines, [*places, *(x for v in plan.views for x in v.across)], plan.part.blank.length, k)


def drawn_view(
    subject: Subject,
    plan: Plan,
    planned: PlannedView,
    convention: Convention,
    cache: Cache,
    k: float,
    shown: list[Shown],
    rows: Rows,
    short: Shortening = WHOLE,
) -> DrawnView:
    """Return a view with its lines, centre marks and rows of sizes; the sizes that it gives are added to `shown`."""
    view = planned.view
    x0, y0, x1, y1 = view.box(plan.part.blank.size)
    short = along(plan, planned, short)
    size = ((short.at(x1) - x0) * k, (y1 - y0) * k)
    out = DrawnView(planned, place_on(plan.main.view, view.face), *size, short=short)
    hidden = _dashed(plan.part, view.face) if out.where == "main" and view.face.axis == 2 else None
    lines = (*lines_of(plan.part, view, cache, hidden), *_seats(plan, planned, k))
    lines = short.items(lines) if short.cuts else lines
    out.items += [_fine(i) for i in on_paper(lines, k, -x0 * k, -y0 * k)]
    out.items += _centre_marks(plan, out, k, (x0, y0))
    out.items += short.breaks(k, out.height)
    _running(subject, planned, out, convention, k, (x0, y0), shown, rows)
    broad = view.face.axis == 2  # a picture of the ends alone shows no length
    if out.where == "main" and broad:
        _overall(subject, plan, out, convention, shown, rows)
    elif _wants_thickness(plan, out, shown):
        shown.append(Shown("thickness", plan.part.blank.thickness, subject.size[2]))
        side, edge = (Side.LEFT, 0.0) if out.depth[Side.RIGHT] else (Side.RIGHT, out.width)
        _add(out, chain_row(side, edge, [Span(0.0, out.height, subject.size[2])], convention, 4.0))
    return out


def _seats(plan: Plan, planned: PlannedView, k: float) -> list[Primitive]:
    """Return the outlines of what will stand on a view's face, in mm of the view.

    What will stand on an edge has short lines from that edge inwards.
    """
    ends = []
    for shown, met in plan.seats:
        if shown is planned.view.face:
            for a, b in met.lines(plan.part):
                (x0, y0), (x1, y1) = (planned.view.flat(p) for p in (a, b))
                if shown.axis != met.face.axis:
                    x1, y1 = planned.view.flat(_inwards(plan.part, met.face, a, TICK / k))
                ends.append((x0, y0, x1, y1))
    return [Segments(tuple(ends), LineRole.SEAT)] if ends else []


def _inwards(part: Part, face: Face, at: Vec, by: float) -> Vec:
    """Return a point `by` mm into the wood from a face, or half through it."""
    return add(at, scale(part.blank.inward(face), min(by, part.blank.size[face.axis] / 2)))


def _wants_thickness(plan: Plan, out: DrawnView, shown: list[Shown]) -> bool:
    edge = out.where in ("above", "below") and plan.part.blank.section is None
    return edge and all(s.what != "thickness" for s in shown)


def _fine(item: Primitive) -> Primitive:
    """Draw small circles with thin lines, or their inside would be black."""
    small = isinstance(item, (Circle, Arc)) and item.radius < SMALL and item.role is LineRole.OUTLINE
    return replace(item, role=LineRole.BEYOND) if small and isinstance(item, (Circle, Arc)) else item


def _dashed(part: Part, face: Face) -> Part | None:
    """Return the part with what is made from its edges and ends alone: their depth shows from the face."""
    sideways = tuple(f for f in part.features if f.face.axis != face.axis)
    return replace(part, features=sideways) if sideways else None


def _add(drawn: DrawnView, row: Row) -> None:
    drawn.items += row.items
    drawn.depth[row.side] = max(drawn.depth[row.side], row.depth)


def _running(
    subject: Subject,
    planned: PlannedView,
    out: DrawnView,
    convention: Convention,
    k: float,
    low: XY,
    shown: list[Shown],
    rows: Rows,
) -> None:
    """Put the running sizes on the sides: each on the usual one, unless the other is much nearer to what it locates."""
    for running, direction, sides, extent, i in (
        (planned.across, planned.view.right, (Side.BELOW, Side.ABOVE), out.height, 0),
        (planned.up, planned.view.up, (Side.LEFT, Side.RIGHT), out.width, 1),
    ):
        axis, way = planned.view.axis(direction)
        stops: dict[Side, list[Stop]] = {}
        for mm, places in sorted(running.items()):
            far = [out.paper(planned.view.flat(p.points[0]), k, low)[1 - i] for p in places]
            near = (_reach(places, far), _reach(places, [extent - f for f in far]))
            other = rows is Rows.BOTH_SIDES and near[1] + FURTHER < near[0]
            at = ((mm if i else out.short.at(mm)) * way - low[i]) * k
            text = _text(places, axis, mm, subject)
            stops.setdefault(sides[other], []).append(Stop(at, text, -max(0.0, near[other] - 1.6)))
            shown.append(Shown(f"{planned.view.face.value} {'up' if i else 'across'}", mm, text))
        main = out.where == "main" and planned.view.face.axis == 2 and (i == 0 or subject.part.blank.section is None)
        within = rows is Rows.WITH_WHOLE and i == 1 and bool(stops)
        if main and (len(stops) == 2 or within):  # no side is left for the overall size: it ends a row of running sizes
            stops[sides[0]].append(Stop((out.width, out.height)[i] if way > 0 else 0.0, subject.size[i]))
            shown.append(Shown(("length", "width")[i], subject.part.blank.size[i], subject.size[i]))
        for side, own in stops.items():
            edge = extent if side in (Side.ABOVE, Side.RIGHT) else 0.0
            _add(out, running_row(side, edge, [Stop(-low[i] * k, "0"), *own], convention))


def _reach(places: list[Place], off: list[float]) -> float:
    """Return how far the line of a size goes in: to the nearest hole and to the nearest edge, where it serves both."""
    nearest: dict[bool, float] = {}
    for place, o in zip(places, off, strict=True):
        nearest[place.radius > 0] = min(o, nearest.get(place.radius > 0, o))
    return max(nearest.values())


def _text(places: list[Place], axis: int, mm: float, subject: Subject) -> str:
    """Return a running size as it is printed: as the words of what it ends print it, where it is their size too."""
    as_size = [p for p in places if p.roles]
    return (as_size or places)[0].text(axis, mm, subject.words)


def _overall(
    subject: Subject, plan: Plan, out: DrawnView, convention: Convention, shown: list[Shown], rows: Rows
) -> None:
    """Put length and width on the sides that running sizes leave free."""
    size = plan.part.blank.size
    sides = ((Side.ABOVE, Side.BELOW, out.width), (Side.RIGHT, Side.LEFT, out.height))
    for i, (usual, other, extent) in enumerate(sides):
        free = [s for s in (usual, other) if not out.depth[s]]
        given = i == 1 and rows is Rows.WITH_WHOLE and bool(out.planned.up)
        if not free or given or (i == 1 and plan.part.blank.section is not None):
            continue
        side = free[0]
        edge = {Side.ABOVE: out.height, Side.RIGHT: out.width}.get(side, 0.0)
        _add(out, chain_row(side, edge, [Span(0.0, extent, subject.size[i])], convention, 4.0))
        shown.append(Shown(("length", "width")[i], size[i], subject.size[i]))


def _centre_marks(plan: Plan, view: DrawnView, k: float, low: XY) -> list[Primitive]:
    ends = []
    for c in plan.callouts:
        for place in c.places:
            if place.face is view.planned.view.face and place.radius:
                x, y = view.paper(view.planned.view.flat(place.points[0]), k, low)
                r = place.radius * k + 0.7
                ends += [(x - r, y, x + r, y), (x, y - r, x, y + r)]
    return [Segments(tuple(ends), LineRole.EXTENSION)] if ends else []
