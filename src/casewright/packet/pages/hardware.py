"""What to have in hand before cutting: stock, hardware, fasteners, glue, finish and what is used up over the order."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

from casewright.design.parts import Form
from casewright.layout.model import to_mm
from casewright.layouts import LaidOut
from casewright.packet.consumables import consumable_rows, glue_litres
from casewright.packet.hardware_list import BoughtRow, band_rows, fastener_rows, finish_rows, glue_rows, hardware_rows
from casewright.packet.layout_drawing import stock_name
from casewright.packet.pages.setting import Setting
from casewright.packet.parts_list import name_stems
from casewright.packet.printed import decimal
from casewright.stock.fittings import UnderSlide
from casewright.stock.model import Slide

BANDED = {"iron": "ironed on", "hot melt": "glued on with hot melt", "clamped": "glued on under clamps"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToUse:
    """A line of the stock list: how many of which size."""

    name: str
    size: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """One line: item, how many the order needs, and where they go."""

    name: str
    count: int
    by_piece: tuple[int, ...]
    uses: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """A glue, a finish or what else is used up: how much, what it is for and what to know of it."""

    name: str
    amount: str
    use: str
    facts: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareLists:
    """The context of the hardware page; `pieces` are the heads of its columns."""

    pieces: tuple[str, ...]
    stock: tuple[ToUse, ...]
    hardware: tuple[Bought, ...]
    fasteners: tuple[Bought, ...]
    has_bands: bool
    supplies: tuple[Supply, ...]
    consumables: tuple[Supply, ...]


def hardware(setting: Setting) -> HardwareLists:
    """Return the context of the hardware page."""
    project = setting.project
    paths = tuple(p.path for p in setting.pieces)
    litres = glue_litres(project)
    glues = [
        Supply(
            name=g.name,
            amount=_volume(setting, litres.get(g.role, 0.0)),
            use=g.use,
            facts=_glue_times(g.open_time, g.clamp_time),
        )
        for g in glue_rows(project)
    ]
    finishes = [
        Supply(
            name=f.name,
            amount=_volume(setting, f.litres_per_coat * f.coats),
            use=f"{f.coats} coat{'s' if f.coats > 1 else ''} on {setting.printer.area(f.area)} of show faces "
            f"(mouldings not counted){_colour(setting, f.item)}",
            facts=f"at the stated coverage; recoat after {f.recoat_hours:g} h; hazards: {f.hazards}",
        )
        for f in finish_rows(project)
    ]
    consumables = [
        Supply(
            name=setting.printer.in_both(row.name),
            amount=_volume(setting, row.litres) if row.litres else str(row.count),
            use=row.use,
            facts="",
        )
        for row in consumable_rows(project)
    ]
    bands = [
        Supply(
            name=b.name,
            amount=f"at least {setting.printer.run(b.length)}",
            use=f"{b.edges} edge{'s' * (b.edges > 1)} of the parts list",
            facts=f"{setting.printer.measured(b.width)} wide, in lengths of {setting.printer.run(b.roll)}; "
            f"{BANDED.get(b.glued, b.glued)}; trim it flush, along the grain of the band",
        )
        for b in band_rows(project)
    ]
    return HardwareLists(
        pieces=tuple(p.title for p in setting.pieces),
        stock=tuple(line for laid in project.layouts for line in _to_use(setting, laid)),
        hardware=tuple(
            _line(setting, row, paths, _pairs(setting, row) + _stems(row) + _ordered(setting, row))
            for row in hardware_rows(project)
        ),
        fasteners=tuple(
            _line(setting, row, paths, ", ".join(f"{use} {n}" for use, n in row.uses)) for row in fastener_rows(project)
        ),
        has_bands=bool(bands),
        supplies=(*bands, *glues, *finishes),
        consumables=tuple(consumables),
    )


def _volume(setting: Setting, litres: float) -> str:
    return f"about {setting.printer.volume(litres)}"


def _colour(setting: Setting, item: str) -> str:
    """Return paint and colour, or clear finish and sheen, as the order names them; "" where it does not."""
    style, product = setting.project.order.style, setting.project.stock.get(item)
    kind = getattr(product, "kind", "")
    named = {"enamel": (style.paint, "painted"), "clear": (style.top_finish, "clear")}.get(kind, ("", ""))
    return f"; as ordered: {named[0]}" if named[0] != named[1] else ""


def _to_use(setting: Setting, laid: LaidOut) -> list[ToUse]:
    counts: Counter[str] = Counter()
    for pattern in laid.layout.patterns:
        counts[pattern.stock] += pattern.times
    sizes = {s.id: s for s in laid.need.demand.stock}
    lines = []
    for stock_id, count in counts.items():
        stock = sizes[stock_id]
        across = () if laid.need.form is Form.STICK else (to_mm(getattr(stock, "width", 0)),)
        size = setting.printer.sizes((to_mm(stock.length), *across))
        on_hand = ", offcut on hand" if getattr(stock, "offcut", False) else ""
        lines.append(ToUse(name=stock_name(setting, laid.need.item) + on_hand, size=size, count=count))
    return lines


def _line(setting: Setting, row: BoughtRow, paths: tuple[str, ...], uses: str) -> Bought:
    counts = dict(row.counts)
    name = setting.printer.sold_as(row.name)
    return Bought(name=name, count=row.count, by_piece=tuple(counts.get(p, 0) for p in paths), uses=uses)


def _pairs(setting: Setting, row: BoughtRow) -> str:
    """Say how many pairs of slides the single ones are, since shops sell them so."""
    item = setting.project.stock.get(row.item)
    pairs = row.count // 2
    return f"{pairs} pair{'s' * (pairs > 1)}; " if isinstance(item, Slide | UnderSlide) and pairs else ""


def _stems(row: BoughtRow) -> str:
    """Return what an item is in the pieces, each name once: "hinge 1, cup" and "hinge 2, cup" are "hinge, cup"."""
    stems = (re.sub(r"(?<=[a-z]) \d+(?=,|$)", "", stem) for stem in name_stems(tuple(use for use, _ in row.uses)))
    return "; ".join(stem for stem in dict.fromkeys(stems) if stem != row.name)


def _ordered(setting: Setting, row: BoughtRow) -> str:
    """Say how large a pane is by the drawing; it is ordered to what it goes into."""
    sizes = [f"{n} of " * (row.count > 1) + setting.printer.ordered(size) for size, n in row.ordered]
    return f", {'; '.join(sizes)} by the drawings: order it once its rabbet can be measured" if sizes else ""


def _glue_times(open_time: float, clamp_time: float) -> str:
    return f"open {minutes(open_time)}, in clamps {minutes(clamp_time)}; the maker's own directions decide"


def minutes(value: float) -> str:
    """Return a time in the unit that reads best."""
    if value < 1:
        return f"{decimal(value * 60, 0)} s"
    return f"{decimal(value / 60, 1)} h" if value >= 120 else f"{decimal(value, 0)} min"
