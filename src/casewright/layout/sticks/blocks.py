"""What is placed on a stick: single pieces, and whole runs that are cut in sequence, with the slope of their ends.

The slope of an end is (where its cut crosses the outer face) − (where it crosses the inner face). A
turn end for end keeps slopes and swaps ends, so two ends can share one cut exactly where their slopes
are equal and not 0.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from casewright.layout.model import StickDemand, StickEnd, StickPart, Unplaced


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Pieces that lie side by side in this order: one piece, or one set of a run in sequence.

    `length` is from the first long point to the last; `offsets` are the pieces' long-point starts in it.
    """

    parts: tuple[StickPart, ...]
    offsets: tuple[int, ...]
    length: int
    left: int  # slope of the left end
    right: int
    count: int
    fixed: bool  # it may not be turned end for end

    @property
    def longest(self) -> int:
        """Length of its longest piece."""
        return max(p.length for p in self.parts)

    @property
    def shortest(self) -> int:
        """Length of its shortest piece."""
        return min(p.length for p in self.parts)


def slopes(part: StickPart) -> tuple[int, int]:
    """Return the slopes of the part's left and right end."""
    left = {StickEnd.SQUARE: 0, StickEnd.MITRE: -part.left_run, StickEnd.MITRE_IN: part.left_run}[part.left]
    right = {StickEnd.SQUARE: 0, StickEnd.MITRE: part.right_run, StickEnd.MITRE_IN: -part.right_run}[part.right]
    return left, right


def kerf_between(demand: StickDemand, right: int, left: int) -> int:
    """Return what the saw takes along the stick between two ends of these slopes."""
    return (demand.mitre_kerf or demand.kerf) if right or left else demand.kerf


def gap_between(demand: StickDemand, right: int, left: int) -> int:
    """Return the least distance from one long point to the next; negative where one mitred cut serves both ends."""
    kerf = kerf_between(demand, right, left)
    return kerf - abs(right) if demand.share_mitres and right == left != 0 else kerf


def _block(demand: StickDemand, parts: Sequence[StickPart], count: int, fixed: bool) -> Block:
    offsets = [0]
    for a, b in itertools.pairwise(parts):
        offsets.append(offsets[-1] + a.length + gap_between(demand, slopes(a)[1], slopes(b)[0]))
    return Block(
        parts=tuple(parts),
        offsets=tuple(offsets),
        length=offsets[-1] + parts[-1].length,
        left=slopes(parts[0])[0],
        right=slopes(parts[-1])[1],
        count=count,
        fixed=fixed,
    )


def make_blocks(demand: StickDemand, wanted: dict[str, int]) -> tuple[list[Block], list[Unplaced]]:
    """Return the blocks for the `wanted` counts by part id, and the parts whose run cannot be cut as a run."""
    singles = [p for p in demand.parts if not (p.in_sequence and p.run)]
    blocks = [_block(demand, [p], wanted[p.id], not demand.share_mitres) for p in singles if wanted[p.id] > 0]
    unplaced: list[Unplaced] = []
    for run, members in _runs(demand.parts):
        counts = {wanted[p.id] for p in members}
        if len(counts) > 1:
            why = f"run {run} is to be cut in sequence, but its parts have different counts: {sorted(counts)}"
            unplaced += [Unplaced(part=p.id, count=wanted[p.id], why=why) for p in members if wanted[p.id] > 0]
        elif max(counts) > 0:
            blocks.append(_block(demand, members, max(counts), True))
    return blocks, unplaced


def _runs(parts: Iterable[StickPart]) -> list[tuple[str, list[StickPart]]]:
    runs: dict[str, list[StickPart]] = defaultdict(list)
    for part in parts:
        if part.in_sequence and part.run:
            runs[part.run].append(part)
    return [(run, sorted(members, key=lambda p: p.sequence)) for run, members in sorted(runs.items())]
