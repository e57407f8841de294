"""What the blocks of a door share: its specification, and each leaf as a box."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from casewright.design.blocks.body import hand_of
from casewright.design.blocks.front_place import FrontMount, inset
from casewright.design.sites import Span
from casewright.order.pieces.lines import RowLine


class LeafKind(StrEnum):
    """What a door is made of."""

    SHEET = "sheet panel"  # frame and panel; a panel of sheet is glued in its groove
    SOLID = "solid panel"  # frame and panel; the panel is free in its groove
    GLASS = "glass"
    SLAB = "slab"  # one flat panel, sheet or solid


class Hinging(StrEnum):
    """The kind of hinge."""

    BUTT = "butt"
    CUP = "cup"
    KNIFE = "knife"


class Meeting(StrEnum):
    """One door, or how two of them meet."""

    SINGLE = "single"
    GAP = "gap"
    ASTRAGAL = "astragal"  # a strip on the leaf that closes first covers the gap from behind


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSpec:
    """What the order says of one door or pair, mm: gap around its wood, member widths, hinges.

    `hinge` is the side that they are on (−1 left); of a pair, that of the leaf that opens first. `hinges` is their
    number for a leaf, 0 leaves it to its height and weight. `host` is the member that they sit on, `far_host` that
    of a pair's other leaf; empty is the wall behind the opening's edge. Without a `mount` the door is inset. `sill`
    and `head` are the parts below and above the opening, `floor` carries stop, catch and bolt, and `ceiling`, with
    its lower face at `ceiling_z`, the upper bolt of a pair (none where it is empty). `over_floor` is how high the piece
    hangs. `rows` are those of matching pieces, whose pulls its own follow.
    """

    gap: float
    stile: float
    rail: float
    hinge: int
    hinges: int = 0
    host: str = ""
    far_host: str = ""
    kind: LeafKind = LeafKind.SHEET
    hinging: Hinging = Hinging.BUTT
    meeting: Meeting = Meeting.SINGLE
    mount: FrontMount | None = None
    sill: str = ""
    head: str = ""
    floor: str = "bottom"
    ceiling: str = ""
    ceiling_z: float = 0.0
    over_floor: float = 0.0
    finish: str = "paint"
    rows: tuple[RowLine, ...] = ()

    @property
    def placed(self) -> FrontMount:
        """How the door lies before its opening."""
        return self.mount if self.mount is not None else inset(self.gap)

    @property
    def framed(self) -> bool:
        """True for a door of stiles and rails."""
        return self.kind is not LeafKind.SLAB

    @property
    def pair(self) -> bool:
        """True for two leaves."""
        return self.meeting is not Meeting.SINGLE

    @property
    def bolted(self) -> bool:
        """True where one leaf of a pair must be held shut by bolts.

        Spring-loaded cup hinges hold a leaf by themselves, unless the other one closes against its astragal.
        """
        return self.pair and (self.meeting is Meeting.ASTRAGAL or self.hinging is not Hinging.CUP)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One leaf as a box: its name, spans, hinge side, and the groove of its panel.

    `edge` and `latch` are the x of what lies beyond its gaps: the opening's edges, or the middle of a pair. `active`
    is the leaf that opens first. `thick` names the ledger size of its thickness.
    """

    g: str
    x: Span
    y: Span
    z: Span
    hinge: int
    edge: float
    latch: float
    host: str
    thick: str
    active: bool = True
    groove: float = 0.0
    depth: float = 0.0
    tenon: float = 0.0

    @property
    def t(self) -> float:
        """Thickness."""
        return self.y[1] - self.y[0]

    @property
    def middle(self) -> float:
        """Where its middle lies across, mm."""
        return (self.x[0] + self.x[1]) / 2

    @property
    def middle_y(self) -> float:
        """Half way through its thickness."""
        return (self.y[0] + self.y[1]) / 2

    @property
    def height(self) -> float:
        """Up."""
        return self.z[1] - self.z[0]

    @property
    def hinge_hand(self) -> str:
        """The name of its hinge side."""
        return hand_of(self.hinge)

    @property
    def stands_off(self) -> float:
        """How far its hinge edge lies within the opening, mm; below zero where it laps over."""
        return self.hinge * (self.edge - self.outer(self.hinge))

    @property
    def cheek(self) -> float:
        """Wood before the panel's groove."""
        return (self.t - self.groove) / 2

    def outer(self, sign: int, inset: float = 0.0) -> float:
        """Return the x of its left (−1) or right (1) edge, or a line `inset` mm inside it."""
        return self.x[0] + inset if sign < 0 else self.x[1] - inset

    def member(self, sign: int) -> str:
        """Return the name of the part along its left (−1) or right (1) edge: a stile, or the slab."""
        return f"{self.g}/stile.{hand_of(sign)}" if self.groove else f"{self.g}/slab"

    def rails(self, path: str) -> tuple[str, ...]:
        """Return the full paths of its rails where their tenons stand deep in the stiles; `path` is the piece's."""
        deep = self.tenon > self.depth
        return tuple(f"{path}/{self.g}/rail.{name}" for name in ("top", "bottom")) if deep else ()
