"""Where the design's chains lie in a piece: a chain says which sizes follow each other, the parts say where.

1. The faces of parts along an axis are its planes. A chain lies where its running sums, up or down, meet planes
   most often.
2. Of equally good places it takes the one nearest to the things that its links speak of: those with the same cell in
   their path ("[c1,r2]"), or under the chain's own path; where there are none the one nearest to the middle.
3. A drawer's or door's chain that repeats the sizes of another is left out: what is alike is measured once. So is any
   chain that lies between the same planes as another, such as the rows of a second column alike.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import Chain, PieceDesign
from casewright.design.parts import Part, Placed
from casewright.design.printed_sizes import Printed, printed_sizes
from casewright.solids.collide import is_under, placed_boxes
from casewright.units import LengthStyle, Role, format_length

_CELL = re.compile(r"\[([^\]]*)\]")
NEAR = 0.06  # mm: a sum this near to a plane meets it

STACK = "/chain.fronts["  # in the name of a chain of fronts that gaps alone part


@dataclass(frozen=True, slots=True)
class Link:
    """One link of a located chain: from and to (piece frame, mm), its ledger name, and its printed size."""

    low: float
    high: float
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class LocatedChain:
    """A chain with its links in order from low to high, and its total."""

    id: str
    axis: int
    links: tuple[Link, ...]
    total: Link
    sure: bool  # every end of every link is a face of some part


def located_chains(piece: PieceDesign, cache: Cache, style: LengthStyle) -> tuple[LocatedChain, ...]:
    """Return every chain of a piece with its place, of repeated ones the first."""
    printed = printed_sizes(piece, style)
    things = tuple(p for p in piece.placed if isinstance(p.thing, Part))
    boxes = placed_boxes(things, cache).tolist()
    planes = [sorted(p) for p in _planes(boxes)]
    out: dict[tuple[str, ...], LocatedChain] = {}
    planes_of: set[tuple[object, ...]] = set()
    stacked = stacked_fronts(piece)
    for chain in piece.chains:
        if STACK not in chain.id and chain.axis == "z" and stacked & {chain.total.name, *(i.name for i in chain.items)}:
            continue  # its opening reaches over gaps; the chain of all the fronts says where these are
        axis = "xyz".index(chain.axis)
        found = _located(chain, planes[axis], printed, _home(piece, chain, things, boxes, axis))
        own = chain.id.rpartition(".chain")[0] in ("", piece.path)
        sign = (chain.id,) if own else (chain.axis, *(link.text for link in found.links))
        lies = (axis, *((round(link.low, 3), round(link.high, 3), link.text) for link in found.links))
        if found.links and lies not in planes_of:
            out.setdefault(sign, found)
            planes_of.add(lies)
    return tuple(out.values())


def stacked_fronts(piece: PieceDesign) -> set[str]:
    """Return the ledger names of heights of fronts that gaps alone part, in one opening or before one."""
    return {i.name for c in piece.chains if STACK in c.id for i in c.items if not i.name.endswith(".gap")}


def _home(
    piece: PieceDesign, chain: Chain, things: Sequence[Placed], boxes: Sequence[Sequence[float]], axis: int
) -> float | None:
    """Return the middle, along an axis, of the things that a chain speaks of; None where it speaks of none."""
    group = chain.id.rpartition(".chain")[0]
    cells = [cell for item in chain.items if (cell := _cell(item.name))]
    found = [
        (b[axis] + b[axis + 3]) / 2
        for thing, b in zip(things, boxes, strict=True)
        if (group not in ("", piece.path) and is_under(thing.path, group))
        or any(_holds(_cell(thing.path), cell) for cell in cells)
    ]
    return (min(found) + max(found)) / 2 if found else None


def _cell(name: str) -> tuple[str, ...]:
    """Return the words of the first cell in a name: "drawer[c1,r2.1]" has ("c1", "r2.1")."""
    found = _CELL.search(name)
    return tuple(found.group(1).split(",")) if found else ()


def _holds(inner: tuple[str, ...], outer: tuple[str, ...]) -> bool:
    """True where a cell lies in another: every word of the outer one is a word of the inner one, or begins it."""
    return bool(inner) and all(any(i == o or i.startswith(o + ".") for i in inner) for o in outer)


def text_of(printed: Printed) -> str:
    """Return a printed size without its unit."""
    return format_length(printed.value, Role.FREE, printed.style, unit=False)


def _planes(boxes: Sequence[Sequence[float]]) -> tuple[set[float], set[float], set[float]]:
    planes: tuple[set[float], set[float], set[float]] = (set(), set(), set())
    for box in boxes:
        for axis in range(3):
            planes[axis].update((round(box[axis], 4), round(box[axis + 3], 4)))
    planes[2].add(0.0)
    return planes


def _located(chain: Chain, planes: list[float], printed: dict[str, Printed], home: float | None) -> LocatedChain:
    best: tuple[float, float, bool, float] | None = None
    for downwards in (False, True):
        items = chain.items[::-1] if downwards else chain.items
        for origin in planes:
            at, met = origin, 1
            for item in items:
                at += item.value
                met += _meets(at, planes)
            score = (-float(met), abs((origin + at) / 2 - (home or 0.0)), downwards, origin)
            best = score if best is None or score < best else best
    assert best is not None
    items = chain.items[::-1] if best[2] else chain.items
    links, at = [], best[3]
    for item in items:
        if item.value > NEAR:  # no size of nothing is drawn
            links.append(Link(at, at + item.value, item.name, text_of(printed[item.name])))
        at += item.value
    total = Link(best[3], at, chain.total.name, text_of(printed[chain.total.name]))
    return LocatedChain(chain.id, "xyz".index(chain.axis), tuple(links), total, -best[0] == len(items) + 1)


def _meets(at: float, planes: list[float]) -> bool:
    return any(abs(p - at) <= NEAR for p in planes)
