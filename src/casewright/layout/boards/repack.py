"""A plan made better: a few neighbouring boards at a time, their pieces laid anew on cheaper ones (see `pack`).

What counts, in this order: show parts on the best grade, cost, boards over which panels and matches are spread,
number of boards. Any cut tree will do here, so that pieces lie closer than lanes allow; a panel whose strips all lie
on the boards taken may be split into other strips.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.boards.candidates import best_grade, candidates, offered, surface_of
from casewright.layout.boards.needs import Key
from casewright.layout.boards.pack import Node, Packed, Piece, pack
from casewright.layout.boards.panels import even_strips
from casewright.layout.boards.plan import Job, Plan
from casewright.layout.boards.tree import cut_tree, laid
from casewright.layout.budget import Budget
from casewright.layout.model import BoardDemand, BoardPart, BoardStock

MOST_PIECES = 1_000
WINDOW = 4  # boards
TRIES, TRIES_A_BOARD = 120, 40
PACK_STEPS = 500
WORK = 12_000  # pieces packed, all tries together
SAME = 3  # times that the same pieces are tried on the same boards, each time with three times the steps
IDLE = 40  # windows in a row for which nothing new is left to try
GATHER = 0.25  # chance that a group is laid on one board before the rest
FILL = (0.8, 0.98)  # of the boards that are filled first

Sawn = tuple[Packed, ...]


@dataclass(frozen=True, slots=True)
class Window:
    """Boards `low` to `high` − 1 of a plan, taken up to be laid anew."""

    low: int
    high: int

    def put(self, sawn: Sawn, packed: Sequence[Packed]) -> Sawn:
        """Return the plan with other boards in this place."""
        return (*sawn[: self.low], *packed, *sawn[self.high :])


def sawn_of(job: Job, plan: Plan) -> Sawn | None:
    """Return the boards of a complete plan with their pieces; None where it is too large to be laid anew."""
    held = [sum(len(lane.pieces) for lane in load.fill.lanes) * load.times for load in plan.loads]
    if any(plan.needs.left.values()) or sum(held) > MOST_PIECES:
        return None
    boards = [(_taken_up(job, load.fill.source, cut_tree(job.demand, load.fill)), load.times) for load in plan.loads]
    return tuple(board for board, times in boards for _ in range(times))


def _taken_up(job: Job, source: BoardStock, root: Node) -> Packed:
    pieces = []
    for leaf in laid(root):
        name, _, rest = leaf.part.partition("#")
        copy = int(rest.partition("/")[0] or 0)
        pieces.append(_piece(job.needs.parts[name], copy, leaf.width))
    return Packed(source=source, root=root, pieces=tuple(pieces))


def _piece(part: BoardPart, copy: int, width: int) -> Piece:
    names = [f"match {part.match}"] * bool(part.match) + [f"panel {part.id}#{copy}"] * bool(copy)
    return Piece(part=part.id, copy=copy, length=part.length, width=width, groups=tuple(names), show=part.show)


def cost_of(job: Job, boards: Sequence[Packed]) -> int:
    """Return what the boards cost."""
    return sum(job.price[b.source.id] for b in boards)


def repack(job: Job, sawn: Sawn, bound: int, budget: Budget, seed: int) -> Sawn:
    """Return the best plan found from `sawn`; one step is one packing."""
    chance = random.Random(seed)
    tries = min(TRIES, TRIES_A_BOARD * len(sawn))
    most = budget.steps + tries if budget.limit is None else budget.limit
    work = 0
    idle = 0
    tried: Counter[object] = Counter()
    while sawn and idle < IDLE and budget.steps < most and work < WORK and not budget.over():
        if cost_of(job, sawn) <= bound and _worth(job, sawn)[2] == 0:
            break
        window = _window(sawn, chance)
        pieces = _split_anew(job, sawn, window, chance)
        idle += 1
        now = [b.source for b in sawn[window.low : window.high]]
        elsewhere = Counter(b.source.id for b in (*sawn[: window.low], *sawn[window.high :]))
        for boards in candidates(job, now, elsewhere, pieces, chance):
            same = tuple(sorted(b.id for b in boards)), tuple(sorted((p.length, p.width) for p in pieces))
            tried[same] += 1
            if tried[same] > SAME:
                continue
            work += len(pieces)
            budget.step()
            idle = 0
            packed = _packed(job.demand, boards, pieces, PACK_STEPS * 3 ** (tried[same] - 1), chance)
            new = packed and _in_order(job, sawn, window, packed)
            if new:
                sawn = new
                budget.tell(cost_of(job, sawn), bound)
                break
            if work >= WORK or budget.steps >= most or budget.over():
                break
    return sawn


def _worth(job: Job, sawn: Sawn) -> tuple[int, int, int, int]:
    """What to make small: grades under show parts, cost, further boards of groups, boards."""
    shown = sum(p.length * p.width * b.source.grade for b in sawn for p in b.pieces if p.show)
    return shown, cost_of(job, sawn), sum(len(n) - 1 for n in _places(sawn).values()), len(sawn)


def _places(sawn: Sawn) -> dict[str, set[int]]:
    places: dict[str, set[int]] = defaultdict(set)
    for number, board in enumerate(sawn):
        for group in {g for p in board.pieces for g in p.groups}:
            places[group].add(number)
    return places


def _window(sawn: Sawn, chance: random.Random) -> Window:
    size = min(len(sawn), chance.randint(1, WINDOW))
    low = chance.randint(0, len(sawn) - size)
    return Window(low, low + size)


def _in_order(job: Job, sawn: Sawn, window: Window, packed: Sequence[Packed]) -> Sawn | None:
    """The plan with `packed` in the window, groups on neighbouring boards, if it is no worse; None otherwise."""
    worth = _worth(job, sawn)
    for order in itertools.permutations(packed):
        new = window.put(sawn, order)
        places = _places(new).values()
        if all(max(n) - min(n) + 1 == len(n) for n in places):
            return new if _worth(job, new) <= worth else None
    return None


def _split_anew(job: Job, sawn: Sawn, window: Window, chance: random.Random) -> list[Piece]:
    """The pieces of a window; some panels that lie in it whole are split into another number of even strips."""
    inside = [p for b in sawn[window.low : window.high] for p in b.pieces]
    outside = {(p.part, p.copy) for k, b in enumerate(sawn) if not window.low <= k < window.high for p in b.pieces}
    panels: dict[Key, list[Piece]] = defaultdict(list)
    for piece in inside:
        if piece.copy and (piece.part, piece.copy) not in outside:
            panels[piece.part, piece.copy].append(piece)
    pieces = [p for p in inside if (p.part, p.copy) not in panels]
    for (name, copy), strips in panels.items():
        part = job.needs.parts[name]
        widths = even_strips(part, len(strips) + chance.choice((-1, 0, 0, 1))) if chance.random() < 0.6 else None
        pieces += [_piece(part, copy, w) for w in widths] if widths else strips
    return pieces


def _packed(
    demand: BoardDemand, boards: Sequence[BoardStock], pieces: Sequence[Piece], steps: int, chance: random.Random
) -> list[Packed] | None:
    """`boards` with `pieces` on them: what shows on the best grade alone; sometimes one group on one board first."""
    seed = chance.randrange(1 << 30)
    good = best_grade(demand, boards)
    show = [p for p in pieces if p.show]
    if show and len(good) < len(boards):
        return _in_two(demand, boards, good, show, pieces, steps, chance) if good else None
    spread = sorted({g for p in pieces for g in p.groups})
    if len(boards) > 1 and spread and chance.random() < GATHER:
        group = chance.choice(spread)
        together = [p for p in pieces if group in p.groups]
        return _in_two(demand, boards, [chance.choice(boards)], together, pieces, steps, chance)
    return pack(demand, boards, pieces, steps, seed)


def _in_two(
    demand: BoardDemand,
    boards: Sequence[BoardStock],
    first: Sequence[BoardStock],
    must: Sequence[Piece],
    pieces: Sequence[Piece],
    steps: int,
    chance: random.Random,
) -> list[Packed] | None:
    """`must` on the `first` boards with some of the other pieces, those left on the other boards."""
    others = [p for p in pieces if p not in must]
    chance.shuffle(others)
    room = chance.uniform(*FILL) * offered(demand, first)
    room -= surface_of(demand, must)
    beside, rest = list(must), list[Piece]()
    for piece in others:
        room -= surface_of(demand, [piece])
        (beside if room >= 0 else rest).append(piece)
    packed = pack(demand, first, beside, steps, chance.randrange(1 << 30))
    if packed is None or not rest:
        return packed
    others_on = list(boards)
    for board in first:
        others_on.remove(board)
    second = pack(demand, others_on, rest, steps, chance.randrange(1 << 30))
    return [*packed, *second] if second is not None else None


def sawn_widths(sawn: Sawn) -> dict[Key, tuple[int, ...]]:
    """Return the sawn widths of each panel's strips in the order in which they come off the boards."""
    widths: dict[Key, tuple[int, ...]] = {}
    for piece in (p for b in sawn for p in b.pieces if p.copy):
        widths[piece.part, piece.copy] = (*widths.get((piece.part, piece.copy), ()), piece.width)
    return widths
