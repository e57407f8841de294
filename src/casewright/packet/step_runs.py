"""The steps of a piece as pages number them: steps alike that follow each other are one.

They may go into groups of their own, as the inserts of four feet do; those that close a group whose diagonals are
compared stay apart.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import PieceDesign, Step
from casewright.solids.collide import is_under


@dataclass(frozen=True, slots=True)
class StepRun:
    """One numbered step of a page: one step of the design, or several with the same words."""

    number: int
    steps: tuple[Step, ...]

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
    def cautions(self) -> tuple[str, ...]:
        """Its cautions, each once."""
        return tuple(dict.fromkeys(c for step in self.steps for c in step.cautions))

    def brings_any(self, paths: frozenset[str]) -> bool:
        """True where one of the paths arrives, by itself or in its group."""
        return any(is_under(path, group) for group in self.brings for path in paths)


def step_runs(piece: PieceDesign) -> tuple[StepRun, ...]:
    """Return the numbered steps of a piece, from 1."""
    runs: list[list[Step]] = []
    for step in piece.steps:
        if runs and _alike(runs[-1][-1], step):
            runs[-1].append(step)
        else:
            runs.append([step])
    return tuple(StepRun(number, tuple(steps)) for number, steps in enumerate(runs, 1))


def _alike(one: Step, other: Step) -> bool:
    """True where two steps have the same words, and no sizes of their own groups are printed beside them."""
    return one.text == other.text and (one.into == other.into or "diagonal" not in one.text)
