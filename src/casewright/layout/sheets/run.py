"""One call of the sheet solver: what it may use, and the best verified layout so far."""

from __future__ import annotations

import time
from dataclasses import dataclass

from casewright.layout.model import Progress, Report, SheetLayout, SheetPattern, Status, Stop, Unplaced
from casewright.layout.sheets.goals import answer, loss, merged
from casewright.layout.sheets.problem import Problem
from casewright.layout.verify_sheets import verify_sheets


@dataclass(slots=True)
class Run:
    """One call of the solver: what it may use, and the best verified layout so far."""

    problem: Problem
    bound: int
    seed: int
    began: float
    seconds: float | None
    stop: Stop | None
    progress: Progress | None
    steps: int = 0
    status: Status = Status.BUDGET
    best: SheetLayout | None = None

    @property
    def proven(self) -> bool:
        """True once the best layout is complete and at the bound."""
        return self.best is not None and not self.best.unplaced and self.best.outcome.value <= self.bound

    def go_on(self) -> bool:
        """False once time is up or the caller wants to stop."""
        if self.stop is not None and self.stop.is_set():
            self.status = Status.STOPPED
            return False
        if self.seconds is not None and time.perf_counter() - self.began >= self.seconds:
            self.status = Status.TIME
            return False
        return True

    def offer(self, patterns: tuple[SheetPattern, ...], unplaced: tuple[Unplaced, ...], note: str) -> bool:
        """Take a layout if it is without fault and better than the best; tell the caller."""
        whole = merged(self.problem.demand.locked + patterns)
        layout = self._answer(whole, unplaced)
        if verify_sheets(self.problem.demand, layout):
            return False
        if self.best is not None and self._rank(layout) >= self._rank(self.best):
            return False
        self.best = layout
        if self.progress is not None:
            seconds = layout.outcome.seconds
            self.progress(
                Report(value=layout.outcome.value, bound=self.bound, seconds=seconds, note=note, layout=layout)
            )
        return True

    def _rank(self, layout: SheetLayout) -> tuple[int, ...]:
        return sum(u.count for u in layout.unplaced), *loss(self.problem.demand, layout.patterns)

    def _answer(self, patterns: tuple[SheetPattern, ...], unplaced: tuple[Unplaced, ...]) -> SheetLayout:
        return answer(
            self.problem.demand,
            patterns,
            unplaced,
            bound=self.bound,
            status=self.status,
            seed=self.seed,
            steps=self.steps,
            seconds=time.perf_counter() - self.began,
        )

    def finish(self) -> SheetLayout:
        """The best layout, with how the run ended."""
        assert self.best is not None
        return self._answer(self.best.patterns, self.best.unplaced)
