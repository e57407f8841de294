"""The opening schedule as records: every drawer and door, its opening, front, gaps and what moves it. Lengths in mm.

A motion of the design names a drawer or door; its chains `<group>.chain.x` and `.z` name opening, front and gap; the
hardware in it says the rest. So a drawer of a new kind of piece is in the schedule as soon as its builder emits these.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import Chain, Motion, MotionKind, PieceDesign
from casewright.design.parts import Hardware, Part, Placed
from casewright.project import Project
from casewright.solids.collide import is_under, placed_boxes
from casewright.stock.model import Hinge, Item, Pull, Slide


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """One direction of an opening: ledger names of opening, front and gap, and how many gaps there are."""

    opening: str
    front: str
    gap: str
    opening_mm: float
    front_mm: float
    gap_mm: float
    gaps: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PullPlace:
    """A pull: from the front's left edge and from its lower edge to its middle, mm; `centres` 0 is a knob."""

    item: str
    from_left: float
    from_below: float
    centres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HingePlace:
    """A hinge: its lower and upper edge above the door's lower edge, mm."""

    item: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A drawer or door of one piece. `blocking` and `box` are placed parts; `hinged` is "left", "right" or empty."""

    piece: PieceDesign
    group: str
    kind: MotionKind
    width: Across
    height: Across
    box: tuple[Placed, ...]
    blocking: tuple[Placed, ...]
    slide: str
    pulls: tuple[PullPlace, ...]
    hinges: tuple[HingePlace, ...]
    hinged: str
    reach: float

    @property
    def name(self) -> str:
        """The last part of its path: "drawer[c1,r1]"."""
        return self.group.rpartition("/")[2]


def openings(project: Project, piece: PieceDesign) -> tuple[Opening, ...]:
    """Return the drawers and doors of a piece, in the order of its motions."""
    return tuple(o for m in piece.motions if (o := _opening(project, piece, m)) is not None)


def _opening(project: Project, piece: PieceDesign, motion: Motion) -> Opening | None:
    group = motion.id.rpartition(".")[0]
    chains = {c.id: c for c in piece.chains}
    width, height = (chains.get(f"{group}.chain.{axis}") for axis in ("x", "z"))
    if width is None or height is None:
        return None
    members = [p for p in piece.placed if any(is_under(p.path, m) for m in motion.members)]
    near = [p for p in piece.placed if p.path.startswith(f"{group}.")]  # what belongs to it and stays in the case
    front = _front_box(members, project.cache)
    things = [(p, _item(project, p)) for p in (*members, *near)]
    return Opening(
        piece=piece,
        group=group,
        kind=motion.kind,
        width=_across(width),
        height=_across(height),
        box=tuple(p for p in members if isinstance(p.thing, Part) and ".box." in "".join(p.sizes)),
        blocking=tuple(p for p in near if isinstance(p.thing, Part) and ".blocking." in "".join(p.sizes)),
        slide=next((i.id for _, i in things if isinstance(i, Slide)), ""),
        pulls=tuple(_pull(p, i, front) for p, i in things if isinstance(i, Pull)),
        hinges=_hinges(project.cache, ((p, i) for p, i in things if isinstance(i, Hinge)), front),
        hinged=("left" if motion.origin[0] < (front[0] + front[3]) / 2 else "right")
        if motion.kind is MotionKind.SWING
        else "",
        reach=motion.reach,
    )


def _across(chain: Chain) -> Across:
    gap = chain.items[0]
    front = next(i for i in chain.items if i.name != gap.name)
    return Across(
        opening=chain.total.name,
        front=front.name,
        gap=gap.name,
        opening_mm=chain.total.value,
        front_mm=front.value,
        gap_mm=gap.value,
        gaps=sum(i.name == gap.name for i in chain.items),
    )


Box = tuple[float, float, float, float, float, float]


def _front_box(members: list[Placed], cache: Cache) -> Box:
    """Return the box of a drawer's or door's parts: seen from in front it is that of the front, the widest of them."""
    boxes = placed_boxes(tuple(p for p in members if isinstance(p.thing, Part)), cache)
    low, high = boxes[:, :3].min(axis=0).tolist(), boxes[:, 3:].max(axis=0).tolist()
    return (low[0], low[1], low[2], high[0], high[1], high[2])


def _item(project: Project, placed: Placed) -> Item | None:
    return project.stock.get(placed.thing.item) if isinstance(placed.thing, Hardware) else None


def _pull(placed: Placed, item: Pull, front: Box) -> PullPlace:
    x, _, z = placed.frame.origin
    return PullPlace(item=item.id, from_left=x - front[0], from_below=z - front[2], centres=item.centres)


def _hinges(cache: Cache, found: Iterable[tuple[Placed, Hinge]], front: Box) -> tuple[HingePlace, ...]:
    """Return each hinge once: its leaves lie at one height."""
    out: dict[float, HingePlace] = {}
    for placed, item in found:
        box = placed_boxes((placed,), cache)[0]
        middle = (float(box[2]) + float(box[5])) / 2 - front[2]
        out[round(middle, 2)] = HingePlace(item=item.id, low=middle - item.height / 2, high=middle + item.height / 2)
    return tuple(out[at] for at in sorted(out))
