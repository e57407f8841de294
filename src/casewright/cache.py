"""A bounded store of results that stages have computed, shared by all projects of a process."""

from __future__ import annotations

import gc
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")
NEW_OBJECTS = 200_000  # between two looks of the collector; Python's own figure is 700


def collect_seldom() -> None:
    """Let Python look for cycles seldom, in a process that is Casewright's own (a command, a worker).

    Records refer to each other without cycles and are kept for reuse, so the collector finds nothing and, with a full
    cache, takes longer for one look than an edit takes to be checked.
    """
    gc.set_threshold(NEW_OBJECTS)


class Cache:
    """Results by (stage, key), the least recently used dropped beyond `limit` entries.

    Stages are pure, so a result may be shared by any number of readers, and losing one costs time
    only. Safe to use from several threads; two of them may compute the same result at once, and
    the first one kept wins.
    """

    def __init__(self, limit: int = 20_000) -> None:
        if limit < 1:
            raise ValueError(f"a cache needs room for at least 1 entry, got {limit}")
        self._limit = limit
        self._entries: OrderedDict[tuple[str, Hashable], Any] = OrderedDict()
        self._lock = threading.Lock()

    def __len__(self) -> int:
        return len(self._entries)

    def get(self, stage: str, key: Hashable) -> Any | None:
        """Return what is kept for the key, or None."""
        with self._lock:
            entry = self._entries.get((stage, key))
            if entry is not None:
                self._entries.move_to_end((stage, key))
            return entry

    def put(self, stage: str, key: Hashable, value: Any) -> Any:
        """Keep a value (not None) and return the one that is kept: an earlier one stays."""
        if value is None:
            raise ValueError("None stands for 'not kept' and cannot be kept itself")
        with self._lock:
            kept = self._entries.setdefault((stage, key), value)
            self._entries.move_to_end((stage, key))
            while len(self._entries) > self._limit:
                self._entries.popitem(last=False)
            return kept

    def made(self, stage: str, key: Hashable, make: Callable[[], T]) -> T:
        """Return what is kept for the key; where there is nothing, make and keep it."""
        kept: T | None = self.get(stage, key)
        if kept is not None:
            return kept
        made: T = self.put(stage, key, make())
        return made
