"""What may be said of one drawer: its front, its box, what it runs on. Every choice has a default."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from casewright.design.blocks.front_place import FrontMount, inset
from casewright.design.blocks.top import Moisture
from casewright.order.pieces.lines import RowLine


class Guidance(StrEnum):
    """What a drawer runs on."""

    SIDE_MOUNT = "side-mount"
    UNDER_MOUNT = "under-mount"
    RUNNERS = "runners"


class FrontKind(StrEnum):
    """How a drawer front is made."""

    APPLIED = "applied frame"
    SLAB = "slab"
    PANEL = "frame-and-panel"


class Corner(StrEnum):
    """How the corners of a drawer box are joined; `AUTO` goes by thickness and load, and says why."""

    AUTO = "auto"
    RABBET = "rabbet"
    POCKETS = "pocket screws"
    DOWELS = "dowels"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """What the order says of one drawer, mm.

    `gap` is the gap around the wood of an inset front; `mount` says how another lies. `frame_margin` is the margin of
    an applied frame, `member` the width of the stiles and rails of a framed front. Sheet or solid wood follows from
    the stock of the roles; solid wood needs `moisture`. `load` is what the drawer must bear, kg, 0 where nothing is
    said. `pulls` are how many there may be, the best first, `finish` that of the front. Fronts of one `run` are cut
    side by side, by `run_place`, so that their grain matches. `upright` turns the grain of a front of sheet as that of
    the doors beside it. `rows` are those of matching pieces, whose pulls its own follow.
    """

    gap: float
    frame_margin: float = 0.0
    front: FrontKind = FrontKind.APPLIED
    mount: FrontMount | None = None
    member: float = 0.0
    corner: Corner = Corner.AUTO
    guidance: Guidance = Guidance.SIDE_MOUNT
    moisture: Moisture | None = None
    load: float = 0.0
    pulls: tuple[int, ...] = (1,)
    finish: str = "paint"
    run: str = ""
    run_place: int = 0
    upright: bool = False
    rows: tuple[RowLine, ...] = ()

    @property
    def lies(self) -> FrontMount:
        """How the front is mounted: inset with its gap, unless the order says otherwise."""
        return self.mount if self.mount is not None else inset(self.gap)
