"""The wood of a drawer's parts, sheet or solid alike: material, thickness, and how much it moves across its grain."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.blanks import GlueUp
from casewright.design.blocks.top import Moisture
from casewright.design.draft import Material
from casewright.design.kit import Kit, KitError
from casewright.design.parts import Allowance, Placed
from casewright.shop.model import Practice
from casewright.stock.model import Board, Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """What a part is cut from: thickness in mm, and the movement across its grain per mm and % of moisture.

    `moves` is 0 for plywood, fibreboard and their like.
    """

    material: Material
    thickness: float
    moves: float = 0.0
    banded: bool = False
    what: str = "sheet"

    @property
    def solid(self) -> bool:
        """True for boards and for panels glued up of solid strips."""
        return self.moves > 0

    def swells(self, wet: Moisture, size: float) -> float:
        """Return how much a size across the grain grows from fitting day to the damp end, mm."""
        return max(0.0, self.moves * (wet.damp - wet.fitted) * size)

    def shrinks(self, wet: Moisture, size: float) -> float:
        """Return how much a size across the grain shrinks from fitting day to the dry end, mm."""
        return max(0.0, self.moves * (wet.fitted - wet.dry) * size)

    def range(self, wet: Moisture, size: float) -> float:
        """Return the whole movement of a size across the grain between the dry and the damp end, mm."""
        return self.moves * (wet.damp - wet.dry) * size


# Sheets whose cut edges are covered by a band; the edges of fibreboard are filled and sanded under paint.
BANDED = ("plywood", "particleboard", "melamine")


def wood_of(kit: Kit, role: str, finish: str = "", planed: float = 0.0) -> Wood:
    """Return the wood of a role. A board is dressed, or `planed` to a thickness if that is less.

    Raises KitError where the role is served by something else, or by a wood whose movement nobody knows.
    """
    material = kit.material(role, finish)
    item = kit.sizes.item(role)
    if isinstance(item, Board):
        thickness = min(item.dressed, planed) if planed else item.dressed
        return Wood(material=material, thickness=thickness, moves=_coefficient(kit, item), what="board")
    if not isinstance(item, Sheet):
        raise KitError(f"role {role!r}", "a sheet or board", type(item).__name__.lower())
    if item.material == "solid":
        return Wood(material=material, thickness=item.thickness, moves=_coefficient(kit, item), what="solid panel")
    return Wood(material=material, thickness=item.thickness, banded=item.material in BANDED)


def _coefficient(kit: Kit, item: Board | Sheet) -> float:
    """Return the tangential coefficient (flat-sawn: the larger, so the safe one)."""
    try:
        wood = kit.sizes.species(item)
    except KeyError as missing:
        raise KitError(item.id, "a species", str(missing.args[0])) from None
    if wood.tangential_coefficient is None:
        raise KitError(item.id, "a species with a movement coefficient", wood.name)
    return wood.tangential_coefficient


def glue_up(wood: Wood, width: float, practice: Practice) -> GlueUp | None:
    """Return how a solid part is glued up of strips, or None where one board gives its width."""
    if wood.what != "board" or width <= practice["top.board_width"]:
        return None
    return GlueUp(
        strip_min=practice["top.strip_width_least"],
        strip_max=practice["top.board_width"],
        jointing=practice["rough.glue_edge"],
    )


def over_size(made_of: GlueUp | None, practice: Practice) -> Allowance:
    """Return what a glue-up keeps over its final size until it is flattened; nothing for a single board or sheet."""
    if made_of is None:
        return Allowance()
    return Allowance(
        length=practice["rough.length"], width=practice["rough.width"], thickness=practice["rough.thickness"]
    )


def moves_of(kit: Kit, placed: Placed) -> float:
    """Return the movement coefficient of a part's stock across its grain, 0 where it is a sheet that does not move."""
    served = (i for _, items in kit.sizes.roles for i in items)
    item = next((i for i in served if i.id == placed.part.stock and isinstance(i, Board | Sheet)), None)
    if (
        not isinstance(item, Board | Sheet)
        or not item.species
        or (isinstance(item, Sheet) and item.material != "solid")
    ):
        return 0.0
    return kit.sizes.species(item).tangential_coefficient or 0.0
