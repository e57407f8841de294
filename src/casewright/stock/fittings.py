"""Typed records of the fittings that the whole case family needs beyond slides, butt hinges, pulls and fasteners.

Lengths in mm, masses in kg, loads in kg unless a field says otherwise. Every record carries the `source` of its
figures and its `basis`, as in `model`. The figures are those of usual products: the maker's own sheet decides.
"""

from __future__ import annotations

from typing import TypeAlias

from casewright.stock.quantities import Length, Offset, Size
from casewright.units.grid import record


@record
class EdgeBand:
    """A strip for the edges of sheet goods, in rolls (or sticks, where `roll` is the stick's length).

    `glued` says how it goes on; `species` is empty for plastic.
    """

    id: str
    name: str
    material: str  # "veneer", "plastic", "solid"
    species: str
    thickness: Size
    width: Size
    roll: Size
    glued: str  # "iron", "hot melt", "clamped"
    source: str
    basis: str

    def matches(self, sheet: str) -> bool:
        """True where a sheet of this name has the wood of the band: "cherry plywood" that of "cherry-black"."""
        return self.species.partition("-")[0] in sheet.lower().replace(",", " ").split()


@record
class UnderSlide:
    """An under-mount drawer slide: the box rests on it and hides it (a pair is two).

    Inside width of the box = opening − `inside_less`, sides at most `side_most` thick. The bottom lies `recess`
    above the lower edge of the sides. The back is notched `notch_width` × `notch_height` at both lower corners,
    and bored `hook_diameter` × `hook_depth` for the slide's hook, `hook_in` from the side's inner face and
    `hook_up` above the bottom. The levers that release the box reach from its front to `lever` behind the slide's front
    end, under the bottom; 0: none.
    """

    id: str
    name: str
    length: Size  # of the slide, and of the box that it carries
    inside_less: Size
    side_most: Size
    recess: Size
    below: Size  # room under the box
    above: Size
    set_back: Length
    depth_least: Size  # inside depth of the case that it needs
    notch_width: Size
    notch_height: Size
    hook_diameter: Size
    hook_depth: Size
    hook_in: Size
    hook_up: Size
    travel: Size
    load: float  # kg a pair
    mass: float  # kg each
    case_holes: tuple[Size, ...]  # distances from the front end
    case_screw: str
    source: str
    basis: str
    lever: Length = 0.0


@record
class CupHinge:
    """A concealed hinge: a cup bored into the door, an arm on a plate on the case.

    `overlay` is how far the door laps over the edge of the side at the middle setting, with the cup at
    `bore_from_edge` (edge of the door to the rim of the cup); below zero it stands inside the opening, by the gap.
    Each mm that the cup stands further from the edge laps a mm more, each mm of a higher plate a mm less. Plate screws
    stand on a line `plate_line` behind the front edge of the side (an inset door's thickness further back),
    `plate_spacing` apart.
    """

    id: str
    name: str
    mount: str  # "full", "half", "inset"
    host: str  # what its plate is screwed to: "wall" (a side, a divider, blocking), or "frame" (a face frame's edge)
    crank: Length  # of the arm: how much less it laps than the straight one
    plates: tuple[Length, ...]  # heights of the mounting plates that it comes with, lowest first
    plate: Length  # the one that `overlay` is stated for
    overlay: Offset  # below zero for an inset door
    cup_diameter: Size
    cup_depth: Size
    bore_from_edge: Size
    bore_from_edge_least: Size
    bore_from_edge_most: Size
    screw_spacing: Size  # of the cup's two screws
    screw_offset: Size  # of their line from the middle of the cup, away from the door's edge
    plate_line: Size
    plate_spacing: Size
    arm_reach: Size  # behind the case's front edge, that nothing else may take
    door_least: Size  # thickness of the door
    door_most: Size
    opening: float  # degrees
    adjust: Length  # sideways, either way
    load: float  # kg for a pair of hinges
    screw: str  # of the cup
    plate_screw: str
    mass: float  # with its plate
    source: str
    basis: str


@record
class KnifeHinge:
    """A knife hinge: two flat leaves on a pin, let into the ends of a door and into the case above and below it.

    `pin_out` is how far the pin stands in front of the line of the leaves: 0 for the straight kind, where the door lies
    inside the case. `hand` is "left", "right" or empty where it fits both; a pair is one above and one below.
    """

    id: str
    name: str
    hand: str
    leaf_length: Size
    leaf_width: Size
    leaf_thickness: Size
    washer: Length  # gap that it keeps between the leaves
    pin_diameter: Size
    pin_out: Length
    holes: tuple[Size, ...]  # in one leaf, from the pin
    screw: str
    load: float  # kg for a pair
    mass: float  # kg a pair
    source: str
    basis: str


