"""What the checks ask of a part's wood: whether it moves, how much along a direction of the piece, how stiff it is.

Movement: Wood Handbook Eq. 13-2, coefficients of Table 13-5. Boards are taken as flat-sawn, so their width moves by
the larger coefficient; nothing moves along the grain.
"""

from __future__ import annotations

from casewright.checks.model import Subject
from casewright.design.assembly import Joint
from casewright.design.frames import Vec, X, Y, Z
from casewright.design.parts import Fastener, Part, Placed
from casewright.design.sites import world_box
from casewright.stock.model import Board, Sheet, Species, Stick

AXES: tuple[Vec, Vec, Vec] = (X, Y, Z)
Range = tuple[float, float]
_ELASTIC = {"plywood": "elastic.plywood", "mdf": "elastic.mdf", "hardboard": "elastic.mdf"}


def wood_of(subject: Subject, part: Part) -> Species | None:
    """Return the species of a solid part, None for sheet goods and for stock that no role serves."""
    item = subject.items.get(part.stock)
    if not isinstance(item, (Board, Stick, Sheet)) or not item.species:
        return None
    return next((w for w in subject.sizes.woods if w.id == item.species), None)


def across(wood: Species) -> tuple[float, float]:
    """Return the coefficients of a board's width and thickness: tangential and radial, where they are known."""
    tangential = wood.tangential_coefficient or 0.0
    return tangential, wood.radial_coefficient or tangential


def coefficients(subject: Subject, placed: Placed) -> Vec:
    """Return the movement per 1 % of moisture along x, y and z of the piece; zeros where the part does not move."""
    wood = wood_of(subject, placed.thing) if isinstance(placed.thing, Part) else None
    if wood is None:
        return (0.0, 0.0, 0.0)
    width, thickness = across(wood)
    out = []
    for axis in AXES:
        local = placed.frame.local_direction(axis)
        out.append(width * local[1] ** 2 + thickness * local[2] ** 2)
    return (out[0], out[1], out[2])


def spans(placed: Placed) -> tuple[Range, Range, Range]:
    """Return what a part's blank covers along x, y and z."""
    lo, hi = world_box(placed)
    return ((lo[0], hi[0]), (lo[1], hi[1]), (lo[2], hi[2]))


def common(a: Range, b: Range) -> Range:
    """Return what two ranges have in common; its ends are the wrong way round where that is nothing."""
    return (max(a[0], b[0]), min(a[1], b[1]))


def length(r: Range) -> float:
    """Return the length of a range, 0 where it is empty."""
    return max(0.0, r[1] - r[0])


class Timber:
    """The wooden parts of a piece, indexed for checks that ask of the same parts again and again.

    Paths lead to the placed parts, their ranges along x, y, z, their coefficients, and the joints that name them.
    """

    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        piece = subject.piece
        self.parts = {p.path: p for p in piece.placed if isinstance(p.thing, Part)}
        self.spans = {path: spans(p) for path, p in self.parts.items()}
        self.moves = {path: coefficients(subject, p) for path, p in self.parts.items()}
        self.joints: dict[str, list[Joint]] = {}
        for joint in piece.joints:
            for path in {joint.a, joint.b}:
                self.joints.setdefault(path, []).append(joint)
        self.fasteners: dict[str, list[Fastener]] = {}
        for fastener in piece.fasteners:
            self.fasteners.setdefault(fastener.joint, []).append(fastener)

    @property
    def range(self) -> float:
        """The room's range of moisture content, %."""
        return self.subject.moisture.damp - self.subject.moisture.dry

    def pair(self, joint: Joint) -> tuple[Placed, Placed] | None:
        """Return the two parts of a joint, None where one of them is hardware or missing."""
        a, b = self.parts.get(joint.a), self.parts.get(joint.b)
        return None if a is None or b is None else (a, b)

    def glued_to(self, path: str) -> set[str]:
        """Return the parts that are glued to a part."""
        glued = (j for j in self.joints.get(path, ()) if j.glued and self.pair(j) is not None)
        return {j.b if j.a == path else j.a for j in glued}


def timber(subject: Subject) -> Timber:
    """Return the index of a subject's wooden parts, made once."""
    return subject.once("timber", lambda: Timber(subject))


def elasticity(subject: Subject, part: Part, *, along: bool = True) -> float:
    """Return the modulus of elasticity in MPa along (or across) the length of a part's blank.

    Solid wood by its species (Wood Handbook Ch. 5), sheet goods by practice; across, plywood is taken at half.
    """
    p = subject.practice
    wood = wood_of(subject, part)
    if wood is not None and wood.modulus_of_elasticity is not None:
        return wood.modulus_of_elasticity * (1.0 if along else p["elastic.across"])
    item = subject.items.get(part.stock)
    material = item.material if isinstance(item, Sheet) else ""
    value = p[_ELASTIC.get(material, "elastic.particleboard")]
    return value / 2 if material == "plywood" and not along else value


def bending_strength(subject: Subject, part: Part, *, along: bool = True) -> float:
    """Return the modulus of rupture in MPa along or across the grain.

    Sheet goods: a two-hundredth of their modulus of elasticity, roughly what the panel standards ask (from memory).
    """
    wood = wood_of(subject, part)
    if wood is not None and wood.modulus_of_rupture is not None:
        return wood.modulus_of_rupture * (1.0 if along else subject.practice["strength.across"])
    return elasticity(subject, part, along=along) / 200.0
