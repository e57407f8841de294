"""One board as it is filled: lanes along the first cuts, pieces across them.

Rip-first, lanes run the length of the board and pieces are crosscut from them; crosscut-first, lanes
are sections across it and pieces are ripped from them. `along` is the direction in which pieces follow one
another in a lane, `across` the one in which lanes do. Unusable stretches are left out of both.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from casewright.layout.model import BoardDemand, BoardStock

Span = tuple[int, int]


@dataclass(slots=True)
class Placed:
    """A piece in a lane: its name, where it starts along the lane, its size along and across."""

    name: str
    at: int
    along: int
    across: int


@dataclass(slots=True)
class Lane:
    """A lane that starts at `at` and is `size` across; `free` are the spans where pieces may follow."""

    at: int
    size: int
    free: list[Span]
    pieces: list[Placed] = field(default_factory=list)

    def longest_free(self) -> int:
        """Return the longest span that is free along the lane."""
        return max((high - low for low, high in self.free), default=0)


@dataclass(slots=True)
class Fill:
    """A board part-filled in one direction; `room` are the spans that are not yet lanes."""

    source: BoardStock
    kerf: int
    rip_first: bool
    room: list[Span]
    spans: list[Span]  # what a new lane has along it
    lanes: list[Lane] = field(default_factory=list)
    used: int = 0  # surface of the pieces

    def copy(self) -> Fill:
        """Return an independent copy."""
        lanes = [Lane(at=n.at, size=n.size, free=list(n.free), pieces=list(n.pieces)) for n in self.lanes]
        return Fill(self.source, self.kerf, self.rip_first, list(self.room), self.spans, lanes, self.used)

    def open_lane(self, along: int, across: int) -> Lane | None:
        """Open a lane `across` wide in the tightest room that holds it, if a piece `along` long fits in it."""
        if _span(self.spans, along) is None:
            return None
        index = _span(self.room, across)
        if index is None:
            return None
        at = _take(self.room, index, across, self.kerf)
        lane = Lane(at=at, size=across, free=list(self.spans))
        self.lanes.append(lane)
        return lane

    def put(self, lane: Lane, name: str, along: int, across: int) -> None:
        """Put a piece into `lane`, in the tightest span that holds it."""
        index = _span(lane.free, along)
        assert index is not None
        lane.pieces.append(Placed(name, _take(lane.free, index, along, self.kerf), along, across))
        self.used += along * across

    def longest_span(self) -> int:
        """Return the greatest size along a new lane."""
        return max((high - low for low, high in self.spans), default=0)

    def widest_room(self) -> int:
        """Return the greatest size across that a new lane can have."""
        return max((high - low for low, high in self.room), default=0)


def open_fill(demand: BoardDemand, source: BoardStock, rip_first: bool) -> Fill:
    """Return the empty fill of a board."""
    edge = 0 if source.offcut else demand.edge_trim
    clear = clear_spans(demand, source)
    width = [(edge, source.width - edge)] if source.width > 2 * edge else []
    room, spans = (width, clear) if rip_first else (clear, width)
    return Fill(source=source, kerf=demand.kerf, rip_first=rip_first, room=list(room), spans=list(spans))


def clear_spans(demand: BoardDemand, source: BoardStock) -> list[Span]:
    """Return the stretches of a board that may be used; two kerfs at least lie between them."""
    end = 0 if source.offcut else demand.end_trim
    low, limit = end, source.length - end
    spans: list[Span] = []
    for start, stop in sorted(source.defects):
        if start > low:
            spans.append((low, min(start, limit)))
            low = max(stop, start + 2 * demand.kerf)
        elif stop > low:
            low = max(stop, low + demand.kerf)
    spans.append((low, limit))
    return [(a, b) for a, b in spans if b > a]


def _span(spans: list[Span], size: int) -> int | None:
    fit = [i for i, (low, high) in enumerate(spans) if high - low >= size]
    return min(fit, key=lambda i: (spans[i][1] - spans[i][0], i), default=None)


def _take(spans: list[Span], index: int, size: int, kerf: int) -> int:
    low, high = spans[index]
    spans[index] = (min(high, low + size + kerf), high)
    return low
