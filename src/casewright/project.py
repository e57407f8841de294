"""The whole program on one screen: an order and a shop in, everything computed from them, each stage once.

    order + shop → design → checks
                        └→ marks → needs → layouts

Stages are pure; the cache lives outside and is shared, so a change of one size recomputes what depends on it. A
piece is designed, checked and laid out under any name (see `design/paths.py`): equal pieces cost no more than one.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from casewright.accepting import accepted
from casewright.cache import Cache
from casewright.catalogue import BUILT_IN, Catalogue
from casewright.checks.model import Check, Subject, run_checks, run_order_checks
from casewright.demand import StockNeed, needs
from casewright.design.assembly import Assembly, PieceDesign
from casewright.design.blocks.top import Moisture
from casewright.design.build import design_piece, handed, moisture_of, nameless, piece_path
from casewright.design.joints.auto import able
from casewright.design.kit import Kit
from casewright.design.line_up import lead
from casewright.design.marks import Mark, assign_marks, mark_key
from casewright.design.mirror import mirror_finding, mirrored_findings, swap_hands
from casewright.design.parts import Part, Placed
from casewright.design.paths import ANY, own_finding, own_piece
from casewright.findings import Finding, worst_first
from casewright.layouts import Budget, LaidOut, lay_out
from casewright.order.fitting import practice_for, roles_for, shop_findings, sizes_for
from casewright.order.model import Around, Order, PieceOrder
from casewright.order.pieces.case import CaseOrder
from casewright.roles_used import unused_roles
from casewright.shop.model import Practice, Shop
from casewright.stock.model import Item
from casewright.units import INCHES, MILLIMETRES, LengthStyle
from casewright.units.grid import key_of

NO_OVERRIDES: Mapping[str, Mapping[str, float]] = {}
DEFAULT_BUDGET = Budget()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ordered:
    """One piece of the order: its own path, and the left piece of any name that it is designed and checked as.

    Equal pieces share `key` and `left`, whatever they are called.
    """

    path: str
    hand: str
    count: int
    place: str
    key: str
    left: PieceDesign
    kit: Kit
    around: Around


class Project:
    """Everything that follows from one order and one shop; each attribute is computed once, on demand.

    `overrides` are measured sizes by piece path and ledger name. `marks_before` maps mark keys to labels that have
    been printed already. `budget` bounds the layout searches in steps.
    """

    def __init__(
        self,
        order: Order,
        shop: Shop,
        cache: Cache | None = None,
        *,
        catalogue: Catalogue = BUILT_IN,
        overrides: Mapping[str, Mapping[str, float]] = NO_OVERRIDES,
        marks_before: Mapping[str, str] | None = None,
        budget: Budget = DEFAULT_BUDGET,
    ) -> None:
        self.order = order
        self.shop = shop
        self.cache = cache if cache is not None else Cache()
        self.catalogue = catalogue
        self.budget = budget
        self._overrides = overrides
        self._marks_before = marks_before
        self._kits: dict[Hashable, tuple[Kit, str]] = {}

    @property
    def inputs(self) -> tuple[Order, Shop, dict[str, Any]]:
        """What it was made from but cache and budget: enough for the same design in another process."""
        given = {"catalogue": self.catalogue, "overrides": self._overrides, "marks_before": self._marks_before}
        return self.order, self.shop, given

    @property
    def style(self) -> LengthStyle:
        """How sizes are printed: as the shop says, else in the unit that the order is written in, else in inches."""
        return self.shop.style or (MILLIMETRES if self.order.written_in == "mm" else INCHES)

    @cached_property
    def practice(self) -> Practice:
        """The shop's practice with the order's own values."""
        return practice_for(self.order, self.shop)

    @cached_property
    def moisture(self) -> Moisture:
        """Moisture contents of the wood in the order's room."""
        return moisture_of(self.order.room)

    @cached_property
    def assembly(self) -> Assembly:
        """Every piece of the order; the order of its pieces does not matter to any of them."""
        return Assembly(pieces=tuple(self._piece(o) for o in self._ordered))

    def _piece(self, o: _Ordered) -> PieceDesign:
        return replace(own_piece(self._handed(o), o.path, o.place), count=o.count)

    @cached_property
    def _ordered(self) -> tuple[_Ordered, ...]:
        return tuple(self._designed(spec, hand) for spec in self._lined_up for hand in spec.hands)

    @cached_property
    def _lined_up(self) -> tuple[PieceOrder, ...]:
        """What is ordered; where the order asks for it, cases of one height with the rails that they follow."""
        cases = [spec for spec in self.order.pieces if isinstance(spec, CaseOrder)]
        if not self.order.style.line_up or len(cases) < 2:
            return self.order.pieces
        led = iter(
            lead(
                cases,
                self._unled,
                lambda case: key_of(nameless(case), self._kit(case)[1]),
                self.practice["style.reach"],
            )
        )
        return tuple(next(led) if isinstance(spec, CaseOrder) else spec for spec in self.order.pieces)

    def _unled(self, case: CaseOrder) -> PieceDesign:
        return self._designed(case, case.hands[0]).left

    def _designed(self, spec: PieceOrder, hand: str) -> _Ordered:
        path = piece_path(spec.name, hand)
        kit, kit_key = self._kit(spec)
        overrides = self._measured(path, hand)
        any_name = nameless(spec)
        key = key_of(any_name, kit_key, self.moisture, overrides)

        def design() -> PieceDesign:
            return design_piece(self.catalogue.builder(spec.kind), any_name, ANY, kit, self.moisture, overrides)

        left = self.cache.made("design", key, design)
        around: Around = getattr(spec, "around", Around())  # a plug-in's piece may know of none
        return _Ordered(
            path=path, hand=hand, count=spec.count, place=spec.place, key=key, left=left, kit=kit, around=around
        )

    def _measured(self, path: str, hand: str) -> dict[str, float]:
        """Measured sizes of a piece under the names that they have in the left one, which is the one designed."""
        given = self._overrides.get(path, {})
        return {swap_hands(name) if hand == "right" else name: value for name, value in given.items()}

    def _handed(self, o: _Ordered) -> PieceDesign:
        """Return the piece in its hand, still under any name."""
        return self.cache.made("handed", (o.key, o.hand), lambda: handed(o.left, o.hand))

    def _kit(self, spec: PieceOrder) -> tuple[Kit, str]:
        """Return what a piece is built from, and its key; pieces with the same roles share them."""
        roles = roles_for(self.order, spec, self.shop)
        if roles not in self._kits:
            abilities = able(self.shop.machines)
            kit = Kit(sizes=sizes_for(self.order, spec, self.shop), practice=self.practice, abilities=abilities)
            self._kits[roles] = kit, key_of(kit.sizes, kit.practice, kit.abilities)
        return self._kits[roles]

    @cached_property
    def _different(self) -> tuple[PieceDesign, ...]:
        """Every different piece once, under any name, with the count of all that are equal to it."""
        counts: dict[tuple[str, str], int] = {}
        first: dict[tuple[str, str], _Ordered] = {}
        for o in self._ordered:
            counts[o.key, o.hand] = counts.get((o.key, o.hand), 0) + o.count
            first.setdefault((o.key, o.hand), o)
        return tuple(replace(self._handed(o), count=counts[same]) for same, o in first.items())

    @cached_property
    def marks(self) -> dict[str, Mark]:
        """Marks by mark key, allotted by first appearance."""
        return assign_marks([p for piece in self._different for p in piece.placed], self._marks_before)

    def mark_of(self, placed: Placed) -> Mark | None:
        """Return the mark of a placed part, None for hardware."""
        return self.marks[mark_key(placed.thing)] if isinstance(placed.thing, Part) else None

    @cached_property
    def stock(self) -> dict[str, Item]:
        """Every stock item by id, with the sizes that this shop measured."""
        items = dict(self.shop.stock.items)
        for spec in self.order.pieces:
            for _, served in self._kit(spec)[0].sizes.roles:
                items.update({item.id: item for item in served})
        return items

    @cached_property
    def needs(self) -> tuple[StockNeed, ...]:
        """What is cut from each stock item."""
        shop = self.shop
        return needs(self._different, self.marks, self.stock, self.practice, shop.machines, shop.prices, shop.cutting)

    @cached_property
    def layouts(self) -> tuple[LaidOut, ...]:
        """A verified layout for each stock item."""
        return tuple(lay_out(need, self.cache, self.budget) for need in self.needs)

    @cached_property
    def piece_findings(self) -> tuple[Finding, ...]:
        """Findings of the design and of every check, on every piece."""
        return tuple(own_finding(f, o.path, o.place) for o in self._ordered for f in self._found(o))

    def _found(self, o: _Ordered) -> tuple[Finding, ...]:
        """Return what is found on a piece of any name.

        Checks that a mirror does not change run on the left piece, whichever hand is wanted.
        """
        symmetric = tuple(c for c in self.catalogue.checks if c.symmetric)
        found = self._run(symmetric, o, o.left, o.key)
        if o.hand == "right":
            found = (*mirrored_findings(o.left), *(mirror_finding(f, o.left.cells) for f in found))
        else:
            found = (*o.left.findings, *found)
        handed_ones = tuple(c for c in self.catalogue.checks if not c.symmetric)
        return found + (self._run(handed_ones, o, self._handed(o), (o.key, o.hand)) if handed_ones else ())

    def _run(self, checks: tuple[Check, ...], o: _Ordered, piece: PieceDesign, key: Hashable) -> tuple[Finding, ...]:
        codes = tuple(c.code for c in checks)
        whole_key = (key, codes, self._around_key)
        return self.cache.made("checks", whole_key, lambda: run_checks(checks, self._subject(o, piece)))

    @cached_property
    def _around_key(self) -> str:
        """The key of what checks read and designs do not; kit and moisture are in the design's own key."""
        return key_of(self.order.room, self.order.use, self.shop.machines)

    def _subject(self, o: _Ordered, piece: PieceDesign) -> Subject:
        """Return what checks read of a piece, in its own hand or as the left one that it is checked as."""
        return Subject(
            piece=piece,
            practice=self.practice,
            cache=self.cache,
            room=self.order.room,
            use=self.order.use,
            moisture=self.moisture,
            sizes=o.kit.sizes,
            machines=self.shop.machines,
            around=o.around if o.hand != "right" or piece is o.left else o.around.mirrored(),
        )

    def subject(self, path: str) -> Subject:
        """Return what checks read of the piece at `path`. Raises KeyError where the order has none."""
        for o in self._ordered:
            if o.path == path:
                return self._subject(o, self._piece(o))
        raise KeyError(f"no piece {path!r}")

    @cached_property
    def order_findings(self) -> tuple[Finding, ...]:
        """Findings of the checks that compare the pieces of the order."""
        first = {o.key: o for o in reversed(self._ordered)}
        subjects = [self._subject(o, self._piece(o)) for o in reversed(first.values())]
        return run_order_checks(self.catalogue.order_checks, subjects)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """The union of every stage's findings, worst first, those that the order accepts marked so."""
        found = [*self.shop.findings, *shop_findings(self.order, self.shop)]
        found += [*self.piece_findings, *self.order_findings]
        names = [spec.name for spec in self.order.pieces for _ in spec.hands]
        designs = (self._handed(o) for o in self._ordered)  # under any name: what they are made of is the same
        found += unused_roles(self.order, zip(names, designs, strict=True), self.shop.stock)
        found += [f for laid in self.layouts for f in laid.findings]
        return worst_first(accepted(found, self.order.accepted))

    @property
    def stops(self) -> tuple[Finding, ...]:
        """Findings that stop and that nobody accepted."""
        return tuple(f for f in self.findings if f.stops)
