"""Who stands where after each step of the assembly: what is there when something arrives, and which joints close."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from casewright.checks.model import Subject
from casewright.design.assembly import PieceDesign, Step, StepKind
from casewright.design.parts import Fastener, Placed
from casewright.design.step_runs import step_numbers
from casewright.solids.collide import is_under_any


@dataclass(frozen=True)
class Scene:
    """One step that brings something: what arrives, and what stands in the same group already.

    `number` is the one that pages print, `place` its place in the order: steps alike share a number.
    """

    piece: PieceDesign
    number: int
    place: int
    step: Step
    arriving: tuple[Placed, ...]
    present: tuple[Placed, ...]
    closed: frozenset[str]  # joints closed before this step

    @cached_property
    def fastened(self) -> tuple[Fastener, ...]:
        """The fasteners that stand in what is present: of closed joints, all their parts there."""
        there = {p.path for p in self.present}
        return tuple(f for f in self.piece.fasteners if f.joint in self.closed and there.issuperset(f.parts))

    @cached_property
    def standing(self) -> frozenset[str]:
        """The paths of what is present."""
        return frozenset(p.path for p in self.present)

    @cached_property
    def opened(self) -> frozenset[str]:
        """The paths of hung doors and drawers: they are opened, or pulled out, while other things are set.

        What arrives at a door or drawer itself finds it where it is.
        """
        moving = [m.members for m in self.piece.motions]
        apart = [g for g in moving if not any(is_under_any(p.path, g) for p in self.arriving)]
        return frozenset(p.path for p in self.present if any(is_under_any(p.path, g) for g in apart))

    @cached_property
    def driven(self) -> tuple[Fastener, ...]:
        """The fasteners of the joints that this step closes."""
        closes = set(self.step.closes)
        return tuple(f for f in self.piece.fasteners if f.joint in closes)


def scenes(subject: Subject) -> tuple[Scene, ...]:
    """Return each step that brings something, with who is there when it does; worked out once."""
    return subject.once("scenes", lambda: tuple(_scenes(subject.piece)))


def _scenes(piece: PieceDesign) -> Iterator[Scene]:
    where: dict[str, str] = {}
    homes: dict[str, list[str | None]] = {}
    closed: set[str] = set()
    numbers = step_numbers(piece)
    for place, step in enumerate(piece.steps):
        things = brought(piece, step)
        if step.kind is StepKind.REMOVE:
            _taken_back(things, where, homes)
            continue
        if step.kind is not StepKind.BRING:
            continue
        arriving = {p.path for p in things}
        present = tuple(p for p in piece.placed if where.get(p.path) == step.into and p.path not in arriving)
        yield Scene(
            piece=piece,
            number=numbers[step.id],
            place=place,
            step=step,
            arriving=things,
            present=present,
            closed=frozenset(closed),
        )
        for p in things:
            homes.setdefault(p.path, []).append(where.get(p.path))
            where[p.path] = step.into
        closed.update(step.closes)


def brought(piece: PieceDesign, step: Step) -> tuple[Placed, ...]:
    """Return the placed things that a step names, in the order of the piece."""
    return tuple(p for p in piece.placed if is_under_any(p.path, step.brings))


def _taken_back(things: tuple[Placed, ...], where: dict[str, str], homes: Mapping[str, list[str | None]]) -> None:
    for p in things:
        home = homes[p.path].pop() if homes.get(p.path) else None
        if home is None:
            where.pop(p.path, None)
        else:
            where[p.path] = home
