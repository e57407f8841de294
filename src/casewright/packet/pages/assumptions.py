"""What the numbers rest on: measured stock with a box to write in what is true, the room, and practice values."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from casewright.packet.pages.setting import Setting
from casewright.packet.practice_used import practice_used
from casewright.packet.printed import Printer, decimal
from casewright.shop.model import Shop
from casewright.shop.practice import Rule
from casewright.stock.model import Board, Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredStock:
    """One stock item: what was reckoned with, and where that number comes from."""

    name: str
    reckoned: str
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeLine:
    """One practice value that was used; `source` and `given_by` only where they are not the usual ones."""

    name: str
    value: str
    note: str
    source: str
    given_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumptions:
    """The context of the assumptions; `usual_source` is the source of practice values that name none."""

    stock: tuple[MeasuredStock, ...]
    facts: tuple[tuple[str, str], ...]
    practice: tuple[PracticeLine, ...]
    usual_source: str


def assumptions(setting: Setting) -> Assumptions:
    """Return the context of the assumptions."""
    used = practice_used(setting.project)
    usual = Counter(rule.source for rule in used).most_common(1)
    usual_source = usual[0][0] if usual else ""
    return Assumptions(
        stock=_stock(setting),
        facts=_facts(setting),
        practice=tuple(_line(rule, setting.printer, usual_source) for rule in used),
        usual_source=usual_source,
    )


def _stock(setting: Setting) -> tuple[MeasuredStock, ...]:
    out = []
    for item_id in sorted({row.stock for row in setting.rows}):
        item = setting.project.stock.get(item_id)
        if isinstance(item, Sheet):
            lot = f", lot {item.lot}" if item.lot else ""
            basis = f"measured{lot}" if item.measured is not None else "NOMINAL: measure first"
            out.append(MeasuredStock(name=item.name, reckoned=setting.printer.measured(item.thickness), basis=basis))
        elif isinstance(item, Board):
            out.append(MeasuredStock(name=item.name, reckoned=setting.printer.measured(item.dressed), basis="dressed"))
    return tuple(out)


def _facts(setting: Setting) -> tuple[tuple[str, str], ...]:
    project = setting.project
    room, wet = project.order.room, project.moisture
    facts = [
        (
            "air of the room",
            (
                f"{decimal(room.humidity_low, 0)} to {decimal(room.humidity_high, 0)} % relative humidity, "
                f"{setting.printer.in_both(f'{decimal(room.temperature, 0)} °C')}"
            ),
        ),
        (
            "moisture of the wood",
            (
                f"{decimal(wet.dry, 1)} % at the dry end, {decimal(wet.damp, 1)} % at the damp end, "
                f"{decimal(wet.fitted, 1)} % on the day of fitting (at {decimal(room.humidity_fitting, 0)} %)"
            ),
        ),
        ("load on each top", setting.printer.in_both(f"{decimal(project.order.use.top_load, 0)} kg")),
        ("shop", _shop(project.shop)),
    ]
    saws = (m for m in project.shop.machines.machines if m.kerf)
    return (*facts, *((f"kerf of the {saw.name}", setting.printer.measured(saw.kerf)) for saw in saws))


def _shop(shop: Shop) -> str:
    found = shop.found if shop.found == shop.file else f"from {shop.file} ({shop.found})"
    return f"{shop.name}, {found}"


def _line(rule: Rule, printer: Printer, usual_source: str) -> PracticeLine:
    return PracticeLine(
        name=rule.name,
        value=practice_value(rule, printer),
        note=printer.in_both(rule.note),
        source="" if rule.source == usual_source else rule.source,
        given_by="" if rule.given_by == "library" else rule.given_by,
    )


def practice_value(rule: Rule, printer: Printer) -> str:
    """Return a practice value as it is used: lengths exactly, not to the division."""
    if rule.unit == "mm":
        return printer.measured(rule.value)
    return printer.in_both(f"{rule.value:g}{'°' if rule.unit == 'deg' else f' {rule.unit}' if rule.unit else ''}")
