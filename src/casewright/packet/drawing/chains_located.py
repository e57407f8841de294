"""Where the design's chains lie in a piece: a chain says which sizes follow each other, the parts say where.

The faces of parts along an axis are its planes. A chain lies where its running sums, upwards or downwards, meet planes
most often; of equally good places the one whose ends are planes and which lies nearest to the middle.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.cache import Cache
from casewright.design.assembly import Chain, PieceDesign
from casewright.design.parts import Part
from casewright.design.printed_sizes import Printed, printed_sizes
from casewright.solids.collide import placed_boxes
from casewright.units import LengthStyle, Role, format_length

NEAR = 0.06  # mm: a sum this near to a plane meets it


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
    """Return every chain of a piece with its place."""
    printed = printed_sizes(piece, style)
    planes = [sorted(p) for p in _planes(piece, cache)]
    return tuple(_located(chain, planes["xyz".index(chain.axis)], printed) for chain in piece.chains)


def text_of(printed: Printed) -> str:
    """Return a printed size without its unit."""
    return format_length(printed.value, Role.FREE, printed.style, unit=False)


def _planes(piece: PieceDesign, cache: Cache) -> tuple[set[float], set[float], set[float]]:
    parts = tuple(p for p in piece.placed if isinstance(p.thing, Part))
    boxes = placed_boxes(parts, cache)
    planes: tuple[set[float], set[float], set[float]] = (set(), set(), set())
    for box in boxes.tolist():
        for axis in range(3):
            planes[axis].update((round(box[axis], 4), round(box[axis + 3], 4)))
    planes[2].add(0.0)
    return planes


def _located(chain: Chain, planes: list[float], printed: dict[str, Printed]) -> LocatedChain:
    best: tuple[float, float, bool, float] | None = None
    for downwards in (False, True):
        items = chain.items[::-1] if downwards else chain.items
        for origin in planes:
            at, met = origin, 1
            for item in items:
                at += item.value
                met += _meets(at, planes)
            score = (-float(met), abs(origin + (at - origin) / 2), downwards, origin)
            best = score if best is None or score < best else best
    assert best is not None
    items = chain.items[::-1] if best[2] else chain.items
    links, at = [], best[3]
    for item in items:
        links.append(Link(at, at + item.value, item.name, text_of(printed[item.name])))
        at += item.value
    total = Link(best[3], at, chain.total.name, text_of(printed[chain.total.name]))
    return LocatedChain(chain.id, "xyz".index(chain.axis), tuple(links), total, -best[0] == len(items) + 1)


def _meets(at: float, planes: list[float]) -> bool:
    return any(abs(p - at) <= NEAR for p in planes)
