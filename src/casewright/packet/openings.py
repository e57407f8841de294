"""The opening schedule as records: every drawer and door, its opening, front, gaps and what moves it. Lengths in mm.

A motion of the design names a drawer or door; its chains `<group>.chain.x` and `.z` name opening, front and what is
between them; the hardware in it says the rest. So a drawer of a new kind of piece is in the schedule as soon as its
builder emits these. An inset front and its gaps add up to the opening; the opening and the laps over its edges
(`….lap.…`) add up to an overlay front. One of a pair of doors has its neighbours in a chain of its own. A lid has one
chain, along its depth.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import Chain, Motion, MotionKind, PieceDesign
from casewright.design.parts import Hardware, Part, Placed
from casewright.packet.drawing.chains_located import stacked_fronts
from casewright.project import Project
from casewright.solids.collide import is_under_any, placed_boxes
from casewright.stock.fittings import CupHinge, LidStay, UnderSlide
from casewright.stock.model import Hinge, Item, Pull, Slide

LAP = ".lap."  # in the name of what a front laps over the edge of its opening
HANDS = ("left", "right")
NEAR = 0.1  # mm: screws this near to the middle of a slide are in its middle row
LEAVES = (".left", ".right")  # how the names of a pair of doors end


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """What is between an edge of a front and that of its opening or neighbour: a gap, or how far it laps, mm."""

    mm: float
    laps: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """One direction of an opening: ledger names of opening and front; edges left and right, or below and above."""

    opening: str
    front: str
    low: Edge
    high: Edge


@dataclass(frozen=True, slots=True, kw_only=True)
class PullPlace:
    """A pull: from the front's left edge and from its lower edge to its middle, mm; `centres` 0 is a knob."""

    item: str
    from_left: float
    from_below: float
    centres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SlidePlace:
    """A side-mount slide: its middle over the lower edge of the opening, mm.

    `rows` is how far over its middle (below: less than 0) the row of holes lies through which its case member is
    screwed, by hand: drawers that share a wall have rows of their own, each the same left and right, and stay level.
    """

    middle: float
    rows: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HingePlace:
    """A hinge: its lower and upper edge above the lower edge of the door, mm; both are the middle of a cup."""

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
    slide_place: SlidePlace | None
    pulls: tuple[PullPlace, ...]
    hinges: tuple[HingePlace, ...]
    hinged: str
    reach: float

    @property
    def stacked(self) -> bool:
        """True where a gap alone parts its front from another one; its opening then reaches over that gap."""
        return self.height.front in stacked_fronts(self.piece)

    @property
    def name(self) -> str:
        """The last part of its path: "drawer[c1,r1]"."""
        return self.group.rpartition("/")[2]

    @property
    def front_sizes(self) -> tuple[str, str]:
        """The ledger names of the front's width and height: of a leaf its own, which its parts are printed by."""
        own = f"{self.name}.{self.height.front.rpartition('.')[2]}"
        leaf = self.name.endswith(LEAVES) and any(s.name == own for s in self.piece.sizes)
        return self.width.front, own if leaf else self.height.front


def openings(project: Project, piece: PieceDesign) -> tuple[Opening, ...]:
    """Return the drawers and doors of a piece, in the order of its motions."""
    return tuple(o for m in piece.motions if (o := _opening(project, piece, m)) is not None)


