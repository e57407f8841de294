"""Finds and reads the shop file. What a file does not give comes from the built-in shop (except measurements)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.metadata import entry_points
from importlib.resources import files
from pathlib import Path

from pydantic import ValidationError

from casewright.findings import Finding
from casewright.shop.errors import ShopError
from casewright.shop.file_schema import MachineTable, PrintTable, ShopFile
from casewright.shop.files import UserFile, parse_user_text, read_user_file
from casewright.shop.lines import KeyPath
from casewright.shop.model import Shop
from casewright.shop.own_stock import with_own_stock
from casewright.shop.practice import library_practice, override
from casewright.shop.schema import did_you_mean, file_unit, findings_of, wrong
from casewright.shop.sizes import ROLE_KINDS, Measured, measure_first, stock_sizes
from casewright.shop.slices import Cutting, Hours, Machine, Machines, Offcut, Prices
from casewright.stock import Stock, load_stock, model
from casewright.units import INCHES, MILLIMETRES, LengthStyle

BUILT_IN = "built in"
Roles = dict[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopChoice:
    """Which shop file is used (None is the built-in shop), and why."""

    path: Path | None
    why: str


def find_shop(option: Path | None, named: str, order: Path | None) -> ShopChoice:
    """Return which shop serves: `--shop`, else the one named in the order, else shop.toml beside it, else built in."""
    folder = order.parent if order is not None else Path()
    if option is not None:
        return ShopChoice(path=option, why="--shop")
    if named:
        return ShopChoice(path=folder / named, why="order")
    beside = folder / "shop.toml"
    if order is not None and beside.is_file():
        return ShopChoice(path=beside, why="beside the order")
    return ShopChoice(path=None, why=BUILT_IN)


def load_shop(path: Path | str | None = None, why: str = "") -> Shop:
    """Return the shop of a file, or the built-in one. Raises ShopError with every finding."""
    if path is None:
        return built_in_shop()
    read = read_user_file(Path(path), "shop")
    if isinstance(read, Finding):
        raise ShopError((read,))
    return _shop(read, why or "--shop", _built_in_roles(), built_in_shop().machines, Path(path).parent)


def shop_from_text(text: str, name: str = "shop.toml", folder: Path | None = None) -> Shop:
    """Return the shop written in `text`, its drawings in `folder`. Raises ShopError with every finding."""
    read = parse_user_text(text, name, "shop")
    if isinstance(read, Finding):
        raise ShopError((read,))
    return _shop(read, "text", _built_in_roles(), built_in_shop().machines, folder)


@cache
def built_in_shop() -> Shop:
    """Return the built-in shop, read once."""
    return _shop(_built_in_file(), BUILT_IN, {}, Machines(machines=(), lift_one=0.0, lift_two=0.0))


@cache
def library() -> Stock:
    """Return the built-in stock and what installed plug-ins add to it, in the order of their names.

    An entry point of the group `casewright.stock` gives a text in TOML with `[stock]` tables as in a shop file.
    Raises ShopError with every finding about them.
    """
    stock = load_stock()
    for point in sorted(entry_points(group="casewright.stock"), key=lambda p: p.name):
        read = parse_user_text(str(point.load()), f"stock of plug-in {point.name}", "shop")
        if isinstance(read, Finding):
            raise ShopError((read,))
        stock, findings = with_own_stock(stock, read, {}, None)
        if findings:
            raise ShopError(findings)
    return stock


def read_roles(
    given: Mapping[str, list[str]], stock: Stock, file: UserFile, code: str, prefix: KeyPath
) -> tuple[Roles, tuple[Finding, ...]]:
    """Return item ids by role from a table of a file, and a finding for each role or item that is unknown or unfit."""
    roles: Roles = {}
    findings: list[Finding] = []
    for role, value in given.items():
        ids = tuple(value)
        problem = _role_problem(role, ids, stock)
        if problem is None:
            roles[role] = ids
        else:
            findings.append(wrong(file, f"{code}.{problem[0]}", (*prefix, role), problem[1], problem[2]))
    return roles, tuple(findings)


@cache
def _built_in_file() -> UserFile:
    text = (files("casewright.shop") / "data" / "default.toml").read_text(encoding="utf-8")
    read = parse_user_text(text, BUILT_IN, "shop")
    if isinstance(read, Finding):
        raise ShopError((read,))
    return read


def _built_in_roles() -> Roles:
    return dict(built_in_shop().roles)


def _shop(
    file: UserFile, why: str, default_roles: Roles, default_machines: Machines, folder: Path | None = None
) -> Shop:
    given = _validated(file)
    stock, stock_findings = with_own_stock(library(), file, given.prices, folder)
    roles, role_findings = read_roles(given.roles, stock, file, "shop", ("roles",))
    practice, practice_findings = override(library_practice(), given.practice, file, given.units, "shop")
    findings = (
        *stock_findings,
        # What names stock can be judged once the shop's own stock is right.
        *(() if stock_findings else (*role_findings, *_unknown_items(given, stock, file))),
        *practice_findings,
        *_print_problems(given, file),
    )
    if findings:
        raise ShopError(findings)
    merged = {**default_roles, **roles}
    measured = tuple(Measured(item=i, thickness=m.thickness, lot=m.lot) for i, m in sorted(given.measured.items()))
    sizes = stock_sizes(stock, merged, measured)
    return Shop(
        name=given.name,
        file=file.name,
        found=why,
        practice=practice,
        sizes=sizes,
        machines=_machines(given, default_machines),
        prices=_prices(given, stock),
        hours=Hours(**given.hours.model_dump()),
        cutting=_cutting(given),
        style=_style(given.print),
        roles=tuple(sorted(merged.items())),
        measured=measured,
        findings=measure_first(sizes),
        stock=stock,
    )


def _validated(file: UserFile) -> ShopFile:
    try:
        return ShopFile.model_validate(file.data, context={"unit": file_unit(file)})
    except ValidationError as error:
        raise ShopError(findings_of(error, ShopFile, file, "shop")) from None


def _role_problem(role: str, ids: tuple[str, ...], stock: Stock) -> tuple[str, str, str] | None:
    """Return (code, message, remedy) where `role` is unknown, or an id unknown or of a kind that cannot serve it."""
    if role not in ROLE_KINDS:
        return "unknown_role", f'unknown role "{role}"', did_you_mean(role, ROLE_KINDS)
    kinds = ROLE_KINDS[role].kinds
    fit = [i for i, item in stock.items.items() if isinstance(item, kinds)]
    if not ids:
        return "value", f'role "{role}" names no stock item', did_you_mean("", fit)
    for item_id in ids:
        item = stock.item(item_id)
        if item is None:
            return "unknown_stock", f'no stock item "{item_id}"', did_you_mean(item_id, fit)
        if not isinstance(item, kinds):
            wanted = " or ".join(k.__name__.lower() for k in kinds)
            return "unfit_stock", f'"{item_id}" is a {type(item).__name__.lower()}; expected a {wanted}', ""
    return None


def _unknown_items(given: ShopFile, stock: Stock, file: UserFile) -> tuple[Finding, ...]:
    items = stock.items
    unknown = [(table, i) for table in ("measured", "prices") for i in getattr(given, table) if i not in items]
    unfit = [i for i in given.measured if i in items and not isinstance(items[i], (model.Sheet, model.Board))]
    return (
        *(
            wrong(file, "shop.unknown_stock", (table, i), f'no stock item "{i}"', did_you_mean(i, items))
            for table, i in unknown
        ),
        *_unfit_offcuts(given, stock, file),
        *(
            wrong(file, "shop.unfit_stock", ("measured", i), f'"{i}" is neither a sheet nor a board', "leave it out")
            for i in unfit
        ),
    )


def _unfit_offcuts(given: ShopFile, stock: Stock, file: UserFile) -> Iterator[Finding]:
    sheets = [i for i, item in stock.items.items() if isinstance(item, model.Sheet)]
    for number, offcut in enumerate(given.offcut):
        if offcut.item not in sheets:
            place = ("offcut", number, "item")
            yield wrong(file, "shop.unfit_stock", place, f'no sheet "{offcut.item}"', did_you_mean(offcut.item, sheets))


def _print_problems(given: ShopFile, file: UserFile) -> tuple[Finding, ...]:
    division = given.print.division
    if division is not None and given.print.lengths != "mm" and division != int(division):
        message = f"got {division:g}; expected a whole number of parts of an inch, such as 32"
        return (wrong(file, "shop.value", ("print", "division"), message),)
    return ()


def _style(given: PrintTable) -> LengthStyle | None:
    """Return how the shop prints sizes, None where its file does not say."""
    if not given.model_fields_set:
        return None
    plain = MILLIMETRES if given.lengths == "mm" else INCHES
    return replace(plain, division=given.division or plain.division, feet=given.feet)


def _machines(given: ShopFile, default: Machines) -> Machines:
    machines = tuple(_machine(m) for m in given.machine) or default.machines
    return Machines(machines=machines, lift_one=given.lift.one_person, lift_two=given.lift.two_people)


def _machine(table: MachineTable) -> Machine:
    return Machine(**table.model_dump())


def _cutting(given: ShopFile) -> Cutting:
    layout = given.layout
    return Cutting(
        goals=tuple(dict.fromkeys(layout.goals)),
        stages=layout.stages,
        first_cut=layout.first_cut,
        offcuts=tuple(Offcut(**offcut.model_dump()) for offcut in given.offcut),
    )


def _prices(given: ShopFile, stock: Stock) -> Prices:
    listed = dict(stock.prices)
    for item_id, amount in given.prices.items():
        listed[item_id] = model.Price(
            amount=amount, per=listed[item_id].per, source="shop file", basis="set by the user"
        )
    money = given.money
    return Prices(
        currency=money.currency,
        items=tuple(sorted(listed.items(), key=lambda entry: entry[0])),
        handling=money.handling,
        overhead=money.overhead,
        margin=money.margin,
    )
