"""From a slicing tree to cuts in a maker's order.

Policy (`legal` follows it on the flat trees): a sheet too large to lift is first trimmed across its rows to what is
used, then crosscut or ripped by rough lines into as few liftable pieces as the rows allow; everything after that is
sawn fine, all lines of one fence setting on a plate together. A plate too wide for the saw's
line is trimmed first. Where the saws leave it open, the order is taken that keeps the larger rest whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.model import Cut, Laid, Rest
from casewright.layout.sheets.plates import Plate, Rules, Size, record
from casewright.layout.sheets.problem import Problem, lay


@dataclass(frozen=True, slots=True)
class Node:
    """A leaf (`thing`, `shape` as indexes) or a row along `split`; `size` is net."""

    size: Size
    thing: int = -1
    shape: int = 0
    split: int = -1
    below: tuple[Node, ...] = ()


def node_of(
    kind: Sequence[int], end: Sequence[int], size: Sequence[Sequence[int]], owner: Sequence[int], kerf: int, at: int = 0
) -> Node:
    """Read a slicing tree from its preorder arrays (see `trees`), kerf taken off; `owner` is each piece's thing."""
    net = (int(size[at][0]) - kerf, int(size[at][1]) - kerf)
    if kind[at] >= 0:
        return Node(net, thing=owner[int(kind[at]) >> 2], shape=int(kind[at]) & 3)
    split = -1 - int(kind[at])
    below, i = [], at + 1
    while i < end[at]:
        below.append(node_of(kind, end, size, owner, kerf, i))
        i = int(end[i])
    return Node(net, split=split, below=tuple(below))


def cut_sheet(problem: Problem, sheet: int, node: Node) -> Cut | Laid | Rest | None:
    """Cut one sheet as `node` says; None where the saws cannot."""
    stock = problem.sheets[sheet]
    for whole_first in (True, False):
        root = Plate(stock.trim[0], stock.trim[2], problem.inner[sheet])
        if _cut(problem, node, root, keep_whole=whole_first):
            return record(root, problem.rules)
    return None


def _cut(problem: Problem, node: Node, plate: Plate, *, keep_whole: bool = False) -> bool:
    rules = problem.rules
    if node.split < 0:
        thing = problem.things[node.thing]
        first = 0 if _rest(plate, node, 0) >= _rest(plate, node, 1) else 1
        orders = ((first, 1 - first), (1 - first, first))
        return any(lay(rules, plate, thing, thing.shapes[node.shape], order) for order in orders)
    a = node.split
    if plate.size[1 - a] > node.size[1 - a] and (
        _must_trim(rules, node, plate) or (keep_whole and _rest(plate, node, 1 - a) > _rest(plate, node, a))
    ):
        trimmed = rules.cut(plate, 1 - a, node.size[1 - a])
        if trimmed is None:
            return False
        plate = trimmed[0]
    return _cut_segments(problem, node, plate)


def _rest(plate: Plate, node: Node, split: int) -> int:
    """Area that a first cut of this split would leave whole."""
    return (plate.size[split] - node.size[split]) * plate.size[1 - split]


def _must_trim(rules: Rules, node: Node, plate: Plate) -> bool:
    limit = rules.longest[node.split]
    return not rules.liftable(plate.size) or (limit is not None and plate.size[1 - node.split] > limit)


def _segments(rules: Rules, node: Node, plate: Plate) -> list[tuple[int, list[Node]]]:
    """Children in runs that can be lifted, with their length; all in one where the plate can be lifted as it is."""
    if rules.liftable(plate.size):
        return [(node.size[node.split], list(node.below))]
    runs: list[tuple[int, list[Node]]] = []
    a = node.split
    for child in node.below:
        if runs:
            length = runs[-1][0] + rules.kerf + child.size[a]
            size = (length, node.size[1]) if a == 0 else (node.size[0], length)
            if rules.liftable(size):
                runs[-1] = (length, [*runs[-1][1], child])
                continue
        runs.append((child.size[a], [child]))
    return runs


def _cut_segments(problem: Problem, node: Node, plate: Plate) -> bool:
    rules, a = problem.rules, node.split
    whole = rules.liftable(plate.size)
    for length, run in _segments(rules, node, plate):
        near = plate
        if not whole and length < plate.size[a]:
            pieces = rules.cut(plate, a, length)
            if pieces is None:
                return False
            near, plate = pieces
        if not _cut_run(problem, run, near, a):
            return False
    return True


def _cut_run(problem: Problem, run: list[Node], plate: Plate, a: int) -> bool:
    """Cut children off one liftable plate, the widest first: equal ones share a setting, the order costs nothing."""
    for child in sorted(run, key=lambda child: -child.size[a]):
        near = plate
        if child.size[a] < plate.size[a]:
            pieces = problem.rules.cut(plate, a, child.size[a])
            if pieces is None:
                return False
            near, plate = pieces
        if not _cut(problem, child, near):
            return False
    return True
