"""Solves each stock need and has the answer verified by a checker that shares no code with the solver."""

from __future__ import annotations

from dataclasses import dataclass

from casewright.cache import Cache
from casewright.demand import StockNeed
from casewright.findings import Finding, Severity
from casewright.layout.boards import solve_boards
from casewright.layout.boards.buy import TRIALS, Quantities, quantity_to_buy, usual_supply
from casewright.layout.model import BoardDemand, BoardLayout, SheetDemand, SheetLayout, StickLayout
from casewright.layout.sheets import solve_sheets
from casewright.layout.sticks import solve_sticks
from casewright.layout.verify_boards import verify_boards
from casewright.layout.verify_sheets import verify_sheets
from casewright.layout.verify_sticks import verify_sticks
from casewright.units.grid import key_of, record

MOST_TO_BUY, TRIAL_PIECES, FEWEST_TRIALS = 3_000, 40_000, 40  # parts of an order, parts cut in all trials, trials


@record
class Budget:
    """How long layouts may be searched: steps decide (None takes the solver's own), seconds only guard."""

    steps: int | None = None
    seconds: float | None = None
    seed: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """A need, its layout, the verifier's faults as findings, and of boards how much to buy."""

    need: StockNeed
    layout: SheetLayout | StickLayout | BoardLayout
    findings: tuple[Finding, ...]
    to_buy: Quantities | None = None  # of boards, taken off the yard's pile as they come


def lay_out(need: StockNeed, cache: Cache, budget: Budget) -> LaidOut:
    """Return the verified layout of one need, kept in the cache by demand and budget."""
    key = key_of(need.item, need.demand, budget)
    layout, faults = cache.made("layout", key, lambda: _solved(need, budget))
    found = [_unplaced(need, u.part, u.count, u.why) for u in layout.unplaced]
    found += [_fault(need, text) for text in faults]
    (to_buy,) = cache.made("to buy", key, lambda: (_to_buy(need, budget),))
    return LaidOut(need=need, layout=layout, findings=tuple(found), to_buy=to_buy)


def _solved(need: StockNeed, budget: Budget) -> tuple[SheetLayout | StickLayout | BoardLayout, tuple[str, ...]]:
    demand = need.demand
    if isinstance(demand, SheetDemand):
        if budget.steps is None:
            sheets = solve_sheets(demand, seed=budget.seed, seconds=budget.seconds)
        else:
            sheets = solve_sheets(demand, seed=budget.seed, seconds=budget.seconds, steps=budget.steps)
        return sheets, verify_sheets(demand, sheets)
    if isinstance(demand, BoardDemand):
        boards = solve_boards(demand, seed=budget.seed, seconds=budget.seconds, steps=budget.steps)
        return boards, verify_boards(demand, boards)
    sticks = solve_sticks(demand, seed=budget.seed, seconds=budget.seconds, steps=budget.steps)
    return sticks, verify_sticks(demand, sticks)


def _to_buy(need: StockNeed, budget: Budget) -> Quantities | None:
    """How much to buy with which chance; None for what is not bought by the board, and for very many parts."""
    demand = need.demand
    supply = usual_supply(demand) if isinstance(demand, BoardDemand) else None
    pieces = sum(w.count for w in need.wanted)
    if supply is None or not isinstance(demand, BoardDemand) or pieces > MOST_TO_BUY:
        return None
    trials = max(FEWEST_TRIALS, min(TRIALS, TRIAL_PIECES // max(1, pieces)))
    return quantity_to_buy(demand, supply, seed=budget.seed, trials=trials, seconds=budget.seconds)


def _unplaced(need: StockNeed, part: str, count: int, why: str) -> Finding:
    return Finding(
        code="layout.unplaced",
        severity=Severity.STOP,
        path=f"stock/{need.item}",
        value=float(count),
        unit="",
        message=f"{count} of part {part} cannot be laid out: {why}",
        remedy="stock a larger size for this role",
    )


def _fault(need: StockNeed, text: str) -> Finding:
    return Finding(
        code="layout.fault",
        severity=Severity.STOP,
        path=f"stock/{need.item}",
        message=f"the layout is wrong: {text}",
        remedy="do not cut from it; report it with the order",
    )
