"""The schema of a shop file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from casewright.shop.schema import Length, LengthOrZero, Table, Text, UnitName

Day = Literal["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
MachineKind = Literal[
    "table saw",
    "track saw",
    "mitre saw",
    "band saw",
    "panel saw",
    "planer",
    "jointer",
    "router",
    "drill",
    "pocket jig",
    "sander",
]
LayoutGoal = Literal["cost", "offcuts", "remnant", "settings", "cuts"]
Share = Annotated[float, Field(ge=0, lt=1)]
Amount = Annotated[float, Field(ge=0, le=1_000_000)]


class PrintTable(Table):
    """How sizes are printed. Without this table each order is printed in the unit that it is written in."""

    lengths: Literal["in", "mm"] | None = Field(
        default=None,
        description="unit of printed sizes, whatever orders are written in; inches where only `division` or `feet` is "
        "given",
    )
    division: float | None = Field(
        default=None,
        gt=0,
        le=128,
        description="parts of an inch (32 is 1/32 in), or the step in mm (0.5); without it, 32 in inches and 0.5 in mm",
    )
    feet: bool = Field(default=False, description="print a foot and more as feet and inches")


class MeasuredTable(Table):
    """A measured thickness and the lot that it was measured on."""

    thickness: Length = Field(description="what the callipers said")
    lot: Text = Field(default="", description="which delivery")


def _as_measured(value: object) -> object:
    return value if isinstance(value, dict) else {"thickness": value}


def _as_list(value: object) -> object:
    return [value] if isinstance(value, str) else value


MeasuredValue = Annotated[MeasuredTable, BeforeValidator(_as_measured)]
Items = Annotated[list[str], BeforeValidator(_as_list)]


class MachineTable(Table):
    """A machine and its limits."""

    name: Text = Field(description="what the shop calls it")
    kind: MachineKind = Field(description="kind of machine")
    kerf: LengthOrZero = Field(default=0.0, description="width of the cut")
    rip_most: Length | None = Field(default=None, description="widest rip")
    crosscut_most: Length | None = Field(default=None, description="widest crosscut")
    width_most: Length | None = Field(default=None, description="widest stock; for a band saw, highest")
    thickness_least: Length | None = Field(default=None, description="thinnest stock that is safe")
    length_least: Length | None = Field(default=None, description="shortest stock that is safe")


class LiftTable(Table):
    """What people can lift."""

    one_person: float = Field(default=25, gt=0, le=200, description="kg")
    two_people: float = Field(default=45, gt=0, le=400, description="kg")


class HoursTable(Table):
    """When the shop works."""

    people: int = Field(default=1, ge=1, le=50, description="people at the benches")
    per_day: float = Field(default=7.5, gt=0, le=24, description="hours a day and person")
    days: tuple[Day, ...] = Field(
        default=("Mon", "Tue", "Wed", "Thu", "Fri"), min_length=1, strict=False, description="working days"
    )
    rate: Amount = Field(default=68.0, description="price of an hour")


class MoneyTable(Table):
    """What makes a price of a cost."""

    currency: Text = Field(default="USD", description="currency of every price")
    handling: Annotated[float, Field(ge=0, le=5)] = Field(default=0.15, description="added to materials, as a share")
    overhead: Annotated[float, Field(ge=0, le=5)] = Field(default=0.0, description="added to cost, as a share")
    margin: Share = Field(default=0.15, description="share of the price that is profit")


class LayoutTable(Table):
    """What sheet layouts aim at, and how sheets are cut."""

    goals: list[LayoutGoal] = Field(
        default=["cost", "offcuts", "remnant", "settings", "cuts"],
        min_length=1,
        description="what counts, the most important first: cost of stock bought, offcuts used up, one large rest, "
        "few fence settings, few cuts and turns",
    )
    stages: int | None = Field(default=None, ge=1, le=50, description="most changes of direction; any, if not given")
    first_cut: Literal["rip", "crosscut"] | None = Field(default=None, description="direction of a sheet's first cut")


class OffcutTable(Table):
    """Pieces of a sheet on hand, the grain along the length."""

    item: Text = Field(description="stock item: a sheet")
    length: Length = Field(description="along the grain")
    width: Length = Field(description="across the grain")
    count: int = Field(default=1, ge=1, le=1000, description="how many there are")


class ShopFile(Table):
    """A shop: what it has, how it works, what things cost."""

    format: Literal[1] = Field(description="format of this file")
    name: Text = Field(default="the shop", description="name on the pages")
    units: UnitName = Field(default="mm", description="unit of a number without one in this file")
    print: PrintTable = Field(default=PrintTable(), description="how sizes are printed")
    roles: dict[str, Items] = Field(default={}, description="stock item by role; a list where the design may choose")
    measured: dict[str, MeasuredValue] = Field(
        default={}, description="measured thickness by stock item, or a table with thickness and lot"
    )
    stock: dict[str, dict[str, dict[str, Any]]] = Field(
        default={}, description="stock of the shop's own by kind and name, such as `[stock.sheets.my-ply]`; see below"
    )
    prices: dict[str, Amount] = Field(default={}, description="price by stock item, for what it is sold by")
    practice: dict[str, Any] = Field(default={}, description="practice values that differ from the library's")
    machine: list[MachineTable] = Field(default=[], description="machines; with none, those of the built-in shop")
    lift: LiftTable = Field(default=LiftTable(), description="what people can lift")
    layout: LayoutTable = Field(default=LayoutTable(), description="what sheet layouts aim at")
    offcut: list[OffcutTable] = Field(default=[], description="offcuts of sheets on hand, used before new sheets")
    hours: HoursTable = Field(default=HoursTable(), description="working hours")
    money: MoneyTable = Field(default=MoneyTable(), description="currency and shares")
