"""What a check is: one small function that reads a piece and says what is wrong with it.

A check is a catalogue entry. It names its code, what it looks for, where its limit comes from, and what it
reads; it returns findings and raises nothing. One that crashes is reported, never skipped in silence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from casewright.cache import Cache
from casewright.design.assembly import PieceDesign
from casewright.design.blocks.top import Moisture
from casewright.design.parts import Placed
from casewright.findings import Finding, Severity, worst_first
from casewright.order.model import Around, Room, Use
from casewright.shop.model import Machines, Practice, StockSizes
from casewright.stock import Item

T = TypeVar("T")
NOTHING_AROUND = Around()


@dataclass(frozen=True, kw_only=True)
class Subject:
    """What checks may read: the piece, where it will stand and what for, the shop's slices, and the cache of solids.

    `sizes` are the stock items that this piece is made from, as measured; `moisture` is that of wood in `room`;
    `around` is what stands beside the piece.
    """

    piece: PieceDesign
    practice: Practice
    cache: Cache
    room: Room
    use: Use
    moisture: Moisture
    sizes: StockSizes
    machines: Machines
    around: Around = NOTHING_AROUND

    @cached_property
    def by_path(self) -> Mapping[str, Placed]:
        """The placed things of the piece by their path."""
        return self.piece.by_path()

    @cached_property
    def worked(self) -> dict[str, Any]:
        """What one check has worked out of this subject and others may use, by a name of its own."""
        return {}

    def once(self, name: str, work: Callable[[], T]) -> T:
        """Return what is worked out under a name; the first who asks works it out."""
        if name not in self.worked:
            self.worked[name] = work()
        known: T = self.worked[name]
        return known

    @cached_property
    def items(self) -> Mapping[str, Item]:
        """The stock items that serve any role of the piece, and every screw, by id."""
        served = {item.id: item for _, items in self.sizes.roles for item in items}
        return {**{screw.id: screw for screw in self.sizes.screws}, **served}

    def finding(
        self,
        code: str,
        severity: Severity,
        path: str,
        message: str,
        *,
        value: float | None = None,
        limit: float | None = None,
        unit: str = "mm",
        source: str = "",
        remedy: str = "",
        related: tuple[str, ...] = (),
    ) -> Finding:
        """Return a finding about a thing of this piece, with the piece's place in the order."""
        return Finding(
            code=code,
            severity=severity,
            path=path,
            message=message,
            value=value,
            limit=limit,
            unit=unit,
            source=source,
            remedy=remedy,
            related=related,
            place=self.piece.place,
        )

    def warned(
        self, code: str, path: str, message: str, value: float, limit: float, *, source: str, remedy: str
    ) -> Finding:
        """Return a warning that a figure, mm, is beyond its limit."""
        return self.finding(code, Severity.WARN, path, message, value=value, limit=limit, source=source, remedy=remedy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One entry: the first word of `code` begins those of its findings; `needs` says what it reads, in words.

    A `symmetric` check finds in a mirrored piece the mirror image of what it finds in the piece; it then runs
    on one of a pair only.
    """

    code: str
    what: str
    needs: tuple[str, ...]
    source: str
    run: Callable[[Subject], Iterable[Finding]]
    symmetric: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderCheck:
    """A check that compares the pieces of an order: it reads one of all that are equal, each under its own path."""

    code: str
    what: str
    needs: tuple[str, ...]
    source: str
    run: Callable[[Sequence[Subject]], Iterable[Finding]]


def run_order_checks(checks: tuple[OrderCheck, ...], subjects: Sequence[Subject]) -> tuple[Finding, ...]:
    """Return what every check of the whole order finds, worst first."""
    out: list[Finding] = []
    for check in checks if subjects else ():
        try:
            out.extend(check.run(subjects))
        except Exception as fault:  # noqa: BLE001 - as in `run_checks`
            out.append(_crashed(check, subjects[0], fault))
    return worst_first(out)


def run_checks(checks: tuple[Check, ...], subject: Subject) -> tuple[Finding, ...]:
    """Return the findings of every check on one piece, worst first."""
    out: list[Finding] = []
    for check in checks:
        try:
            out.extend(check.run(subject))
        except Exception as fault:  # noqa: BLE001 - a broken check must show itself, and must not hide the others
            out.append(_crashed(check, subject, fault))
    return worst_first(out)


def _crashed(check: Check | OrderCheck, subject: Subject, fault: Exception) -> Finding:
    return subject.finding(
        code="check.crashed",
        severity=Severity.STOP,
        path=subject.piece.path,
        message=f"check {check.code} could not decide: {type(fault).__name__}: {fault}",
        source="a check decides, or says that it could not",
        remedy="report it with the order; the piece is unchecked in this respect",
    )
