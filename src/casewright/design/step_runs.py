"""The steps of a piece as they are numbered: steps alike that follow each other are one.

1. Steps with the same words may go into groups of their own, as the inserts of four feet do; those that close a group
   whose diagonals are compared stay apart.
2. The steps of one drawer, door or shelf (`Step.unit`) are a block. Blocks alike that follow each other are one block
   too, done as often as there are units: its first step stands for the first steps of all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby

from casewright.design.assembly import Caution, PieceDesign, Step


@dataclass(frozen=True, slots=True)
class StepRun:
    """One numbered step of a page: one step of the design, or several with the same words.

    `block` numbers the block of steps for units that it belongs to, 0 where it belongs to none.
    """

    number: int
    steps: tuple[Step, ...]
    block: int = 0

    @property
    def first(self) -> Step:
        """The step whose words it has."""
        return self.steps[0]

    @property
    def brings(self) -> tuple[str, ...]:
        """Paths and groups that arrive."""
        return tuple(b for step in self.steps for b in step.brings)

    @property
    def closes(self) -> tuple[str, ...]:
        """Ids of the joints that it closes."""
        return tuple(j for step in self.steps for j in step.closes)

    @property
    def cuts(self) -> tuple[str, ...]:
        """Paths of the parts that get their size in it."""
        return tuple(c for step in self.steps for c in step.cuts)

    @property
    def units(self) -> tuple[str, ...]:
        """What it is done for, each once; nothing where it is no step of a block."""
        return tuple(dict.fromkeys(step.unit for step in self.steps if step.unit))

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """Its cautions, each once."""
        return tuple(dict.fromkeys(c for step in self.steps for c in step.cautions))

    def brings_any(self, paths: frozenset[str]) -> bool:
        """True where one of the paths arrives, by itself or in its group."""
        return any(path == group or path.startswith(f"{group}/") for group in self.brings for path in paths)


def step_runs(piece: PieceDesign) -> tuple[StepRun, ...]:
    """Return the numbered steps of a piece, from 1."""
    return _numbered(piece.steps)


def _numbered(steps_of_all: Iterable[Step]) -> tuple[StepRun, ...]:
    out: list[StepRun] = []
    block = 0
    for unit, steps in _repeated(steps_of_all):
        block += bool(unit)
        out += [StepRun(len(out) + i, tuple(run), block if unit else 0) for i, run in enumerate(steps, 1)]
    return tuple(out)


def step_numbers(piece: PieceDesign) -> dict[str, int]:
    """Return the number of each step by its id."""
    return {step.id: run.number for run in step_runs(piece) for step in run.steps}


def named_by_number(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return steps with ids that say the numbers under which they are printed: `step07`, the next alike `step07.2`."""
    names = {
        step.id: f"step{run.number:02d}" + (f".{i}" if i > 1 else "")
        for run in _numbered(steps)
        for i, step in enumerate(run.steps, 1)
    }
    return tuple(replace(s, id="/".join((*s.id.split("/")[:-1], names[s.id]))) for s in steps)


def _repeated(steps: Iterable[Step]) -> list[tuple[str, list[list[Step]]]]:
    """Return the blocks with the name of their first unit (or none), blocks alike merged into the first of them."""
    out: list[tuple[str, list[list[Step]]]] = []
    for unit, block in groupby(steps, key=lambda s: s.unit):
        runs = _merged(block)
        if unit and out and out[-1][0] and _says(out[-1][1]) == _says(runs):
            for merged, run in zip(out[-1][1], runs, strict=True):
                merged += run
        else:
            out.append((unit, runs))
    return out


def _merged(steps: Iterable[Step]) -> list[list[Step]]:
    """Return steps in runs of those that are alike."""
    runs: list[list[Step]] = []
    for step in steps:
        if runs and _alike(runs[-1][-1], step):
            runs[-1].append(step)
        else:
            runs.append([step])
    return runs


def _alike(one: Step, other: Step) -> bool:
    """True where two steps have the same words, and no sizes of their own groups are printed beside them."""
    same = (one.text, one.kind, one.lie) == (other.text, other.kind, other.lie)
    return same and (one.into == other.into or not one.squares)


def _says(runs: list[list[Step]]) -> tuple[object, ...]:
    """Return what makes blocks alike."""
    return tuple((run[0].noun, run[0].text, run[0].kind, run[0].lie) for run in runs)
