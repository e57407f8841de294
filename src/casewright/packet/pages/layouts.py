"""Layouts: every different sheet, board and stick to scale, its cuts numbered, and the steps beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from casewright.layout.model import GRID, BoardLayout, Outcome
from casewright.layouts import LaidOut
from casewright.packet.cut_plan import CutStep, part_label
from casewright.packet.layout_drawing import CARDS, DrawnPattern, drawn_patterns, stock_name
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import decimal
from casewright.stock.boards import board_feet
from casewright.stock.model import Board


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutSheet:
    """One pattern: what it is cut from, how many times, the picture, the steps, and what is left."""

    name: str
    title: str
    times: int
    drawing: Drawing
    steps: tuple[CutStep, ...]
    before: str
    left: str
    card: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutItem:
    """Every pattern of one stock item. `heads` name the columns of its steps."""

    item: str
    name: str
    form: str
    heads: tuple[str, str, str, str]
    summary: str
    outcome: str
    to_buy: str  # board feet with their chances, empty for what is not bought so
    shared: str  # settings that more than one sheet or board needs
    glued: str  # which strips make which glue-up
    unplaced: tuple[str, ...]
    sheets: tuple[LayoutSheet, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layouts:
    """The context of the layouts."""

    unit: str
    cards: int  # side by side
    items: tuple[LayoutItem, ...]


def layouts(setting: Setting) -> Layouts:
    """Return the context of the layouts."""
    items = tuple(_item(setting, laid) for laid in setting.project.layouts)
    return Layouts(unit=setting.printer.unit, cards=CARDS, items=items)


def _item(setting: Setting, laid: LaidOut) -> LayoutItem:
    form = laid.need.form.value
    drawn = drawn_patterns(setting, laid)
    last = {"sheet": "gives", "board": "gives", "stick": "ends"}[form]
    heads = ("cut", "", f"set to, {setting.printer.unit}", last)
    if form == "stick":
        heads = ("cut", "piece", f"long point to long point, {setting.printer.unit}", last)
    return LayoutItem(
        item=laid.need.item,
        name=stock_name(setting, laid.need.item),
        form=form,
        heads=heads,
        summary=_summary(laid),
        outcome=_outcome(laid.layout.outcome),
        to_buy=_to_buy(setting, laid),
        shared=_shared(form, drawn),
        glued=_glued(setting, laid),
        unplaced=tuple(f"{u.count} × {u.part}: {u.why}" for u in laid.layout.unplaced),
        sheets=tuple(
            LayoutSheet(
                name=d.file,
                title=d.title,
                times=d.times,
                drawing=drawing_of(d.picture),
                steps=d.steps,
                before=d.before,
                left=d.left,
                card=d.card,
            )
            for d in drawn
        ),
    )


def _summary(laid: LaidOut) -> str:
    parts = sum(w.count for w in laid.need.wanted)
    total = sum(p.times for p in laid.layout.patterns)
    what = {"sheet": "sheet", "board": "board", "stick": "stick"}[laid.need.form.value]
    return f"{parts} part{'s' * (parts > 1)} from {total} {what}{'s' * (total > 1)}"


def _to_buy(setting: Setting, laid: LaidOut) -> str:
    """Say how much to buy where boards are taken as they come off the pile, rounded up."""
    board = setting.project.stock.get(laid.need.item)
    if laid.to_buy is None or not laid.to_buy.quantities or not isinstance(board, Board):
        return ""
    amounts = [_amount(setting, board, q.surface / GRID**2) for q in laid.to_buy.quantities]
    shares = [f"{text} were enough in {q.chance:.0%}" for text, q in zip(amounts, laid.to_buy.quantities, strict=True)]
    return f"In place of these, boards of mixed widths and lengths: {', '.join(shares)} of {laid.to_buy.trials} trials"


def _amount(setting: Setting, board: Board, surface: float) -> str:
    """Return how much wood some surface of a board is (mm²), as it is sold: in board feet or in m³."""
    if setting.printer.unit == "in":
        return f"{math.ceil(board_feet(board.rough, surface, 1.0))} board feet"
    return f"{math.ceil(surface * board.rough * 1e-6) / 1000:.3f} m³"


def _shared(form: str, drawn: tuple[DrawnPattern, ...]) -> str:
    """Fine settings that several patterns need: the maker cuts them together, or keeps the stop (common practice)."""
    if form == "stick":
        return ""
    where: dict[tuple[str, str], list[int]] = {}
    for number, pattern in enumerate(drawn, 1):
        for step in pattern.steps:
            if not step.rough and number not in where.setdefault((step.verb, step.setting), []):
                where[step.verb, step.setting].append(number)
    texts = [f"{v} {s} ({form}s {', '.join(map(str, on))})" for (v, s), on in where.items() if len(on) > 1]
    return f"Set once for several {form}s: {'; '.join(texts)}" if texts else ""


def _glued(setting: Setting, laid: LaidOut) -> str:
    """Say which strips are glued to which panel, of what size it comes, and what their edges are wider for."""
    if not isinstance(laid.layout, BoardLayout) or not laid.layout.panels:
        return ""
    rows, show = {row.mark: row for row in setting.rows}, setting.printer
    made = []
    for part, copy, strips in laid.layout.panels:
        labels = [part_label(f"{part}#{copy}/{strip.place}") for strip in strips]
        size = " × ".join(show.printed(rows[part].rough_printed[axis]) for axis in (0, 1))
        made.append(f"{part} {size} of {labels[0]} to {labels[-1]}" if len(labels) > 1 else f"{part} of {labels[0]}")
    edge = show.length(setting.project.practice["rough.glue_edge"])
    return f"Glued up rough: {'; '.join(made)}. Each glued edge has {edge} to be jointed off first"


def _outcome(outcome: Outcome) -> str:
    if outcome.proven:
        return "no cheaper choice of stock exists (proven)"
    if outcome.value <= 0:
        return "best found"
    text = f"best found; stock could cost at most {decimal(outcome.gap * 100, 0)} % less"
    return text if outcome.reproducible else f"{text}; ended on time, not reproducible"
