"""Layouts: every different sheet, board and stick to scale, its cuts numbered, and the steps beside it."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.layout.model import Outcome
from casewright.layouts import LaidOut
from casewright.packet.cut_plan import CutStep
from casewright.packet.layout_drawing import CARDS, drawn_patterns, stock_name
from casewright.packet.pages.drawings import Drawing, drawing_of
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import decimal


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


def _outcome(outcome: Outcome) -> str:
    if outcome.proven:
        return "no cheaper choice of stock exists (proven)"
    if outcome.value <= 0:
        return "best found"
    text = f"best found; stock could cost at most {decimal(outcome.gap * 100, 0)} % less"
    return text if outcome.reproducible else f"{text}; ended on time, not reproducible"
