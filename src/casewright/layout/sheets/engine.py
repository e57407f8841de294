"""The search as the solver drives it: arrays from a problem, goals set and lowered, cut sheets from arrays.

Imported only when a search is wanted: numba comes with it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from casewright.layout.model import SheetPattern
from casewright.layout.sheets.kinds import change_kind
from casewright.layout.sheets.order_of_cuts import Node, cut_sheet, node_of
from casewright.layout.sheets.problem import Problem
from casewright.layout.sheets.recreate import keep_or_return, recreate, run
from casewright.layout.sheets.ruin import strip
from casewright.layout.sheets.search import Search, new_search, renew
from casewright.layout.sheets.trees import Floats, Stockroom, Trees, copy_sheet, measure
from casewright.layout.sheets.worth import appraise, usable_lengths

MEMORY = 51_200  # longest memory of late acceptance
LEAST_MEMORY = 50
STEPS_A_MEMORY = 130  # steps to come to rest, for each cost remembered
MOST = 8  # subtrees taken off in one step
CROWD = 40  # pieces from which on fewer are taken off a given set of sheets:
FEWER = 4
COARSE = 6  # where some lengths of the sheets cannot be filled
SPICE = 0.05  # what the worth of free rectangles counts against weight left out
BLINK = 0.03
CHUNK = 100  # steps between two looks at the clock
ENDLESS = 1 << 60


@dataclass(slots=True)
class Engine:
    """A search on one problem; `owner` is the thing of each single piece."""

    problem: Problem
    room: Stockroom
    owner: list[int]
    search: Search
    nodes: int
    slots: int
    steps: int = 0

    @property
    def complete(self) -> bool:
        """True while nothing is left out."""
        return int(self.search.at_out[-1]) == 0

    @property
    def cost(self) -> int:
        """Price of the sheets in use."""
        return int(self.search.spent[0])


def stockroom(problem: Problem, weight: Floats | None = None) -> tuple[Stockroom, list[int]]:
    """Set up the constant arrays; `weight` of leaving out each thing, by default its area in sheets."""
    rules = problem.rules
    kerf = rules.kerf
    owner = [i for i, thing in enumerate(problem.things) for _ in range(thing.count)]
    shape = np.zeros((len(owner), 4, 2), np.int64)
    shapes = np.zeros(len(owner), np.int64)
    for piece, i in enumerate(owner):
        for v, kind in enumerate(problem.things[i].shapes[:4]):
            shape[piece, v] = (kind.size[0] + kerf, kind.size[1] + kerf)
        shapes[piece] = len(problem.things[i].shapes[:4])
    inner = np.array([(x + kerf, y + kerf) for x, y in problem.inner], np.int64)
    area = shape[:, 0, 0] * shape[:, 0, 1]
    unit = float((inner[:, 0] * inner[:, 1]).max())
    lift = rules.lift or (-1, -1)
    limits = [-1 if limit is None else limit for limit in (*rules.longest, rules.stages)]
    listed = [kerf, rules.rough - kerf, *lift, limits[0], limits[1], rules.first, limits[2], int(not rules.plain)]
    usable, pitch = usable_lengths(shape, shapes, inner)
    return Stockroom(
        shape=shape,
        shapes=shapes,
        area=area,
        weight=area / unit if weight is None else weight[owner],
        inner=inner,
        price=np.array([sheet.price for sheet in problem.sheets], np.int64),
        left=np.array([-1 if n is None else n for n in problem.left], np.int64),
        unit=unit,
        least=int(shape[np.arange(4)[None, :] < shapes[:, None]].min()),
        usable=usable,
        pitch=pitch,
        rules=np.array(listed, np.int64),
    ), owner


def new_engine(
    problem: Problem, seed: int, sheets: int, weight: Floats | None = None, *, one_each: bool = False
) -> Engine:
    """Start a search with everything out; `sheets` is the number of sheets that a known layout uses.

    With `one_each` there is just one sheet of each kind, and no more are needed.
    """
    room, owner = stockroom(problem, weight)
    largest = int((room.inner[:, 0] * room.inner[:, 1]).max())
    most = int(np.searchsorted(np.cumsum(np.sort(room.area)), largest, side="right"))
    slots = min(len(owner), sheets if len(problem.sheets) == 1 or one_each else 2 * sheets + 8)
    nodes = 2 * most + 6
    search = new_search(len(owner), slots, nodes, MEMORY)
    search.spent[2] = seed * 7919 + 12345
    return Engine(problem, room, owner, search, nodes, slots)


def build(engine: Engine, goal: int = ENDLESS) -> None:
    """Place everything greedily within the goal."""
    recreate(engine.search, engine.room, goal, 0.0)
    keep_or_return(engine.search, True)


def lower(engine: Engine, goal: int) -> None:
    """Empty the sheets that serve worst for their price until the goal is kept."""
    f, room = engine.search, engine.room
    while int(f.spent[1]) > goal:
        used = [b for b in range(engine.slots) if f.work.sheet[b] >= 0 and room.price[f.work.sheet[b]] > 0]
        worst = min(used, key=lambda b: (f.work.area[b] / room.price[f.work.sheet[b]], b))
        while f.work.sheet[worst] >= 0:
            strip(f, room, worst, 1000)
    keep_or_return(f, True)
    f.spent[4] = f.spent[8] = 0


def adopt(engine: Engine, counts: Sequence[int], steps: int) -> None:
    """Allow just so many sheets of each kind; what lies on others is moved to another kind, or taken off.

    The memory of late acceptance is chosen so that the search comes to rest once in so many steps.
    """
    f, room = engine.search, engine.room
    f.spent[8] = min(MEMORY, max(LEAST_MEMORY, steps // STEPS_A_MEMORY))
    room.left[:] = counts
    for kind in range(len(room.left)):
        on = [b for b in range(engine.slots) if f.work.sheet[b] == kind]
        on.sort(key=lambda b: (int(f.work.area[b]), b))
        for b in on[: max(0, len(on) - counts[kind])]:
            others = sorted(range(len(room.left)), key=lambda k: (int(room.price[k]), k))
            if not any(change_kind(f, room, b, other) for other in others):
                while f.work.sheet[b] >= 0:
                    strip(f, room, b, 1000)
    keep_or_return(f, True)
    f.spent[4] = 0


def seek(engine: Engine, goal: int, steps: int, go_on: Callable[[], bool], most: int = MOST) -> bool:
    """Search under the goal until nothing is out, `steps` are used or `go_on` says no; True if nothing is out."""
    while not engine.complete and engine.steps < steps and go_on():
        chunk = min(CHUNK, steps - engine.steps)
        engine.steps += run(engine.search, engine.room, goal, chunk, most, SPICE, BLINK)
    return engine.complete


def seek_least(engine: Engine, goal: int, steps: int, go_on: Callable[[], bool]) -> tuple[bool, float]:
    """As `seek`, with the least area that was left out on the way."""
    least, most = math.inf, MOST
    if len(engine.owner) > CROWD:
        most = COARSE if engine.room.usable.size else FEWER
    while not engine.complete and engine.steps < steps and go_on():
        seek(engine, goal, min(steps, engine.steps + CHUNK), go_on, most)
        out = engine.search.at_out
        least = min(least, float(engine.room.area[out[: out[-1]]].sum()))
    return engine.complete, least


def step_of_price(problem: Problem) -> int:
    """Least difference that two costs can have."""
    return math.gcd(*(sheet.price for sheet in problem.sheets)) or 1


def patterns_of(engine: Engine, trees: Trees | None = None) -> tuple[SheetPattern, ...] | None:
    """Cut the sheets of the solution (or of other trees); None where the saws cannot after all (groups, limits)."""
    t, kerf = trees or engine.search.at, engine.problem.rules.kerf
    patterns = []
    for b in range(len(t.sheet)):
        sheet = int(t.sheet[b])
        if sheet < 0:
            continue
        n = int(t.nodes[b])
        node = node_of(t.kind[b, :n].tolist(), t.end[b, :n].tolist(), t.size[b, :n].tolist(), engine.owner, kerf)
        root = cut_sheet(engine.problem, sheet, node)
        if root is None:
            return None
        patterns.append(SheetPattern(stock=engine.problem.sheets[sheet].id, root=root))
    return tuple(patterns)


def load(engine: Engine, sheets: Sequence[tuple[int, Node]]) -> None:
    """Let an engine stand at a complete solution: for each sheet its kind and its cuts."""
    f, room = engine.search, engine.room
    pieces: dict[int, list[int]] = {}
    for piece, thing in enumerate(engine.owner):
        pieces.setdefault(thing, []).append(piece)
    f.work.sheet[:] = -1
    f.work.nodes[:] = f.work.area[:] = f.spent[1] = f.out[-1] = 0
    for b, (kind, root) in enumerate(sheets):
        f.work.sheet[b] = kind
        _write(f.work, b, root, pieces)
        measure(f.work, room, b)
        leaves = [k >> 2 for k in f.work.kind[b, : f.work.nodes[b]].tolist() if k >= 0]
        f.work.area[b] = room.area[leaves].sum()
        f.work.value[b] = appraise(f.work, room, b)
        f.spent[1] += room.price[kind]
    f.touched[:] = 0
    for b in range(engine.slots):
        renew(f, b)
    keep_or_return(f, True)


def _write(t: Trees, b: int, node: Node, pieces: dict[int, list[int]]) -> None:
    """Append a node and all below it to sheet b, in preorder."""
    at = int(t.nodes[b])
    t.nodes[b] += 1
    t.kind[b, at] = -1 - node.split if node.below else 4 * pieces[node.thing].pop() + node.shape
    for below in node.below:
        _write(t, b, below, pieces)
    t.end[b, at] = t.nodes[b]


def copy_solution(source: Engine, target: Engine) -> None:
    """Take over the solution of an engine of the same problem."""
    for b in range(source.slots):
        copy_sheet(source.search.at, b, target.search.at, b)
        copy_sheet(source.search.at, b, target.search.work, b)
    for name in ("at_out", "out"):
        getattr(target.search, name)[:] = source.search.at_out
    target.search.spent[:2] = source.search.spent[0]
