"""How long a search may go on: steps first (they repeat), seconds and the caller's stop only as outer guards."""

from __future__ import annotations

import time
from collections.abc import Callable

from casewright.layout.model import Progress, Report, Status, Stop


class Budget:
    """Counts steps and says why a search has to end. One step is one unit of a search, as each solver says.

    Mutable on purpose: one budget goes through all stages of a search.
    """

    def __init__(
        self,
        steps: int | None = None,
        seconds: float | None = None,
        stop: Stop | None = None,
        progress: Progress | None = None,
        clock: Callable[[], float] = time.perf_counter,
    ) -> None:
        self.limit = steps
        self.seconds = seconds
        self.stop = stop
        self.progress = progress
        self.clock = clock
        self.began = clock()
        self.steps = 0

    @property
    def spent(self) -> float:
        """Seconds since the search began."""
        return self.clock() - self.began

    @property
    def left(self) -> float | None:
        """Seconds left, None without a limit; never below 0."""
        return None if self.seconds is None else max(0.0, self.seconds - self.spent)

    def step(self, count: int = 1) -> None:
        """Count `count` steps."""
        self.steps += count

    def over(self) -> Status | None:
        """Why the search must end now, or None."""
        if self.stop is not None and self.stop.is_set():
            return Status.STOPPED
        if self.limit is not None and self.steps >= self.limit:
            return Status.BUDGET
        return Status.TIME if self.seconds is not None and self.spent >= self.seconds else None

    def tell(self, value: int | None, bound: int, note: str = "") -> None:
        """Report how the search stands."""
        if self.progress is not None:
            self.progress(Report(value=value, bound=bound, seconds=self.spent, note=note))
