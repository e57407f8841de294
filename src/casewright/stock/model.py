"""Typed records of what a shop can buy. Lengths in mm, masses in kg, densities in kg/m³.

Every record carries the `source` of its figures and its `basis` ("read", "memory", "derived",
"common practice"). Records know nothing of designs; bodies of hardware are plain numbers and shapes
that the design turns into volumes. Prices stand apart (`Stock.prices`), so that a new price changes
no record that a design is made from.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from casewright.units.grid import record


@record
class Fact:
    """One published value as it was published, with its source and basis; `of` is a field of the record."""

    of: str
    value: float
    unit: str
    source: str
    basis: str

    UNSNAPPED = ("value",)


@record
class Species:
    """A wood species: movement and mechanical values (SI: MPa, N), at 12 % moisture content.

    `facts` are the published values behind the fields, in their own units, each with its source.
    """

    id: str
    name: str
    radial_coefficient: float | None  # C_R: size change per 1 % MC, 6–14 %
    tangential_coefficient: float | None  # C_T
    radial_shrinkage: float | None  # % green to ovendry
    tangential_shrinkage: float | None
    specific_gravity: float | None
    modulus_of_rupture: float | None  # MPa
    modulus_of_elasticity: float | None  # MPa
    compression_across: float | None  # MPa
    shear: float | None  # MPa
    side_hardness: float | None  # N
    source: str
    basis: str
    facts: tuple[Fact, ...] = ()

    UNSNAPPED = ("radial_coefficient", "tangential_coefficient")

    @property
    def density(self) -> float | None:
        """kg/m³ at 12 % MC: G × 1000 × 1.12 (Wood Handbook Ch. 4)."""
        return None if self.specific_gravity is None else self.specific_gravity * 1120.0


@record
class Sheet:
    """A sheet good: sheet size, nominal thickness, measured thickness where a lot was measured."""

    id: str
    name: str
    material: str  # "plywood", "mdf", …
    length: float
    width: float
    nominal: float
    measured: float | None
    grain: bool  # the face shows a grain direction along the length
    density: float
    source: str
    basis: str
    lot: str = ""

    @property
    def thickness(self) -> float:
        """Measured where known, else nominal."""
        return self.nominal if self.measured is None else self.measured


@record
class Board:
    """Lumber of one thickness class (`quarters` 4 is 4/4): thickness rough, surfaced by a mill, dressed in the shop."""

    id: str
    name: str
    species: str
    quarters: int
    rough: float
    surfaced: float
    dressed: float
    lengths: tuple[float, ...]  # usual lengths
    widths: tuple[float, ...]  # usual widths
    source: str
    basis: str


@record
class Stick:
    """A moulding or other stock bought by the stick.

    `section` are vertices (x, y, bulge) counter-clockwise as installed: x out from the wall, y up
    from the lower edge, back on x = 0. `spring` is the angle between the back of the moulding and
    the wall in degrees, 0 where the back lies flat against it. Square stock has a plain rectangle.
    """

    id: str
    name: str
    use: str  # "crown", "base", "panel", "square", "cove", …
    material: str
    species: str
    section: tuple[tuple[float, float, float], ...]
    spring: float
    lengths: tuple[float, ...]
    density: float
    source: str
    basis: str


@record
class Slide:
    """A ball-bearing side-mount drawer slide (a pair is two)."""

    id: str
    name: str
    length: float
    height: float
    clearance: float  # each side
    clearance_most: float
    set_back: float
    travel: float
    load: float  # kg a pair
    mass: float  # kg each
    case_holes: tuple[float, ...]  # distances from the front end
    drawer_holes: tuple[float, ...]
    screw: str  # into the drawer side
    case_screw: str
    source: str
    basis: str


@record
class Hinge:
    """A butt hinge, closed: leaf height along the pin, leaf width into the wood, leaf thickness, barrel."""

    id: str
    name: str
    height: float
    leaf_width: float
    leaf_thickness: float
    closed: float  # thickness closed, both leaves and the play between them
    barrel_diameter: float
    holes: tuple[tuple[float, float], ...]  # (along the pin from the lower end, from the pin's axis)
    screw: str
    load: float  # kg for a pair of hinges
    mass: float
    source: str
    basis: str


@record
class Pull:
    """A knob (one screw, `centres` 0) or a pull (two screws)."""

    id: str
    name: str
    centres: float
    base_width: float
    base_height: float
    projection: float
    hole: float
    screw: str
    mass: float
    source: str
    basis: str


@record
class Screw:
    """A screw. `gauge` is None for pocket and machine screws, `pilot` 0 where no hole is drilled.

    `sink_angle` is that of a countersunk head in degrees, 0 for a head that is flat underneath.
    """

    id: str
    name: str
    kind: str  # "wood", "pan", "pocket-coarse", "pocket-fine", "washer-head", "machine"
    gauge: int | None = None
    diameter: float
    root: float
    head_diameter: float
    head_height: float
    length: float
    thread_length: float
    pilot_soft: float
    pilot_hard: float
    clearance: float
    sink_angle: float
    mass: float
    source: str
    basis: str


@record
class Pin:
    """A headless pin or brad."""

    id: str
    name: str
    gauge: int
    diameter: float
    length: float
    source: str
    basis: str


@record
class Dowel:
    """A plain dowel."""

    id: str
    name: str
    diameter: float
    length: float
    source: str
    basis: str


@record
class Insert:
    """A threaded insert for a machine thread."""

    id: str
    name: str
    thread: str
    outside: float
    length: float
    hole: float
    flange_diameter: float
    flange_depth: float
    mass: float
    source: str
    basis: str


@record
class Leveller:
    """A levelling foot: stem in an insert, pad on the floor. Heights are pad face to wood."""

    id: str
    name: str
    thread: str
    pad_diameter: float
    pad_height: float
    stem_diameter: float
    stem_length: float
    least: float  # fully in
    middle: float
    most: float
    mass: float
    source: str
    basis: str


@record
class Catch:
    """A magnetic catch with its strike."""

    id: str
    name: str
    width: float
    height: float
    depth: float
    screw: str
    mass: float
    source: str
    basis: str


@record
class Device:
    """A low-voltage module that is let in, round: `range_least`–`range_most` mm of wood may lie over it."""

    id: str
    name: str
    diameter: float
    thickness: float
    range_least: float
    range_most: float
    clearance: float  # around it in its recess
    cable_diameter: float
    plug_width: float
    plug_height: float
    margin: float  # to any fastener or part
    voltage: float
    mass: float
    source: str
    basis: str


@record
class Bumper:
    """A small stick-on or pressed-in bumper."""

    id: str
    name: str
    diameter: float
    thickness: float
    source: str
    basis: str


@record
class Glue:
    """An adhesive; times in minutes at shop temperature."""

    id: str
    name: str
    open_time: float
    clamp_time: float
    full_time: float
    coverage: float  # m² a litre
    source: str
    basis: str


@record
class Finish:
    """A finishing product; film is the dry thickness of one coat in mm."""

    id: str
    name: str
    kind: str  # "primer", "enamel", "clear", "barrier", "stain", "oil"
    coverage: float  # m² a litre and coat
    recoat_hours: float
    cure_days: float
    film: float
    hazards: str
    source: str
    basis: str


@record
class Price:
    """A list price in the currency of the shop: `amount` for one `per` ("sheet", "board foot", "metre", "each"…)."""

    amount: float
    per: str
    source: str
    basis: str


Item: TypeAlias = (
    Sheet
    | Board
    | Stick
    | Slide
    | Hinge
    | Pull
    | Screw
    | Pin
    | Dowel
    | Insert
    | Leveller
    | Catch
    | Device
    | Bumper
    | Glue
    | Finish
)


@record
class Stock:
    """Everything that can be bought, by id within its kind, read-only; ids of items are unique across kinds."""

    species: Mapping[str, Species]
    sheets: Mapping[str, Sheet]
    boards: Mapping[str, Board]
    sticks: Mapping[str, Stick]
    slides: Mapping[str, Slide]
    hinges: Mapping[str, Hinge]
    pulls: Mapping[str, Pull]
    screws: Mapping[str, Screw]
    pins: Mapping[str, Pin]
    dowels: Mapping[str, Dowel]
    inserts: Mapping[str, Insert]
    levellers: Mapping[str, Leveller]
    catches: Mapping[str, Catch]
    devices: Mapping[str, Device]
    bumpers: Mapping[str, Bumper]
    glues: Mapping[str, Glue]
    finishes: Mapping[str, Finish]
    prices: Mapping[str, Price]  # by item id

    def item(self, item_id: str) -> Item | None:
        """Return the item of any kind but species with this id, or None."""
        return self.items.get(item_id)

    @property
    def items(self) -> dict[str, Item]:
        """Every item of every kind but species, by id."""
        kinds: tuple[Mapping[str, Item], ...] = (
            self.sheets,
            self.boards,
            self.sticks,
            self.slides,
            self.hinges,
            self.pulls,
            self.screws,
            self.pins,
            self.dowels,
            self.inserts,
            self.levellers,
            self.catches,
            self.devices,
            self.bumpers,
            self.glues,
            self.finishes,
        )
        return {key: item for kind in kinds for key, item in kind.items()}
