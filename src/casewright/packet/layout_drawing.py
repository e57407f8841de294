"""Layouts drawn: every pattern as a picture with its steps; the pages and `layout-*.svg` both come of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from casewright.layout.model import (
    BoardDemand,
    BoardLayout,
    BoardPattern,
    Laid,
    Rest,
    Saws,
    SheetDemand,
    SheetLayout,
    SheetPattern,
    StickDemand,
    StickLayout,
    StickPattern,
    to_grid_up,
    to_mm,
)
from casewright.layouts import LaidOut
from casewright.packet.cut_plan import CutPlan, CutStep, area_share, cut_plan, part_label
from casewright.packet.drawing.placing import NoRoom
from casewright.packet.drawing.primitives import Picture
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import PartRow
from casewright.packet.plate_drawing import crowded_picture, plate_picture, widenings
from casewright.packet.printed import decimal
from casewright.packet.stick_drawing import stick_picture
from casewright.packet.stick_plan import stick_steps
from casewright.units import Role

HIGHEST, WHOLE = 0.42, 0.85  # of the page's height: what a picture takes, as a rule and at most
FEW_STEPS = 10  # a sheet or board with no more settings than this is drawn on a card
CARDS, CARD_GAP = 2, 8.0  # side by side; mm between them
CARD_HEIGHTS = (62.0, 92.0)  # mm that a card's picture is high at most, tried one after the other

LEAST_RIP = "rip.least_length"  # practice

MITRED_STICK = "Long point to long point; the picture's upper edge is the face that shows. Cut from the left."


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPattern:
    """A pattern drawn: the file's name, picture, steps and leftovers; the page and `layout-*.svg` both come of it."""

    file: str
    title: str
    times: int
    picture: Picture
    steps: tuple[CutStep, ...]
    before: str
    left: str
    card: bool = False


def drawn_patterns(setting: Setting, laid: LaidOut) -> tuple[DrawnPattern, ...]:
    """Return every pattern of a layout as a drawing with its steps; the page and the files beside it share them."""
    rows = tuple((row.mark, row.finished, row.cut, row.ends) for row in setting.rows)
    key = (laid, setting.paper, setting.printer, rows, setting.project.practice[LEAST_RIP])
    return setting.project.cache.made("drawn layout", key, lambda: _drawn_patterns(setting, laid))


def _drawn_patterns(setting: Setting, laid: LaidOut) -> tuple[DrawnPattern, ...]:
    layout, demand = laid.layout, laid.need.demand
    if isinstance(layout, SheetLayout) and isinstance(demand, SheetDemand):
        return tuple(_sheet(setting, laid, demand, p, n) for n, p in enumerate(layout.patterns, 1))
    if isinstance(layout, BoardLayout) and isinstance(demand, BoardDemand):
        return tuple(_board(setting, laid, demand, p, n) for n, p in enumerate(layout.patterns, 1))
    if isinstance(layout, StickLayout) and isinstance(demand, StickDemand):
        return tuple(_stick(setting, laid, demand, p, n) for n, p in enumerate(layout.patterns, 1))
    raise TypeError(f"{laid.need.item}: its layout does not answer its demand")


def stock_name(setting: Setting, item_id: str) -> str:
    """Return what a stock item is called."""
    item = setting.project.stock.get(item_id)
    return item.name if item is not None else item_id


def _rows(setting: Setting) -> dict[str, PartRow]:
    return {row.mark: row for row in setting.rows}


def _sheet(setting: Setting, laid: LaidOut, demand: SheetDemand, pattern: SheetPattern, number: int) -> DrawnPattern:
    stock = next(s for s in demand.stock if s.id == pattern.stock)
    plan = cut_plan(pattern.root, demand.saws, _plate_sizes(setting), _least_rip(setting))
    trims = {setting.printer.length(to_mm(t)) for t in stock.trim if t}
    before = f"First trim {' and '.join(sorted(trims))} off each factory edge." if trims else ""
    if any(step.rough for step in plan.steps):
        left = setting.printer.length(to_mm(demand.saws.breakdown_allowance))
        before += f" Rough cuts leave {left} to trim on both sides."
    return _plate(setting, laid, plan, (stock.length, stock.width), pattern.times, number, before)


