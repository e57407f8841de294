"""The search for the cheapest set of patterns of a bare problem."""

from __future__ import annotations

from dataclasses import replace

from casewright.layout.budget import Budget
from casewright.layout.sticks.costs import make_costs
from casewright.layout.sticks.first import first_answer, smaller
from casewright.layout.sticks.problem import Answer, Problem, cost_of, with_spare


def solve(problem: Problem, budget: Budget, seed: int = 0) -> Answer:
    """Return the best answer found within `budget`, with a proven bound on the cost.

    Where the first answer leaves pieces over, though there is enough length for all, sticks that no shop has take
    part in the search at a price that no real stick reaches, and what they hold at the end is short.
    """
    answer = first_answer(problem)
    if not answer.complete and _enough(problem):
        return _without_spare(problem, _search(with_spare(problem), budget, seed))
    return _search(problem, budget, seed, answer)


def _search(problem: Problem, budget: Budget, seed: int, answer: Answer | None = None) -> Answer:
    answer = answer or first_answer(problem)
    if not any(problem.demands):
        return replace(answer, proven=True)
    value = cost_of(problem, answer.patterns)
    costs = make_costs(problem, value)
    bound = costs.at_least(material_bound(problem) / costs.dearest)
    budget.tell(value, bound, "first answer")
    if not answer.complete or value == bound or budget.over():
        return replace(answer, bound=min(bound, value), proven=answer.complete and value == bound)
    from casewright.layout.sticks.branch import branch  # the solver and the compiler are loaded only where needed

    best = branch(problem, costs, replace(answer, bound=bound), budget, seed)
    return replace(best, patterns=smaller(problem, best.patterns))


def material_bound(problem: Problem) -> float:
    """Return what the pieces' lengths alone must cost, cut across piece ends from the sticks best for their price."""
    wanted = sum(s * d for s, d in zip(problem.sizes, problem.demands, strict=True))
    total = 0.0
    for stock in sorted(range(len(problem.costs)), key=lambda s: problem.costs[s] / max(1, problem.capacities[s])):
        capacity = max(1, problem.capacities[stock])
        if problem.counts[stock] * capacity >= wanted:
            return total + problem.costs[stock] * wanted / capacity
        wanted -= problem.counts[stock] * capacity
        total += problem.costs[stock] * problem.counts[stock]
    return total


def _enough(problem: Problem) -> bool:
    pieces = sum(problem.demands)
    offered = sum(c * min(n, pieces) for c, n in zip(problem.capacities, problem.counts, strict=True))
    return offered >= sum(s * d for s, d in zip(problem.sizes, problem.demands, strict=True))


def _without_spare(problem: Problem, answer: Answer) -> Answer:
    spare = len(problem.costs)
    short = [0] * len(problem.sizes)
    for pattern in answer.patterns:
        if pattern.stock == spare:
            for i, n in pattern.items:
                short[i] += n * pattern.times
    kept = tuple(p for p in answer.patterns if p.stock != spare)
    found = replace(answer, patterns=kept, short=tuple(short))
    return found if found.complete else replace(found, bound=0, proven=False)
