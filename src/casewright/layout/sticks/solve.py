"""The whole flow of a stick job: check → blocks → bare problem → engine → sticks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.budget import Budget
from casewright.layout.model import (
    Goal,
    Outcome,
    Progress,
    Status,
    StickDemand,
    StickLayout,
    StickPattern,
    Stop,
    Unplaced,
)
from casewright.layout.sticks.arrange import arrange
from casewright.layout.sticks.blocks import Block, make_blocks
from casewright.layout.sticks.demand import unusable
from casewright.layout.sticks.engine import solve
from casewright.layout.sticks.normal import cost, normalise
from casewright.layout.sticks.problem import UNLIMITED, Answer
from casewright.layout.sticks.realise import realise


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """An answer and what it looks like on sticks."""

    answer: Answer
    sticks: tuple[StickPattern, ...]
    unplaced: tuple[Unplaced, ...]
    value: int


def solve_sticks(
    demand: StickDemand,
    *,
    seed: int = 0,
    steps: int | None = None,
    seconds: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> StickLayout:
    """Return the cheapest layout found for `demand`, with a bound on the cost.

    `steps` budgets the search repeatably (None: until proof, or until the engine has nothing left to try); `seconds`
    and `stop` are outer guards. Bad input comes back as `unplaced` with its reason.
    """
    budget = Budget(steps, seconds, stop, progress)
    unplaced = unusable(demand)
    wanted = _wanted(demand, {u.part for u in unplaced})
    on_hand = _on_hand(demand)
    blocks, in_runs = make_blocks(demand, wanted)
    fitting = [b for b in blocks if _fits_somewhere(demand, b, on_hand)]
    unplaced += in_runs + [u for b in blocks if b not in fitting for u in _too_long(b)]
    found, bound = _search(demand, fitting, on_hand, budget, seed)
    return _layout(demand, found, tuple(unplaced), bound, budget, seed)


def _wanted(demand: StickDemand, refused: set[str]) -> dict[str, int]:
    cut: Counter[str] = Counter()
    for pattern in demand.locked:
        for piece in pattern.pieces:
            cut[piece.part] += pattern.times
    return {p.id: 0 if p.id in refused else max(0, p.count - cut[p.id]) for p in demand.parts}


def _on_hand(demand: StickDemand) -> dict[str, int]:
    used: Counter[str] = Counter()
    for pattern in demand.locked:
        used[pattern.stock] += pattern.times
    return {s.id: UNLIMITED if s.count is None else s.count - used[s.id] for s in demand.stock}


def _fits_somewhere(demand: StickDemand, block: Block, on_hand: dict[str, int]) -> bool:
    return any(arrange(demand, s, [block]) is not None for s in demand.stock if on_hand[s.id] > 0)


def _too_long(block: Block) -> list[Unplaced]:
    why = "longer than the usable length of every stick, or too short to be held"
    if len(block.parts) > 1:
        why = f"run {block.parts[0].run}, cut in sequence, is {why}"
    return [Unplaced(part=p.id, count=block.count, why=why) for p in block.parts]


def _search(
    demand: StickDemand, blocks: Sequence[Block], on_hand: dict[str, int], budget: Budget, seed: int
) -> tuple[_Found, int]:
    normal = normalise(demand, blocks, on_hand)
    answer = solve(normal.problem, budget, seed)
    return _found(demand, answer, realise(demand, normal, answer.patterns), normal.blocks), answer.bound


def _found(
    demand: StickDemand, answer: Answer, sticks: tuple[StickPattern, ...], groups: tuple[tuple[Block, ...], ...]
) -> _Found:
    price = {s.id: cost(demand, s) for s in demand.stock}
    unplaced: list[Unplaced] = []
    for members, short in zip(groups, answer.short, strict=True):
        for block in reversed(members):
            n = min(short, block.count)
            short -= n
            if n:
                why = "no stick left that is long enough"
                unplaced += [Unplaced(part=p.id, count=n, why=why) for p in block.parts]
    value = sum(price[s.stock] * s.times for s in sticks)
    return _Found(answer=answer, sticks=sticks, unplaced=tuple(unplaced), value=value)


def _layout(
    demand: StickDemand, found: _Found, refused: tuple[Unplaced, ...], bound: int, budget: Budget, seed: int
) -> StickLayout:
    price = {s.id: cost(demand, s) for s in demand.stock}
    spent = sum(price[p.stock] * p.times for p in demand.locked)
    unplaced = refused + found.unplaced
    value, bound = found.value + spent, min(bound, found.value) + spent
    over = budget.over()
    if unplaced:
        status = Status.INFEASIBLE
    else:
        status = Status.PROVEN if value == bound else over or Status.BUDGET
    locked = tuple(p for p in demand.locked)
    sticks = locked + found.sticks
    goals = tuple((g, _measure(demand, g, sticks, value)) for g in demand.goals)
    outcome = Outcome(
        value=goals[0][1] if goals else value,
        bound=bound if demand.goals[:1] == (Goal.COST,) or not goals else min(goals[0][1], 0),
        status=status,
        seed=seed,
        steps=budget.steps,
        seconds=budget.spent,
        reproducible=over not in (Status.TIME, Status.STOPPED),
        goals=goals,
        closed=(Goal.COST,) if status is Status.PROVEN and Goal.COST in demand.goals else (),
    )
    return StickLayout(patterns=sticks, unplaced=unplaced, outcome=outcome)


def _measure(demand: StickDemand, goal: Goal, sticks: tuple[StickPattern, ...], value: int) -> int:
    """The value of one goal: cost; length cut from offcuts; longest rest; cuts and settings as counts."""
    offcuts = {s.id for s in demand.stock if s.offcut}
    match goal:
        case Goal.COST:
            return value
        case Goal.OFFCUTS:
            return sum(p.length * s.times for s in sticks if s.stock in offcuts for p in s.pieces)
        case Goal.REMNANT:
            return max((s.rest for s in sticks), default=0)
        case Goal.SETTINGS:
            return len({p.length for s in sticks for p in s.pieces})
        case Goal.CUTS:
            return sum(s.times * (len(s.pieces) + (s.rest > 0)) for s in sticks)