def _opening(project: Project, piece: PieceDesign, motion: Motion) -> Opening | None:
    group = motion.id.rpartition(".")[0]
    width, height = (across(piece, group, axis) for axis in ("x", "z"))
    if width is None or height is None:
        return None
    members = [p for p in piece.placed if is_under_any(p.path, motion.members)]
    near = [p for p in piece.placed if p.path.startswith(f"{group}.")]  # what belongs to it and stays in the case
    front = _front_box(members, project.cache)
    things = [(p, _item(project, p)) for p in (*members, *near)]
    return Opening(
        piece=piece,
        group=group,
        kind=motion.kind,
        width=width,
        height=height,
        box=tuple(p for p in members if isinstance(p.thing, Part) and ".box." in "".join(p.sizes)),
        blocking=tuple(p for p in near if isinstance(p.thing, Part) and ".blocking." in "".join(p.sizes)),
        slide=next((i.id for _, i in things if isinstance(i, Slide | UnderSlide)), ""),
        slide_place=_slide_place(piece, group, front[2] + (height.low.mm if height.low.laps else -height.low.mm)),
        pulls=tuple(_pull(p, i, front) for p, i in things if isinstance(i, Pull)),
        hinges=_hinges(project.cache, things, front),
        hinged=("left" if motion.origin[0] < (front[0] + front[3]) / 2 else "right")
        if motion.kind is MotionKind.SWING
        else "",
        reach=motion.reach,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lid:
    """A lid that lifts up: ledger names of its length, width, thickness and strip, its gap before the strip, mm.

    `hinges` are the lower (left) and upper (right) ends of each from the lid's left end; `stays` are items with how
    many of each; it opens by `reach` degrees.
    """

    piece: PieceDesign
    group: str
    sizes: tuple[str, str, str]
    strip: str
    gap: float
    hinges: tuple[HingePlace, ...]
    stays: tuple[tuple[str, int], ...]
    reach: float


def lids(project: Project, piece: PieceDesign) -> tuple[Lid, ...]:
    """Return the lids of a piece, in the order of its motions."""
    return tuple(lid for m in piece.motions if (lid := _lid(project, piece, m)) is not None)


def _lid(project: Project, piece: PieceDesign, motion: Motion) -> Lid | None:
    group = motion.id.rpartition(".")[0]
    chain = next((c for c in piece.chains if c.id == f"{group}.chain" and c.axis == "y"), None)
    if chain is None:
        return None
    width, gap, strip = chain.items
    panel = next(p for p in piece.placed if p.path.startswith(f"{group}/") and width.name in p.sizes)
    left = float(placed_boxes((panel,), project.cache)[0][0])
    found = [(p, i) for p in piece.placed if (i := _item(project, p)) is not None]
    stays = Counter(i.id for p, i in found if isinstance(i, LidStay) and p.path.startswith(f"{group}_"))
    hinges = []
    for placed, item in found:
        if isinstance(item, Hinge) and placed.path.startswith(f"{group}/"):
            box = placed_boxes((placed,), project.cache)[0]
            middle = (float(box[0]) + float(box[3])) / 2 - left
            hinges.append(HingePlace(item=item.id, low=middle - item.height / 2, high=middle + item.height / 2))
    length, _, thickness = panel.sizes
    return Lid(
        piece=piece,
        group=group,
        sizes=(length, width.name, thickness),
        strip=strip.name,
        gap=gap.value,
        hinges=tuple(sorted(hinges, key=lambda h: h.low)),
        stays=tuple(stays.items()),
        reach=motion.reach,
    )


def across(piece: PieceDesign, group: str, axis: str) -> Across | None:
    """Return one direction ("x", "z") of a front's opening from its chains; None where they do not say it."""
    chains = {c.id: c for c in piece.chains}
    pair = next((group.removesuffix(leaf) for leaf in LEAVES if group.endswith(leaf)), "")
    own, whole = chains.get(f"{group}.chain.{axis}"), chains.get(f"{pair}.chain.{axis}")
    if own is None or whole is None:
        given = own or whole
        return None if given is None else _whole(given)
    around = _whole(whole)
    name = group.rpartition("/")[2] + "."
    at = next(i for i, item in enumerate(own.items) if item.name.startswith(name))
    low = Edge(mm=own.items[at - 1].value, laps=False) if at else around.low
    high = Edge(mm=own.items[at + 1].value, laps=False) if at + 1 < len(own.items) else around.high
    return Across(opening=around.opening, front=own.items[at].name, low=low, high=high)


def _whole(chain: Chain) -> Across:
    """Return what a chain from edge to edge says: gap, front, gap; or lap, opening, lap."""
    first, middle, last = chain.items[0], chain.items[1], chain.items[-1]
    laps = LAP in first.name
    opening, front = (middle, chain.total) if laps else (chain.total, middle)
    # Beside a front that no member parts from it, a front that laps elsewhere ends a gap short of its opening.
    low, high = (Edge(mm=abs(item.value), laps=laps and item.value > 0) for item in (first, last))
    return Across(opening=opening.name, front=front.name, low=low, high=high)


Box = tuple[float, float, float, float, float, float]


def _front_box(members: list[Placed], cache: Cache) -> Box:
    """Return the box of a drawer's or door's parts: seen from in front it is that of the front, the widest of them."""
    boxes = placed_boxes(tuple(p for p in members if isinstance(p.thing, Part)), cache)
    low, high = boxes[:, :3].min(axis=0).tolist(), boxes[:, 3:].max(axis=0).tolist()
    return (low[0], low[1], low[2], high[0], high[1], high[2])


def _item(project: Project, placed: Placed) -> Item | None:
    return project.stock.get(placed.thing.item) if isinstance(placed.thing, Hardware) else None


def _slide_place(piece: PieceDesign, group: str, low: float) -> SlidePlace | None:
    """Return where a drawer's side-mount slides lie over the lower edge of its opening (`low`, mm); None without."""
    heights: dict[str, list[float]] = {}
    for f in piece.fasteners:
        heights.setdefault(f.joint, []).append(f.frame.origin[2])
    middles = [z for hand in HANDS for z in heights.get(f"{group}/slide_drawer.{hand}~wood", ())]
    if not middles:
        return None
    case = {hand: heights.get(f"{group}.slide_case.{hand}~wood", ()) for hand in HANDS}
    rows = [(hand, z[0] - middles[0]) for hand, z in case.items() if z and abs(z[0] - middles[0]) > NEAR]
    return SlidePlace(middle=middles[0] - low, rows=tuple(rows))


def _pull(placed: Placed, item: Pull, front: Box) -> PullPlace:
    x, _, z = placed.frame.origin
    return PullPlace(item=item.id, from_left=x - front[0], from_below=z - front[2], centres=item.centres)


def _hinges(cache: Cache, found: Iterable[tuple[Placed, Item | None]], front: Box) -> tuple[HingePlace, ...]:
    """Return each hinge once: its leaves, or its cup and plate, lie at one height."""
    out: dict[float, HingePlace] = {}
    for placed, item in found:
        if isinstance(item, CupHinge):
            middle, half = placed.frame.origin[2] - front[2], 0.0
        elif isinstance(item, Hinge):
            box = placed_boxes((placed,), cache)[0]
            middle, half = (float(box[2]) + float(box[5])) / 2 - front[2], item.height / 2
        else:
            continue
        out[round(middle, 2)] = HingePlace(item=item.id, low=middle - half, high=middle + half)
    return tuple(out[at] for at in sorted(out))
