"""The rest of the design's nouns: joints, chains, fits, keepouts, motions, steps, and the assembly."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field, replace
from enum import Enum

from casewright.design.frames import Frame, Vec
from casewright.design.ledger import Size
from casewright.design.parts import Fastener, Placed
from casewright.findings import Finding
from casewright.stock.sundries import Need, Sanding
from casewright.units.grid import record


class JointKind(Enum):
    """How two parts are held together."""

    GLUE = "glued"
    BUTT_SCREWS = "butt, glued and screwed"
    POCKET_SCREWS = "pocket screws and glue"
    RABBET = "rabbet"
    GROOVE = "panel in groove"
    STUB_TENON = "stub tenon in groove"
    MITRE = "mitre, glued"
    SLOTTED_SCREWS = "screws in slots"
    SCREWS = "screws"
    DOWEL = "dowel"
    PINS = "glue and pins"
    INSERT = "threaded insert"
    THREAD = "screwed into insert"
    HARDWARE = "hardware screws"
    HELD = "held removably"
    DADO = "dado, glued"
    TENON = "mortise and tenon"
    HALF_LAP = "half lap, glued"
    SPLINE_MITRE = "mitre with a spline"
    KEY_MITRE = "mitre with keys"
    EDGE_GLUE = "edges glued together"
    TONGUE = "tongue in groove, free to move"
    BUTTONS = "buttons in a groove"
    FIGURE_PLATES = "figure-eight plates"


# In words where a joint of the kind is not glued: a bead that comes off again, a back that is nailed to solid wood.
UNGLUED = {
    JointKind.PINS: "pins",
    JointKind.POCKET_SCREWS: "pocket screws",
    JointKind.BUTT_SCREWS: "butt, screwed",
}


@record
class Joint:
    """Where part `b` meets part `a`: paths, kind, and a frame in the piece (origin in the joint, z from a to b)."""

    id: str
    kind: JointKind
    a: str
    b: str
    frame: Frame
    glued: bool = False
    why: str = ""

    @property
    def words(self) -> str:
        """The kind in words, without glue where it has none of its own."""
        return kind_words(self.kind, self.glued)


def kind_words(kind: JointKind, glued: bool) -> str:
    """Return a kind of joint in words: "pins" where those alone hold, "glue and pins" else."""
    return kind.value if glued else UNGLUED.get(kind, kind.value)


@record
class ChainItem:
    """One link of a chain or one side of a fit: a ledger size's name and value in mm."""

    name: str
    value: float


@record
class Chain:
    """Sizes in a row that must fill a total: names of ledger sizes, values in mm.

    `absorber` is the link that takes up the error when the others are made as printed; it may then
    lie anywhere in [least, most].
    """

    id: str
    axis: str  # "x", "y" or "z"
    total: ChainItem
    items: tuple[ChainItem, ...]
    absorber: str
    least: float
    most: float

    @property
    def error(self) -> float:
        """Sum of the links less the total, mm."""
        return sum(i.value for i in self.items) - self.total.value


@record
class Fit:
    """Something that must go into something: `housing − insert + allow` must lie in [least, most], mm.

    Housing and insert are ledger sizes; `allow` is what the shop cannot change (a measured thickness). Printed
    sizes keep the fit: the housing is rounded up, the insert down.
    """

    id: str
    housing: ChainItem
    insert: ChainItem
    least: float
    most: float
    allow: float = 0.0
    source: str = ""

    @property
    def play(self) -> float:
        """What is left between the two, mm."""
        return self.housing.value - self.insert.value + self.allow


@record
class Keepout:
    """A box of the piece, `lo` to `hi`, that no fastener may enter, and the paths that own it.

    `of` limits it to the fasteners of these parts (an opening in one part is no obstacle in another).
    """

    id: str
    lo: Vec
    hi: Vec
    owners: tuple[str, ...]
    of: tuple[str, ...] = ()


class MotionKind(Enum):
    """How a member moves in use."""

    SLIDE = "slide"
    SWING = "swing"


@record
class Motion:
    """A drawer or door in use: members, a line (origin, direction) and a range (mm, or degrees)."""

    id: str
    kind: MotionKind
    members: tuple[str, ...]  # path prefixes
    origin: Vec
    direction: Vec
    reach: float


