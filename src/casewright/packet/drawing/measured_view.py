"""A view or section of a piece on paper with its rows of sizes, balloons and caption."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np

from casewright.packet.drawing.chains_located import Link, LocatedChain
from casewright.packet.drawing.conventions import Convention, Ratio
from casewright.packet.drawing.lettering import box_of, filled, width_of
from casewright.packet.drawing.overlaps import overlaps
from casewright.packet.drawing.placing import Label, NoRoom, Note, place_label, place_notes
from casewright.packet.drawing.primitives import XY, Leader, Picture, Primitive, Shown, Text
from casewright.packet.drawing.raster import Floats, Raster, runs_of, shifted
from casewright.packet.drawing.rows import Row, Side, Span, chain_row
from casewright.units import parse_length

SMALLER = 1  # scales below the largest that are tried before a view is drawn twice
EDGE = 2.0  # mm of empty paper at the border
FIRST = 6.0  # mm from the outline to the first dimension line
NEXT = 2.0  # mm between rows
ROOM = (6.0, 14.0, 24.0, 36.0)  # mm beyond the rows, tried one after the other
SIDES = {(1.0, 0.0): Side.RIGHT, (-1.0, 0.0): Side.LEFT, (0.0, 1.0): Side.ABOVE, (0.0, -1.0): Side.BELOW}
CAPTION = 54.0  # mm that the lines of a caption may be long below a narrower view
BEYOND = 8.0  # mm from the border of a view to the letter of a section plane
MEET = 0.01  # mm, or the unit that is printed: ends, and sums, that are one
ROUNDED = "sizes are each rounded: do not add them up, the size of the whole holds"
NEAR = 0.3  # mm between a line and an extension line that start at it
BALLOON = 1.05  # em: radius


@dataclass(slots=True)
class SizedView:
    """What is to be drawn: lines by scale, the box of the view in mm, sizes by side (inner row first), notes.

    `lines(k)` are primitives with the box's lower left corner at (0, 0). `finish(items, k)` may add what depends on
    where texts stand (hatching). Balloons are (mark, targets) in the view's mm. Letters
    of section planes are (text, place on the border of the box, way out): they stand beyond the ends of the planes.
    `totals` are what chains in the rows add up to, across (0) and up (1), whether or not that is drawn here.
    `rounded` says that printed sizes beside each other do not add up to a printed one: the caption says so.
    """

    box: tuple[float, float, float, float]
    lines: Callable[[float], list[Primitive]]
    rows: dict[Side, list[list[Link]]] = field(default_factory=dict)
    balloons: list[tuple[str, tuple[XY, ...]]] = field(default_factory=list)
    letters: list[tuple[str, XY, XY]] = field(default_factory=list)
    caption: str = ""
    alt: str = ""
    first: float = FIRST
    totals: Mapping[int, Sequence[Link]] = field(default_factory=dict)
    rounded: bool = False
    finish: Callable[[list[Primitive], float, XY], list[Primitive]] | None = None


def drawn(view: SizedView, convention: Convention, fit: XY, largest: float = 1.0, most_smaller: int = 99) -> Picture:
    """Return the picture within `fit` at the largest scale of the list, up to `largest`, where every text has room.

    `most_smaller` is how many scales below the one that holds the bare view are tried. Raises NoRoom.
    """
    x0, y0, x1, y1 = view.box
    most = min((fit[0] - 30.0) / (x1 - x0), (fit[1] - 30.0) / (y1 - y0), largest)
    first = convention.scales.index(convention.scale_for(most))
    for ratio in convention.scales[first : first + most_smaller + 1]:
        found = _at_scale(view, convention, fit, ratio)
        if found is not None:
            return found
    raise NoRoom(f"{view.caption} does not fit on {fit[0]:.0f} × {fit[1]:.0f} mm at {ratio[0]}:{ratio[1]}")


def surely_drawn(view: SizedView, convention: Convention, fit: XY, largest: float = 1.0) -> tuple[Picture, ...]:
    """Return the view at the largest scale that fits, or as several pictures with a share of its sizes and balloons.

    Nothing is lost: raises NoRoom only where `fit` does not hold the bare view at the smallest scale.
    """
    return _shared(replace(view, rounded=not adds_up(view.rows, view.totals)), convention, fit, largest)


def _shared(view: SizedView, convention: Convention, fit: XY, largest: float) -> tuple[Picture, ...]:
    rows = [(side, row) for side, own in view.rows.items() for row in own]
    if len(rows) + len(view.balloons) < 2:
        return (drawn(view, convention, fit, largest),)
    with suppress(NoRoom):  # rather twice and large than once and small
        return (drawn(view, convention, fit, largest, SMALLER),)
    shares = []
    for half in (0, 1):
        mine: dict[Side, list[list[Link]]] = {}
        for side, row in rows[half::2]:
            mine.setdefault(side, []).append(row)
        caption = view.caption and f"{view.caption}, sizes {half + 1} of 2"
        shares.append(
            replace(
                view,
                caption=caption,
                rows=mine,
                balloons=view.balloons[half::2],
                letters=view.letters if not half else [],
            )
        )
    return tuple(shown for share in shares for shown in _shared(share, convention, fit, largest))


def adds_up(rows: Mapping[Side, Sequence[Sequence[Link]]], totals: Mapping[int, Sequence[Link]]) -> bool:
    """True where printed sizes that follow each other add up to every printed one that spans just them."""
    for i, upright in enumerate((False, True)):
        along = [
            sorted(row, key=lambda k: k.low) for side, own in rows.items() if side.upright is upright for row in own
        ]
        for whole in (*(link for row in along for link in row), *totals.get(i, ())):
            for row in along:
                within = [
                    k for k in row if k.low >= whole.low - MEET and k.high <= whole.high + MEET and k is not whole
                ]
                if _tile(within, whole) and abs(sum(map(_number, within)) - _number(whole)) > MEET:
                    return False
    return True


def _tile(links: Sequence[Link], whole: Link) -> bool:
    """True where two links or more fill another, end to end."""
    ends = [whole.low, *(at for k in links for at in (k.low, k.high)), whole.high]
    return len(links) > 1 and all(abs(a - b) < MEET for a, b in zip(ends[::2], ends[1::2], strict=True))


def _number(link: Link) -> float:
    """Return a printed size as a number, in whatever unit the drawing has."""
    return parse_length(link.text, "mm")


def packed_rows(chains: Sequence[LocatedChain]) -> list[list[Link]]:
    """Return chains as rows, the shortest nearest to the view; chains that do not meet share a row."""
    rows: list[list[Link]] = []
    for chain in sorted(chains, key=lambda c: (c.total.high - c.total.low, c.id)):
        for row in rows:
            if all(chain.total.high <= k.low + 0.01 or chain.total.low >= k.high - 0.01 for k in row):
                row.extend(chain.links)
                break
        else:
            rows.append(list(chain.links))
    return rows


def _at_scale(view: SizedView, convention: Convention, fit: XY, ratio: Ratio) -> Picture | None:
    k = ratio[0] / ratio[1]
    x0, y0, x1, y1 = view.box
    width, height = (x1 - x0) * k, (y1 - y0) * k
    ends = _ends_of(view.lines(k))
    rows = [row for side, links in view.rows.items() for row in _rows(view, side, links, convention, k, ends)]
    depth = {side: max((r.depth for r in rows if r.side is side), default=0.0) for side in Side}
    for _, _, way in view.letters:
        depth[SIDES[way]] = max(depth[SIDES[way]], BEYOND)
    for room in ROOM:
        if not view.balloons and room != ROOM[0]:
            break
        own = width + depth[Side.LEFT] + depth[Side.RIGHT] + 2 * room
        aside = max(0.0, min(CAPTION, fit[0]) - own) / 2 if view.caption else 0.0
        size = (
            own + 2 * aside,
            height + depth[Side.BELOW] + depth[Side.ABOVE] + 2 * room + 5 * convention.em,
        )
        if size[0] > fit[0] or size[1] > fit[1]:
            return None
        try:
            origin = (depth[Side.LEFT] + room + aside, depth[Side.BELOW] + room)
            found = _composed(view, convention, ratio, rows, origin, size)
        except NoRoom:
            continue
        # Texts of a short row may reach past its ends.
        if found.width <= fit[0] and found.height <= fit[1] and not overlaps(found):
            return found
    return None


def _rows(
    view: SizedView, side: Side, links: list[list[Link]], convention: Convention, k: float, ends: Floats
) -> list[Row]:
    x0, y0, x1, y1 = view.box
    low = y0 if side.upright else x0
    edge = {Side.ABOVE: (y1 - y0) * k, Side.RIGHT: (x1 - x0) * k}.get(side, 0.0)

    def span(link: Link) -> Span:
        a, b = (link.low - low) * k, (link.high - low) * k
        return Span(a, b, link.text, *(-_inwards(side, edge, at, ends) for at in (a, b)))

    out: list[Row] = []
    at = view.first
    for i, row in enumerate(links):
        later = {round((p - low) * k, 4) for other in links[i + 1 :] for link in other for p in (link.low, link.high)}
        spans = [span(n) for n in sorted(row, key=lambda n: n.low)]
        out.append(chain_row(side, edge, spans, convention, at, sorted(later)))
        at = out[-1].depth + NEXT
    return out


def _ends_of(items: list[Primitive]) -> Floats:
    """Return the straight pieces of everything drawn, x0 y0 x1 y1."""
    found = [(*a, *b) for item in items for run in runs_of(item) for a, b in pairwise(run)]
    return np.array(found, np.float64).reshape(-1, 4)


def _inwards(side: Side, edge: float, at: float, ends: Floats) -> float:
    """Return how far inside the view's box an extension line at `at` comes to the first drawn line."""
    i = 1 if side.upright else 0
    a, b = ends[:, i], ends[:, 2 + i]
    met = ends[(np.minimum(a, b) <= at + NEAR) & (np.maximum(a, b) >= at - NEAR)]
    if not len(met):
        return 0.0
    run = met[:, 2 + i] - met[:, i]
    share = np.clip((at - met[:, i]) / np.where(np.abs(run) < NEAR, np.inf, run), 0.0, 1.0)
    across = met[:, 1 - i] + share * (met[:, 3 - i] - met[:, 1 - i])
    flat = np.abs(run) < NEAR  # runs along the extension line: its nearer end counts
    nearest = np.where(flat, side.sign * np.maximum(side.sign * met[:, 1 - i], side.sign * met[:, 3 - i]), across)
    return max(0.0, float((side.sign * (edge - nearest)).min()))


