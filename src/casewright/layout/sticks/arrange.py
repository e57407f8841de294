"""The order of blocks on one stick, so that as many mitred cuts as possible serve two ends.

Ends of one slope meet at one node and blocks are edges between the nodes of their two ends; blocks
that share cuts one after the other are then a trail, and the fewest trails (Euler) share the most
cuts. A square end is a node of its own, because nothing is shared there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from casewright.layout.model import StickDemand, StickPiece, StickStock
from casewright.layout.sticks.blocks import Block, gap_between
from casewright.layout.sticks.order import Turned, searchable, searched_order

Node = tuple[str, int]


Trail = list[Turned]


def arrange(demand: StickDemand, source: StickStock, blocks: Sequence[Block]) -> tuple[StickPiece, ...] | None:
    """Return the pieces of `blocks` laid on a stick of `source`, or None where they do not fit or cannot be held."""
    end = source.length - (0 if source.offcut else demand.end_trim)
    for order in _orders(demand, source, blocks):
        pieces = _lay(demand, 0 if source.offcut else demand.end_trim, order)
        if pieces[-1].start + pieces[-1].length <= end and _can_be_held(demand, source, pieces):
            return tuple(pieces)
    return None


def _orders(demand: StickDemand, source: StickStock, blocks: Sequence[Block]) -> Iterator[list[Turned]]:
    """Orders worth trying: the most cuts shared; the longest piece last; the exact order, where that is feasible."""
    if not demand.share_mitres:
        yield _in_order([[Turned(b, False)] for b in blocks], False)
    else:
        yield _in_order(_trails(blocks), True)
    if demand.share_mitres and demand.least_held:
        *others, longest = sorted(blocks, key=lambda b: b.longest)
        before = _in_order(_trails(others), True) if others else []
        meets = bool(before) and before[-1].right == longest.right != longest.left and not longest.fixed
        yield [*before, Turned(longest, meets)]
    exact = searched_order(demand, source, blocks) if searchable(blocks) else None
    if exact is not None:
        yield exact


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
    """Add `path`; where it is closed, splice it into a trail that passes one of its nodes (Hierholzer)."""
    if path[0].left and path[0].left == path[-1].right:
        for first, turned in enumerate(path):
            if _spliced(trails, path[first:] + path[:first], turned.left):
                return
    trails.append(path)


def _spliced(trails: list[Trail], circuit: Trail, node: int) -> bool:
    """Put a circuit that begins and ends at `node` into a trail that passes it; False where none does."""
    for trail in trails:
        if any(t.block.fixed for t in trail):
            continue
        places = [i for i, t in enumerate(trail) if t.left == node]
        if trail[-1].right == node:
            places.append(len(trail))
        if places:
            trail[places[0] : places[0]] = circuit
            return True
    return False
