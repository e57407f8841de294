"""A first full answer without a compiler: sticks filled one kind at a time, longest piece first."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.layout.sticks.problem import Answer, Items, Pattern, Problem


def first_answer(problem: Problem) -> Answer:
    """Return a full answer; `bound` is 0 and nothing is proven.

    The next stick is the one that costs least for what it holds (first fit decreasing where there is
    one length); a filling is repeated while the demands last, so a million pieces take no longer.
    """
    left = list(problem.demands)
    on_hand = list(problem.counts)
    order = sorted(range(len(problem.sizes)), key=lambda i: -problem.sizes[i])
    patterns: list[Pattern] = []
    while any(left):
        best = _best_filling(problem, order, left, on_hand)
        if best is None:
            break
        stock, items = best
        times = min(on_hand[stock], *(left[i] // n for i, n in items))
        on_hand[stock] -= times
        for i, n in items:
            left[i] -= n * times
        patterns.append(Pattern(stock=stock, items=items, times=times))
    return Answer(patterns=smaller(problem, patterns), short=tuple(left), bound=0, proven=False)


def _best_filling(problem: Problem, order: list[int], left: list[int], on_hand: list[int]) -> tuple[int, Items] | None:
    best: tuple[tuple[float, int, int], int, Items] | None = None
    for stock, capacity in enumerate(problem.capacities):
        if on_hand[stock] <= 0:
            continue
        items, used = _fill(problem, stock, order, left)
        key = (problem.costs[stock] / used if used else 0.0, capacity - used, stock)
        if used and (best is None or key < best[0]):
            best = key, stock, items
    return None if best is None else best[1:]


def _fill(problem: Problem, stock: int, order: list[int], left: list[int]) -> tuple[Items, int]:
    free = problem.capacities[stock]
    taken: Items = ()
    for i in order:
        n = min(left[i], free // problem.sizes[i])
        while n and not problem.lies(stock, tuple(sorted((*taken, (i, n))))):
            n -= 1
        if n:
            taken = (*taken, (i, n))
            free -= n * problem.sizes[i]
    return tuple(sorted(taken)), problem.capacities[stock] - free


def smaller(problem: Problem, patterns: Iterable[Pattern]) -> tuple[Pattern, ...]:
    """Return `patterns`, each moved to the cheapest and then shortest sticks left that hold it."""
    patterns = sorted(patterns, key=lambda p: -_used(problem, p))
    on_hand = list(problem.counts)
    for pattern in patterns:
        on_hand[pattern.stock] -= pattern.times
    result: list[Pattern] = []
    for pattern in patterns:
        on_hand[pattern.stock] += pattern.times
        fit = [s for s in range(len(on_hand)) if on_hand[s] > 0 and _holds(problem, s, pattern)]
        times = pattern.times
        for stock in sorted(fit, key=lambda s: (problem.costs[s], problem.capacities[s], s)):
            n = min(times, on_hand[stock])
            if n:
                on_hand[stock] -= n
                times -= n
                result.append(Pattern(stock=stock, items=pattern.items, times=n))
    return gather(result)


def _holds(problem: Problem, stock: int, pattern: Pattern) -> bool:
    fits = problem.capacities[stock] >= _used(problem, pattern)
    return stock == pattern.stock or (fits and problem.lies(stock, pattern.items))


def _used(problem: Problem, pattern: Pattern) -> int:
    return sum(problem.sizes[i] * n for i, n in pattern.items)


def gather(patterns: list[Pattern]) -> tuple[Pattern, ...]:
    """Return `patterns` sorted, equal ones made one with the sum of their times."""
    times: dict[tuple[int, Items], int] = {}
    for p in patterns:
        times[p.stock, p.items] = times.get((p.stock, p.items), 0) + p.times
    return tuple(sorted(Pattern(stock=s, items=items, times=n) for (s, items), n in times.items()))