def _composed(view: SizedView, convention: Convention, ratio: Ratio, rows: list[Row], origin: XY, size: XY) -> Picture:
    k = ratio[0] / ratio[1]
    x0, y0, x1, y1 = view.box
    captions = _caption(view, convention, ratio, size[0])
    caption_room = (0.5 + 1.5 * len(captions)) * convention.em
    at = (origin[0], origin[1] + caption_room)
    items = [shifted(i, *at) for i in [*view.lines(k), *(i for r in rows for i in r.items)]]
    raster = Raster(size[0], size[1])
    raster.ink(items)
    border = ((0.6, 0.6), (size[0] - 0.6, 0.6), (size[0] - 0.6, size[1] - 0.6), (0.6, size[1] - 0.6), (0.6, 0.6))
    raster.run(raster.texts, (border,))
    corners = ((at[0], at[1]), (at[0] + (x1 - x0) * k, at[1]), (0.0, 0.0), (at[0], at[1] + (y1 - y0) * k))
    raster.fill(raster.costly, corners)

    def paper(p: XY) -> XY:
        return (at[0] + (p[0] - x0) * k, at[1] + (p[1] - y0) * k)

    for i, line in enumerate(captions):
        middle = (size[0] / 2, caption_room - (1.0 + 1.5 * i) * convention.em)
        items.append(place_label(raster, Label(line, middle, convention.em, 60.0)))
    for word, place, way in view.letters:
        items.append(place_label(raster, _letter(word, paper(place), way, convention)))
    notes = [
        Note((mark,), tuple(paper(p) for p in targets), convention.em, ring=_ring(mark, convention))
        for mark, targets in view.balloons
    ]
    items += place_notes(raster, notes)
    if view.finish is not None:
        items = view.finish(items, k, at)
    shown = tuple(Shown(n.name, n.high - n.low, n.text) for r in view.rows.values() for row in r for n in row)
    return cropped(Picture(size[0], size[1], tuple(items), view.alt, k, convention.thick, shown))


