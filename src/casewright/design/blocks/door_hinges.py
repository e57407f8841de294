"""Which hinges a door can hang on, how many it takes, where they stand, and the line that it turns about.

Number by height: two to 900 mm, three to 1600, four to 2000, five above (common practice, from memory); more where the
door is too heavy for them, by the load that the hinge's own data give for a pair.
"""

from __future__ import annotations

import math

from casewright.design.blocks.body import Body
from casewright.design.blocks.door_butts import hang_on_butts
from casewright.design.blocks.door_cups import BLOCK_LONG, cup_for, hang_on_cups
from casewright.design.blocks.door_knives import hang_on_knives, knife_for, pivot_in
from casewright.design.blocks.door_leaf import DoorSpec, Hinging, Leaf, LeafKind
from casewright.design.blocks.door_slab import slab_stock
from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.design.kit import Kit
from casewright.design.parts import Part
from casewright.findings import Severity
from casewright.stock.model import Hinge

MOST = 5
# Straight knife hinges also hang doors that lap over the sides alone, between a top and a bottom that reach as far
# forward as the door's face; doors here that lap cover all four edges of their opening.
OVERLAY = {
    Hinging.BUTT: "butt hinges need a door that lies in its opening",
    Hinging.KNIFE: "knife hinges are let into what lies over and under the door, in line with it; a door that laps has "
    "nothing there",
}