def _board(setting: Setting, laid: LaidOut, demand: BoardDemand, pattern: BoardPattern, number: int) -> DrawnPattern:
    stock = next(s for s in demand.stock if s.id == pattern.stock)
    plan = cut_plan(pattern.root, Saws(kerf=demand.kerf), _plate_sizes(setting), _least_rip(setting))
    show = setting.printer
    trims = [(demand.end_trim, "the ends"), (demand.edge_trim, "the edges")]
    shown = " and ".join(f"{show.length(to_mm(t))} off {where}" for t, where in trims if t)
    before = f"First take {shown}. Sizes are rough." if shown else "Sizes are rough."
    before += strip_words([laid.part for laid in plan.laid])
    return _plate(setting, laid, plan, (stock.length, stock.width), pattern.times, number, before)


def strip_words(parts: Sequence[str]) -> str:
    """Return what the names of a board's strips mean: of the first glue-up of a mark, of another where one is there."""
    strips = [part for part in parts if "#" in part]
    if not strips:
        return ""
    first = strips[0].partition("#")[0]
    words = f" {first}-1 is strip 1 of the glue-up {first}"
    other = next((s for s in strips if part_label(s).partition("-")[0] != s.partition("#")[0]), "")
    if other:
        panel, copy = other.partition("#")[0], part_label(other).partition("-")[0]
        words += f", {copy}-1 that of {panel} number {copy.removeprefix(panel)}"
    return f"{words}."


def _plate(
    setting: Setting, laid: LaidOut, plan: CutPlan, size: tuple[int, int], times: int, number: int, before: str
) -> DrawnPattern:
    title = setting.printer.sizes((to_mm(size[0]), to_mm(size[1])))
    name = stock_name(setting, laid.need.item)
    alt = f"{name}, {title}: {len(plan.laid)} parts, {len(plan.lines)} numbered cuts; parts " + ", ".join(
        dict.fromkeys(p.part for p in plan.laid)
    )
    drawn, wider, card, said = _drawn(setting, plan, size, alt)
    before += said + short_rips(setting, plan.steps)
    if wider > 1:
        before += f" Drawn {wider:.0f} times wider than to scale."
    return DrawnPattern(
        file=_file(laid, number),
        title=f"{laid.need.form.value} {number}: {title}",
        times=times,
        picture=drawn,
        steps=tuple(plan.steps),
        before=before,
        left=_left(setting, plan, size),
        card=card,
    )


def _least_rip(setting: Setting) -> int:
    """Return how long a piece is at least that is ripped along a fence, grid steps."""
    return to_grid_up(setting.project.practice[LEAST_RIP])


def short_rips(setting: Setting, steps: Sequence[CutStep]) -> str:
    """Return the caution for rips on pieces that are too short for the fence; empty where there are none."""
    found = [step.numbers for step in steps if step.short]
    if not found:
        return ""
    least = setting.printer.length(setting.project.practice[LEAST_RIP])
    which = f"cut{'s' * (len(found) > 1 or '–' in found[0])} {', '.join(found)}"
    return (
        f" CAUTION, {which}: a piece shorter than {least} is not ripped by hand along the fence of a table saw. "
        "Rip it while it is longer and crosscut it after that, where its strip allows; else guide it by a sled or "
        "mitre gauge, not by the fence as well, or use a track saw or hand saw; the saw's manual decides."
    )


def _drawn(setting: Setting, plan: CutPlan, size: tuple[int, int], alt: str) -> tuple[Picture, float, bool, str]:
    """Return a plate's picture, how many times wider than to scale it is, whether it is a card, and a remark.

    A card has few steps; where a picture has no room for every number and mark a larger one is made, of a slender board
    also a wider one, at last as large as the page. What finds no place even there is named.
    """
    whole, high = setting.paper.inside
    rooms = [(whole, high * HIGHEST, False), (whole, high * WHOLE, False)]
    if len(plan.steps) <= FEW_STEPS:
        rooms = [*((_card(setting), highest, True) for highest in CARD_HEIGHTS), *rooms]
    text = _part_size(setting)
    for across, highest, card in rooms:
        for wider in widenings(*size, across):
            with suppress(NoRoom):
                shown = plate_picture(*size, plan, across=across, highest=highest, size=text, alt=alt, wider=wider)
                return shown, wider, card, ""
    wider = widenings(*size, whole)[-1]
    shown, left = crowded_picture(*size, plan, across=whole, highest=high * WHOLE, size=text, alt=alt, wider=wider)
    return shown, wider, False, f" No room on the picture for {', '.join(left)}: go by the steps."


