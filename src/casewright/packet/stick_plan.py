"""A stick's pattern as the order of work: each cut numbered from the left end, with what it makes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickEnd, StickPart, StickPattern, StickPiece
from casewright.packet.cut_plan import CutStep

Line = tuple[int, int]  # where a cut crosses the outer face and the inner face, grid steps


@dataclass(frozen=True, slots=True, kw_only=True)
class StickCut:
    """One cut: its number, where it is (grid steps, at its long point), whether it is a mitre, the piece it ends."""

    number: int
    at: int
    mitre: bool
    finishes: str  # part id of the piece that it cuts free, or empty


def end_lines(part: StickPart, piece: StickPiece) -> tuple[Line, Line]:
    """Return the left and right end of a piece as lines across the stick."""
    ends = [(part.left, part.left_run), (part.right, part.right_run)]
    if piece.flipped:
        ends.reverse()
    (left, left_run), (right, right_run) = ends
    start, end = piece.start, piece.start + piece.length
    a = _crossing(left, piece.flipped, start, start + left_run)
    b = _crossing(right, piece.flipped, end, end - right_run)
    return a, b


def _crossing(kind: StickEnd, flipped: bool, long_point: int, short_point: int) -> Line:
    if kind is StickEnd.SQUARE:
        return (long_point, long_point)
    outer_is_long = (kind is StickEnd.MITRE) is not flipped
    return (long_point, short_point) if outer_is_long else (short_point, long_point)


def stick_cuts(pattern: StickPattern, demand: StickDemand) -> tuple[StickCut, ...]:
    """Return every cut of a stick in order. A square cut between two square ends serves both of them."""
    return tuple(
        StickCut(number=n, at=at, mitre=mitre, finishes=part)
        for n, (at, mitre, part) in enumerate(_cuts(pattern, demand), 1)
    )


def _cuts(pattern: StickPattern, demand: StickDemand) -> Iterator[tuple[int, bool, str]]:
    parts = {p.id: p for p in demand.parts}
    before: Line | None = None
    for piece in pattern.pieces:
        left, right = end_lines(parts[piece.part], piece)
        if (before is None and piece.start > 0) or (before is not None and not _shared(before, left, demand)):
            yield piece.start, left[0] != left[1], ""
        yield piece.start + piece.length, right[0] != right[1], piece.part
        before = right


def _shared(before: Line, left: Line, demand: StickDemand) -> bool:
    square = before[0] == before[1] and left[0] == left[1]
    slant = before[1] - before[0]
    parallel = slant != 0 and slant == left[1] - left[0]
    return square or (demand.share_mitres and parallel)


def stick_steps(
    pattern: StickPattern, demand: StickDemand, size: Callable[[str], str], ends: Callable[[str], tuple[str, str]]
) -> tuple[CutStep, ...]:
    """Return the steps of a stick; `size` prints a part's length, `ends` the angles of its own two ends ("" square)."""
    kept = {p.id for p in demand.parts if p.parted}
    runs: list[tuple[str, bool, list[StickCut], int]] = []  # part, turned or not, its cuts, how many pieces in a row
    pending: list[StickCut] = []
    pieces = iter(pattern.pieces)
    for cut in stick_cuts(pattern, demand):
        pending.append(cut)
        if not cut.finishes:
            continue
        flipped = next(pieces).flipped
        if runs and runs[-1][:2] == (cut.finishes, flipped):
            runs[-1] = (cut.finishes, flipped, runs[-1][2] + pending, runs[-1][3] + 1)
        else:
            runs.append((cut.finishes, flipped, pending, 1))
        pending = []
    return tuple(
        CutStep(
            numbers=_span(cuts[0].number, cuts[-1].number),
            verb=ends_as_they_lie(ends(part), flipped) + ("; not parted yet" if part in kept else ""),
            setting=size(part),
            gives=f"{count} × {part}" if count > 1 else part,
        )
        for part, flipped, cuts, count in runs
    )


def ends_as_they_lie(ends: tuple[str, str], flipped: bool) -> str:
    """Return how the ends of a piece are cut, the one that lies left first."""
    left, right = reversed(ends) if flipped else ends
    turned = "; turned end for end" if flipped else ""
    if left == right:
        return (f"both ends {left}" if left else "square") + turned
    return f"left {left or 'square'}, right {right or 'square'}{turned}"


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}–{last}"
