"""The order of assembly while it is planned: who is where, how the piece lies, and which joints a step closes.

A joint closes in the step after which both its members stand in the same place for good. So every joint
closes once, and nothing is closed that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

from casewright.design.assembly import Caution, Lie, Step, StepKind
from casewright.design.blocks.step_words import TURN
from casewright.design.draft import Draft
from casewright.design.frames import Vec
from casewright.stock.sundries import Need, Sanding


@dataclass(slots=True)
class Sequence:
    """Plans the steps of one draft. Names are relative to the piece; the piece itself is the empty name.

    `lie` is how the piece lies from the next step on.
    """

    d: Draft
    lie: Lie = Lie.UPRIGHT
    _lay: Lie | None = None  # how it lay in the last step, None while nothing of it stands
    _unit: tuple[str, str] = ("", "")
    _where: dict[str, str] = field(default_factory=dict)
    _closed: set[str] = field(default_factory=set)
    _back: dict[str, str | None] = field(default_factory=dict)
    _number: int = 0

    @contextmanager
    def each(self, unit: str, noun: str) -> Iterator[None]:
        """Plan steps for one of several things alike (a drawer, a leaf), which a maker does one after the other."""
        self._unit = (unit, noun)
        yield
        self._unit = ("", "")

    def bring(
        self,
        names: Iterable[str],
        text: str,
        *,
        into: str = "",
        moves: tuple[Vec, ...] = (),
        cautions: tuple[Caution, ...] = (),
        dry: bool = False,
        packed: bool = False,
        squares: bool = False,
        uses: Iterable[str] = (),
        makes: Iterable[str] = (),
        made_in: Iterable[str] = (),
        needs: tuple[Need, ...] = (),
        dry_fit: bool = False,
    ) -> None:
        """Bring parts, hardware or groups into a place and close every joint that is then complete.

        `dry` closes nothing: what is brought is taken away again by `remove` before it comes for good. `packed`,
        `squares`, `uses`, `makes`, `made_in`, `needs` and `dry_fit` are those of the step.
        """
        names = tuple(names)
        before = dict(self._where)
        for name in names:
            for path in self.d.under(name):
                self._where[path] = into
        self._add(
            Step(
                id="",
                kind=StepKind.BRING,
                text=text,
                into=into,
                brings=names,
                moves=moves,
                closes=() if dry else self._closing(),
                cautions=cautions,
                packed=packed,
                squares=squares,
                uses=tuple(uses),
                makes=tuple(makes),
                made_in=tuple(made_in),
                needs=needs,
                dry_fit=dry_fit,
            )
        )
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
        self._add(Step(id="", kind=StepKind.REMOVE, text=text, into="", brings=names, moves=moves))

    def work(
        self,
        text: str,
        cautions: tuple[Caution, ...] = (),
        *,
        cuts: Iterable[str] = (),
        makes: Iterable[str] = (),
        made_in: Iterable[str] = (),
        uses: Iterable[str] = (),
        needs: tuple[Need, ...] = (),
    ) -> None:
        """Work on parts that are on the bench, or on what stands: nothing moves and nothing closes."""
        self._still(StepKind.FASTEN, text, cautions, cuts, makes, made_in, uses, needs)

    def finish(
        self,
        text: str,
        cautions: tuple[Caution, ...] = (),
        needs: tuple[Need, ...] = (),
        sands: tuple[Sanding, ...] = (),
    ) -> None:
        """A coat or a wait: nothing moves."""
        self._still(StepKind.FINISH, text, cautions, needs=needs, sands=sands)

    def drill(
        self,
        text: str,
        cautions: tuple[Caution, ...] = (),
        *,
        cuts: Iterable[str] = (),
        makes: Iterable[str] = (),
        made_in: Iterable[str] = (),
    ) -> None:
        """Holes: of parts on the bench, or at assembly those of the joints `makes` in the parts `made_in`."""
        self._still(StepKind.DRILL, text, cautions, cuts, makes, made_in)

    def joints_of(self, *names: str) -> tuple[str, ...]:
        """Return the ids, relative to the piece, of the joints of things or groups."""
        paths = {path for name in names for path in self.d.under(name)}
        return tuple(j.id.removeprefix(self.d.path + "/") for j in self.d.joints if paths & {j.a, j.b})

    def _still(
        self,
        kind: StepKind,
        text: str,
        cautions: tuple[Caution, ...],
        cuts: Iterable[str] = (),
        makes: Iterable[str] = (),
        made_in: Iterable[str] = (),
        uses: Iterable[str] = (),
        needs: tuple[Need, ...] = (),
        sands: tuple[Sanding, ...] = (),
    ) -> None:
        self._add(
            Step(
                id="",
                kind=kind,
                text=text,
                into="",
                cautions=cautions,
                cuts=tuple(cuts),
                makes=tuple(makes),
                made_in=tuple(made_in),
                uses=tuple(uses),
                needs=needs,
                sands=sands,
            )
        )

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

    def _add(self, step: Step) -> None:
        # What is joined apart on the bench leaves the piece as it lies.
        lie = self.lie if step.into == "" or self._lay is None else self._lay
        turned = self._lay is not None and self._lay is not lie
        if self._lay is not None or (step.into == "" and step.kind is StepKind.BRING):
            self._lay = lie
        self._number += 1
        unit, noun = self._unit
        self.d.step(
            replace(
                step,
                id=f"step{self._number:02d}",
                lie=lie,
                unit=unit,
                noun=noun,
                cautions=tuple(dict.fromkeys((*((TURN,) if turned else ()), *step.cautions))),
            )
        )
