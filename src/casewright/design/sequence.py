"""The order of assembly while it is planned: who is where, and which joints a step closes.

A joint closes in the step after which both its members stand in the same place for good. So every joint
closes once, and nothing is closed that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from casewright.design.assembly import StepKind
from casewright.design.draft import Draft
from casewright.design.frames import Vec


@dataclass(slots=True)
class Sequence:
    """Plans the steps of one draft. Names are relative to the piece; the piece itself is the empty name."""

    d: Draft
    _where: dict[str, str] = field(default_factory=dict)
    _closed: set[str] = field(default_factory=set)
    _number: int = 0

    def bring(
        self,
        names: Iterable[str],
        text: str,
        *,
        into: str = "",
        moves: tuple[Vec, ...] = (),
        cautions: tuple[str, ...] = (),
    ) -> None:
        """Bring parts, hardware or groups into a place and close every joint that is then complete."""
        names = tuple(names)
        for name in names:
            members = self.d.under(name)
            for path in members:
                self._where[path] = into
        self._step(StepKind.BRING, text, into, names, moves, self._closing(), cautions)

    def finish(self, text: str, cautions: tuple[str, ...] = ()) -> None:
        """A coat or a wait: nothing moves."""
        self._step(StepKind.FINISH, text, "", (), (), (), cautions)

    def drill(self, text: str, cautions: tuple[str, ...] = ()) -> None:
        """A hole made at assembly."""
        self._step(StepKind.DRILL, text, "", (), (), (), cautions)

    def _closing(self) -> tuple[str, ...]:
        out = []
        for joint in self.d.joints:
            a, b = self._where.get(joint.a), self._where.get(joint.b)
            if a is not None and a == b and joint.id not in self._closed:
                self._closed.add(joint.id)
                out.append(joint.id.removeprefix(self.d.path + "/"))
        return tuple(out)

    def _step(
        self,
        kind: StepKind,
        text: str,
        into: str,
        names: tuple[str, ...],
        moves: tuple[Vec, ...],
        closes: tuple[str, ...],
        cautions: tuple[str, ...],
    ) -> None:
        self._number += 1
        self.d.step(
            f"step{self._number:02d}",
            kind,
            text,
            into=into,
            brings=names,
            moves=moves,
            closes=closes,
            cautions=cautions,
        )
