"""Records of the layout room: what is wanted, what there is, what was found. Knows nothing of design.

All lengths are int, in 1/16,000 mm (`GRID` steps a millimetre); `to_grid_up` rounds parts and kerf
up, `to_grid_down` rounds stock down, so that what fits on the grid fits in the shop. Prices are
int, in 1/100 of the currency unit. A sheet lies with its length along x and its width along y.

An answer always says what it could not place, a proven bound of its first goal, and how it ended.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum
from typing import Protocol

GRID = 16_000


def to_grid_up(mm: float) -> int:
    """Round a length in mm up to the grid (a millionth of a step is forgiven as float noise)."""
    return math.ceil(mm * GRID - 1e-6)


def to_grid_down(mm: float) -> int:
    """Round a length in mm down to the grid."""
    return math.floor(mm * GRID + 1e-6)


def to_mm(steps: int) -> float:
    """Return the length in mm."""
    return steps / GRID


class Stop(Protocol):
    """A token that is asked now and then whether to end early."""

    def is_set(self) -> bool:
        """True once the search should end."""


Progress = Callable[["Report"], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What a solver tells while it runs: `value` of the first goal, its bound, seconds since the start.

    `layout` is the best sheet layout so far, verified, where the solver gives it.
    """

    value: int | None
    bound: int
    seconds: float
    note: str = ""
    layout: SheetLayout | None = None


class Status(Enum):
    """How a search ended."""

    PROVEN = "proven"  # value equals bound
    BUDGET = "step budget used"
    STOPPED = "stopped by the caller"
    TIME = "outer time limit: not reproducible"
    INFEASIBLE = "something cannot be placed"


class Goal(Enum):
    """What is to be made small (or, for REMNANT and OFFCUTS, large), in the order that the caller gives."""

    COST = "cost of stock bought"
    OFFCUTS = "offcuts used up"
    REMNANT = "most useful remainder in one rectangle"
    SETTINGS = "different fence settings"
    CUTS = "cuts and turns of the sheet"


DEFAULT_GOALS = (Goal.COST, Goal.OFFCUTS, Goal.REMNANT, Goal.SETTINGS, Goal.CUTS)


class Axis(Enum):
    """Direction of a saw line: a RIP runs along x (the sheet's length), a CROSSCUT along y."""

    RIP = "rip"
    CROSSCUT = "crosscut"


# --- sheets ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """`count` equal rectangles. `turn` allows a quarter turn (no grain, or it does not matter).

    Parts of one `group` must come from one sheet, side by side in `sequence` along the sheet's
    width or length (matched fronts).
    """

    id: str
    length: int
    width: int
    count: int = 1
    turn: bool = False
    group: str = ""
    sequence: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet size or a kind of offcut; `count` None is as many as wanted; `price` is 0 for offcuts on hand.

    `trim` is cut off the four factory edges first: (at x = 0, at x = length, at y = 0, at y = width).
    """

    id: str
    length: int
    width: int
    count: int | None = None
    price: int = 0
    trim: tuple[int, int, int, int] = (0, 0, 0, 0)
    offcut: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Saws:
    """What the shop's saws can do. `kerf` is the widest blade of the saws in the plan.

    `longest_rip`, `widest_crosscut`: greatest length of a cut line of that direction that the finishing saw can
    make; `breakdown_kerf` and `breakdown_allowance` (re-cut on both sides) belong to the first cuts that
    bring a sheet down to pieces no larger than `lift_length` × `lift_width`. None is no limit.
    """

    kerf: int
    longest_rip: int | None = None
    widest_crosscut: int | None = None
    breakdown_kerf: int = 0
    breakdown_allowance: int = 0
    lift_length: int | None = None
    lift_width: int | None = None

    @property
    def rough_width(self) -> int:
        """What one breakdown line takes from the sheet: its own kerf (0: the saw's) and the re-cut of both edges."""
        return (self.breakdown_kerf or self.kerf) + 2 * self.breakdown_allowance


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A leaf of a cut tree that is not a part: kept as an offcut, or waste."""

    x: int
    y: int
    length: int
    width: int
    keep: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A part where it lies; `turned` means its length runs along y."""

    part: str
    x: int
    y: int
    length: int  # along x, as it lies
    width: int  # along y
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A plate and the saw lines that divide it: `lines` are positions of the near edge of each kerf, ascending.

    A RIP's lines are y positions, a CROSSCUT's x positions, both from the sheet's corner; `kerf` the width each
    line takes; `rough` marks breakdown cuts. `pieces` has one entry more than `lines`.

    A rough line takes the breakdown kerf and the re-cut on both sides (`Saws.rough_width`). A last line may run
    over the plate's edge (less than a kerf is left): then the last piece is a `Rest` of no size.
    """

    axis: Axis
    x: int
    y: int
    length: int
    width: int
    lines: tuple[int, ...]
    kerf: int
    pieces: tuple[Cut | Laid | Rest, ...]
    rough: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPattern:
    """One cut sheet, made `times` times; `locked` where it has been cut already."""

    stock: str
    root: Cut | Laid | Rest
    times: int = 1
    locked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDemand:
    """A whole sheet problem. `stages` None is unlimited; `first` None leaves the first direction open."""

    parts: tuple[SheetPart, ...]
    stock: tuple[SheetStock, ...]
    saws: Saws
    goals: tuple[Goal, ...] = DEFAULT_GOALS
    first: Axis | None = None
    stages: int | None = None
    locked: tuple[SheetPattern, ...] = ()
    keep_length: int = 0  # rests at least this long and wide are kept as offcuts
    keep_width: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """Parts that are not in the answer, and why."""

    part: str
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How an answer stands: value and proven bound of the first goal, status, what it took, whether it repeats.

    `goals` gives the value of each goal of the demand, in its order; `closed` the goals that are proven.
    """

    value: int
    bound: int
    status: Status
    seed: int
    steps: int
    seconds: float
    reproducible: bool = True
    goals: tuple[tuple[Goal, int], ...] = ()
    closed: tuple[Goal, ...] = ()

    @property
    def gap(self) -> float:
        """(value − bound) / value; 0 where proven."""
        return 0.0 if self.value <= self.bound else (self.value - self.bound) / self.value

    @property
    def proven(self) -> bool:
        """True where no better answer of the first goal exists."""
        return self.status is Status.PROVEN


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLayout:
    """The answer to a `SheetDemand`; equal sheets stand once with `times`."""

    patterns: tuple[SheetPattern, ...]
    unplaced: tuple[Unplaced, ...]
    outcome: Outcome


