"""Pieces of settled sizes on given boards, in any order of edge-to-edge cuts, by the sheet solver.

Each clear stretch of a board is a sheet of its own: the board is crosscut at its unusable stretches first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from casewright.layout.boards.fill import clear_spans
from casewright.layout.boards.tree import divided, laid
from casewright.layout.model import (
    Axis,
    BoardDemand,
    BoardStock,
    Cut,
    Goal,
    Laid,
    Rest,
    Saws,
    SheetDemand,
    SheetPart,
    SheetStock,
)
from casewright.layout.sheets import solve_sheets

Node = Cut | Laid | Rest


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A solid piece (copy 0) or one strip of a panel's copy, `width` as sawn; `groups` keep to neighbouring boards."""

    part: str
    copy: int
    length: int
    width: int
    groups: tuple[str, ...]
    show: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """A board with its pieces in the order of the leaves of `root`."""

    source: BoardStock
    root: Node
    pieces: tuple[Piece, ...]


def pack(
    demand: BoardDemand, boards: Sequence[BoardStock], pieces: Sequence[Piece], steps: int, seed: int
) -> list[Packed] | None:
    """Return `boards` with `pieces` laid on them (those left empty are not returned), None where not all were placed.

    Equal pieces change places so that show pieces lie on the best boards and groups on few.
    """
    kinds: dict[tuple[int, int], list[Piece]] = defaultdict(list)
    for piece in pieces:
        kinds[piece.length, piece.width].append(piece)
    parts = [
        SheetPart(id=f"{k}", length=size[0], width=size[1], count=len(members))
        for k, (size, members) in enumerate(kinds.items())
    ]
    sheets = SheetDemand(
        parts=tuple(parts),
        stock=tuple(_sheets(demand, boards)),
        saws=Saws(kerf=demand.kerf),
        goals=(Goal.COST,),
        keep_length=demand.keep_length,
        keep_width=demand.keep_width,
    )
    layout = solve_sheets(sheets, seed=seed, steps=0)  # no compiler where this will do
    if layout.unplaced:
        layout = solve_sheets(sheets, seed=seed, steps=steps)
    if layout.unplaced:
        return None
    trees = {p.stock: p.root for p in layout.patterns}
    roots = [(source, _root(demand, source, j, trees)) for j, source in enumerate(boards)]
    used = [(source, root) for source, root in roots if root is not None]
    return _dealt(used, {f"{k}": members for k, members in enumerate(kinds.values())})


def _sheets(demand: BoardDemand, boards: Sequence[BoardStock]) -> list[SheetStock]:
    """One sheet for each clear stretch of each board; the price keeps boards of no use empty."""
    sheets = []
    for j, source in enumerate(boards):
        edge = 0 if source.offcut else demand.edge_trim
        for k, (low, high) in enumerate(clear_spans(demand, source)):
            width = source.width - 2 * edge
            if width > 0:
                price = max(1, (high - low) * width // 10**6)
                sheets.append(SheetStock(id=f"{j}/{k}", length=high - low, width=width, count=1, price=price))
    return sheets


def _root(demand: BoardDemand, source: BoardStock, number: int, trees: dict[str, Node]) -> Node | None:
    """The cuts of a board from those of its clear stretches, None where nothing is cut from it."""
    end, edge = (0, 0) if source.offcut else (demand.end_trim, demand.edge_trim)
    plate = end, edge, source.length - 2 * end, source.width - 2 * edge
    spans = []
    for k, (low, high) in enumerate(clear_spans(demand, source)):
        tree = trees.get(f"{number}/{k}")
        if tree is not None:
            spans.append((low, high - low, lambda _, tree=tree, low=low: _moved(tree, low, edge)))
    return divided(demand, Axis.CROSSCUT, plate, spans) if spans else None


def _moved(node: Node, x: int, y: int) -> Node:
    if not isinstance(node, Cut):
        return replace(node, x=node.x + x, y=node.y + y)
    along = y if node.axis is Axis.RIP else x
    return replace(
        node,
        x=node.x + x,
        y=node.y + y,
        lines=tuple(line + along for line in node.lines),
        pieces=tuple(_moved(p, x, y) for p in node.pieces),
    )


def _dealt(used: Sequence[tuple[BoardStock, Node]], kinds: dict[str, list[Piece]]) -> list[Packed]:
    """Give each leaf one of the pieces of its size: show pieces to the best boards, groups together."""
    order = sorted(range(len(used)), key=lambda j: (used[j][0].grade, j))
    waiting = {k: sorted(members, key=lambda p: (not p.show, p.groups, p.part, p.copy)) for k, members in kinds.items()}
    packed: dict[int, Packed] = {}
    for j in order:
        source, root = used[j]
        pieces = tuple(waiting[leaf.part].pop(0) for leaf in laid(root))
        packed[j] = Packed(source=source, root=root, pieces=pieces)
    return [packed[j] for j in range(len(used))]


def pattern_root(packed: Packed, names: Sequence[str]) -> Node:
    """Return the cuts of a board with its leaves called `names`, in their order."""
    left = list(names)

    def named(node: Node) -> Node:
        if isinstance(node, Laid):
            return replace(node, part=left.pop(0))
        return replace(node, pieces=tuple(named(p) for p in node.pieces)) if isinstance(node, Cut) else node

    return named(packed.root)
