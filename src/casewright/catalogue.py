"""The catalogue: every kind of piece and every check, as one value that is passed in.

Built-ins are listed here, one line each; an installed package adds its own under the entry-point group
`casewright.catalogue` (an entry point gives a `Catalogue`). Nothing registers itself on import.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib.metadata import entry_points

from casewright.checks import (
    assembly_arrival,
    assembly_glue,
    assembly_tools,
    attached,
    chains,
    collision,
    device,
    fastener_bite,
    fastener_edge,
    fastener_grain,
    fastener_load,
    fastener_meets,
    fastener_pockets,
    fastener_point,
    fit_around,
    fit_contents,
    fit_doors,
    fit_drawers,
    fit_hands,
    fit_pulls,
    fit_room,
    fit_shelf,
    gaps_tolerance,
    handed_pairs,
    looks_across,
    looks_edges,
    looks_faces,
    looks_grain,
    looks_heights,
    motion,
    movement_joints,
    movement_panels,
    movement_stock,
    racking,
    reach_levellers,
    reach_service,
    reach_slides,
    stability,
    strength_feet,
    strength_sag,
    strength_seat,
    visible_fasteners,
    weak_cuts,
)
from casewright.checks.model import Check, OrderCheck
from casewright.design.build import PieceBuilder
from casewright.design.pieces.bedside import build_bedside
from casewright.design.pieces.case import build_case
from casewright.order.model import PieceKind
from casewright.order.pieces.bedside import BEDSIDE
from casewright.order.pieces.case import CASE


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """What this installation can design and check."""

    kinds: tuple[PieceKind, ...] = ()
    builders: tuple[PieceBuilder, ...] = ()
    checks: tuple[Check, ...] = ()
    order_checks: tuple[OrderCheck, ...] = ()

    def plus(self, other: Catalogue) -> Catalogue:
        """Return both together. Raises ValueError where both have a kind or check of the same name."""
        joined = Catalogue(
            kinds=self.kinds + other.kinds,
            builders=self.builders + other.builders,
            checks=self.checks + other.checks,
            order_checks=self.order_checks + other.order_checks,
        )
        for names in (
            [k.kind for k in joined.kinds],
            [b.kind for b in joined.builders],
            [c.code for c in joined.checks] + [c.code for c in joined.order_checks],
        ):
            twice = sorted({n for n in names if names.count(n) > 1})
            if twice:
                raise ValueError(f"the catalogue has two entries named {', '.join(twice)}")
        return joined

    def builder(self, kind: str) -> PieceBuilder:
        """Return the builder of a kind. Raises KeyError for a kind without one."""
        for builder in self.builders:
            if builder.kind == kind:
                return builder
        raise KeyError(f"no builder for pieces of kind {kind!r}")


BUILT_IN = Catalogue(
    kinds=(BEDSIDE, CASE),
    builders=(
        PieceBuilder(kind="bedside", build=build_bedside),
        PieceBuilder(kind="case", build=build_case),
    ),
    checks=(
        collision.CHECK,
        attached.CHECK,
        chains.CHECK,
        motion.CHECK,
        assembly_arrival.CHECK,
        assembly_tools.CHECK,
        movement_joints.CHECK,
        strength_sag.CHECK,
        racking.CHECK,
        strength_feet.CHECK,
        strength_seat.CHECK,
        fastener_point.CHECK,
        fastener_bite.CHECK,
        fastener_edge.CHECK,
        fastener_meets.CHECK,
        fastener_pockets.CHECK,
        fastener_grain.CHECK,
        visible_fasteners.CHECK,
        stability.CHECK,
        movement_panels.CHECK,
        movement_stock.CHECK,
        device.CHECK,
        fit_drawers.CHECK,
        fit_doors.CHECK,
        fit_pulls.CHECK,
        fit_hands.CHECK,
        weak_cuts.CHECK,
        fit_shelf.CHECK,
        fit_room.CHECK,
        fit_around.CHECK,
        fit_contents.CHECK,
        gaps_tolerance.CHECK,
        handed_pairs.CHECK,
        reach_service.CHECK,
        reach_levellers.CHECK,
        reach_slides.CHECK,
        fastener_load.CHECK,
        looks_edges.CHECK,
        looks_faces.CHECK,
        looks_heights.CHECK,
        looks_grain.CHECK,
        assembly_glue.CHECK,
    ),
    order_checks=(looks_across.CHECK,),
)


def installed(group: str = "casewright.catalogue") -> Catalogue:
    """Return the built-in catalogue with what installed plug-ins add, in the order of their names."""
    catalogue = BUILT_IN
    for point in sorted(entry_points(group=group), key=lambda p: p.name):
        catalogue = catalogue.plus(point.load())
    return catalogue
