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
    _back: dict[str, str | None] = field(default_factory=dict)
    _number: int = 0

    def bring(
        self,
        names: Iterable[str],
        text: str,
        *,
        into: str = "",
        moves: tuple[Vec, ...] = (),
        cautions: tuple[str, ...] = (),
        dry: bool = False,
    ) -> None:
        """Bring parts, hardware or groups into a place and close every joint that is then complete.

        `dry` closes nothing: what is brought is taken away again by `remove` before it comes for good.
        """
        names = tuple(names)
        before = dict(self._where)
        for name in names:
            for path in self.d.under(name):
                self._where[path] = into
        closes = () if dry else self._closing()
        self._step(StepKind.BRING, text, into, names, moves, closes, cautions)
        if dry:
            self._back.update({p: before.get(p) for n in names for p in self.d.under(n)})

    def remove(self, names: Iterable[str], text: str, moves: tuple[Vec, ...] = ()) -> None:
        """Take away what was brought dry: it stands again where it was before."""
        names = tuple(names)
        for name in names:
            for path in self.d.under(name):
                home = self._back.pop(path)
                if home is None:
                    del self._where[path]
                else:
                    self._where[path] = home
        self._step(StepKind.REMOVE, text, "", names, moves, (), ())

    def work(self, text: str, cautions: tuple[str, ...] = ()) -> None:
        """Work on parts that are on the bench: nothing moves and nothing closes."""
        self._step(StepKind.FASTEN, text, "", (), (), (), cautions)

    def finish(self, text: str, cautions: tuple[str, ...] = ()) -> None:
        """A coat or a wait: nothing moves."""
        self._step(StepKind.FINISH, text, "", (), (), (), cautions)

    def drill(self, text: str, cautions: tuple[str, ...] = ()) -> None:
        """A hole made at assembly."""
        self._step(StepKind.DRILL, text, "", (), (), (), cautions)

    def _closing(self) -> tuple[str, ...]:
        out = []
        for joint in self.d.joints:
            if joint.id in self._closed:
                continue
            a, b = self._where.get(joint.a), self._where.get(joint.b)
            if a is not None and a == b:
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
