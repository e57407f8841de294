"""Branch and price on the number of sticks of each kind.

What an answer costs is settled by how many sticks of each kind it uses, so the search halves these numbers, best
bound first, and dives for patterns wherever a dive may still succeed. The rows that it adds leave the
pricing as it is.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from casewright.layout.budget import Budget
from casewright.layout.sticks.costs import Costs
from casewright.layout.sticks.dive import dive
from casewright.layout.sticks.finish import QUICK, THOROUGH, Effort, finish
from casewright.layout.sticks.master import State
from casewright.layout.sticks.problem import UNLIMITED, Answer, Pattern, Problem, cost_of
from casewright.layout.sticks.relaxation import Relaxation, Relaxed
from casewright.layout.sticks.surrogate import surrogate_bound

Floats = NDArray[np.float64]

ROOT_DIVES = 2
LEAF_DIVES = 10
DIVE_EVERY = 8


@dataclass(order=True, slots=True)
class Node:
    """An open part of the tree: its bound, its turn among equals, the numbers of sticks that it allows."""

    bound: int
    turn: int
    state: State
    basis: Any = field(compare=False, default=None)


class Tree:
    """The search tree, the best answer, and the bound of parts that no dive could settle."""

    def __init__(self, problem: Problem, costs: Costs, answer: Answer, budget: Budget, seed: int) -> None:
        self.problem, self.costs, self.budget = problem, costs, budget
        self.answer = answer
        self.value = cost_of(problem, answer.patterns)
        self.relaxation = Relaxation(problem, costs, answer, 2 * self.value)
        self.material, self.filled = self.relaxation.material()
        self.chance = np.random.default_rng(seed)
        self.open = [Node(answer.bound, 0, self.relaxation.whole)]
        self.turns = 0
        self.expanded = 0
        self.leaves: list[Node] = []  # whole numbers of sticks, but no patterns for them yet
        self.unsettled: list[Node] = []  # and none found for certain

    def bound(self) -> int:
        """Return the proven bound on the cost."""
        bounds = [node.bound for node in (*self.open[:1], *self.leaves, *self.unsettled)]
        return min([self.value, *bounds])

    def search(self) -> None:
        """Search until the tree is empty, the bound reached, or the budget over."""
        if self.problem.shape is not None and self._settle(self.open[0], (QUICK,)):
            self.open.clear()
        while self.open and self.open[0].bound < self.value and not self.budget.over():
            self._expand(heapq.heappop(self.open))
            self.budget.tell(self.value, self.bound())
        self.leaves.sort()
        for node in list(self.leaves):
            if self.budget.over():
                return
            settled = node.bound >= self.value or self._settle(node)
            self.leaves.remove(node)
            if not settled:
                self.unsettled.append(node)
            self.budget.tell(self.value, self.bound())

    def _expand(self, node: Node) -> None:
        if self._whole(node, self.material, self.filled) >= self.value:
            return
        if node.basis is not None:
            self.relaxation.master.restore(node.basis)
        self.relaxation.master.restrict(node.state)
        relaxed = self.relaxation.solve(node.state, self.budget, self.value)
        bound = max(node.bound, self._bound_of(node, relaxed))
        if bound >= self.value:
            return
        node = replace(node, bound=bound)
        stock = self._fractional(relaxed)
        node.basis = self.relaxation.master.basis()
        self.expanded += 1
        self._dive(node, ROOT_DIVES if node.turn == 0 or stock is None else self.expanded % DIVE_EVERY == 0)
        if node.bound >= self.value:
            return
        if self.budget.over():
            heapq.heappush(self.open, node)
        elif stock is not None:
            self._split(node, stock, int(relaxed.usage[stock]))
        elif (stock := self._loose(node, relaxed)) is not None:
            self._part(node, stock, round(relaxed.usage[stock]))
        else:
            self.leaves.append(node)

    def _loose(self, node: Node, relaxed: Relaxed) -> int | None:
        """The dearest kind of stick in use whose number is not settled yet."""
        loose = (node.state.least < node.state.most) & (relaxed.usage > 0.5) & (self.relaxation.costs > 0)
        if not loose.any() or loose.size == 1:
            return None
        return int(np.argmax(np.where(loose, self.relaxation.costs, -1.0)))

    def _part(self, node: Node, stock: int, number: int) -> None:
        """Split a node at a whole number of sticks: fewer, as many, more."""
        for low, high in ((0, number - 1), (number, number), (number + 1, UNLIMITED)):
            least, most = node.state.least.copy(), node.state.most.copy()
            least[stock], most[stock] = max(low, least[stock]), min(high, most[stock])
            if least[stock] <= most[stock]:
                self._push(node, replace(node.state, least=least, most=most))

    def _push(self, node: Node, state: State) -> None:
        self.turns += 1
        heapq.heappush(self.open, Node(node.bound, self.turns, state, node.basis))

    def _settle(self, node: Node, efforts: tuple[Effort, ...] = (QUICK, THOROUGH)) -> bool:
        """Settle a node: a short programme over all its patterns, dives, a long one."""
        for effort in efforts:
            while node.bound < self.value and not self.budget.over():
                outcome = self._finish(node, effort)
                if outcome is False:
                    return True
                if outcome is True or not (self._keep(outcome) or self._ruled_out(outcome)):
                    break
            self._dive(node, LEAF_DIVES)
        return node.bound >= self.value

    def _finish(self, node: Node, effort: Effort) -> tuple[Pattern, ...] | bool:
        target = self.costs.below(self.value)
        if target is None:
            return False
        self.relaxation.master.restrict(node.state)
        relaxed = self.relaxation.solve(node.state, self.budget, to_the_end=True)
        if self.budget.over():
            return True
        return finish(self.relaxation, self.costs, node.state, relaxed, target, effort, self.budget)

    def _bound_of(self, node: Node, relaxed: Relaxed) -> int:
        bound = self.costs.at_least(relaxed.bound)
        if bound >= self.value:
            return bound
        return max(bound, self._whole(node, relaxed.duals, relaxed.gains))

    def _whole(self, node: Node, duals: Floats, gains: Floats) -> int:
        """The bound of whole sticks at `duals`."""
        whole = surrogate_bound(self.problem, self.costs, node.state, duals, gains, self.value)
        return self.costs.at_least(whole / self.costs.dearest)

    def _fractional(self, relaxed: Relaxed) -> int | None:
        away = np.abs(relaxed.usage - np.round(relaxed.usage))
        if away.max(initial=0.0) < 1e-5:
            return None
        return int(np.argmax(away * (0.1 + self.relaxation.costs)))

    def _dive(self, node: Node, tries: int) -> None:
        """Dive until `tries` dives have found nothing."""
        failed = 0
        while failed < tries:
            target = self.costs.below(self.value)
            if target is None or node.bound > target or self.budget.over():
                return
            chance = self.chance if failed else None
            patterns = dive(self.relaxation, self.costs, node.state, target, self.budget, chance)
            if patterns is None:
                failed += 1
            elif not self._keep(patterns):
                return

    def _keep(self, patterns: tuple[Pattern, ...]) -> bool:
        """Take a better answer, if its patterns can be cut."""
        if not all(self.problem.lies(p.stock, p.items) for p in patterns):
            return False
        self.answer = replace(self.answer, patterns=patterns)
        self.value = cost_of(self.problem, patterns)
        return True

    def _ruled_out(self, patterns: tuple[Pattern, ...]) -> bool:
        """True where one of the patterns has turned out not to fit, so that the next list is without it."""
        shape = self.problem.shape
        return shape is not None and not all(shape.fits(p.stock, p.items) for p in patterns)

    def _split(self, node: Node, stock: int, below: int) -> None:
        fewer, more = node.state.most.copy(), node.state.least.copy()
        fewer[stock], more[stock] = below, below + 1
        for state in (replace(node.state, most=fewer), replace(node.state, least=more)):
            self._push(node, state)


def branch(problem: Problem, costs: Costs, answer: Answer, budget: Budget, seed: int) -> Answer:
    """Return the best answer of a search that starts from `answer`, with its bound."""
    tree = Tree(problem, costs, answer, budget, seed)
    tree.search()
    bound = tree.bound()
    return replace(tree.answer, bound=bound, proven=tree.value <= bound)