class StepKind(Enum):
    """What a step of the assembly does."""

    BRING = "bring"
    FASTEN = "fasten"
    DRILL = "drill"
    REMOVE = "remove"
    FINISH = "finish"


class Lie(Enum):
    """How a piece lies, or stands, while it is worked on."""

    UPRIGHT = "upright"
    FRONT = "on its front"
    BACK = "on its back"
    HEAD = "upside down"


@record
class Caution:
    """What to mind beside a step, and what it asks to have in hand for that."""

    text: str
    needs: tuple[Need, ...] = ()


@record
class Step:
    """One step of the order of assembly.

    `brings`: paths of parts, hardware or whole groups (a group is named by the path prefix that its
    members share). `into`: the group that they join. `moves`: the vectors (mm, piece frame) by which they
    arrive, in order; the last ends at the final place. `closes`: ids of joints that are closed by it.

    `lie` is how the piece lies meanwhile; `packed` is true where what arrives rests on the bench and is packed up as
    far as it lies behind the edges beside it. `squares`: diagonals are compared. `cuts`: paths of parts that get
    their size in it. `makes`: ids of joints whose features made at assembly are made in it, in the parts `made_in`.
    `uses`: paths of things that are bought without a place (wall screws, straps) and go on in it. `needs` and `sands`
    are the sundries and the abrasives that it takes, those of its cautions apart. `dry_fit`: what arrives is tried
    without glue first, however few joints it closes. `unit` is the drawer, door or shelf that it is for where several
    are made alike, one after the other, `noun` what such a one is called.
    """

    id: str
    kind: StepKind
    text: str
    into: str
    brings: tuple[str, ...] = ()
    moves: tuple[Vec, ...] = ()
    closes: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    lie: Lie = Lie.UPRIGHT
    packed: bool = False
    squares: bool = False
    cuts: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    made_in: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    sands: tuple[Sanding, ...] = ()
    dry_fit: bool = False
    unit: str = ""
    noun: str = ""

    def renamed(self, path: Callable[[str], str]) -> Step:
        """Return the step with each path and id in it as `path` gives it."""

        def paths(names: tuple[str, ...]) -> tuple[str, ...]:
            return tuple(map(path, names))

        return replace(
            self,
            id=path(self.id),
            into=path(self.into),
            brings=paths(self.brings),
            closes=paths(self.closes),
            cuts=paths(self.cuts),
            makes=paths(self.makes),
            made_in=paths(self.made_in),
            uses=paths(self.uses),
            unit=path(self.unit) if self.unit else "",
        )


def needs_of(step: Step) -> tuple[Need, ...]:
    """Return the sundries that a step and its cautions call for, each once."""
    return tuple(dict.fromkeys((*step.needs, *(n for caution in step.cautions for n in caution.needs))))


@record
class HardwareLine:
    """Bought things that have no place of their own in the model (glue, pins by the box): for the lists."""

    item: str
    count: int
    path: str


@record
class PieceDesign:
    """One finished piece: everything that one builder returns, in the piece's own frame."""

    path: str
    kind: str
    title: str
    width: float  # overall, as the client sees it, mm; pulls excluded
    depth: float
    height: float
    placed: tuple[Placed, ...] = ()
    joints: tuple[Joint, ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    keepouts: tuple[Keepout, ...] = ()
    chains: tuple[Chain, ...] = ()
    fits: tuple[Fit, ...] = ()
    motions: tuple[Motion, ...] = ()
    steps: tuple[Step, ...] = ()
    sizes: tuple[Size, ...] = ()
    findings: tuple[Finding, ...] = ()
    bought: tuple[HardwareLine, ...] = ()
    count: int = 1  # equal pieces of this design that the order wants
    # Names of cells and uprights (`c1,r2`, `u1`), counted from the left, each with its name in the mirror image.
    cells: tuple[tuple[str, str], ...] = ()
    excluded: tuple[str, ...] = ()  # paths that do not count in the overall size (pulls)
    place: str = field(default="", compare=False)

    def by_path(self) -> dict[str, Placed]:
        """Return the placed things by their path."""
        return {p.path: p for p in self.placed}


@record
class Assembly:
    """The root: every piece of the order, and what could not be built."""

    pieces: tuple[PieceDesign, ...]
    findings: tuple[Finding, ...] = ()