def _caption(view: SizedView, convention: Convention, ratio: Ratio, width: float) -> list[str]:
    """Return the caption in lines that are no wider than the picture."""
    if not view.caption:
        return []
    text = f"{view.caption}, scale {ratio[0]}:{ratio[1]}" + (f"; {ROUNDED}" if view.rounded else "")
    return filled(text, width - 4.0, lambda line: width_of(line, convention.em))


def _letter(word: str, at: XY, way: XY, convention: Convention) -> Label:
    """Return the label of a section plane beyond its end at the border of a view, never inside."""
    (x, y), (dx, dy), far = at, way, BEYOND + 12.0
    near = (x + dx * BEYOND, y + dy * BEYOND)
    low = (min(x + dx, x + dx * far) - far * abs(dy), min(y + dy, y + dy * far) - far * abs(dx))
    high = (max(x + dx, x + dx * far) + far * abs(dy), max(y + dy, y + dy * far) + far * abs(dx))
    return Label(word, near, convention.em, 40.0, (*low, *high))


def _ring(mark: str, convention: Convention) -> float:
    return max(BALLOON * convention.em * 0.75, width_of(mark, convention.em) / 2 + 0.9)


def cropped(picture: Picture) -> Picture:
    """Return a picture without the empty paper at its border."""
    xs: list[float] = []
    ys: list[float] = []
    for item in picture.items:
        if isinstance(item, Text):
            x0, y0, x1, y1 = box_of(item)
            xs += [x0, x1]
            ys += [y0, y1]
        else:
            points = [p for run in runs_of(item) for p in run] or (
                list(item.points) if isinstance(item, Leader) else []
            )
            xs += [p[0] for p in points]
            ys += [p[1] for p in points]
    dx, dy = min(xs) - EDGE, min(ys) - EDGE
    items = tuple(shifted(i, -dx, -dy) for i in picture.items)
    return Picture(
        max(xs) - dx + EDGE, max(ys) - dy + EDGE, items, picture.alt, picture.scale, picture.thick, picture.shown
    )
