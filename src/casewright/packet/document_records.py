"""The records of the JSON document. Field names carry their units; a change here is a new `format`.

A place is an origin (mm) and the x and y directions of the thing's own frame, in the frame of its piece: x = 0 in the
middle of the body and to the right, y = 0 at the frame's face and to the back, z = 0 on the floor and up.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRecord:
    """Where a thing is: its own frame in the frame of its piece."""

    origin_mm: Point
    x_direction: Point
    y_direction: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRecord:
    """What was ordered, and from whom."""

    file: str
    title: str
    client: str
    due: str
    units: str
    shop: str
    shop_file: str
    shop_found: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomRecord:
    """Air of the room, and the moisture of wood in it."""

    humidity_low_percent: float
    humidity_high_percent: float
    humidity_fitting_percent: float
    temperature_celsius: float
    moisture_dry_percent: float
    moisture_damp_percent: float
    moisture_fitted_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRecord:
    """One part or hardware item in its place; `mark` is empty for hardware, `item` is what it is cut from or is."""

    path: str
    name: str
    kind: str  # "part" or "hardware"
    mark: str
    item: str
    place: PlaceRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRecord:
    """Where part b meets part a, and how they are held."""

    id: str
    kind: str
    a: str
    b: str
    glued: bool
    at_mm: Point
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerRecord:
    """A screw, pin or dowel: its place is the top of its head, z the way it is driven."""

    path: str
    item: str
    joint: str
    parts: tuple[str, ...]
    length_mm: float
    place: PlaceRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRecord:
    """A size of the ledger and why it is what it is; `printed` is rounded so that every fit still holds."""

    name: str
    value_mm: float
    printed: str
    role: str
    because: tuple[str, ...]
    rule: str
    measured: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkRecord:
    """One link of a chain."""

    name: str
    value_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainRecord:
    """Sizes in a row that fill a total, and which one takes up the error."""

    id: str
    axis: str
    total: LinkRecord
    items: tuple[LinkRecord, ...]
    absorber: str
    least_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FitRecord:
    """What must go into what, with the least and most play."""

    id: str
    housing: LinkRecord
    insert: LinkRecord
    allow_mm: float
    play_mm: float
    least_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedRecord:
    """A sundry that a step, one of its cautions or an acceptance calls for; `mass_kg` where it is weighed out."""

    thing: str
    mass_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SandingRecord:
    """A grit, and how often the whole area is gone over with it."""

    grit: str
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRecord:
    """One step of the order of assembly."""

    id: str
    kind: str
    text: str
    into: str
    brings: tuple[str, ...]
    moves_mm: tuple[Point, ...]
    closes: tuple[str, ...]
    cautions: tuple[str, ...]
    lie: str
    packed: bool
    squares: bool
    cuts: tuple[str, ...]
    makes: tuple[str, ...]
    made_in: tuple[str, ...]
    uses: tuple[str, ...]
    needs: tuple[NeedRecord, ...]
    sands: tuple[SandingRecord, ...]
    dry_fit: bool
    unit: str
    noun: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRecord:
    """One different piece and how many of it."""

    path: str
    kind: str
    title: str
    count: int
    width_mm: float
    depth_mm: float
    height_mm: float
    mass_kg: float
    placed: tuple[PlacedRecord, ...]
    joints: tuple[JointRecord, ...]
    fasteners: tuple[FastenerRecord, ...]
    sizes: tuple[SizeRecord, ...]
    chains: tuple[ChainRecord, ...]
    fits: tuple[FitRecord, ...]
    steps: tuple[StepRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRecord:
    """One mark of the parts list; sizes are length, width, thickness, `cut_printed` as the pages print them."""

    mark: str
    mirror_of: str
    name: str
    count: int
    counts: dict[str, int]
    form: str
    stock: str
    finished_mm: Point
    cut_mm: Point
    rough_mm: Point
    cut_printed: tuple[str, str, str]
    grain: bool
    bands: tuple[str, ...]
    shows: tuple[str, ...]
    finishes: tuple[str, ...]
    ends: tuple[str, ...]
    hand: str
    features: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtRecord:
    """Hardware or fasteners of one item over the order."""

    item: str
    name: str
    count: int
    counts: dict[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidRecord:
    """A part or strip where it lies on its stock, from the stock's corner; a stick has no y and no width."""

    part: str
    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternRecord:
    """One sheet, board or stick cut up, and how many times."""

    stock: str
    length_mm: float
    width_mm: float
    times: int
    laid: tuple[LaidRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutRecord:
    """The layout of one stock item. Costs are in hundredths of the shop's currency."""

    item: str
    form: str
    status: str
    proven: bool
    cost_cents: int
    bound_cents: int
    reproducible: bool
    unplaced: dict[str, int]
    patterns: tuple[PatternRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRecord:
    """One finding; `value` and `limit` are in `unit`, `accepted` is the reason given in the order."""

    code: str
    severity: str
    path: str
    message: str
    value: float | None
    limit: float | None
    unit: str
    source: str
    remedy: str
    place: str
    related: tuple[str, ...]
    accepted: str
    stops: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """Everything computed from one order and one shop. Lengths are mm, angles degrees, masses kg."""

    format: str
    revision: str
    order: OrderRecord
    room: RoomRecord
    pieces: tuple[PieceRecord, ...]
    parts: tuple[PartRecord, ...]
    hardware: tuple[BoughtRecord, ...]
    fasteners: tuple[BoughtRecord, ...]
    layouts: tuple[LayoutRecord, ...]
    practice: dict[str, float]
    findings: tuple[FindingRecord, ...]
