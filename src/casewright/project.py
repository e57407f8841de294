"""The whole program on one screen: an order and a shop in, everything computed from them, each stage once.

    order + shop → design → checks
                        └→ marks → needs → layouts

Stages are pure; the cache lives outside and is shared, so a change of one size recomputes what depends on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from casewright.accepting import accepted
from casewright.cache import Cache
from casewright.catalogue import BUILT_IN, Catalogue
from casewright.checks.model import Subject, run_checks
from casewright.demand import StockNeed, needs
from casewright.design.assembly import Assembly, PieceDesign
from casewright.design.blocks.top import Moisture
from casewright.design.build import design_piece, moisture_of, piece_path
from casewright.design.kit import Kit
from casewright.design.marks import Mark, assign_marks, mark_key
from casewright.design.parts import Part, Placed
from casewright.findings import Finding, worst_first
from casewright.layouts import Budget, LaidOut, lay_out
from casewright.order.fitting import practice_for, shop_findings, sizes_for
from casewright.order.model import Order, PieceOrder
from casewright.shop.model import Practice, Shop
from casewright.stock.model import Item
from casewright.stock.reading import load_stock
from casewright.units.grid import key_of

NO_OVERRIDES: Mapping[str, Mapping[str, float]] = {}
DEFAULT_BUDGET = Budget()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """One design of the order: which piece, which hand, its path."""

    spec: PieceOrder
    hand: str
    path: str


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
        return Assembly(pieces=tuple(self._designed(job) for job in self._jobs()))

    def _jobs(self) -> list[_Job]:
        return [
            _Job(spec=spec, hand=hand, path=piece_path(spec.name, hand))
            for spec in self.order.pieces
            for hand in spec.hands
        ]

    def _designed(self, job: _Job) -> PieceDesign:
        kit = Kit(sizes=sizes_for(self.order, job.spec, self.shop), practice=self.practice)
        overrides = dict(self._overrides.get(job.path, {}))
        key = key_of(job.spec, job.path, kit.sizes, kit.practice, self.moisture, overrides)

        def design() -> PieceDesign:
            builder = self.catalogue.builder(job.spec.kind)
            return design_piece(builder, job.spec, job.hand, job.path, kit, self.moisture, overrides)

        return replace(self.cache.made("design", key, design), count=job.spec.count, place=job.spec.place)

    @cached_property
    def marks(self) -> dict[str, Mark]:
        """Marks by mark key, allotted by first appearance."""
        return assign_marks([p for piece in self.assembly.pieces for p in piece.placed], self._marks_before)

    def mark_of(self, placed: Placed) -> Mark | None:
        """Return the mark of a placed part, None for hardware."""
        return self.marks[mark_key(placed.thing)] if isinstance(placed.thing, Part) else None

    @cached_property
    def stock(self) -> dict[str, Item]:
        """Every stock item by id, with the sizes that this shop measured."""
        items = dict(load_stock().items)
        for piece in self.order.pieces:
            for _, served in sizes_for(self.order, piece, self.shop).roles:
                items.update({item.id: item for item in served})
        return items

    @cached_property
    def needs(self) -> tuple[StockNeed, ...]:
        """What is cut from each stock item."""
        return needs(self.assembly.pieces, self.marks, self.stock, self.practice, self.shop.machines, self.shop.prices)

    @cached_property
    def layouts(self) -> tuple[LaidOut, ...]:
        """A verified layout for each stock item."""
        return tuple(lay_out(need, self.cache, self.budget) for need in self.needs)

    @cached_property
    def piece_findings(self) -> tuple[Finding, ...]:
        """Findings of the design and of every check, on every piece."""
        out: list[Finding] = []
        for piece in self.assembly.pieces:
            subject = Subject(piece=piece, practice=self.practice, cache=self.cache)
            key = key_of(piece.path, _shape(piece), self.practice, [c.code for c in self.catalogue.checks])
            checked = self.cache.made("checks", key, lambda s=subject: run_checks(self.catalogue.checks, s))  # type: ignore[misc]
            out += [*piece.findings, *checked]
        return tuple(out)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """The union of every stage's findings, worst first, those that the order accepts marked so."""
        found = [*self.shop.findings, *shop_findings(self.order, self.shop), *self.piece_findings]
        found += [f for laid in self.layouts for f in laid.findings]
        return worst_first(accepted(found, self.order.accepted))

    @property
    def stops(self) -> tuple[Finding, ...]:
        """Findings that stop and that nobody accepted."""
        return tuple(f for f in self.findings if f.stops)


def _shape(piece: PieceDesign) -> str:
    """Return a key of everything that the checks read of a piece."""
    things = [(p.path, p.thing.key, p.frame) for p in piece.placed]
    return key_of(
        things, piece.joints, piece.fasteners, piece.keepouts, piece.chains, piece.fits, piece.motions, piece.steps
    )
