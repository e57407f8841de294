"""The other slices of a shop: machines and their limits, prices, hours. Each stage takes only what it reads."""

from __future__ import annotations

from casewright.stock import Price
from casewright.units.grid import record


@record
class Machine:
    """A machine with its limits in mm; None is no limit, or not known. `kerf` 0 is a machine that does not saw."""

    name: str
    kind: str  # "table saw", "planer" … (MachineKind of file_schema)
    kerf: float = 0.0
    rip_most: float | None = None  # widest rip: fence or track
    crosscut_most: float | None = None  # widest crosscut
    width_most: float | None = None  # widest stock (planer, jointer), highest cut (band saw)
    thickness_least: float | None = None
    length_least: float | None = None  # shortest piece that is safe


@record
class Machines:
    """The machines of a shop, and what its people can lift, in kg."""

    machines: tuple[Machine, ...]
    lift_one: float
    lift_two: float

    def of(self, kind: str) -> Machine | None:
        """Return the first machine of a kind, or None where the shop has none."""
        return next((m for m in self.machines if m.kind == kind), None)

    def kerf(self, *kinds: str) -> float:
        """Return the kerf in mm of the first machine of the first of `kinds` that the shop has, else 0."""
        return next((m.kerf for kind in kinds if (m := self.of(kind)) is not None), 0.0)


@record
class Offcut:
    """`count` pieces of a sheet on hand, mm, the grain along `length`."""

    item: str
    length: float
    width: float
    count: int


@record
class Cutting:
    """How the shop cuts sheets: goals by name, the first counts most; `stages` and `first_cut` None leave it open."""

    goals: tuple[str, ...] = ("cost", "offcuts", "remnant", "settings", "cuts")
    stages: int | None = None
    first_cut: str | None = None
    offcuts: tuple[Offcut, ...] = ()


@record
class Prices:
    """What stock costs, by item id, and the shares that make a price of a cost."""

    currency: str
    items: tuple[tuple[str, Price], ...]
    handling: float  # on materials
    overhead: float
    margin: float  # of the price

    def of(self, item_id: str) -> Price | None:
        """Return the price of an item, or None where the shop has none."""
        return dict(self.items).get(item_id)


@record
class Hours:
    """When the shop works and what an hour costs."""

    people: int
    per_day: float
    days: tuple[str, ...]  # "Mon" … "Sun"
    rate: float
