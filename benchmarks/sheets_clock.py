"""Processor time as the budget of a benchmark: other people's load does not count."""

from __future__ import annotations

import time
from dataclasses import dataclass


@dataclass(slots=True)
class ProcessorTime:
    """A stop token that is set once this process has used so many seconds of processor time."""

    until: float

    def is_set(self) -> bool:
        """True once the time is used up."""
        return time.process_time() >= self.until
