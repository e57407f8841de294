"""How many boards to buy, with the chance that they are enough.

Boards are drawn from the yard's distribution of lengths, widths and unusable stretches, and cut as they
come off the pile, after what is on hand. Each trial gives one quantity that was enough; the quantities at
80, 95 and 99 % are read off the sorted trials. Choosing among the boards bought can only do better.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from casewright.layout.boards.demand import unusable, within_boards
from casewright.layout.boards.needs import make_needs
from casewright.layout.boards.plan import RANKS, Job, Plan, make_plan
from casewright.layout.budget import Budget
from casewright.layout.model import BoardDemand, BoardStock, Progress, Stop

CHANCES = (0.80, 0.95, 0.99)
TRIALS = 200
MOST_BOARDS = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSupply:
    """What a yard sells of one thickness class: lengths and widths with weights, on the grid of the layout room.

    `defect_chance` is the chance that a board has an unusable stretch, of a length between the two `defect_lengths`,
    anywhere along it. Boards are drawn with length and width independent of each other.
    """

    lengths: tuple[tuple[int, float], ...]
    widths: tuple[tuple[int, float], ...]
    defect_chance: float = 0.0
    defect_lengths: tuple[int, int] = (0, 0)


def usual_supply(demand: BoardDemand) -> BoardSupply | None:
    """Return the yard's pile where every length and width of the boards to buy is as common; None without any."""
    bought = [s for s in demand.stock if s.count is None]
    if not bought:
        return None
    return BoardSupply(
        lengths=tuple((x, 1.0) for x in sorted({s.length for s in bought})),
        widths=tuple((x, 1.0) for x in sorted({s.width for s in bought})),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """`boards` with `surface` were enough in `chance` of the trials."""

    chance: float
    boards: int
    surface: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantities:
    """Quantities by chance, ascending; how many trials they stand on; `why` is not empty where no quantity will do."""

    quantities: tuple[Quantity, ...]
    trials: int
    why: str = ""


def quantity_to_buy(
    demand: BoardDemand,
    supply: BoardSupply,
    *,
    seed: int = 0,
    trials: int = TRIALS,
    chances: Sequence[float] = CHANCES,
    seconds: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> Quantities:
    """Return how much to buy so that `demand` can be cut with each of `chances`.

    `demand.stock` is what is on hand (finite counts) and is used first. Surfaces are in grid units squared; times the
    thickness they are volume. Raises ValueError for an empty or negative distribution, or a chance outside 0 to 1.
    """
    _check(supply, chances)
    wrong = unusable(demand)
    if wrong:
        return Quantities(quantities=(), trials=0, why=f"{wrong[0].part}: {wrong[0].why}")
    budget = Budget(trials, seconds, stop, progress)
    results: list[tuple[int, int]] = []
    while budget.over() is None:
        result = _trial(demand, supply, random.Random(f"{seed}/{budget.steps}"))
        if result is None:
            return Quantities(quantities=(), trials=budget.steps, why="some part fits on no board that the yard sells")
        results.append(result)
        budget.step()
        budget.tell(None, 0, f"{budget.steps} of {trials} trials")
    results.sort()
    return Quantities(
        quantities=tuple(_at(results, c) for c in sorted(chances)) if results else (), trials=len(results)
    )


def _check(supply: BoardSupply, chances: Sequence[float]) -> None:
    for name, items in (("lengths", supply.lengths), ("widths", supply.widths)):
        if not items or any(size <= 0 or weight < 0 for size, weight in items) or not sum(w for _, w in items):
            raise ValueError(f"board supply: {name} need sizes above 0 with weights that add up to more than 0")
    if not 0 <= supply.defect_chance <= 1:
        raise ValueError(f"board supply: defect_chance is {supply.defect_chance}; it must be from 0 to 1")
    if any(not 0 < c < 1 for c in chances):
        raise ValueError(f"chances must lie between 0 and 1, got {tuple(chances)}")


def _at(results: list[tuple[int, int]], chance: float) -> Quantity:
    """The smallest quantity that was enough in at least `chance` of the trials."""
    place = max(0, -int(-chance * len(results) // 1) - 1)
    surfaces = sorted(surface for surface, _ in results)
    boards = sorted(boards for _, boards in results)
    return Quantity(chance=chance, boards=boards[place], surface=surfaces[place])


def draw_board(supply: BoardSupply, chance: random.Random, name: str) -> BoardStock:
    """Return one board drawn from the yard."""
    length = chance.choices([s for s, _ in supply.lengths], [w for _, w in supply.lengths])[0]
    width = chance.choices([s for s, _ in supply.widths], [w for _, w in supply.widths])[0]
    defects: tuple[tuple[int, int], ...] = ()
    if chance.random() < supply.defect_chance:
        size = min(length, chance.randint(*supply.defect_lengths))
        at = chance.randint(0, length - size)
        defects = ((at, at + size),)
    return BoardStock(id=name, length=length, width=width, count=1, price=1, defects=defects)


def _trial(demand: BoardDemand, supply: BoardSupply, chance: random.Random) -> tuple[int, int] | None:
    """Draw boards until all is cut; return surface and number bought, None where boards do not help."""
    on_hand = tuple(replace(s, price=0) for s in demand.stock if s.count is not None)
    needed = sum(p.length * p.width * p.count for p in demand.parts)
    drawn: list[BoardStock] = []
    surface = 0
    more = 2
    while len(drawn) < MOST_BOARDS:
        while surface < more * needed or len(drawn) < 4 * more:
            drawn.append(draw_board(supply, chance, f"bought {len(drawn) + 1}"))
            surface += drawn[-1].length * drawn[-1].width
        plan = _cut(replace(demand, stock=(*on_hand, *drawn)))
        if not any(plan.needs.left.values()):
            used = {load.fill.source.id for load in plan.loads}
            last = max((k for k, board in enumerate(drawn, 1) if board.id in used), default=0)
            return sum(b.length * b.width for b in drawn[:last]), last
        more *= 2
        if more > 32:
            return None
    return None


def _cut(demand: BoardDemand) -> Plan:
    """Cut boards in the order in which they come."""
    needs, groups = make_needs(within_boards(demand, (p for p in demand.parts if p.count > 0)))
    job = Job(demand=demand, price={s.id: 1 for s in demand.stock}, needs=needs, groups=tuple(groups))
    return make_plan(job, lambda boards, show: boards[:1], RANKS[2:])
