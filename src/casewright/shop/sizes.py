"""Which stock item serves which role, with the thickness that was measured: the slice that designs read.

Holds no price. Roles and what may serve them stand in ROLES; an order may send a role to another item.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from functools import lru_cache
from typing import TypeVar

from casewright.findings import Finding, Severity
from casewright.stock import Item, Stock, fittings, model
from casewright.units.grid import key_of, record

T = TypeVar("T")


@record
class RoleKind:
    """A role: the kinds of stock that may serve it, and what it is."""

    role: str
    kinds: tuple[type, ...]
    what: str


_SHEET, _BOARD, _STICK = (model.Sheet,), (model.Board,), (model.Stick,)
_PANEL = (model.Sheet, model.Board)

ROLES: tuple[RoleKind, ...] = (
    RoleKind(role="case", kinds=_PANEL, what="sides, bottom, dividers and stretchers"),
    RoleKind(role="back", kinds=_SHEET, what="back panel"),
    RoleKind(role="face_frame", kinds=_BOARD, what="stiles and rails of the face frame"),
    RoleKind(role="drawer_side", kinds=_PANEL, what="four sides of the drawer box"),
    RoleKind(role="drawer_bottom", kinds=_PANEL, what="bottom of the drawer box"),
    RoleKind(role="drawer_front", kinds=_PANEL, what="false front of the drawer"),
    RoleKind(role="applied_moulding", kinds=_STICK, what="frame applied on a flat front"),
    RoleKind(role="door_frame", kinds=_BOARD, what="stiles and rails of doors"),
    RoleKind(role="door_panel", kinds=_PANEL, what="panel of doors"),
    RoleKind(role="door_panel_solid", kinds=_PANEL, what="solid panel of doors, free in its grooves"),
    RoleKind(role="door_slab", kinds=_PANEL, what="doors of one flat panel"),
    RoleKind(role="door_stop", kinds=_STICK, what="strip that a door closes against"),
    RoleKind(role="top", kinds=_PANEL, what="top"),
    RoleKind(role="crown", kinds=_STICK, what="crown moulding under the top"),
    RoleKind(role="base", kinds=_STICK, what="base moulding"),
    RoleKind(role="foot", kinds=_STICK, what="square blanks for feet"),
    RoleKind(role="block", kinds=_BOARD, what="corner blocks"),
    RoleKind(role="blocking", kinds=_BOARD, what="planed blocking behind a face frame"),
    RoleKind(role="slide", kinds=(model.Slide,), what="drawer slides in stock, any number"),
    RoleKind(role="hinge", kinds=(model.Hinge,), what="hinges of doors"),
    RoleKind(role="drawer_pull", kinds=(model.Pull,), what="knobs or pulls of drawers"),
    RoleKind(role="door_pull", kinds=(model.Pull,), what="knobs or pulls of doors"),
    RoleKind(role="catch", kinds=(model.Catch,), what="catches of doors"),
    RoleKind(role="strike", kinds=(fittings.Strike,), what="plates on doors that catches hold"),
    RoleKind(role="door_bolt", kinds=(fittings.DoorBolt,), what="bolts of pairs of doors"),
    RoleKind(role="bumper", kinds=(model.Bumper,), what="bumpers behind doors and drawers"),
    RoleKind(role="packing", kinds=(model.Bumper,), what="felt pads between a let-in device and its keeper"),
    RoleKind(role="leveller", kinds=(model.Leveller,), what="levelling feet"),
    RoleKind(role="insert", kinds=(model.Insert,), what="threaded inserts for levelling feet"),
    RoleKind(role="device", kinds=(model.Device,), what="let-in devices"),
    RoleKind(role="case_screw", kinds=(model.Screw,), what="screws of butted case joints"),
    RoleKind(role="block_screw", kinds=(model.Screw,), what="screws of blocks and blocking"),
    RoleKind(role="frame_screw", kinds=(model.Screw,), what="pocket screws in hardwood frames"),
    RoleKind(role="sheet_screw", kinds=(model.Screw,), what="pocket screws in sheet goods"),
    RoleKind(role="top_screw", kinds=(model.Screw,), what="washer-head screws in the slots of the top's fixing"),
    RoleKind(role="bottom_screw", kinds=(model.Screw,), what="pan-head screws of drawer bottoms"),
    RoleKind(role="front_screw", kinds=(model.Screw,), what="washer-head screws into false fronts and door battens"),
    RoleKind(role="pull_screw", kinds=(model.Screw,), what="machine screws of pulls"),
    RoleKind(role="pin", kinds=(model.Pin,), what="headless pins of small mouldings"),
    RoleKind(role="brad", kinds=(model.Pin,), what="brads of larger mouldings"),
    RoleKind(role="frame_dowel", kinds=(model.Dowel,), what="dowels of narrow frame members"),
    RoleKind(role="foot_dowel", kinds=(model.Dowel,), what="dowels that hold feet"),
    RoleKind(role="glue", kinds=(model.Glue,), what="glue of joints and panels"),
    RoleKind(role="corner_glue", kinds=(model.Glue,), what="quick glue of moulding corners"),
    RoleKind(role="insert_glue", kinds=(model.Glue,), what="glue of inserts in end grain"),
    RoleKind(role="primer", kinds=(model.Finish,), what="primer under paint"),
    RoleKind(role="paint", kinds=(model.Finish,), what="paint"),
    RoleKind(role="clear", kinds=(model.Finish,), what="clear finish of tops"),
    RoleKind(role="shelf", kinds=_PANEL, what="fixed and adjustable shelves"),
    RoleKind(role="plinth", kinds=_PANEL, what="plinth frame under a case"),
    RoleKind(role="fixing_rail", kinds=_PANEL, what="rail inside a case that is screwed to a wall"),
    RoleKind(role="spline", kinds=_PANEL, what="splines and keys of mitres"),
    RoleKind(role="breadboard", kinds=_BOARD, what="breadboard ends of a top"),
    RoleKind(role="top_panel", kinds=_SHEET, what="panel of a panelled top"),
    RoleKind(role="bracket_foot", kinds=_BOARD, what="bracket feet"),
    RoleKind(role="edge_band", kinds=(fittings.EdgeBand,), what="bands on the edges of sheet goods"),
    RoleKind(role="edging", kinds=_STICK, what="solid edging of shelves and tops"),
    RoleKind(role="corner_post", kinds=_STICK, what="corner posts"),
    RoleKind(role="drawer_runner", kinds=_STICK, what="wooden runners and guides of drawers"),
    RoleKind(role="astragal", kinds=_STICK, what="astragal of a pair of doors"),
    RoleKind(role="scribe", kinds=_STICK, what="scribing strip along a wall"),
    RoleKind(role="cleat", kinds=_STICK, what="wall cleats"),
    RoleKind(role="glass", kinds=_SHEET, what="glass of doors"),
    RoleKind(role="glass_bead", kinds=_STICK, what="beads that hold glass"),
    RoleKind(role="hanging_rod", kinds=_STICK, what="hanging rod of a wardrobe"),
    RoleKind(role="rod_end", kinds=(fittings.RodEnd,), what="sockets of a hanging rod"),
    RoleKind(role="under_slide", kinds=(fittings.UnderSlide,), what="under-mount drawer slides in stock, any number"),
    RoleKind(role="cup_hinge", kinds=(fittings.CupHinge,), what="concealed hinges in stock, for each way a door lies"),
    RoleKind(role="knife_hinge", kinds=(fittings.KnifeHinge,), what="knife hinges of doors"),
    RoleKind(role="lid", kinds=_PANEL, what="lids of seats and chests"),
    RoleKind(role="lid_hinge", kinds=(model.Hinge,), what="hinges of lids"),
    RoleKind(role="lid_stay", kinds=(fittings.LidStay,), what="stays of lids in stock, any number"),
    RoleKind(role="shelf_pin", kinds=(fittings.ShelfPin,), what="pins of adjustable shelves"),
    RoleKind(role="figure_plate", kinds=(fittings.FigurePlate,), what="figure plates that hold a solid top"),
    RoleKind(role="button", kinds=(fittings.Button,), what="buttons that hold a solid top"),
    RoleKind(role="wall_tie", kinds=(fittings.WallFixing,), what="what keeps a standing case from tipping"),
    RoleKind(role="wall_screw", kinds=(model.Screw,), what="screws into studs"),
    RoleKind(role="stain", kinds=(model.Finish,), what="stain under a clear finish"),
    RoleKind(role="barrier", kinds=(model.Finish,), what="barrier coat between stain and clear"),
    RoleKind(role="oil", kinds=(model.Finish,), what="oil finish"),
)

ROLE_KINDS: Mapping[str, RoleKind] = {r.role: r for r in ROLES}


@record
class StockSizes:
    """Stock items by role (several where the design chooses), all screws, and the species of the boards."""

    roles: tuple[tuple[str, tuple[Item, ...]], ...]
    screws: tuple[model.Screw, ...] = field(compare=False)  # the key below stands for them: they are many
    screws_key: str
    woods: tuple[model.Species, ...]
    _by_role: dict[str, tuple[Item, ...]] = field(init=False, compare=False, repr=False, default_factory=dict)

    def validate(self) -> None:
        """Index the items by role."""
        object.__setattr__(self, "_by_role", dict(self.roles))

    def sheet(self, role: str) -> model.Sheet:
        """Return the sheet that serves `role`."""
        return self.one(role, model.Sheet)

    def board(self, role: str) -> model.Board:
        """Return the board that serves `role`."""
        return self.one(role, model.Board)

    def stick(self, role: str) -> model.Stick:
        """Return the stick that serves `role`."""
        return self.one(role, model.Stick)

    def panel(self, role: str) -> model.Sheet | model.Board:
        """Return the sheet or board that serves `role`."""
        item = self.item(role)
        if not isinstance(item, (model.Sheet, model.Board)):
            raise KeyError(f"role {role!r} is served by a {type(item).__name__}, not by a sheet or board")
        return item

    def one(self, role: str, kind: type[T]) -> T:
        """Return the first item of `role`. Raises KeyError where there is none of that kind."""
        return self.all(role, kind)[0]

    def all(self, role: str, kind: type[T]) -> tuple[T, ...]:
        """Return every item of `role` that is of `kind`. Raises KeyError where there is none."""
        found = tuple(item for item in self.items(role) if isinstance(item, kind))
        if not found:
            raise KeyError(f"role {role!r} is not served by a {kind.__name__}")
        return found

    def item(self, role: str) -> Item:
        """Return the first choice of `role`. Raises KeyError for an unknown role."""
        return self.items(role)[0]

    def items(self, role: str) -> tuple[Item, ...]:
        """Return the items of `role`, first choice first. Raises KeyError for an unknown role."""
        if role not in self._by_role:
            raise KeyError(f"no role {role!r}")
        return self._by_role[role]

    def screw(self, item_id: str) -> model.Screw:
        """Return the screw that a piece of hardware names. Raises KeyError where there is none."""
        return next((s for s in self.screws if s.id == item_id), None) or _no_screw(item_id)

    def species(self, item: model.Board | model.Stick | model.Sheet) -> model.Species:
        """Return the species of a board, stick or solid panel. Raises KeyError where the stock has none."""
        found = next((w for w in self.woods if w.id == item.species), None)
        if found is None:
            raise KeyError(f"no species {item.species!r}")
        return found


def _no_screw(item_id: str) -> model.Screw:
    raise KeyError(f"no screw {item_id!r}")


def thickness_of(item: model.Sheet | model.Board) -> float:
    """Return the thickness to design with, in mm: measured for a sheet, dressed for a board."""
    return item.thickness if isinstance(item, model.Sheet) else item.dressed


@record
class Measured:
    """A thickness that was measured, in mm, and the lot that it was measured on."""

    item: str
    thickness: float
    lot: str = ""


def stock_sizes(stock: Stock, roles: Mapping[str, tuple[str, ...]], measured: tuple[Measured, ...]) -> StockSizes:
    """Return the sizes of the stock that serves `roles`, measured thicknesses applied.

    Ids must be known (see `role_problem`); raises KeyError for one that is not.
    """
    by_item = {m.item: m for m in measured}
    items = stock.items
    filled = tuple((role, tuple(_measured(items[i], by_item.get(i)) for i in roles[role])) for role in sorted(roles))
    wooden = (model.Board, model.Stick, model.Sheet)
    woods = {i.species for _, served in filled for i in served if isinstance(i, wooden) and i.species}
    screws = tuple(stock.screws.values())
    return StockSizes(
        roles=filled,
        screws=screws,
        screws_key=_key_of_screws(screws),
        woods=tuple(stock.species[w] for w in sorted(woods)),
    )


@lru_cache(maxsize=16)
def _key_of_screws(screws: tuple[model.Screw, ...]) -> str:
    return key_of(screws)


def _measured(item: Item, found: Measured | None) -> Item:
    if found is None:
        return item
    if isinstance(item, model.Sheet):
        return replace(item, measured=found.thickness, lot=found.lot)
    if isinstance(item, model.Board):
        return replace(item, dressed=found.thickness)
    return item


def measure_first(sizes: StockSizes) -> tuple[Finding, ...]:
    """Return a warning for each sheet that serves a role and is known by its nominal thickness alone."""
    unmeasured: dict[str, tuple[model.Sheet, list[str]]] = {}
    for role, served in sizes.roles:
        for item in served:
            if isinstance(item, model.Sheet) and item.measured is None:
                unmeasured.setdefault(item.id, (item, []))[1].append(role)
    return tuple(_measure(item, roles) for item, roles in unmeasured.values())


def _measure(item: model.Sheet, roles: list[str]) -> Finding:
    return Finding(
        code="stock.measure_first",
        severity=Severity.WARN,
        path=f"shop.measured.{item.id}",
        message=f"{item.name} ({', '.join(roles)}) is known by its nominal thickness alone",
        value=item.nominal,
        source="plywood is sold by nominal thickness; grooves, rabbets and drawers follow the measured one",
        remedy=f'measure the sheets and put "{item.id}" with the thickness under [measured] in the shop file',
    )
