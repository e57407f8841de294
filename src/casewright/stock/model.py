"""Typed records of what a shop can buy. Lengths in mm, masses in kg, densities in kg/m³, prices per unit.

Every record carries the `source` of its figures and its `basis` ("read", "memory", "derived",
"common practice"). Records know nothing of designs; bodies of hardware are plain numbers and shapes
that the design turns into volumes.
"""

from __future__ import annotations

from casewright.units.grid import record


@record
class Species:
    """A wood species: movement and mechanical values (SI: MPa, N), at 12 % moisture content."""

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
    price: float
    source: str
    basis: str
    lot: str = ""

    @property
    def thickness(self) -> float:
        """Measured where known, else nominal."""
        return self.nominal if self.measured is None else self.measured


@record
class Board:
    """Rough or dressed lumber of one thickness class: `quarters` 4 is 4/4; dressed thickness in mm."""

    id: str
    name: str
    species: str
    quarters: int
    rough: float
    dressed: float
    lengths: tuple[float, ...]  # usual lengths
    widths: tuple[float, ...]  # usual widths
    price_per_board_foot: float
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
    price_per_metre: float
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
    screw: str
    price: float
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
    price: float
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
    price: float
    source: str
    basis: str


@record
class Screw:
    """A screw. `gauge` None for metric or machine screws."""

    id: str
    name: str
    kind: str  # "wood", "pocket", "washer-head", "machine"
    gauge: int | None
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
    price: float  # each
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
    price: float
    source: str
    basis: str


@record
class Dowel:
    """A plain dowel."""

    id: str
    name: str
    diameter: float
    length: float
    price: float
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
    price: float
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
    price: float
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
    price: float
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
    price: float
    source: str
    basis: str


@record
class Bumper:
    """A small stick-on or pressed-in bumper."""

    id: str
    name: str
    diameter: float
    thickness: float
    price: float
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
    price_per_litre: float
    source: str
    basis: str


@record
class Finish:
    """A finishing product; film is the dry thickness of one coat in mm."""

    id: str
    name: str
    kind: str  # "primer", "enamel", "clear", "barrier", "stain"
    coverage: float  # m² a litre and coat
    recoat_hours: float
    cure_days: float
    film: float
    price_per_litre: float
    hazards: str
    source: str
    basis: str


@record
class Stock:
    """Everything that can be bought, by id within its kind."""

    species: dict[str, Species]
    sheets: dict[str, Sheet]
    boards: dict[str, Board]
    sticks: dict[str, Stick]
    slides: dict[str, Slide]
    hinges: dict[str, Hinge]
    pulls: dict[str, Pull]
    screws: dict[str, Screw]
    pins: dict[str, Pin]
    dowels: dict[str, Dowel]
    inserts: dict[str, Insert]
    levellers: dict[str, Leveller]
    catches: dict[str, Catch]
    devices: dict[str, Device]
    bumpers: dict[str, Bumper]
    glues: dict[str, Glue]
    finishes: dict[str, Finish]
