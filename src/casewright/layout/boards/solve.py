"""The whole flow of a board job: check → needs and groups → plans → the best plan as cut trees."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from casewright.layout.boards.bound import cost_bound
from casewright.layout.boards.demand import unusable, within_boards
from casewright.layout.boards.needs import Key, make_needs
from casewright.layout.boards.pack import pattern_root
from casewright.layout.boards.panels import finished, glued
from casewright.layout.boards.plan import Job, Plan
from casewright.layout.boards.repack import Sawn, repack, sawn_of, sawn_widths
from casewright.layout.boards.search import search
from casewright.layout.boards.tree import cut_tree, laid, without
from casewright.layout.budget import Budget
from casewright.layout.model import (
    Axis,
    BoardDemand,
    BoardLayout,
    BoardPattern,
    Cut,
    Goal,
    Laid,
    Outcome,
    Progress,
    Rest,
    Status,
    Stop,
    Strip,
    Unplaced,
)

Panel = tuple[str, int, tuple[Strip, ...]]  # part, copy, strips


def solve_boards(
    demand: BoardDemand,
    *,
    seed: int = 0,
    steps: int | None = None,
    seconds: float | None = None,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> BoardLayout:
    """Return the best layout found for `demand`, with a bound on the cost of the boards.

    `steps` budgets the search repeatably (one step is one whole plan; None is a few hundred); `seconds` and `stop` are
    outer guards. Bad input comes back as `unplaced` with its reason.
    """
    budget = Budget(steps, seconds, stop, progress)
    unplaced = unusable(demand)
    refused = {u.part for u in unplaced}
    parts = within_boards(demand, (p for p in demand.parts if p.id not in refused and p.count > 0))
    price = prices(demand)
    needs, groups = make_needs(parts)
    bound = cost_bound(demand, price, parts, show_on_best=True)
    job = Job(demand=demand, price=price, needs=needs, groups=tuple(groups))
    plan = search(job, bound, budget, seed)
    sawn = sawn_of(job, plan)
    if sawn is not None:
        sawn = repack(job, sawn, bound, budget, seed)
    patterns, panels = _from_plan(demand, plan) if sawn is None else _from_sawn(job, sawn)
    if not _show_on_best(demand, patterns):
        bound = cost_bound(demand, price, parts, show_on_best=False)
    return _layout(demand, patterns, panels, (*unplaced, *_missing(plan)), bound, budget, seed)


def _show_on_best(demand: BoardDemand, patterns: tuple[BoardPattern, ...]) -> bool:
    best = min((s.grade for s in demand.stock), default=0)
    good = {s.id for s in demand.stock if s.grade == best}
    show = {p.id for p in demand.parts if p.show}
    return all(
        p.stock in good or not any(leaf.part.partition("#")[0] in show for leaf in laid(p.root)) for p in patterns
    )


def prices(demand: BoardDemand) -> dict[str, int]:
    """Return the cost of each board; where nothing has a price, a board that is bought costs its surface."""
    if any(s.price for s in demand.stock):
        return {s.id: s.price for s in demand.stock}
    return {s.id: 0 if s.offcut else s.length * s.width for s in demand.stock}


def _layout(
    demand: BoardDemand,
    patterns: tuple[BoardPattern, ...],
    panels: tuple[Panel, ...],
    unplaced: tuple[Unplaced, ...],
    bound: int,
    budget: Budget,
    seed: int,
) -> BoardLayout:
    price = prices(demand)
    value = sum(price[p.stock] * p.times for p in patterns)
    over = budget.over()
    proven = not unplaced and value <= bound
    status = Status.INFEASIBLE if unplaced else Status.PROVEN if proven else over or Status.BUDGET
    goals = tuple((g, _measure(demand, g, patterns, value)) for g in demand.goals)
    outcome = Outcome(
        value=goals[0][1] if goals else value,
        bound=min(bound, value) if demand.goals[:1] in ((), (Goal.COST,)) else 0,
        status=status,
        seed=seed,
        steps=budget.steps,
        seconds=budget.spent,
        reproducible=over not in (Status.TIME, Status.STOPPED),
        goals=goals,
        closed=(Goal.COST,) if proven and Goal.COST in demand.goals else (),
    )
    return BoardLayout(patterns=patterns, unplaced=unplaced, outcome=outcome, panels=panels)


def _missing(plan: Plan) -> list[Unplaced]:
    missing: Counter[str] = Counter()
    for key, n in plan.needs.left.items():
        missing[key[0]] += n
    why = "no board left that holds it, or enough of its strips"
    return [Unplaced(part=p, count=n, why=why) for p, n in missing.items() if n]


def _from_plan(demand: BoardDemand, plan: Plan) -> tuple[tuple[BoardPattern, ...], tuple[Panel, ...]]:
    panels, dropped = _panels(plan)
    names = {f"{k[0]}#{k[1]}/{i}" for k in dropped for i in range(1, len(plan.needs.sawn[k]) + 1)}
    return _patterns(demand, plan, names, panels), panels


def _from_sawn(job: Job, sawn: Sawn) -> tuple[tuple[BoardPattern, ...], tuple[Panel, ...]]:
    parts = job.needs.parts
    panels = tuple((name, copy, glued(parts[name], copy, w)) for (name, copy), w in sorted(sawn_widths(sawn).items()))
    strips = {(s.part, s.copy, s.place): s for _, _, members in panels for s in members}
    places: Counter[Key] = Counter()
    patterns: list[BoardPattern] = []
    for board in sawn:
        names: list[str] = []
        here: list[Strip] = []
        for piece in board.pieces:
            places[piece.part, piece.copy] += 1
            place = places[piece.part, piece.copy]
            names.append(f"{piece.part}#{piece.copy}/{place}" if piece.copy else piece.part)
            here += [strips[piece.part, piece.copy, place]] if piece.copy else []
        root = pattern_root(board, names)
        rip_first = not isinstance(root, Cut) or root.axis is Axis.RIP
        pattern = BoardPattern(stock=board.source.id, root=root, strips=tuple(here), rip_first=rip_first)
        if patterns and not here and replace(patterns[-1], times=1) == pattern:
            patterns[-1] = replace(pattern, times=patterns[-1].times + 1)
        else:
            patterns.append(pattern)
    return tuple(patterns), panels


def _panels(plan: Plan) -> tuple[tuple[Panel, ...], list[Key]]:
    """The panels that are finished, and those that could not be."""
    done, dropped = [], []
    for key, sawn in sorted(plan.needs.sawn.items()):
        part = plan.needs.parts[key[0]]
        if finished(part, sawn):
            done.append((key[0], key[1], glued(part, key[1], sawn)))
        else:
            dropped.append(key)
    return tuple(done), dropped


def _patterns(demand: BoardDemand, plan: Plan, drop: set[str], panels: tuple[Panel, ...]) -> tuple[BoardPattern, ...]:
    strips = {f"{s.part}#{s.copy}/{s.place}": s for _, _, members in panels for s in members}
    made: list[BoardPattern] = []
    for load in plan.loads:
        root = without(cut_tree(demand, load.fill), drop)
        names = [leaf.part for leaf in laid(root)]
        if names:
            pattern = BoardPattern(
                stock=load.fill.source.id,
                root=root,
                strips=tuple(strips[n] for n in names if n in strips),
                times=load.times,
                rip_first=root.axis is Axis.RIP if isinstance(root, Cut) else load.fill.rip_first,
            )
            made.append(pattern)
    return tuple(made)


def _rests(node: Cut | Laid | Rest) -> list[Rest]:
    if isinstance(node, Cut):
        return [rest for child in node.pieces for rest in _rests(child)]
    return [node] if isinstance(node, Rest) else []


def _measure(demand: BoardDemand, goal: Goal, patterns: tuple[BoardPattern, ...], value: int) -> int:
    """The value of one goal: cost; surface cut from offcuts; largest rest; widths and lengths set; lines sawn."""
    offcuts = {s.id for s in demand.stock if s.offcut}
    pieces = [(p, leaf) for p in patterns for leaf in laid(p.root)]
    match goal:
        case Goal.COST:
            return value
        case Goal.OFFCUTS:
            return sum(leaf.length * leaf.width * p.times for p, leaf in pieces if p.stock in offcuts)
        case Goal.REMNANT:
            return max((r.length * r.width for p in patterns for r in _rests(p.root)), default=0)
        case Goal.SETTINGS:
            return len({leaf.width for _, leaf in pieces}) + len({leaf.length for _, leaf in pieces})
        case Goal.CUTS:
            return sum(_lines(p.root) * p.times for p in patterns)


def _lines(node: Cut | Laid | Rest) -> int:
    return len(node.lines) + sum(_lines(p) for p in node.pieces) if isinstance(node, Cut) else 0
