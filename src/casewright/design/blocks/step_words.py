"""What the steps of every piece share: the ways things arrive, and the cautions that belong beside the work."""

from __future__ import annotations

from casewright.design.frames import Vec

LEFTWARDS: Vec = (-1.0, 0.0, 0.0)
RIGHTWARDS: Vec = (1.0, 0.0, 0.0)
BACKWARDS: Vec = (0.0, 1.0, 0.0)
FORWARDS: Vec = (0.0, -1.0, 0.0)
DOWNWARDS: Vec = (0.0, 0.0, -1.0)
UPWARDS: Vec = (0.0, 0.0, 1.0)

PINS = "Wear eye protection; keep hands out of the line of a pin, which may turn in the wood."
GLUE = "Follow the glue maker's directions; epoxy and cyanoacrylate call for gloves and fresh air."
LIFT = "Two people lift a glued-up case; lift with the legs."
PAINT = (
    "Ventilate, wear gloves and the respirator that the maker of the finish names; no flames or sparks near solvents."
)
RAGS = (
    "Spread oily rags flat outdoors, or keep them under water in a closed metal can: they can take fire by themselves."
)
DUST = "No sanding, sawing or sweeping in the room while a finish is wet."
SANDING = "Sand with extraction and a dust mask; clear the dust away before any finish is opened."
SAW = "Follow the saw's manual: guard and riving knife on, eye and ear protection, a push stick near the blade."
BANDING = (
    "A hot iron and hot melt burn; the trimming tool moves away from the hand that holds the work, and what it takes "
    "off is sharp."
)
KEYS = (
    "The cradle has no metal near the cut and carries the work past the blade: hands stay behind its stop, nothing is "
    "held by hand alone; follow the saw's manual for cuts that do not go through."
)
ROUT = "Clamp the work, rout in shallow passes with both hands on the router; unplug it before the bit is touched."
DRILL = "Clamp the work to the table of the drill press; no gloves, sleeves or long hair near the bit."
SHORT = "Taper and cove on the long stick or in a jig that holds the foot; short stock is never held by hand."
POWER = "Low voltage only inside the furniture; mains wiring is for a licensed electrician and local codes."
TIP = "Fix the cabinet to the wall where children may climb it; see the tip restraint's own directions."
TIED = "A child who climbs a case can tip it: tie it to a stud before it is used, as the restraint's directions say."


def by(way: Vec, distance: float) -> tuple[Vec, ...]:
    """Return one move of a distance along a way."""
    return ((way[0] * distance + 0.0, way[1] * distance + 0.0, way[2] * distance + 0.0),)