def _card(setting: Setting) -> float:
    """Return how wide a card is, mm."""
    return (setting.paper.inside[0] - CARD_GAP * (CARDS - 1)) / CARDS


def _file(laid: LaidOut, number: int) -> str:
    return f"layout-{laid.need.item.replace('/', '-')}-{number}"


def _plate_sizes(setting: Setting) -> Callable[[str, int, bool], str]:
    """Return how a cut's setting is printed: as its part's size is in the parts list where it is one."""
    rows, show = _rows(setting), setting.printer

    def text(part: str, steps: int, along: bool) -> str:
        row = rows.get(part.partition("#")[0])
        if row is None or "#" in part:
            return show.size(to_mm(steps), Role.HOUSING)
        return show.printed(row.rough_printed[0 if along else 1])

    return text


def _part_size(setting: Setting) -> Callable[[Laid], str]:
    sizes = _plate_sizes(setting)

    def text(laid: Laid) -> str:
        if not laid.part:
            return " × ".join(setting.printer.size(to_mm(v), Role.INSERT) for v in (laid.length, laid.width))
        length, width = (laid.width, laid.length) if laid.turned else (laid.length, laid.width)
        return f"{sizes(laid.part, length, True)} × {sizes(laid.part, width, False)}"

    return text


def _left(setting: Setting, plan: CutPlan, size: tuple[int, int]) -> str:
    kept = sorted((r for r in plan.rests if r.keep), key=lambda r: -r.length * r.width)
    shown = ", ".join(_rest(setting, r) for r in kept) if kept else "nothing worth keeping"
    return f"Left over to keep: {shown}. Parts take {decimal(area_share(plan.laid, *size) * 100, 0)} % of it."


def _rest(setting: Setting, rest: Rest) -> str:
    show = setting.printer
    return f"{show.size(to_mm(rest.length), Role.INSERT)} × {show.length(to_mm(rest.width), Role.INSERT)}"


def _stick(setting: Setting, laid: LaidOut, demand: StickDemand, pattern: StickPattern, number: int) -> DrawnPattern:
    rows, show = _rows(setting), setting.printer
    stock = next(s for s in demand.stock if s.id == pattern.stock)
    title = show.length(to_mm(stock.length))

    pairs = {p.id: p for p in demand.parts if p.parted}

    def size(part: str) -> str:
        if part in pairs:
            return show.size(to_mm(pairs[part].length), Role.HOUSING)
        return show.printed(rows[part].rough_printed[0])

    def ends(part: str) -> tuple[str, str]:
        return ("", "") if part in pairs else _angles(rows[part])

    used = {s.stock for s in laid.layout.patterns}
    longest = max(s.length for s in demand.stock if s.id in used)
    alt = f"{stock_name(setting, laid.need.item)}, stick of {title}: " + ", ".join(p.part for p in pattern.pieces)
    drawn = stick_picture(pattern, demand, longest, across=setting.paper.inside[0], size=size, alt=alt)
    rest = to_mm(pattern.rest)
    worth = demand.keep_length and pattern.rest >= demand.keep_length
    return DrawnPattern(
        file=_file(laid, number),
        title=f"stick {number}: {title}",
        times=pattern.times,
        picture=drawn,
        steps=stick_steps(pattern, demand, size, ends),
        before=(MITRED_STICK if _mitred(demand) else "Cut from the left.")
        + pair_words([p.part for p in pattern.pieces if p.part in pairs]),
        left=f"Left over to keep: {show.length(rest, Role.INSERT)}."
        if worth
        else "Left over to keep: nothing worth keeping.",
    )


def pair_words(pairs: Sequence[str]) -> str:
    """Return what the names of a stick's pairs mean; empty where there are none."""
    if not pairs:
        return ""
    return (
        f" {', '.join(dict.fromkeys(pairs))}: two in one piece, floor ends outwards; parted at the dashed line, once "
        "they are shaped, by the step that crosscuts their top ends."
    )


def _angles(row: PartRow) -> tuple[str, str]:
    """The angles of a part's two ends, empty where square."""
    angles = dict(end.split(" ", 1) for end in row.ends)
    return angles.get("end0", ""), angles.get("end1", "")


def _mitred(demand: StickDemand) -> bool:
    return any(p.left_run or p.right_run for p in demand.parts)
