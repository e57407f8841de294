"""Everything that can hurt, once more in one place, with the finishes' own hazards, and what has to be lifted."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.packet.document import piece_mass
from casewright.packet.hardware_list import finish_rows
from casewright.packet.pages.setting import Setting
from casewright.packet.printed import decimal
from casewright.solids.measure import mass_of
from casewright.stock.model import Sheet

POUND = 0.45359237  # kg, exact by definition
ONE, TWO = "one person", "two people"
HEAVIEST = 1  # parts of each piece that are named

GENERAL = (
    (
        "These pages say what to make, not how to be safe: the manual of each machine, the maker's sheet of each "
        "product and the local codes come first."
    ),
    "Wear eye and hearing protection at every machine, and a dust mask where wood is sanded. Guards stay on.",
    (
        "Use push sticks for narrow rips and a stop or clamp for short pieces. Cut short parts from long stock, "
        "and never against mitre fence and rip fence at once."
    ),
    (
        "Rabbets, grooves and tenons are sawn with the splitter off or low, as the saw's manual says: feather board, "
        "push blocks, hands never over the blade; the guard goes back on after them. A router is unplugged before its "
        "bit is touched."
    ),
    "Have the hardware in hand and measure the stock before cutting; write what is true into the assumptions' boxes.",
    "Do not scale the drawings. Where a printed size and a picture differ, the size is right.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """Something that is lifted: printed mass, and by how many people."""

    what: str
    mass: str
    lift: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """The context of the cautions; `limits` says what one and two people of the shop lift."""

    general: tuple[str, ...]
    steps: tuple[str, ...]
    products: tuple[tuple[str, str], ...]
    weights: tuple[Weight, ...]
    limits: str


def cautions(setting: Setting) -> Cautions:
    """Return the context of the cautions."""
    steps = dict.fromkeys(c.text for piece in setting.pieces for s in piece.steps for c in s.cautions)
    products = tuple((f.name, f.hazards) for f in finish_rows(setting.project) if f.hazards)
    machines = setting.project.shop.machines
    return Cautions(
        general=GENERAL,
        steps=tuple(steps),
        products=products,
        weights=(*_stock_weights(setting), *_piece_weights(setting)),
        limits=f"{mass_text(machines.lift_one)} for one, {mass_text(machines.lift_two)} for two",
    )


def mass_text(kg: float) -> str:
    """Return a mass in kg and lb."""
    return f"{decimal(kg, 1 if kg < 10 else 0)} kg ({decimal(kg / POUND, 1 if kg < 10 else 0)} lb)"


def _stock_weights(setting: Setting) -> list[Weight]:
    """Return the weight of each whole sheet that is bought."""
    out = []
    for laid in setting.project.layouts:
        item = setting.project.stock.get(laid.need.item)
        if isinstance(item, Sheet):
            kg = item.length * item.width * item.thickness * 1e-9 * item.density
            out.append(_weight(setting, f"a whole sheet of {item.name}", kg))
    return out


def _piece_weights(setting: Setting) -> list[Weight]:
    out = []
    for piece in setting.pieces:
        cache = setting.project.cache
        out.append(_weight(setting, piece.title, piece_mass(setting.project, piece)))
        heavy = sorted(((mass_of(p.thing, cache), p.name) for p in piece.placed), reverse=True)[:HEAVIEST]
        out += [_weight(setting, f"{piece.title}: {name}", kg) for kg, name in heavy]
    return out


def _weight(setting: Setting, what: str, kg: float) -> Weight:
    return Weight(what=what, mass=mass_text(kg), lift=lifted_by(setting, kg))


def lifted_by(setting: Setting, kg: float) -> str:
    """Return how many people of the shop lift a mass."""
    machines = setting.project.shop.machines
    if kg > machines.lift_two:
        return "more than two people, or a hoist"
    return ONE if kg <= machines.lift_one else TWO