# --- sticks ---------------------------------------------------------------------------------------


class StickEnd(Enum):
    """How an end of a stick part is cut."""

    SQUARE = "square"
    MITRE = "mitre"  # outside corner: this end's long point is at the outer face
    MITRE_IN = "inside mitre"


@dataclass(frozen=True, slots=True, kw_only=True)
class StickPart:
    """`count` equal pieces; `length` is long point to long point. Ends and the mitre's run (long to short point).

    Pieces of one `run` are cut in `sequence` from one stick where `in_sequence` is set. A part that is two pieces, to
    be parted only once they are worked, says where, from its left end: `parted`.
    """

    id: str
    length: int
    count: int = 1
    left: StickEnd = StickEnd.SQUARE
    right: StickEnd = StickEnd.SQUARE
    left_run: int = 0
    right_run: int = 0
    run: str = ""
    sequence: int = 0
    in_sequence: bool = False
    parted: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StickStock:
    """A stock length or an offcut with a count."""

    id: str
    length: int
    count: int | None = None
    price: int = 0
    offcut: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StickDemand:
    """A whole stick problem of one section. `share_mitres`: one cut may serve two mitred ends."""

    parts: tuple[StickPart, ...]
    stock: tuple[StickStock, ...]
    kerf: int
    end_trim: int = 0  # lost at each end of a new stick
    least_held: int = 0  # shortest piece that can be held at the saw
    share_mitres: bool = False
    mitre_kerf: int = 0  # what a mitred cut takes along the stick (kerf / cos of the mitre); 0: as `kerf`
    keep_length: int = 0
    goals: tuple[Goal, ...] = (Goal.COST, Goal.OFFCUTS, Goal.REMNANT)
    locked: tuple[StickPattern, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StickPiece:
    """A part on a stick: `start` of its long-point length from the stick's end; `flipped` end for end."""

    part: str
    start: int
    length: int
    flipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StickPattern:
    """One stick cut up, `times` times; `rest` is what is left at the far end."""

    stock: str
    pieces: tuple[StickPiece, ...]
    rest: int
    times: int = 1
    locked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StickLayout:
    """The answer to a `StickDemand`."""

    patterns: tuple[StickPattern, ...]
    unplaced: tuple[Unplaced, ...]
    outcome: Outcome


# --- boards ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPart:
    """`count` equal solid parts, rough sizes. A glue-up has `strip_min` > 0 and is laid out as strips.

    `width` then is the panel's width; `jointing` is lost on each glued edge; `show` parts get the best boards;
    parts of one `match` are kept to neighbouring boards (colour and grain run).
    """

    id: str
    length: int
    width: int
    count: int = 1
    strip_min: int = 0
    strip_max: int = 0
    jointing: int = 0
    show: bool = False
    match: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStock:
    """A board on hand or to buy, one thickness class; `defects` are unusable (x0, x1) stretches along it.

    `price` is for the board; `count` None is as many as wanted; lower `grade` is better.
    """

    id: str
    length: int
    width: int
    count: int | None = None
    price: int = 0
    defects: tuple[tuple[int, int], ...] = ()
    grade: int = 0
    offcut: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardDemand:
    """A whole board problem of one species and thickness class. Parts lie along the board always."""

    parts: tuple[BoardPart, ...]
    stock: tuple[BoardStock, ...]
    kerf: int
    end_trim: int = 0
    edge_trim: int = 0
    keep_length: int = 0
    keep_width: int = 0
    goals: tuple[Goal, ...] = (Goal.COST, Goal.OFFCUTS, Goal.REMNANT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One strip of a glue-up: panel's part id, which copy, which place in it, its width when glued."""

    part: str
    copy: int
    place: int
    width: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPattern:
    """One board cut up: a cut tree as on sheets, leaves being parts or strips (`part` is "id#copy/strip")."""

    stock: str
    root: Cut | Laid | Rest
    strips: tuple[Strip, ...] = ()
    times: int = 1
    rip_first: bool = True
    locked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardLayout:
    """The answer to a `BoardDemand`, with the panels' strips."""

    patterns: tuple[BoardPattern, ...]
    unplaced: tuple[Unplaced, ...]
    outcome: Outcome
    panels: tuple[tuple[str, int, tuple[Strip, ...]], ...] = field(default=())