@record
class LidStay:
    """A stay that holds a lid open and lets it down slowly: two are used, or one on a light lid.

    `torque` is what one bears at the hinge line, in N·m: weight × half the depth of the lid.
    """

    id: str
    name: str
    torque: float
    opening: float  # degrees
    case_height: Size  # room that it takes on the side, below the lid
    case_depth: Size
    thickness: Size
    lid_least: Size  # thickness of the lid that its screws need
    screw: str
    mass: float
    source: str
    basis: str


@record
class ReadyFoot:
    """A foot that is bought turned or cast, with a threaded stem; `height` is from the floor to the wood."""

    id: str
    name: str
    shape: str  # "tapered", "bun", "block", "hairpin"
    height: Size
    top_diameter: Size
    tip_diameter: Size
    thread: str
    stem_length: Size
    adjust: Length  # up from the middle setting, and down
    load: float
    mass: float
    source: str
    basis: str


@record
class Glide:
    """A plain glide under a foot or a side, nailed, screwed or stuck on."""

    id: str
    name: str
    diameter: Size
    thickness: Size
    fixed: str  # "nail", "screw", "stuck"
    mass: float
    source: str
    basis: str


@record
class Magnet:
    """A round magnet let in flush; two face each other, or one faces a steel disc. `pull` in N, touching."""

    id: str
    name: str
    diameter: Size
    thickness: Size
    pull: float
    mass: float
    source: str
    basis: str


@record
class ShelfPin:
    """A pin that carries a loose shelf: `hole` × `depth` in the side, `reach` out of it.

    Its bearing lies `above` the middle of the hole.
    """

    id: str
    name: str
    hole: Size
    depth: Size
    reach: Size
    above: Length
    load: float  # kg for one pin
    mass: float
    source: str
    basis: str


@record
class FigurePlate:
    """A plate of two overlapping discs: one is let into the case's upper edge, the other is screwed to a solid top.

    It swivels, and so lets the top move by `swing` either way across the grain.
    """

    id: str
    name: str
    diameter: Size  # of each disc
    length: Size
    thickness: Size
    swing: Length
    screw: str
    mass: float
    source: str
    basis: str


@record
class Button:
    """A table button: its tongue sits in a groove of the case, its body is screwed to a solid top.

    `tongue_drop` is from the body's upper face (at the top) to the tongue's upper face.
    """

    id: str
    name: str
    length: Size
    width: Size
    thickness: Size
    tongue_length: Size
    tongue_thickness: Size
    tongue_drop: Size
    screw: str
    mass: float
    source: str
    basis: str


@record
class WallFixing:
    """What ties a case to a wall: a hanging rail, a bracket, an anti-tip strap. `load` in kg for one, in a stud."""

    id: str
    name: str
    use: str  # "hang", "tie"
    length: Size
    height: Size
    thickness: Size
    load: float
    case_screw: str
    wall_screw: str
    caution: str
    mass: float
    source: str
    basis: str


@record
class Strike:
    """The steel plate on a door that a magnet catch holds."""

    id: str
    name: str
    width: Size
    height: Size
    thickness: Size
    screw: str
    mass: float
    source: str
    basis: str


@record
class DoorBolt:
    """A bolt on the inner face of the leaf of a pair that stays shut: its rod shoots into the case above or below.

    `axis` is the rod's distance from the face that the bolt lies on, `throw` how far it shoots.
    """

    id: str
    name: str
    length: Size
    width: Size
    height: Size  # off the face
    axis: Size
    rod: Size  # diameter
    throw: Size
    screw: str
    mass: float
    source: str
    basis: str


@record
class RodEnd:
    """A socket that holds one end of a hanging rod."""

    id: str
    name: str
    rod: Size  # diameter of the rod
    width: Size
    height: Size
    depth: Size  # how far it stands out from the side
    load: float
    screw: str
    mass: float
    source: str
    basis: str


Fitting: TypeAlias = (
    EdgeBand
    | UnderSlide
    | CupHinge
    | KnifeHinge
    | LidStay
    | ReadyFoot
    | Glide
    | Magnet
    | ShelfPin
    | FigurePlate
    | Button
    | WallFixing
    | RodEnd
    | Strike
    | DoorBolt
)
