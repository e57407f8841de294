"""Part drawings: everything that the bench needs to make one mark, on one picture.

1. The largest scale of the list that fits is tried first; at each, the plan (views, call-outs, running sizes)
   is made anew.
2. Views are folded out from the main one in third or first angle, each with its rows of sizes.
3. Letters at holes, names of faces, the grain and call-outs find their places (`placing`).
4. The result is examined (`overlaps`). Where something found no place the views move apart, and then the scale gets
   smaller.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

import shapely

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.parts import Part
from casewright.packet.drawing.callouts import CallOut, Place
from casewright.packet.drawing.conventions import Convention, Ratio
from casewright.packet.drawing.datums import datum_marks
from casewright.packet.drawing.edge_section import edge_section
from casewright.packet.drawing.heading import heading
from casewright.packet.drawing.lettering import box_of, filled, width_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.part_arranging import EDGE, arranged
from casewright.packet.drawing.part_plan import SLENDER, Plan, place_on, plan_of, strain
from casewright.packet.drawing.placing import Label, NoRoom, Note, place_label, place_notes
from casewright.packet.drawing.primitives import XY, Leader, Picture, Primitive, Shown, Text
from casewright.packet.drawing.raster import Raster, runs_of, shifted
from casewright.packet.drawing.rows import ARROW, Side
from casewright.packet.drawing.section_outline import Section, outline_items
from casewright.packet.drawing.shortening import WHOLE, Shortening
from casewright.packet.drawing.sized_part_view import DrawnView, Rows, drawn_view, stretch_left_out
from casewright.packet.drawing.subject import Subject, face_name, shows
from casewright.packet.standing import bench_part

SMALLER = 3  # scales that are tried
GROWTH = (0.0, 8.0, 18.0, 32.0)  # mm that views move further apart, step by step
WORTH = 18.0  # mm that they move apart to clear a leader
SIDES = 10.0  # mm: the least that rows and borders take beside a view
BELOW, FAR_BELOW = 60.0, 160.0  # mm of paper that notes may take under the views, and if need be; the rest is cut off
NAME, HEAD = 30.0, 14.0  # mm that the name of a view may stand past its sides, and above or below it
STRAINED = 2.0  # places said in words that a larger scale would give sizes
BAR = 9.0  # mm of paper: a part with something made on it that is narrower is shortened and drawn larger
LONG = 0.25  # of the length: a part that is no wider may be shortened
MOST_WIDTH = 30.0  # mm of paper that a shortened part may be wide
LINE, SHORT_LINE = 40, 26  # letters of a call-out on a line, and where it stands badly so
FOREIGN = 4.0  # mm on paper that a leader ends away from the middle of another feature, where it can
Box = tuple[float, float, float, float]
RIM = 0.8  # mm on paper: leaders end on the rim of larger holes, on the middle of smaller ones


def part_drawings(
    subject: Subject, convention: Convention, cache: Cache, fit: XY, scale: Ratio | None = None
) -> tuple[Picture, ...]:
    """Return the drawing of a mark within `fit` (mm): at a scale, or at the largest of the list that fits.

    Two faces of a large panel that do not fit on one picture are two pictures. Raises NoRoom where not even the
    smallest scale leaves room for every text.
    """
    ratio = scale or _first_scale(subject.part, convention, fit)
    if scale is None and is_slender(subject, convention, ratio):
        for larger in _larger(bench_part(subject.part), convention, ratio):
            if (shortened := _shortened(subject, convention, cache, fit, larger)) is not None:
                return (shortened,)
    for _ in range(SMALLER):
        for lettered in (False, True):
            plan = plan_of(subject, ratio[0] / ratio[1], all_lettered=lettered)
            for plans in _divided(plan):
                named = [replace(subject, picture=(i, len(plans))) for i in range(1, len(plans) + 1)]
                pages = [_on_one(s, p, convention, cache, fit, ratio) for s, p in zip(named, plans, strict=True)]
                if all(pages):
                    return tuple(p for p in pages if p is not None)
        if (shortened := _shortened(subject, convention, cache, fit, ratio)) is not None:
            return (shortened,)
        following = convention.smaller(ratio)
        if scale is not None or following is None:
            break
        ratio = following
    raise NoRoom(f"{subject.mark} does not fit on {fit[0]:.0f} × {fit[1]:.0f} mm at {ratio[0]}:{ratio[1]}")


def _larger(part: Part, convention: Convention, ratio: Ratio) -> list[Ratio]:
    """Return the scales at which a slender part may be drawn: the smallest first at which it is more than a bar."""
    larger = convention.scales[: convention.scales.index(ratio)]
    wide = [r for r in larger if part.blank.width * r[0] / r[1] >= BAR]
    return [*reversed(wide), *(r for r in larger if r not in wide)]


def is_slender(subject: Subject, convention: Convention, ratio: Ratio) -> bool:
    """True for a part that at a scale is no more than a bar, or too narrow for sizes across it that it needs."""
    part, k = bench_part(subject.part), ratio[0] / ratio[1]
    wide = part.blank.width * k
    if not part.features or part.blank.section is not None or wide >= SLENDER:
        return False
    larger = convention.scales[max(0, convention.scales.index(ratio) - 1)]
    return wide < BAR or strain(subject, k) - strain(subject, larger[0] / larger[1]) >= STRAINED


def _shortened(subject: Subject, convention: Convention, cache: Cache, fit: XY, ratio: Ratio) -> Picture | None:
    """Return a long part at a scale, shortened; None where it is not long or does not fit even so."""
    part, k = bench_part(subject.part), ratio[0] / ratio[1]
    long = part.blank.width < LONG * part.blank.length and part.blank.section is None
    if not long or k > 1.0 or part.blank.width * k > MOST_WIDTH:
        return None
    for lettered in (False, True):
        plan = plan_of(subject, k, all_lettered=lettered)
        short = stretch_left_out(plan, cache, k)
        if short.cuts and short.at(part.blank.length) * k + SIDES <= fit[0]:
            found = _on_one(subject, plan, convention, cache, fit, ratio, short)
            if found is not None:
                return found
    return None


def _divided(plan: Plan) -> Iterator[tuple[Plan, ...]]:
    """Give the plan as one picture; with the far face on a second; with the ends on a third; with the seats apart."""
    yield (plan,)
    faces = [v.view.face for v in plan.views]
    far = [f for f in faces if place_on(plan.main.view, f) == "far"]
    ends = [f for f in faces if f.axis == 0]
    near = [f for f in faces if f not in far]
    if far:
        yield (_only(plan, near), _only(plan, far))
    if ends:
        yield tuple(_only(plan, own) for own in ([f for f in near if f not in ends], ends, far) if own)
    if plan.seats:
        yield seats_apart(plan)


def seats_apart(plan: Plan) -> tuple[Plan, ...]:
    """Return the plan with what is made and with the seats of other parts on pictures of their own, face by face."""
    made, seats = (_of(plan, [c for c in plan.callouts if c.is_seat is is_seat]) for is_seat in (False, True))
    faces = [v.view.face for v in plan.views]
    broad = [f for f in faces if f.axis == 2]
    first = [f for f in faces if f not in broad[1:]]
    out = [_only(replace(made, seats=()), own) for own in (first, broad[1:]) if own]
    return (*out, *(_only(seats, [f]) for f in faces if any(shown is f for shown, _ in plan.seats)))


def _of(plan: Plan, callouts: list[CallOut]) -> Plan:
    """Return a plan with some of its call-outs, and the running sizes that these need."""
    kept = [place for c in callouts for place in c.places]
    views = tuple(
        replace(
            v,
            across={mm: own for mm, places in v.across.items() if (own := [p for p in places if p in kept])},
            up={mm: own for mm, places in v.up.items() if (own := [p for p in places if p in kept])},
        )
        for v in plan.views
    )
    return replace(plan, views=views, callouts=tuple(callouts))


def _only(plan: Plan, faces: list[Face]) -> Plan:
    views = tuple(v for v in plan.views if v.view.face in faces)
    return replace(plan, views=views, callouts=tuple(c for c in plan.callouts if c.places[0].face in faces))


def _first_scale(part: Part, convention: Convention, fit: XY) -> Ratio:
    length, width, _ = part.blank.size
    most = min((fit[0] - SIDES) / length, fit[1] * 0.6 / width)
    # Small parts are drawn at full size: larger than life misleads the hand.
    return convention.scale_for(min(most, 1.0))


def _on_one(
    subject: Subject, plan: Plan, convention: Convention, cache: Cache, fit: XY, ratio: Ratio, short: Shortening = WHOLE
) -> Picture | None:
    for rows in Rows:
        shown: list[Shown] = []
        k = ratio[0] / ratio[1]
        views = [drawn_view(subject, plan, v, convention, cache, k, shown, rows, short) for v in plan.views]
        if plan.part.blank.section is not None:
            section: Section | None = outline_items(plan.part, convention, subject, shown)
        else:
            section = edge_section(subject, convention, shown)
        sheet = _Sheet(subject, plan, convention, ratio, fit, views, section, tuple(shown))
        drawing = _laid_out(sheet)
        # Without sizes on the less usual sides a second try would be the same again.
        if drawing is not None or not any(v.planned.across or v.planned.up for v in views):
            return drawing
    return None


@dataclass(slots=True)
class _Sheet:
    """What goes onto one picture."""

    subject: Subject
    plan: Plan
    convention: Convention
    ratio: Ratio
    fit: XY
    views: list[DrawnView]
    section: Section | None
    shown: tuple[Shown, ...]

    @property
    def k(self) -> float:
        """Mm of paper for a mm of the part."""
        return self.ratio[0] / self.ratio[1]


def _laid_out(sheet: _Sheet) -> Picture | None:
    """Return the drawing with its views as near as they may be; further apart where a leader ran through a view."""
    best: Picture | None = None
    for growth in GROWTH:
        for beside in (True, False) if any(v.where in ("left", "right") for v in sheet.views) else (True,):
            try:
                drawing, clear = _composed(sheet, growth, beside)
            except NoRoom:
                continue
            if not overlaps(drawing):
                if clear:
                    return drawing
                best = best or drawing
        if best is not None and growth >= WORTH:
            break
    return best


def _composed(sheet: _Sheet, growth: float, beside: bool) -> tuple[Picture, bool]:
    """Return the drawing, and whether no leader runs through a view that it does not speak of."""
    subject, plan, convention, fit, k = sheet.subject, sheet.plan, sheet.convention, sheet.fit, sheet.k
    _, height = arranged(sheet.views, sheet.section, convention, growth, fit, beside)
    head = heading(subject, convention, sheet.ratio, fit[0], shortened=any(v.short.cuts for v in sheet.views))
    if height + head.height > fit[1]:
        raise NoRoom("the views are higher than the paper")
    below = BELOW if growth < GROWTH[-1] else FAR_BELOW
    total = height + head.height + below
    raster = Raster(fit[0], total)
    items: list[Primitive] = []
    for v in (*sheet.views, *((sheet.section,) if sheet.section is not None else ())):
        v.at = (v.at[0], v.at[1] + below)
        items += [shifted(i, *v.at) for i in v.items]
        _cost(raster, v)
    items += [shifted(i, 0.0, total - head.height) for i in head.items]
    raster.ink(items)
    _reserve(raster, fit[0], total, head.height)
    letters, led = _letters(raster, plan, sheet.views, convention, k)
    items += letters
    items += _names(raster, subject, plan, sheet.views, convention, strict=growth < GROWTH[-1])
    marks, datums = datum_marks(raster, sheet.views[0], convention.em) if _is_broad(sheet.views[0]) else ([], [])
    items += marks
    for far in (
        v for v in sheet.views if v.where == "far" and _is_broad(v)
    ):  # turned over: where the datum is has to be said anew
        items += datum_marks(raster, far, convention.em)[0]
        with suppress(NoRoom):
            items += _ways(raster, subject, far, convention)
    worked = {place.face for c in plan.callouts for place in c.places}
    for edge in (v for v in sheet.views if v.planned.view.face.axis == 1 and v.planned.view.face in worked):
        items += datum_marks(raster, edge, convention.em, (Face.END0, Face.FACE0), named=(Face.FACE0,))[0]
    apart = not beside or not _is_broad(sheet.views[0])  # no edge of an end lies on a line with the main view's
    for end in (v for v in sheet.views if v.planned.view.face.axis == 0):
        if apart:
            items += datum_marks(raster, end, convention.em, (Face.EDGE0, Face.FACE0))[0]
        if end is not sheet.views[0]:
            items += _way_front(raster, subject, end, convention)
    section = (_box_of(sheet.section),) if sheet.section is not None else ()
    notes = place_notes(raster, [*led, *(_note(c, sheet.views, plan, convention, k, section) for c in plan.callouts)])
    items += notes
    clear = not any(_runs_through(i, [*map(_box_of, sheet.views), *section]) for i in notes if isinstance(i, Leader))
    bottom = _lowest(items) - EDGE
    if total - bottom > fit[1]:
        raise NoRoom("the notes reach below the paper")
    moved = tuple(shifted(i, 0.0, -bottom) for i in items)
    alt = f"part drawing of {subject.mark}, {subject.name}, scale {sheet.ratio[0]}:{sheet.ratio[1]}"
    said = tuple(s for c in plan.callouts for s in c.sizes)
    picture = Picture(fit[0], total - bottom, moved, alt, k, convention.thick, (*sheet.shown, *said, *datums))
    return picture, clear


def _runs_through(leader: Leader, boxes: list[Box]) -> bool:
    """True where a leader runs through a box in which it neither starts nor ends."""
    line = shapely.LineString(leader.points)
    ends = (shapely.Point(leader.points[0]), shapely.Point(leader.points[-1]))
    found = [shapely.box(*b) for b in boxes]
    return any(line.crosses(b) and not any(b.covers(end) for end in ends) for b in found)


def _cost(raster: Raster, v: DrawnView | Section) -> None:
    x, y = v.at
    raster.fill(raster.costly, ((x, y), (x + v.width, y), (x + v.width, y + v.height), (x, y + v.height)))


def _reserve(raster: Raster, width: float, total: float, head: float) -> None:
    """Keep the heading and the borders of the paper clear."""
    raster.fill(raster.texts, ((0.0, total - head), (width, total - head), (width, total), (0.0, total)))
    border = ((0.6, 0.6), (width - 0.6, 0.6), (width - 0.6, total - 0.6), (0.6, total - 0.6), (0.6, 0.6))
    raster.run(raster.texts, (border,))


def _spot(views: list[DrawnView], plan: Plan, place: Place, index: int, k: float) -> XY:
    v = next(v for v in views if v.planned.view.face is place.face)
    x0, y0, _, _ = v.planned.view.box(plan.part.blank.size)
    x, y = v.paper(v.planned.view.flat(place.points[index]), k, (x0, y0))
    return (v.at[0] + x, v.at[1] + y)


def _letters(
    raster: Raster, plan: Plan, views: list[DrawnView], convention: Convention, k: float
) -> tuple[list[Primitive], list[Note]]:
    """Return the letters at features, and those with no place nearby as notes, which have leaders.

    The letter of a seat has a leader into it: beside a line that two seats share it would be read as the other's.
    """
    placed: list[Primitive] = []
    led: list[Note] = []
    for c in plan.callouts:
        for place in c.places if c.letter else ():
            at = _spot(views, plan, place, 0, k)
            if c.is_seat:
                ends = tuple(_spot(views, plan, place, i, k) for i in range(len(place.points)))
                led.append(Note((c.letter,), ends, convention.em))
                continue
            try:
                placed.append(place_label(raster, Label(c.letter, at, convention.em, 9.0)))
            except NoRoom:
                led.append(Note((c.letter,), (at,), convention.em))
    return placed, led


def _names(
    raster: Raster, subject: Subject, plan: Plan, views: list[DrawnView], convention: Convention, strict: bool
) -> list[Primitive]:
    out: list[Primitive] = []
    for v in views:
        face = v.planned.view.face
        name = _face_words(subject, face)
        if plan.bored is not None and plan.bored.axis == face.axis and plan.bored is not face:
            name += f"; holes without a call-out come from {face_name(plan.bored)}"
        out.append(_name(raster, v, views, name, convention, strict))
    main = views[0]
    out += _ways(raster, subject, main, convention)
    if subject.part.grain and _is_broad(main):
        near = (main.at[0] + main.width * 0.3, main.at[1] + main.height / 2)
        out.append(place_label(raster, Label("↔ grain", near, convention.em, 80.0)))
    return out


def _is_broad(v: DrawnView) -> bool:
    return v.planned.view.face.axis == 2


def _own_column(v: DrawnView, views: list[DrawnView], low: float, high: float) -> tuple[float, float]:
    """Return what of a span across the paper is not over a view that stands beside a view."""
    (x, y), top = v.at, v.at[1] + v.height
    for other in views:
        ox, oy = other.at
        if other is not v and oy < top and y < oy + other.height:
            low, high = (low, min(high, ox)) if ox > x else (max(low, ox + other.width), high)
    return low, high


def _name(
    raster: Raster, v: DrawnView, views: list[DrawnView], name: str, convention: Convention, strict: bool
) -> Text:
    """Put the name of a view above it, or below the lowest: a name between two views is that of the lower one.

    Where views stand as far apart as they may and it still has no place (not `strict`), it stands as near as it can.
    """
    (x, y), em = v.at, convention.em
    top = y + v.height + v.depth[Side.ABOVE]
    above = (x - NAME, y + v.height, max(x + v.width, x + width_of(name, em)) + NAME, top + HEAD)
    # Over another view that stands beside it, it would be that one's name.
    own = _own_column(v, views, above[0], above[2])
    lower = y - v.depth[Side.BELOW] - HEAD
    for near, low, high in (((x + 14.0, y + v.height + 3.5), above[1], above[3]), ((x + 14.0, y - 3.5), lower, y)):
        if own != (above[0], above[2]) or low == above[1]:
            with suppress(NoRoom):
                return place_label(raster, Label(name, near, em, 60.0, (own[0], low, own[1], high)))
    if strict and own != (above[0], above[2]):
        raise NoRoom(name)
    with suppress(NoRoom):
        return place_label(raster, Label(name, (x + 14.0, y + v.height + 3.5), em, 60.0, above))
    beside = ("left", "right")
    if strict and v.where not in beside and any(o.at[1] < y and o.where not in beside for o in views):
        raise NoRoom(name)
    below = (above[0], y - v.depth[Side.BELOW] - HEAD, above[2], y)
    with suppress(NoRoom):
        return place_label(raster, Label(name, (x + 14.0, y - 3.5), em, 60.0, below))
    if strict:
        raise NoRoom(name)
    return place_label(raster, Label(name, (x + 14.0, y + v.height + 3.5), em, 60.0))


def _ways(raster: Raster, subject: Subject, v: DrawnView, convention: Convention) -> list[Primitive]:
    """Say on a view of a broad face where the top and the front of the piece are."""
    out: list[Primitive] = []
    (x, y), w, h = v.at, v.width, v.height
    for face, word in (subject.towards or {}).items():
        side = place_on(v.planned.view, face)
        if side in ("left", "right", "above", "below") and word in ("top", "front"):
            near = {"left": (x + 9, y + h / 2), "right": (x + w - 9, y + h / 2), "above": (x + w / 2, y + h - 3.5),
                    "below": (x + w / 2, y + 3.5)}[side]  # fmt: skip
            text = {"left": f"← {word}", "right": f"{word} →", "above": f"↑ {word}", "below": f"↓ {word}"}[side]
            out.append(place_label(raster, Label(text, near, convention.em, 60.0)))
    return out


def _way_front(raster: Raster, subject: Subject, v: DrawnView, convention: Convention) -> list[Primitive]:
    """Say beside a view of an end which of its sides is the front, or else the top, where there is room for it."""
    (x, y), w, h = v.at, v.width, v.height
    sides = {word: place_on(v.planned.view, face) for face, word in (subject.towards or {}).items()}
    for word in ("front", "top"):
        if (side := sides.get(word, "far")) in ("left", "right", "above", "below"):
            near = {"left": (x - 8, y + h / 2), "right": (x + w + 8, y + h / 2), "above": (x + w / 2, y + h + 3.5),
                    "below": (x + w / 2, y - 3.5)}[side]  # fmt: skip
            text = {"left": f"← {word}", "right": f"{word} →", "above": f"↑ {word}", "below": f"↓ {word}"}[side]
            box = (x - NAME, y - HEAD, x + w + NAME, y + h + HEAD)
            with suppress(NoRoom):
                return [place_label(raster, Label(text, near, convention.em, 24.0, box))]
    return []


def _face_words(subject: Subject, face: Face) -> str:
    words = [face_name(face)]
    words += ["show face"] if shows(subject.part, face) else []
    facing = (subject.towards or {}).get(face, "")
    words += [f"towards the {facing}"] if facing else []
    return ", ".join(words)


def _box_of(v: DrawnView | Section) -> Box:
    return (*v.at, v.at[0] + v.width, v.at[1] + v.height)


def _note(
    c: CallOut, views: list[DrawnView], plan: Plan, convention: Convention, k: float, section: tuple[Box, ...]
) -> Note:
    """Return a call-out with where its leader may end; it keeps out of the views of other faces and of the section."""
    targets: list[XY] = []
    round_mouth = False
    for place in c.places[:6]:
        for i in range(min(len(place.points), 1 + 12 // len(c.places))):
            at = _spot(views, plan, place, i, k)
            r = place.radius * k
            if r > RIM:
                round_mouth = True
                targets += [
                    (at[0] + r * dx, at[1] + r * dy)
                    for dx, dy in ((0.7, 0.71), (-0.7, 0.71), (0.7, -0.71), (-0.7, -0.71))
                ]
            else:
                targets.append(at)
    # A leader that ends on another feature is read as that one's.
    others_at = [_spot(views, plan, p, 0, k) for other in plan.callouts if other is not c for p in other.places]
    targets = [t for t in targets if all(math.dist(t, at) > FOREIGN for at in others_at)] or targets
    arrow = ARROW if round_mouth or c.hole else 0.0
    own = {place.face for place in c.places}
    others = [v for v in views if v.planned.view.face not in own]
    foreign = (*(_box_of(v) for v in others), *section)
    return Note(
        wrapped(c.text, LINE), tuple(targets), convention.em, arrow, keyed=bool(c.letter), foreign=foreign,
        narrower=wrapped(c.text, SHORT_LINE) if len(c.text) > SHORT_LINE else (),
    )  # fmt: skip


def wrapped(text: str, most: int) -> tuple[str, ...]:
    """Return a text in as few lines of at most `most` letters as words allow, of about equal length."""
    lines = filled(text, most, len)
    for narrower in range(most - 1, 8, -1):
        tried = filled(text, narrower, len)
        if len(tried) > len(lines) or max(map(len, tried)) > narrower:
            break
        lines = tried
    return tuple(lines)


def _lowest(items: list[Primitive]) -> float:
    low = 1e9
    for item in items:
        if isinstance(item, Text):
            low = min(low, box_of(item)[1])
        else:
            points = [p for run in runs_of(item) for p in run] or list(getattr(item, "points", ()))
            low = min([low, *(p[1] for p in points)])
    return low
