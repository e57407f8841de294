"""From a filled board to its cut tree."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from casewright.layout.boards.fill import Fill, Lane, Placed
from casewright.layout.model import Axis, BoardDemand, Cut, Laid, Rest

Plate = tuple[int, int, int, int]
Node = Cut | Laid | Rest
Make = Callable[[Plate], Node]


def cut_tree(demand: BoardDemand, fill: Fill) -> Node:
    """Return the cuts of a filled board, from the first to the last; lanes in the order of their places."""
    source = fill.source
    end, edge = (0, 0) if source.offcut else (demand.end_trim, demand.edge_trim)
    plate = end, edge, source.length - 2 * end, source.width - 2 * edge
    first, second = (Axis.RIP, Axis.CROSSCUT) if fill.rip_first else (Axis.CROSSCUT, Axis.RIP)
    lanes = sorted((lane for lane in fill.lanes if lane.pieces), key=lambda lane: lane.at)
    spans = [(lane.at, lane.size, _lane(demand, lane, second)) for lane in lanes]
    return divided(demand, first, plate, spans)


def _lane(demand: BoardDemand, lane: Lane, axis: Axis) -> Make:
    pieces = sorted(lane.pieces, key=lambda p: p.at)
    third = Axis.RIP if axis is Axis.CROSSCUT else Axis.CROSSCUT
    return lambda plate: divided(demand, axis, plate, [(p.at, p.along, _piece(demand, p, third)) for p in pieces])


def _piece(demand: BoardDemand, piece: Placed, axis: Axis) -> Make:
    def laid(plate: Plate) -> Node:
        x, y, length, width = plate
        return Laid(part=piece.name, x=x, y=y, length=length, width=width, turned=False)

    def make(plate: Plate) -> Node:
        low = plate[1] if axis is Axis.RIP else plate[0]
        return divided(demand, axis, plate, [(low, piece.across, laid)])

    return make


def divided(demand: BoardDemand, axis: Axis, plate: Plate, spans: Sequence[tuple[int, int, Make]]) -> Node:
    """Saw `plate` so that each (start, size) of `spans` becomes a piece; what lies between is rest."""
    low, high = (plate[1], plate[1] + plate[3]) if axis is Axis.RIP else (plate[0], plate[0] + plate[2])
    if len(spans) == 1 and spans[0][:2] == (low, high - low):
        return spans[0][2](plate)
    lines: list[int] = []
    pieces: list[Node] = []

    def add(start: int, stop: int, make: Make) -> None:
        part = (
            (plate[0], start, plate[2], stop - start) if axis is Axis.RIP else (start, plate[1], stop - start, plate[3])
        )
        pieces.append(make(part))

    for start, size, make in spans:
        if start > low:
            add(low, start - demand.kerf, lambda p: _rest(demand, p))
            lines.append(start - demand.kerf)
        add(start, start + size, make)
        low = start + size
        if low < high:
            lines.append(low)
            low = min(high, low + demand.kerf)
        else:
            low = high + 1
    if low <= high:
        add(low, high, lambda p: _rest(demand, p))
    x, y, length, width = plate
    return Cut(
        axis=axis, x=x, y=y, length=length, width=width, lines=tuple(lines), kerf=demand.kerf, pieces=tuple(pieces)
    )


def _rest(demand: BoardDemand, plate: Plate) -> Rest:
    x, y, length, width = plate
    keep = 0 < demand.keep_length <= length and 0 < demand.keep_width <= width
    return Rest(x=x, y=y, length=length, width=width, keep=keep)


def without(node: Node, names: set[str]) -> Node:
    """Return `node` with the pieces of these names turned into rests."""
    if isinstance(node, Laid) and node.part in names:
        return Rest(x=node.x, y=node.y, length=node.length, width=node.width, keep=False)
    if isinstance(node, Cut):
        return replace(node, pieces=tuple(without(p, names) for p in node.pieces))
    return node


def laid(node: Node) -> list[Laid]:
    """Return the pieces of a cut tree, in the order in which they come off."""
    if isinstance(node, Laid):
        return [node]
    return [leaf for child in node.pieces for leaf in laid(child)] if isinstance(node, Cut) else []
