"""The order of blocks on one stick, so that as many mitred cuts as possible serve two ends.

Ends of one slope meet at one node and blocks are edges between the nodes of their two ends; blocks
that share cuts one after the other are then a trail, and the fewest trails (Euler) share the most
cuts. A square end is a node of its own, because nothing is shared there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickPiece, StickStock
from casewright.layout.sticks.blocks import Block, gap_between

Node = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Turned:
    """A block as it lies; `flipped` end for end."""

    block: Block
    flipped: bool

    @property
    def left(self) -> int:
        """Slope of the end that lies left."""
        return self.block.right if self.flipped else self.block.left

    @property
    def right(self) -> int:
        """Slope of the end that lies right."""
        return self.block.left if self.flipped else self.block.right


Trail = list[Turned]


def arrange(demand: StickDemand, source: StickStock, blocks: Sequence[Block]) -> tuple[StickPiece, ...] | None:
    """Return the pieces of `blocks` laid on a stick of `source`, or None where they do not fit or cannot be held."""
    trails = _trails(blocks) if demand.share_mitres else [[Turned(b, False)] for b in blocks]
    pieces = _lay(demand, 0 if source.offcut else demand.end_trim, _in_order(trails, demand.share_mitres))
    end = source.length - (0 if source.offcut else demand.end_trim)
    if pieces and pieces[-1].start + pieces[-1].length > end:
        return None
    return tuple(pieces) if _can_be_held(demand, source, pieces) else None


def _in_order(trails: list[Trail], turn: bool) -> list[Turned]:
    """Short pieces first, so that the saw always has something long to hold; mitred blocks before square ones."""
    if turn:
        trails = [_long_end_last(t) for t in trails]
    trails.sort(key=lambda t: (max(b.block.longest for b in t), -abs(t[0].left) - abs(t[-1].right), -len(t)))
    mitred = [t for t in trails[:-1] if t[0].left or t[-1].right]
    square = [t for t in trails[:-1] if not (t[0].left or t[-1].right)]
    last = trails[-1:]
    groups = square + mitred + last if last and (last[0][0].left or last[0][-1].right) else mitred + square + last
    return [block for trail in groups for block in trail]


def _long_end_last(trail: Trail) -> Trail:
    lengths = [b.block.longest for b in trail]
    if lengths.index(max(lengths)) * 2 >= len(trail) - 1 or any(b.block.fixed for b in trail):
        return trail
    return [Turned(b.block, not b.flipped) for b in reversed(trail)]


def _lay(demand: StickDemand, start: int, order: list[Turned]) -> list[StickPiece]:
    pieces: list[StickPiece] = []
    previous: Turned | None = None
    for turned in order:
        if previous is not None:
            start += gap_between(demand, previous.right, turned.left)
        block = turned.block
        for part, offset in zip(block.parts, block.offsets, strict=True):
            pieces.append(StickPiece(part=part.id, start=start + offset, length=part.length, flipped=turned.flipped))
        start += block.length
        previous = turned
    return pieces


def _can_be_held(demand: StickDemand, source: StickStock, pieces: list[StickPiece]) -> bool:
    if not demand.least_held:
        return True
    ends = [p.start + p.length for p in pieces]
    beyond = [source.length - p.start for p in pieces[1:]] + [source.length - ends[-1]] if pieces else []
    cuts = list(zip(pieces, beyond, strict=True))
    if cuts and beyond[-1] == 0:
        cuts.pop()  # the last piece comes to the very end: no cut
    return all(max(p.length, left) >= demand.least_held for p, left in cuts)


# --- trails ---------------------------------------------------------------------------------------


def _trails(blocks: Sequence[Block]) -> list[Trail]:
    """Split `blocks` into the fewest trails in which neighbours share a cut."""
    trails = [[Turned(b, False)] for b in blocks if b.fixed]
    free = [b for b in blocks if not b.fixed]
    edges = [(_node(b.left, 2 * i), _node(b.right, 2 * i + 1)) for i, b in enumerate(free)]
    at: dict[Node, list[int]] = defaultdict(list)
    for i, (a, b) in enumerate(edges):
        at[a].append(i)
        at[b].append(i)
    left = set(range(len(free)))
    starts = sorted((n for n in at if len(at[n]) % 2), key=lambda n: (abs(n[1]) if n[0] == "slope" else -1, n))
    for node in [*starts, *sorted(at, key=lambda n: (abs(n[1]), n))]:
        while any(i in left for i in at[node]):
            _add(trails, [_turn(free[i], edges[i], n) for i, n in _walk(node, edges, at, left)])
            if node in starts:
                break
    return trails


def _node(slope: int, unique: int) -> Node:
    return ("slope", slope) if slope else ("square", unique)


def _walk(
    start: Node, edges: list[tuple[Node, Node]], at: dict[Node, list[int]], left: set[int]
) -> list[tuple[int, Node]]:
    """Walk unused edges from `start` until stuck; each step is an edge and the node it is entered from."""
    path: list[tuple[int, Node]] = []
    node = start
    while True:
        usable = [i for i in at[node] if i in left]
        if not usable:
            return path
        edge = max(usable, key=lambda i: (_other(edges[i], node)[0] == "slope", -i))
        left.discard(edge)
        path.append((edge, node))
        node = _other(edges[edge], node)


def _other(edge: tuple[Node, Node], node: Node) -> Node:
    return edge[1] if edge[0] == node else edge[0]


def _turn(block: Block, edge: tuple[Node, Node], entered: Node) -> Turned:
    return Turned(block, edge[0] != entered)


def _add(trails: list[Trail], path: Trail) -> None:
    """Add `path`; where it is closed, splice it into a trail that passes its node (Hierholzer)."""
    if path[0].left and path[0].left == path[-1].right:
        for trail in trails:
            for i, turned in enumerate(trail):
                if turned.left == path[0].left and not turned.block.fixed:
                    trail[i:i] = path
                    return
            if trail[-1].right == path[0].left and not trail[-1].block.fixed:
                trail.extend(path)
                return
    trails.append(path)
