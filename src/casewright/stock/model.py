"""Typed records of what a shop can buy. Lengths in mm, masses in kg, densities in kg/m³.

Every record carries the `source` of its figures and its `basis` ("read", "memory", "derived",
"common practice"). Records know nothing of designs; bodies of hardware are plain numbers and shapes
that the design turns into volumes. Prices stand apart (`Stock.prices`), so that a new price changes
no record that a design is made from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any, TypeAlias, cast

from casewright.stock.fittings import (
    Button,
    CupHinge,
    DoorBolt,
    EdgeBand,
    FigurePlate,
    Fitting,
    Glide,
    KnifeHinge,
    LidStay,
    Magnet,
    ReadyFoot,
    RodEnd,
    ShelfPin,
    Strike,
    UnderSlide,
    WallFixing,
)
from casewright.stock.loops import Loop
from casewright.stock.quantities import Length, Size
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
    """A sheet good: sheet size, nominal thickness, measured thickness where a lot was measured.

    `species` is the wood of a panel glued up from solid strips, which moves as a board does; empty for the rest.
    """

    id: str
    name: str
    material: str  # "plywood", "mdf", "particleboard", "melamine", "hardboard", "solid", "glass"
    length: Size
    width: Size
    nominal: Size
    grain: bool  # the face shows a grain direction along the length
    density: float
    source: str
    basis: str
    measured: Size | None = None
    lot: str = ""
    species: str = ""

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
    rough: Size
    surfaced: Size
    dressed: Size
    lengths: tuple[Size, ...]  # usual lengths
    widths: tuple[Size, ...]  # usual widths
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
    section: Loop
    spring: float
    lengths: tuple[Size, ...]
    density: float
    source: str
    basis: str


@record
class Slide:
    """A ball-bearing side-mount drawer slide (a pair is two).

    `lever_at` is where on the drawer member its release lever sits, as a share of the length from the front; 0: none.
    """

    id: str
    name: str
    length: Size
    height: Size
    clearance: Length  # each side
    clearance_most: Length
    set_back: Length
    travel: Size
    load: float  # kg a pair
    mass: float  # kg each
    case_holes: tuple[Size, ...]  # distances from the front end
    drawer_holes: tuple[Size, ...]
    screw: str  # into the drawer side
    case_screw: str
    source: str
    basis: str
    lever_at: float = 0.0


@record
class Hinge:
    """A butt hinge, closed: leaf height along the pin, leaf width into the wood, leaf thickness, barrel."""

    id: str
    name: str
    height: Size
    leaf_width: Size
    leaf_thickness: Size
    closed: Size  # thickness closed, both leaves and the play between them
    barrel_diameter: Size
    holes: tuple[tuple[Length, Length], ...]  # (along the pin from the lower end, from the pin's axis)
    screw: str
    load: float  # kg for a pair of hinges
    mass: float
    source: str
    basis: str


@record
class Pull:
    """A knob (one screw, `centres` 0) or a pull (two screws).

    The base is what stands on the wood. `head` is the diameter of a knob's head, 0 where it is no wider than its base.
    """

    id: str
    name: str
    centres: Length
    base_width: Size
    base_height: Size
    projection: Size
    hole: Size
    screw: str
    mass: float
    source: str
    basis: str
    head: Length = 0.0

    @property
    def base(self) -> tuple[float, float]:
        """Width and height of what stands on the wood, mm: a knob is round."""
        return self.base_width, self.base_width if self.centres == 0 else self.base_height


@record
class Screw:
    """A screw. `gauge` is None for pocket and machine screws, `pilot` 0 where no hole is drilled.

    `sink_angle` is that of a countersunk head in degrees, 0 for a head that is flat underneath.
    """

    id: str
    name: str
    kind: str  # "wood", "pan", "pocket-coarse", "pocket-fine", "washer-head", "machine", "wood-metric" …
    gauge: int | None = None
    diameter: Size
    root: Size
    head_diameter: Size
    head_height: Length
    length: Size
    thread_length: Length
    pilot_soft: Length
    pilot_hard: Length
    clearance: Length
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
    diameter: Size
    length: Size
    source: str
    basis: str


@record
class Dowel:
    """A plain dowel."""

    id: str
    name: str
    diameter: Size
    length: Size
    source: str
    basis: str


@record
class Insert:
    """A threaded insert for a machine thread."""

    id: str
    name: str
    thread: str
    outside: Size
    length: Size
    hole: Size
    flange_diameter: Length
    flange_depth: Length
    mass: float
    source: str
    basis: str


@record
class Leveller:
    """A levelling foot: stem in an insert, pad on the floor. Heights are pad face to wood.

    It is turned with a spanner on `flats` of its pad, just under the pad's upper face, or from above with a `key` in
    the end of its stem (width of a blade, or across flats); 0 where it has none.
    """

    id: str
    name: str
    thread: str
    pad_diameter: Size
    pad_height: Size
    stem_diameter: Size
    stem_length: Size
    least: Size  # fully in
    middle: Size
    most: Size
    mass: float
    source: str
    basis: str
    flats: Length = 0.0
    key: Length = 0.0


@record
class Catch:
    """A magnetic catch with its strike."""

    id: str
    name: str
    width: Size
    height: Size
    depth: Size
    screw: str
    mass: float
    source: str
    basis: str


@record
class Device:
    """A low-voltage module that is let in, round: `range_least`–`range_most` mm of wood may lie over it."""

    id: str
    name: str
    diameter: Size
    thickness: Size
    range_least: Length
    range_most: Length
    clearance: Length  # around it in its recess
    cable_diameter: Length
    plug_width: Length
    plug_height: Length
    margin: Length  # to any fastener or part
    voltage: float
    mass: float
    source: str
    basis: str


@record
class Bumper:
    """A small stick-on or pressed-in bumper."""

    id: str
    name: str
    diameter: Size
    thickness: Size
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
    """A finishing product; film is the dry thickness of one coat in mm.

    `carrier` is what it is thinned and cleaned up with: "water", "spirits" or "alcohol"; empty where nobody says.
    """

    id: str
    name: str
    kind: str  # "primer", "enamel", "clear", "barrier", "stain", "oil"
    coverage: float  # m² a litre and coat
    recoat_hours: float
    cure_days: float
    film: Length
    hazards: str
    source: str
    basis: str
    carrier: str = ""


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
    | Fitting
)


@record
class Stock:
    """Everything that can be bought, by id within its kind, read-only; ids of items are unique across kinds."""

    species: Mapping[str, Species]
    sheets: Mapping[str, Sheet]
    boards: Mapping[str, Board]
    sticks: Mapping[str, Stick]
    bands: Mapping[str, EdgeBand]
    slides: Mapping[str, Slide]
    under_slides: Mapping[str, UnderSlide]
    hinges: Mapping[str, Hinge]
    cup_hinges: Mapping[str, CupHinge]
    knife_hinges: Mapping[str, KnifeHinge]
    lid_stays: Mapping[str, LidStay]
    pulls: Mapping[str, Pull]
    screws: Mapping[str, Screw]
    pins: Mapping[str, Pin]
    dowels: Mapping[str, Dowel]
    inserts: Mapping[str, Insert]
    levellers: Mapping[str, Leveller]
    ready_feet: Mapping[str, ReadyFoot]
    glides: Mapping[str, Glide]
    catches: Mapping[str, Catch]
    strikes: Mapping[str, Strike]
    door_bolts: Mapping[str, DoorBolt]
    magnets: Mapping[str, Magnet]
    shelf_pins: Mapping[str, ShelfPin]
    figure_plates: Mapping[str, FigurePlate]
    buttons: Mapping[str, Button]
    wall_fixings: Mapping[str, WallFixing]
    rod_ends: Mapping[str, RodEnd]
    devices: Mapping[str, Device]
    bumpers: Mapping[str, Bumper]
    glues: Mapping[str, Glue]
    finishes: Mapping[str, Finish]
    prices: Mapping[str, Price]  # by item id

    def item(self, item_id: str) -> Item | None:
        """Return the item of any kind but species with this id, or None."""
        return next((table[item_id] for table in self.tables.values() if item_id in table), None)

    @property
    def tables(self) -> dict[str, Mapping[str, Item]]:
        """The items of each kind but species, by the name of the kind ("sheets", "boards")."""
        names = (f.name for f in fields(cast(Any, self)) if f.name not in ("species", "prices"))
        return {name: getattr(self, name) for name in names}

    @property
    def items(self) -> dict[str, Item]:
        """Every item of every kind but species, by id."""
        return {key: item for kind in self.tables.values() for key, item in kind.items()}
