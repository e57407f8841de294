"""What the steps of every piece share: the ways things arrive, and the cautions that belong beside the work."""

from __future__ import annotations

from casewright.design.assembly import Caution
from casewright.design.frames import Vec
from casewright.stock.sundries import Sundry, needs

LEFTWARDS: Vec = (-1.0, 0.0, 0.0)
RIGHTWARDS: Vec = (1.0, 0.0, 0.0)
BACKWARDS: Vec = (0.0, 1.0, 0.0)
FORWARDS: Vec = (0.0, -1.0, 0.0)
DOWNWARDS: Vec = (0.0, 0.0, -1.0)
UPWARDS: Vec = (0.0, 0.0, 1.0)
REACH = 1200.0  # mm: a case no larger is held together by one (common practice)

PINS = Caution(
    text=(
        "Eye protection; hands out of the line of a pin or brad, which may turn in the wood; the nailer never points "
        "at anyone, and is off its air or battery before it is cleared: see its manual."
    ),
    needs=needs(Sundry.EYES),
)
GLUE = Caution(
    text="Follow the glue maker's directions; epoxy and cyanoacrylate call for gloves and fresh air.",
    needs=needs(Sundry.GLOVES),
)
LIFT = Caution(
    text=(
        "Lift with the legs, by as many people as the weight asks for (see the weights); fingers clear of what comes "
        "down."
    ),
)
TURN = Caution(
    text=(
        "A case is turned over slowly, by as many people as its weight asks for, drawers and doors out, onto "
        "blankets; it may slide or rack: hands clear of the edges that come down, nobody on the side to which it may "
        "fall."
    ),
)
PAINT = Caution(
    text=(
        "Ventilate, wear gloves and the respirator that the maker of the finish names; no flames or sparks near "
        "solvents."
    ),
    needs=needs(Sundry.GLOVES, Sundry.RESPIRATOR),
)
RAGS = Caution(
    text=(
        "Spread oily rags flat outdoors, or keep them under water in a closed metal can: they can take fire by "
        "themselves."
    ),
    needs=needs(Sundry.CAN),
)
DUST = Caution(text="No sanding, sawing or sweeping in the room while a finish is wet.")
SANDING = Caution(
    text="Sand with extraction and a dust mask; clear the dust away before any finish is opened.",
    needs=needs(Sundry.MASK),
)
MDF = Caution(
    text=(
        "Dust of MDF is fine and holds its resin: extraction at the tool and a fitted dust mask, outdoors if there is"
        " none."
    ),
    needs=needs(Sundry.MASK),
)
PLANE = Caution(
    text=(
        "Over a jointer and through a planer goes no board shorter than the manual of the machine allows: push "
        "blocks, hands never over the knives, nobody behind a board."
    ),
)
SAW = Caution(
    text="Follow the saw's manual: guard and riving knife on, eye and ear protection, a push stick near the blade.",
    needs=needs(Sundry.EYES, Sundry.EARS),
)
BANDING = Caution(
    text=(
        "A hot iron and hot melt burn; the trimming tool moves away from the hand that holds the work, and what it "
        "takes off is sharp."
    ),
)
KEYS = Caution(
    text=(
        "The cradle has no metal near the cut and carries the work past the blade: hands stay behind its stop, "
        "nothing is held by hand alone; follow the saw's manual for cuts that do not go through."
    ),
)
ROUT = Caution(
    text=(
        "Clamp the work, small parts in a jig; set the bit's height for shallow passes, feed against its turn, both "
        "hands on the router; unplug it before the bit is touched. Its manual comes first."
    ),
)
DRILL = Caution(text="Clamp the work to the table of the drill press; no gloves, sleeves or long hair near the bit.")
BORE = Caution(text="Bore with a stop on the bit, the work clamped; nobody's hand where the bit comes out.")
SHORT = Caution(
    text="Taper and cove on the long stick or in a jig that holds the foot; short stock is never held by hand."
)
POWER = Caution(
    text="Low voltage only inside the furniture; mains wiring is for a licensed electrician and local codes."
)
TIP = Caution(
    text=(
        "Anything that a child can climb may tip: where children may come near it, it is tied to a stud as well, by a"
        " restraint that is not on the list of this order."
    ),
)
TIED = Caution(
    text="A child who climbs a case can tip it: tie it to a stud before it is used, as the restraint's directions say."
)


def stand(what: str, largest: float) -> str:
    """Return how a carcass is begun: with the part `what`, the largest size of the case in mm."""
    helper = ", and a helper its far end" if largest > REACH else ""
    return (
        f"Stand the {what} on its front edge on a flat bench or on battens: the carcass goes together lying on its "
        "front, every front edge on one plane. Clamps across and a square block in each corner hold what is joined to "
        f"it until its fasteners are in{helper}"
    )


def by(way: Vec, distance: float) -> tuple[Vec, ...]:
    """Return one move of a distance along a way."""
    return ((way[0] * distance + 0.0, way[1] * distance + 0.0, way[2] * distance + 0.0),)
