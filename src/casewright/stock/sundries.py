"""What work uses up or is worn at it besides parts, hardware and finishes, as steps, cautions and promises name it."""

from __future__ import annotations

from enum import Enum

from casewright.units.grid import record


class Sundry(Enum):
    """A thing to have in hand; the value is its name in an order file."""

    FILLER = "wood filler"
    TAPE = "masking tape"
    SHIMS = "shims"
    CLOTHS = "cloths"
    RESTRAINT = "tip restraint"
    BALLAST = "ballast"
    CAN = "metal can"
    MASK = "dust mask"
    RESPIRATOR = "respirator"
    GLOVES = "gloves"
    EYES = "eye protection"
    EARS = "hearing protection"


@record
class Need:
    """A sundry that something calls for; `mass` in kg where it is weighed out (ballast), else 0."""

    thing: Sundry
    mass: float = 0.0


@record
class Sanding:
    """A grit ("180", "320 to 400"), and how often the whole area is gone over with it."""

    grit: str
    times: int = 1


def needs(*things: Sundry) -> tuple[Need, ...]:
    """Return sundries that are not weighed out as needs."""
    return tuple(Need(thing=thing) for thing in things)
