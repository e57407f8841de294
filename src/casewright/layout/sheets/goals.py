"""The goals of a sheet layout as numbers, and layouts as records with their outcome.

COST and CUTS, SETTINGS are better small, OFFCUTS and REMNANT large; areas in mm². See docs/layout-sheets.md.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from casewright.layout.model import (
    GRID,
    Axis,
    Cut,
    Goal,
    Laid,
    Outcome,
    Rest,
    SheetDemand,
    SheetLayout,
    SheetPattern,
    Status,
    Unplaced,
)

Root = Cut | Laid | Rest
LARGER_IS_BETTER = (Goal.OFFCUTS, Goal.REMNANT)


def measure(demand: SheetDemand, patterns: Sequence[SheetPattern], goal: Goal) -> int:
    """Return the value of one goal."""
    sheets = {sheet.id: sheet for sheet in demand.stock}
    if goal is Goal.COST:
        return sum(sheets[p.stock].price * p.times for p in patterns)
    if goal is Goal.OFFCUTS:
        taken = ((sheets[p.stock], p.times) for p in patterns)
        return sum(s.length * s.width * times for s, times in taken if s.offcut) // GRID**2
    if goal is Goal.REMNANT:
        return max((remnant(p.root) for p in patterns), default=0) // GRID**2
    if goal is Goal.SETTINGS:
        return len(set().union(*(settings(p.root) for p in patterns)))
    return sum(cuts_and_turns(p.root) * p.times for p in patterns)


def loss(demand: SheetDemand, patterns: Sequence[SheetPattern]) -> tuple[int, ...]:
    """All goals in order, each so that smaller is better."""
    values = ((goal, measure(demand, patterns, goal)) for goal in demand.goals)
    return tuple(-value if goal in LARGER_IS_BETTER else value for goal, value in values)


def remnant(root: Root) -> int:
    """Area of the largest rest that runs the whole length or width of the sheet (grid units squared)."""
    full = (r for r in _pieces(root) if isinstance(r, Rest) and (r.length == root.length or r.width == root.width))
    return max((r.length * r.width for r in full), default=0)


def settings(root: Root) -> set[tuple[Axis, int]]:
    """The different distances from fence to blade, by direction."""
    cuts = [cut for cut in _pieces(root) if isinstance(cut, Cut)]
    return {
        (cut.axis, p.length if cut.axis is Axis.CROSSCUT else p.width)
        for cut in cuts
        for p in cut.pieces
        if not isinstance(p, Rest)
    }


def cuts_and_turns(root: Root) -> int:
    """Saw lines, and one for each piece that is turned to be cut the other way."""
    cuts = [cut for cut in _pieces(root) if isinstance(cut, Cut)]
    turns = sum(isinstance(p, Cut) and p.axis is not cut.axis for cut in cuts for p in cut.pieces)
    return sum(len(cut.lines) for cut in cuts) + turns


def _pieces(root: Root) -> Iterator[Root]:
    yield root
    if isinstance(root, Cut):
        for piece in root.pieces:
            yield from _pieces(piece)


def merged(patterns: Iterable[SheetPattern]) -> tuple[SheetPattern, ...]:
    """Show equal sheets once, with a count."""
    times: dict[tuple[str, Root, bool], int] = {}
    for p in patterns:
        key = (p.stock, p.root, p.locked)
        times[key] = times.get(key, 0) + p.times
    return tuple(SheetPattern(stock=s, root=r, times=n, locked=k) for (s, r, k), n in times.items())


def answer(
    demand: SheetDemand,
    patterns: Sequence[SheetPattern],
    unplaced: tuple[Unplaced, ...],
    *,
    bound: int,
    status: Status,
    seed: int,
    steps: int,
    seconds: float,
) -> SheetLayout:
    """Make the layout record; the status becomes PROVEN or INFEASIBLE where that is so."""
    goals = tuple((goal, measure(demand, patterns, goal)) for goal in demand.goals)
    value = loss(demand, patterns)[0] if goals else 0
    ended = status
    if unplaced:
        ended = Status.INFEASIBLE
    elif value == bound or not goals:
        ended = Status.PROVEN
    outcome = Outcome(
        value=value,
        bound=min(bound, value) if not unplaced else bound,
        status=ended,
        seed=seed,
        steps=steps,
        seconds=seconds,
        reproducible=status is not Status.TIME and status is not Status.STOPPED,
        goals=goals,
        closed=_closed(demand, value == bound and not unplaced),
    )
    return SheetLayout(patterns=tuple(patterns), unplaced=unplaced, outcome=outcome)


def _closed(demand: SheetDemand, first: bool) -> tuple[Goal, ...]:
    """The first goal where its bound is met; offcuts where there are none to use."""
    closed = demand.goals[:1] if first else ()
    if closed and not any(sheet.offcut for sheet in demand.stock):
        closed += tuple(goal for goal in demand.goals[1:] if goal is Goal.OFFCUTS)
    return closed
