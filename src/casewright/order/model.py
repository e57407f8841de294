"""The order as plain frozen records, in mm, and the contract of a kind of piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from casewright.order.schema import StyleTable
from casewright.shop import Rule
from casewright.shop.schema import Table
from casewright.stock.sundries import Need
from casewright.units.grid import record
from casewright.units.printed import System

Roles = tuple[tuple[str, tuple[str, ...]], ...]  # stock item ids by role, sorted by role


@record
class Room:
    """Where the pieces will stand: relative humidity in %, temperature in °C, lengths in mm."""

    humidity_low: float
    humidity_high: float
    humidity_fitting: float
    temperature: float
    wood_moisture: float | None
    mattress_height: float | None
    skirting_height: float
    skirting_thickness: float
    socket_height: float | None
    plug_depth: float
    door_width: float | None
    stair_width: float | None


@record
class Use:
    """What the pieces are used for: loads on a top and in a drawer in kg, whether clothes are kept in them."""

    top_load: float
    clothes: bool
    drawer_load: float | None = None


@record
class Around:
    """What stands beside a piece: from its sides to a wall or a bed, mm; None where there is none.

    Left and right are those of the left-hand one of a pair. `contents` are names of `order/contents.py`.
    """

    wall_left: float | None = None
    wall_right: float | None = None
    bed_left: float | None = None
    bed_right: float | None = None
    contents: tuple[str, ...] = ()
    hung: float = 0.0  # its lower side above the floor, where it hangs on a wall

    def mirrored(self) -> Around:
        """Return what stands beside the right-hand one."""
        return replace(
            self,
            wall_left=self.wall_right,
            wall_right=self.wall_left,
            bed_left=self.bed_right,
            bed_right=self.bed_left,
        )


@record
class Style:
    """What the pieces share: names of paint and clear finish for the pages, whether rails line up."""

    paint: str
    top_finish: str
    line_up: bool = False


@record
class Acceptance:
    """A finding that the order accepts, with the value that was accepted, the reason and what that promises."""

    code: str
    path: str
    value: float | None
    reason: str
    needs: tuple[Need, ...] = ()
    place: str = field(default="", compare=False)


class PieceOrder(Protocol):
    """What every ordered piece has, whatever its kind."""

    @property
    def kind(self) -> str:
        """Name of the kind, for example "bedside"."""

    @property
    def name(self) -> str:
        """Name in paths; unique in the order."""

    @property
    def hands(self) -> tuple[str, ...]:
        """("left", "right") for a pair, one hand, or ("",) for a piece without a hand."""

    @property
    def count(self) -> int:
        """How many of each hand."""

    @property
    def roles(self) -> Roles:
        """Stock items that this piece takes in place of the order's and the shop's."""

    @property
    def place(self) -> str:
        """File and line, for example "order.toml:14"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What a kind of piece needs to know besides its own table."""

    room: Room
    use: Use
    style: StyleTable
    roles: Roles
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceKind:
    """A kind of piece: its schema, and how its checked table becomes a record. One entry of the catalogue."""

    kind: str
    what: str
    table: type[Table]
    read: Callable[[Any, Setting], PieceOrder]


@record
class Order:
    """A checked order. `practice` are the rules that it overrides; lengths in mm.

    `units` is the unit of its bare numbers, `written_in` the system of that unit where the file names it. `shop` is
    the shop file that it names, relative to its folder, or empty.
    """

    file: str
    title: str
    client: str
    due: str  # ISO date, or empty
    units: str
    shop: str
    room: Room
    use: Use
    style: Style
    pieces: tuple[PieceOrder, ...]
    practice: tuple[Rule, ...]
    roles: Roles
    accepted: tuple[Acceptance, ...]
    written_in: System | None = None