def hinges_suit(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> bool:
    """True where this kind of hinge can carry this kind of door; else a finding that says what can."""
    if spec.hinging is Hinging.CUP:
        return cup_for(d, kit, leaf, spec) is not None
    if not spec.placed.inset:
        return _refuse(d, leaf, "overlay", OVERLAY[spec.hinging])
    if spec.kind is LeafKind.SLAB and not slab_stock(kit, spec).solid:
        return _refuse(d, leaf, "sheet", "screws do not hold in the edges of sheet goods")
    return spec.hinging is not Hinging.KNIFE or knife_for(d, kit, leaf, spec) is not None


def _refuse(d: Draft, leaf: Leaf, why: str, message: str) -> bool:
    d.find(
        f"door.hinge_{why}",
        Severity.STOP,
        leaf.g,
        message,
        source="common practice",
        remedy="cup hinges"
        if why == "sheet"
        else 'fronts.mount = "inset", or cup hinges, which hang doors that lap (fronts.hinge = "cup" or "auto")',
    )
    return False


def hang_leaf(d: Draft, kit: Kit, body: Body, opening: Opening, leaf: Leaf, spec: DoorSpec) -> None:
    """Place a leaf's hinges with their beds, bores and screws; findings where there is no room or too much weight."""
    if spec.hinging is Hinging.KNIFE:
        knife = knife_for(d, kit, leaf, spec)
        if knife is not None and _borne(d, leaf, 2, knife.load):
            hang_on_knives(d, kit, leaf, spec, knife)
        return
    cup = cup_for(d, kit, leaf, spec) if spec.hinging is Hinging.CUP else None
    butt = kit.role("hinge", Hinge)
    load, size = (cup.hinge.load, cup.hinge.screw_spacing + 10.0) if cup else (butt.load, butt.height)
    count = spec.hinges or count_for(d, leaf, load)
    if not _borne(d, leaf, count, load):
        return
    end = max(d.practice["door.cup_end"], spec.rail + size / 2 if spec.framed else 0.0)
    blocks = cup is not None and body.frame > 0 and cup.hinge.host == "wall"
    apart = BLOCK_LONG if blocks else d.practice["door.hinge_apart"] * size
    inset = end if cup else _end(d, leaf, count, size, apart) + size / 2
    heights = _heights(d, leaf, count, inset, apart)
    if heights is None:
        return
    if cup:
        hang_on_cups(d, kit, body, opening, leaf, spec, cup, heights)
    else:
        hang_on_butts(d, kit, leaf, spec, butt, heights)


def _end(d: Draft, leaf: Leaf, count: int, size: float, apart: float) -> float:
    """Return how far hinges `size` mm high stand from the ends of a leaf: by practice, nearer on a low leaf."""
    room = (leaf.z[1] - leaf.z[0] - (count - 1) * apart - size) / 2
    wanted = d.practice["door.hinge_end"]
    return max(min(wanted, room), min(wanted, d.practice["door.hinge_end_least"]))


def count_for(d: Draft, leaf: Leaf, load: float) -> int:
    """Return the number of hinges for a leaf; `load` is what a pair of them bears, kg."""
    p = d.practice
    limits = (p["door.two_hinges_to"], p["door.three_hinges_to"], p["door.four_hinges_to"])
    by_height = 2 + sum(leaf.height > limit for limit in limits)
    return max(by_height, min(MOST, math.ceil(leaf_mass(d, leaf) / (load / 2))))


def leaf_mass(d: Draft, leaf: Leaf) -> float:
    """Return the mass of a leaf from its blanks, kg: what is cut from them is left in, to be on the safe side."""
    total = 0.0
    for path in d.under(leaf.g):
        thing = d.at(path.removeprefix(d.path + "/")).thing
        if isinstance(thing, Part):
            size = thing.blank.size
            total += size[0] * size[1] * size[2] * thing.mass_density * 1e-9
        else:
            total += thing.mass
    return total


def _borne(d: Draft, leaf: Leaf, count: int, load: float) -> bool:
    mass = leaf_mass(d, leaf)
    if mass <= count * load / 2:
        return True
    d.find(
        "door.hinge_load",
        Severity.STOP,
        leaf.g,
        f"the door weighs {mass:.1f} kg, {count} hinges bear {count * load / 2:.1f} kg",
        value=mass,
        unit="kg",
        limit=count * load / 2,
        source="load of the hinge's own data, for a pair",
        remedy="more or stronger hinges, a lighter panel, or a smaller door",
    )
    return False


def _heights(d: Draft, leaf: Leaf, count: int, inset: float, least: float) -> tuple[float, ...] | None:
    """Return the middles of a leaf's hinges from the top, or None (and a finding) where they stand too close."""
    step = (leaf.z[1] - leaf.z[0] - 2 * inset) / (count - 1) if count > 1 else 0.0
    if step < least:
        d.find(
            "door.hinges_close",
            Severity.STOP,
            leaf.g,
            f"{count} hinges would stand {step:.1f} mm apart",
            value=step,
            limit=least,
            source="common practice",
            remedy="fewer or smaller hinges, or a higher door",
        )
        return None
    return tuple(leaf.z[1] - inset - number * step for number in range(count))


def hinge_line(d: Draft, kit: Kit, leaf: Leaf, spec: DoorSpec) -> tuple[Vec, float]:
    """Return a point of the line that a leaf turns about, and how far it opens, degrees.

    The linkage of a cup hinge keeps the leaf within its own width: the arris of its hinge edge stands for it.
    """
    if spec.hinging is Hinging.KNIFE:
        knife = knife_for(d, kit, leaf, spec)
        assert knife is not None
        across, back = pivot_in(d, knife, spec)
        # The face of the open door meets the front edge of what it hangs on.
        most = 2 * math.degrees(math.atan((across + leaf.stands_off) / back))
        at = (leaf.outer(leaf.hinge, across), leaf.y[0] + back, leaf.z[0])
        return at, min(d.practice["door.swing"], most)
    if spec.hinging is Hinging.CUP:
        cup = cup_for(d, kit, leaf, spec)
        assert cup is not None
        return (leaf.outer(leaf.hinge), leaf.y[0], leaf.z[0]), cup.hinge.opening
    edge = leaf.edge - leaf.hinge * spec.gap / 2
    return (edge, -kit.role("hinge", Hinge).barrel_diameter / 2, leaf.z[0]), d.practice["door.swing"]
