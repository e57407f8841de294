"""Other packers on the same instances, their answers turned into our records and judged by our verifier.

`rectpack` (guillotine modes, every heuristic it has, best kept) and the academic `packingsolver` wheel. Both are
optional: what is not installed is left out of the table.
"""

from __future__ import annotations

import importlib
import importlib.util
import itertools
import re
import time
from collections.abc import Iterable
from typing import Any

from casewright.layout.model import Axis, Cut, Laid, Outcome, Rest, SheetDemand, SheetLayout, SheetPattern, Status

Box = tuple[int, int, int, int]
Placed = tuple[str, Box, bool]


def available() -> list[str]:
    """Return the names of the rivals that are installed."""
    return [name for name in ("rectpack", "packingsolver") if importlib.util.find_spec(name)]


def solve(name: str, demand: SheetDemand, seconds: float) -> SheetLayout | None:
    """Let a rival solve a demand of one or several sheet sizes; None if it lays not all parts."""
    return _rectpack(demand, seconds) if name == "rectpack" else _packingsolver(demand, seconds)


def _rectpack(demand: SheetDemand, seconds: float) -> SheetLayout | None:
    rectpack: Any = importlib.import_module("rectpack")
    guillotine: Any = importlib.import_module("rectpack.guillotine")
    whole = re.compile(r"Guillotine(Bssf|Blsf|Baf)\w+as")  # a choice of place and one of split
    heuristics = [item for key, item in sorted(vars(guillotine).items()) if whole.fullmatch(key)]
    sorts = [rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI]
    turn = any(part.turn for part in demand.parts)
    best: SheetLayout | None = None
    until = time.process_time() + seconds
    for heuristic, sort in itertools.product(heuristics, sorts):
        if time.process_time() > until or len(demand.stock) > 1:
            break
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BBF,
            pack_algo=heuristic,
            sort_algo=sort,
            rotation=turn,
        )
        for part in demand.parts:
            for _ in range(part.count):
                packer.add_rect(part.length, part.width, rid=part.id)
        sheet = demand.stock[0]
        packer.add_bin(sheet.length, sheet.width, count=float("inf") if sheet.count is None else sheet.count)
        packer.pack()
        sheets = [
            (sheet.id, [(r.rid, (r.x, r.y, r.width, r.height), _turned(demand, r.rid, r.width)) for r in bin_])
            for bin_ in packer
        ]
        layout = as_layout(demand, sheets)
        if layout is not None and (best is None or layout.outcome.value < best.outcome.value):
            best = layout
    return best


def _turned(demand: SheetDemand, part: str, length: int) -> bool:
    return next(p for p in demand.parts if p.id == part).length != length


def _packingsolver(demand: SheetDemand, seconds: float) -> SheetLayout | None:
    solver: Any = importlib.import_module("packingsolver.rectangleguillotine")
    several = len(demand.stock) > 1
    aims: Any = importlib.import_module("packingsolver").Objective
    builder = solver.InstanceBuilder()
    builder.set_objective(aims.VariableSizedBinPacking if several else aims.BinPacking)
    builder.set_number_of_stages(3)
    builder.set_cut_type(solver.CutType.NonExact)
    for sheet in demand.stock:
        copies = sheet.count or sum(part.count for part in demand.parts)
        builder.add_bin_type(sheet.length, sheet.width, cost=sheet.price, copies=copies)
    for part in demand.parts:
        builder.add_item_type(part.length, part.width, oriented=not part.turn, copies=part.count)
    parameters = solver.OptimizeParameters()
    parameters.time_limit = seconds
    parameters.verbosity_level = 0
    solution = solver.optimize(builder.build(), parameters).solution
    sheets = []
    for number in range(_value(solution.number_of_different_bins)):
        bin_ = solution.bin(number)
        placed = [
            (demand.parts[node.item_type_id].id, (node.l, node.b, node.r - node.l, node.t - node.b))
            for node in _value(bin_.nodes)
            if node.item_type_id >= 0 and node.f >= 0  # the root carries a number too
        ]
        named = [(part, box, _turned(demand, part, box[2])) for part, box in placed]
        sheets += [(demand.stock[bin_.bin_type_id].id, named)] * _value(bin_.copies)
    return as_layout(demand, sheets)


def _value(attribute: Any) -> Any:
    return attribute() if callable(attribute) else attribute


def as_layout(demand: SheetDemand, sheets: Iterable[tuple[str, list[Placed]]]) -> SheetLayout | None:
    """Find guillotine cuts through placed boxes; None where there are none, or parts are missing."""
    stock = {sheet.id: sheet for sheet in demand.stock}
    patterns = []
    for name, placed in sheets:
        root = _cut((0, 0, stock[name].length, stock[name].width), placed)
        if root is None:
            return None
        patterns.append(SheetPattern(stock=name, root=root))
    if sum(len(placed) for _, placed in sheets) != sum(part.count for part in demand.parts):
        return None
    value = sum(stock[p.stock].price for p in patterns)
    goals = tuple((goal, value) for goal in demand.goals)
    outcome = Outcome(value=value, bound=0, status=Status.TIME, seed=0, steps=0, seconds=0.0, goals=goals)
    return SheetLayout(patterns=tuple(patterns), unplaced=(), outcome=outcome)


def _cut(plate: Box, placed: list[Placed]) -> Cut | Laid | Rest | None:
    x, y, length, width = plate
    if not placed:
        return Rest(x=x, y=y, length=length, width=width, keep=False)
    if len(placed) == 1 and placed[0][1] == plate:
        return Laid(part=placed[0][0], x=x, y=y, length=length, width=width, turned=placed[0][2])
    for split in (0, 1):
        lines = _free_lines(plate, placed, split)
        if lines:
            return _divide(plate, placed, split, lines)
    return None


def _free_lines(plate: Box, placed: list[Placed], split: int) -> list[int]:
    """Positions along a direction at which a line crosses no box."""
    spans = sorted((box[split], box[split] + box[2 + split]) for _, box, _ in placed)
    low, high = plate[split], plate[split] + plate[2 + split]
    lines, reach = [], low
    for start, stop in spans:
        if start >= reach and reach > low:
            lines.append(reach)
        if start > reach:
            lines.append(start)
        reach = max(reach, stop)
    if reach < high:
        lines.append(reach)
    return sorted(set(lines) - {low, high})


def _divide(plate: Box, placed: list[Placed], split: int, lines: list[int]) -> Cut | None:
    edges = [plate[split], *lines, plate[split] + plate[2 + split]]
    pieces = []
    for low, high in itertools.pairwise(edges):
        box = (low, plate[1], high - low, plate[3]) if split == 0 else (plate[0], low, plate[2], high - low)
        piece = _cut(box, [p for p in placed if low <= p[1][split] < high])
        if piece is None:
            return None
        pieces.append(piece)
    axis = Axis.CROSSCUT if split == 0 else Axis.RIP
    x, y, length, width = plate
    return Cut(
        axis=axis, x=x, y=y, length=length, width=width, lines=tuple(lines), kerf=0, pieces=tuple(pieces), rough=False
    )
