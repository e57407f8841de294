"""Part drawings: everything that the bench needs to make one mark, on one picture.

1. The largest scale of the list that fits is tried first; at each, the plan (views, call-outs, running sizes) is made anew.
2. Views are folded out from the main one in third or first angle, each with its rows of sizes.
3. Letters at holes, names of faces, the grain and call-outs find their places (`placing`).
4. The result is examined (`overlaps`). Where something found no place the views move apart, and then the scale gets smaller.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from casewright.cache import Cache
from casewright.design.blanks import Face
from casewright.design.parts import Part
from casewright.packet.drawing.callouts import CallOut, Place
from casewright.packet.drawing.conventions import Convention, Ratio
from casewright.packet.drawing.heading import heading
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.part_plan import Plan, PlannedView, place_on, plan_of
from casewright.packet.drawing.part_views import lines_of, on_paper
from casewright.packet.drawing.placing import (
    Label,
    NoRoom,
    Note,
    Raster,
    place_label,
    place_notes,
    shifted,
)  # fmt: skip
from casewright.packet.drawing.primitives import (
    XY,
    Arc,
    Circle,
    LineRole,
    Picture,
    Primitive,
    Segments,
    Shown,
    Text,
)  # fmt: skip
from casewright.packet.drawing.rows import ARROW, Row, Side, Span, Stop, chain_row, running_row
from casewright.packet.drawing.section_outline import Section, outline_items
from casewright.packet.drawing.subject import Subject, face_name, shows

APART = 7.0  # mm between views beyond their rows
FURTHER = 25.0  # mm on paper that a line must save to start on the less usual side
SMALLER = 3  # scales that are tried
GROWTH = (0.0, 8.0, 18.0, 32.0)  # mm that views move further apart, step by step
BELOW = 60.0  # mm of paper that notes may take under the views; what is left over is cut off
EDGE = 2.0  # mm of empty paper at the border
SMALL = 2.5  # mm: radius of circles that are drawn thin
RIM = 0.8  # mm on paper: leaders end on the rim of larger holes, on the middle of smaller ones


@dataclass(slots=True)
class _Drawn:
    """A view on paper before it has its place: lower left of its blank at (0, 0)."""

    planned: PlannedView
    where: str
    width: float
    height: float
    items: list[Primitive] = field(default_factory=list)
    depth: dict[Side, float] = field(default_factory=lambda: dict.fromkeys(Side, 0.0))
    at: XY = (0.0, 0.0)


def part_drawings(
    subject: Subject, convention: Convention, cache: Cache, fit: XY, scale: Ratio | None = None
) -> tuple[Picture, ...]:
    """Return the drawing of a mark within `fit` (width, height in mm): at a scale, or at the largest of the list that fits.

    Two faces of a large panel that do not fit on one picture are two pictures. Raises NoRoom where not even the smallest scale
    leaves room for every text.
    """
    ratio = scale or _first_scale(subject.part, convention, fit)
    for _ in range(SMALLER):
        for lettered in (False, True):
            plan = plan_of(subject, ratio[0] / ratio[1], all_lettered=lettered)
            for plans in (plan,), _split(plan):
                pages = [_on_one(subject, p, convention, cache, fit, ratio) for p in plans]
                if all(pages):
                    return tuple(p for p in pages if p is not None)
        following = convention.smaller(ratio)
        if scale is not None or following is None:
            break
        ratio = following
    raise NoRoom(f"{subject.mark} does not fit on {fit[0]:.0f} × {fit[1]:.0f} mm at {ratio[0]}:{ratio[1]}")


def _split(plan: Plan) -> tuple[Plan, ...]:
    """Return the plan as two: the far face, and all else; as one where there is no far face."""
    far = [v for v in plan.views if place_on(plan.main.view, v.view.face) == "far"]
    if not far:
        return (plan,)
    face = far[0].view.face

    def only(views: tuple[PlannedView, ...], there: bool) -> Plan:
        callouts = tuple(c for c in plan.callouts if (c.places[0].face is face) == there)
        return Plan(plan.part, views, callouts)

    return only(tuple(v for v in plan.views if v is not far[0]), False), only((far[0],), True)


def _first_scale(part: Part, convention: Convention, fit: XY) -> Ratio:
    length, width, _ = part.blank.size
    most = min((fit[0] - 34.0) / length, fit[1] * 0.6 / width)
    # Small parts are drawn at full size: larger than life misleads the hand.
    return convention.scale_for(min(most, 1.0))


def _on_one(
    subject: Subject, plan: Plan, convention: Convention, cache: Cache, fit: XY, ratio: Ratio
) -> Picture | None:
    for both_sides in (True, False):
        shown: list[Shown] = []
        k = ratio[0] / ratio[1]
        views = [_drawn(subject, plan, v, convention, cache, k, shown, both_sides) for v in plan.views]
        section = outline_items(plan.part, convention, subject, shown) if plan.part.blank.section is not None else None
        sheet = _Sheet(subject, plan, convention, ratio, fit, views, section, tuple(shown))
        drawing = _laid_out(sheet)
        if drawing is not None:
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
    views: list[_Drawn]
    section: Section | None
    shown: tuple[Shown, ...]

    @property
    def k(self) -> float:
        """Mm of paper for a mm of the part."""
        return self.ratio[0] / self.ratio[1]


def _laid_out(sheet: _Sheet) -> Picture | None:
    for growth in GROWTH:
        for beside in (True, False):
            try:
                drawing = _composed(sheet, growth, beside)
            except NoRoom:
                continue
            if not overlaps(drawing):
                return drawing
    return None


def _composed(sheet: _Sheet, growth: float, beside: bool) -> Picture:
    subject, plan, convention, fit, k = sheet.subject, sheet.plan, sheet.convention, sheet.fit, sheet.k
    _, height = _arranged(sheet.views, sheet.section, convention, growth, fit, beside)
    head = heading(subject, convention, sheet.ratio, fit[0])
    if height + head.height > fit[1]:
        raise NoRoom("the views are higher than the paper")
    total = height + head.height + BELOW
    raster = Raster(fit[0], total)
    items: list[Primitive] = []
    for v in (*sheet.views, *((sheet.section,) if sheet.section is not None else ())):
        v.at = (v.at[0], v.at[1] + BELOW)
        items += [shifted(i, *v.at) for i in v.items]
        _cost(raster, v)
    items += [shifted(i, 0.0, total - head.height) for i in head.items]
    raster.ink(items)
    _reserve(raster, fit[0], total, head.height)
    letters, led = _letters(raster, plan, sheet.views, convention, k)
    items += letters
    items += _names(raster, subject, plan, sheet.views, convention)
    items += place_notes(raster, [*led, *(_note(c, sheet.views, plan, convention, k) for c in plan.callouts)])
    bottom = _lowest(items) - EDGE
    if total - bottom > fit[1]:
        raise NoRoom("the notes reach below the paper")
    moved = tuple(shifted(i, 0.0, -bottom) for i in items)
    alt = f"part drawing of {subject.mark}, {subject.name}, scale {sheet.ratio[0]}:{sheet.ratio[1]}"
    said = tuple(s for c in plan.callouts for s in c.sizes)
    return Picture(fit[0], total - bottom, moved, alt, k, convention.thick, (*sheet.shown, *said))


def _drawn(
    subject: Subject,
    plan: Plan,
    planned: PlannedView,
    convention: Convention,
    cache: Cache,
    k: float,
    shown: list[Shown],
    both_sides: bool,
) -> _Drawn:
    view = planned.view
    x0, y0, x1, y1 = view.box(plan.part.blank.size)
    out = _Drawn(planned, place_on(plan.main.view, view.face), (x1 - x0) * k, (y1 - y0) * k)
    hidden = _dashed(plan.part, view.face) if out.where == "main" else None
    out.items += [_fine(i) for i in on_paper(lines_of(plan.part, view, cache, hidden), k, -x0 * k, -y0 * k)]
    out.items += _centre_marks(plan, planned, k, (-x0 * k, -y0 * k))
    _running(subject, planned, out, convention, k, (x0, y0), shown, both_sides)
    if out.where == "main":
        _overall(subject, plan, out, convention, shown)
    elif not plan.part.blank.section and out.where in ("above", "below"):
        if not any(s.what == "thickness" for s in shown):
            shown.append(Shown("thickness", plan.part.blank.thickness, subject.size[2]))
            side, edge = (Side.LEFT, 0.0) if out.depth[Side.RIGHT] else (Side.RIGHT, out.width)
            _add(out, chain_row(side, edge, [Span(0.0, out.height, subject.size[2])], convention, 4.0))
    return out


def _fine(item: Primitive) -> Primitive:
    """Draw small circles with thin lines, or their inside would be black."""
    small = isinstance(item, (Circle, Arc)) and item.radius < SMALL and item.role is LineRole.OUTLINE
    return replace(item, role=LineRole.BEYOND) if small and isinstance(item, (Circle, Arc)) else item


def _dashed(part: Part, face: Face) -> Part | None:
    """Return the part with what is made from its edges and ends alone: their depth shows from the face."""
    sideways = tuple(f for f in part.features if f.face.axis != face.axis)
    return replace(part, features=sideways) if sideways else None


def _add(drawn: _Drawn, row: Row) -> None:
    drawn.items += row.items
    drawn.depth[row.side] = max(drawn.depth[row.side], row.depth)


def _running(
    subject: Subject,
    planned: PlannedView,
    out: _Drawn,
    convention: Convention,
    k: float,
    low: XY,
    shown: list[Shown],
    both_sides: bool,
) -> None:
    """Put the running sizes on the sides: each on the usual one, unless the other is much nearer to what it locates."""
    for running, direction, sides, extent, i in (
        (planned.across, planned.view.right, (Side.BELOW, Side.ABOVE), out.height, 0),
        (planned.up, planned.view.up, (Side.LEFT, Side.RIGHT), out.width, 1),
    ):
        _, way = planned.view.axis(direction)
        stops: dict[Side, list[Stop]] = {}
        for mm, places in sorted(running.items()):
            far = [_flat(planned, p, k, low)[1 - i] for p in places]
            near = (min(far), extent - max(far))
            other = both_sides and near[1] + FURTHER < near[0]
            at, text = (mm * way - low[i]) * k, subject.words.place(mm)
            stops.setdefault(sides[other], []).append(Stop(at, text, -max(0.0, near[other] - 1.6)))
            shown.append(Shown(f"{planned.view.face.value} {'up' if i else 'across'}", mm, text))
        main = out.where == "main" and (i == 0 or subject.part.blank.section is None)
        if main and len(stops) == 2:  # no side is left for the overall size: it ends a row of running sizes
            stops[sides[0]].append(Stop((out.width, out.height)[i] if way > 0 else 0.0, subject.size[i]))
            shown.append(Shown(("length", "width")[i], subject.part.blank.size[i], subject.size[i]))
        for side, own in stops.items():
            edge = extent if side in (Side.ABOVE, Side.RIGHT) else 0.0
            _add(out, running_row(side, edge, [Stop(-low[i] * k, "0"), *own], convention))


def _flat(planned: PlannedView, place: Place, k: float, low: XY) -> XY:
    x, y = planned.view.flat(place.points[0])
    return ((x - low[0]) * k, (y - low[1]) * k)


def _overall(subject: Subject, plan: Plan, out: _Drawn, convention: Convention, shown: list[Shown]) -> None:
    """Put length and width on the sides that running sizes leave free."""
    size = plan.part.blank.size
    sides = ((Side.ABOVE, Side.BELOW, out.width), (Side.RIGHT, Side.LEFT, out.height))
    for i, (usual, other, extent) in enumerate(sides):
        free = [s for s in (usual, other) if not out.depth[s]]
        if not free or (i == 1 and plan.part.blank.section is not None):
            continue
        side = free[0]
        edge = {Side.ABOVE: out.height, Side.RIGHT: out.width}.get(side, 0.0)
        _add(out, chain_row(side, edge, [Span(0.0, extent, subject.size[i])], convention, 4.0))
        shown.append(Shown(("length", "width")[i], size[i], subject.size[i]))


def _centre_marks(plan: Plan, planned: PlannedView, k: float, shift: XY) -> list[Primitive]:
    ends = []
    for c in plan.callouts:
        for place in c.places:
            if place.face is planned.view.face and place.radius:
                x, y = planned.view.flat(place.points[0])
                x, y, r = x * k + shift[0], y * k + shift[1], place.radius * k + 0.7
                ends += [(x - r, y, x + r, y), (x, y - r, x, y + r)]
    return [Segments(tuple(ends), LineRole.EXTENSION)] if ends else []


def _arranged(
    views: list[_Drawn], section: Section | None, convention: Convention, growth: float, fit: XY, beside: bool
) -> XY:
    """Give every view its place, the lowest row at y = 0; return the width and height of all. Raises NoRoom.

    Ends stand beside the main view, or in a row of their own below all (`beside` False).
    """
    gap = APART + growth
    by = {v.where: v for v in views}
    order = ["above", "main", "below", "far"] if convention.third_angle else ["below", "main", "above", "far"]
    stack = [by[w] for w in order if w in by]
    sides = ("left", "right") if convention.third_angle else ("right", "left")
    before, after = (by.get(s) if beside else None for s in sides)
    main = views[0]
    left = max(v.depth[Side.LEFT] for v in stack) + EDGE
    if before is not None:
        left = max(
            left, before.depth[Side.LEFT] + before.width + before.depth[Side.RIGHT] + gap + main.depth[Side.LEFT] + EDGE
        )
    loose: list[_Drawn | Section] = [by[s] for s in sides if s in by and not beside]
    loose += [section] if section is not None else []
    right, y = _row_of_loose(loose, gap)
    for v in reversed(stack):
        y += v.depth[Side.BELOW]
        v.at = (left, y)
        y += v.height + v.depth[Side.ABOVE] + gap
    right = max(right, *(left + v.width + v.depth[Side.RIGHT] for v in stack))
    if before is not None:
        before.at = (left - main.depth[Side.LEFT] - gap - before.width - before.depth[Side.RIGHT], main.at[1])
    if after is not None:
        after.at = (left + main.width + main.depth[Side.RIGHT] + gap + after.depth[Side.LEFT], main.at[1])
        right = max(right, after.at[0] + after.width + after.depth[Side.RIGHT])
    if right + EDGE > fit[0]:
        raise NoRoom("the views are wider than the paper")
    return (right + EDGE, y)


def _row_of_loose(loose: list[_Drawn | Section], gap: float) -> XY:
    """Place views that stand in a row of their own; return how far right and up the row reaches."""
    x = EDGE
    base = max((v.depth[Side.BELOW] for v in loose), default=0.0)
    for v in loose:
        v.at = (x + v.depth[Side.LEFT], base)
        x = v.at[0] + v.width + v.depth[Side.RIGHT] + 3 * gap
    top = max((base + v.height + v.depth[Side.ABOVE] + gap for v in loose), default=0.0)
    return (x - 3 * gap if loose else 0.0, top)


def _cost(raster: Raster, v: _Drawn | Section) -> None:
    x, y = v.at
    raster.fill(raster.costly, ((x, y), (x + v.width, y), (x + v.width, y + v.height), (x, y + v.height)))


def _reserve(raster: Raster, width: float, total: float, head: float) -> None:
    """Keep the heading and the borders of the paper clear."""
    raster.fill(raster.texts, ((0.0, total - head), (width, total - head), (width, total), (0.0, total)))
    border = ((0.6, 0.6), (width - 0.6, 0.6), (width - 0.6, total - 0.6), (0.6, total - 0.6), (0.6, 0.6))
    raster.run(raster.texts, (border,))


def _spot(views: list[_Drawn], plan: Plan, place: Place, index: int, k: float) -> XY:
    v = next(v for v in views if v.planned.view.face is place.face)
    x0, y0, _, _ = v.planned.view.box(plan.part.blank.size)
    x, y = v.planned.view.flat(place.points[index])
    return (v.at[0] + (x - x0) * k, v.at[1] + (y - y0) * k)


def _letters(
    raster: Raster, plan: Plan, views: list[_Drawn], convention: Convention, k: float
) -> tuple[list[Primitive], list[Note]]:
    """Return the letters at features, and those with no place nearby as notes, which have leaders."""
    placed: list[Primitive] = []
    led: list[Note] = []
    for c in plan.callouts:
        for place in c.places if c.letter else ():
            at = _spot(views, plan, place, 0, k)
            try:
                placed.append(place_label(raster, Label(c.letter, at, convention.em, 9.0)))
            except NoRoom:
                led.append(Note((c.letter,), (at,), convention.em))
    return placed, led


def _names(
    raster: Raster, subject: Subject, plan: Plan, views: list[_Drawn], convention: Convention
) -> list[Primitive]:
    out: list[Primitive] = []
    for v in views:
        (x, y), name = v.at, _face_words(subject, v.planned.view.face)
        if v.where == "far" and any(
            c.hole and "through" in c.words and c.places[0].face is views[0].planned.view.face for c in plan.callouts
        ):
            name += f"; holes without a letter come from {face_name(views[0].planned.view.face)}"
        out.append(place_label(raster, Label(name, (x + 14.0, y + v.height + 3.5), convention.em, 60.0)))
    main = views[0]
    (x, y), w, h = main.at, main.width, main.height
    view = main.planned.view
    for face, word in (subject.towards or {}).items():
        side = place_on(view, face)
        if side in ("left", "right", "above", "below") and word in ("top", "front"):
            near = {"left": (x + 9, y + h / 2), "right": (x + w - 9, y + h / 2), "above": (x + w / 2, y + h - 3.5),
                    "below": (x + w / 2, y + 3.5)}[side]  # fmt: skip
            text = {"left": f"← {word}", "right": f"{word} →", "above": f"↑ {word}", "below": f"↓ {word}"}[side]
            out.append(place_label(raster, Label(text, near, convention.em, 60.0)))
    if subject.part.grain:
        out.append(place_label(raster, Label("↔ grain", (x + w * 0.3, y + h / 2), convention.em, 80.0)))
    return out


def _face_words(subject: Subject, face: Face) -> str:
    words = [face_name(face)]
    words += ["show face"] if shows(subject.part, face) else []
    facing = (subject.towards or {}).get(face, "")
    words += [f"towards the {facing}"] if facing else []
    return ", ".join(words)


def _note(c: CallOut, views: list[_Drawn], plan: Plan, convention: Convention, k: float) -> Note:
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
    arrow = ARROW if round_mouth or c.hole else 0.0
    return Note(wrapped(c.text, 40), tuple(targets), convention.em, arrow, keyed=bool(c.letter))


def wrapped(text: str, most: int) -> tuple[str, ...]:
    """Return a text in as few lines of at most `most` letters as words allow, of about equal length."""
    lines = _filled(text, most)
    for narrower in range(most - 1, 8, -1):
        tried = _filled(text, narrower)
        if len(tried) > len(lines) or max(map(len, tried)) > narrower:
            break
        lines = tried
    return tuple(lines)


def _filled(text: str, most: int) -> list[str]:
    lines: list[str] = [""]
    for word in text.replace(" × ", "\u00a0×\u00a0").split(" "):
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return [line.replace("\u00a0", " ") for line in lines]


def _lowest(items: list[Primitive]) -> float:
    from casewright.packet.drawing.lettering import box_of
    from casewright.packet.drawing.placing import runs_of

    low = 1e9
    for item in items:
        if isinstance(item, Text):
            low = min(low, box_of(item)[1])
        else:
            points = [p for run in runs_of(item) for p in run] or list(getattr(item, "points", ()))
            low = min([low, *(p[1] for p in points)])
    return low
