"""Everything that can hurt, once more in one place, with the finishes' own hazards."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.packet.hardware_list import finish_rows
from casewright.packet.pages.setting import Setting

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
    "Have the hardware in hand and measure the stock before cutting; write what is true into the assumptions' boxes.",
    "Do not scale the drawings. Where a printed size and a picture differ, the size is right.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """The context of the cautions."""

    general: tuple[str, ...]
    steps: tuple[str, ...]
    products: tuple[tuple[str, str], ...]


def cautions(setting: Setting) -> Cautions:
    """Return the context of the cautions."""
    steps = dict.fromkeys(c for piece in setting.pieces for s in piece.steps for c in s.cautions)
    products = tuple((f.name, f.hazards) for f in finish_rows(setting.project) if f.hazards)
    return Cautions(general=GENERAL, steps=tuple(steps), products=products)
