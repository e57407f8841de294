"""How a joint is made: a detail record that resolves to features and fasteners, without side effects.

Three phases: bare parts are placed; joints are named with a detail; then each detail is resolved
against the parts in place. Keepouts are known before any detail is resolved, and each resolution sees
the fasteners of those before it, so that screws go around whatever is hidden.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeAlias

from casewright.design.assembly import Joint, Keepout
from casewright.design.features.base import Feature
from casewright.design.frames import Vec, add, sub
from casewright.design.parts import Fastener, Placed
from casewright.findings import Finding
from casewright.shop.model import Practice

Box: TypeAlias = tuple[Vec, Vec]  # low and high corner in the piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What a detail may look at while it is resolved; `driven` are the boxes of earlier fasteners, with clearance.

    `tunnels` are the boxes of pockets bored so far, with the path of the part that each is in.
    """

    placed: Mapping[str, Placed]
    keepouts: tuple[Keepout, ...]
    driven: Sequence[Box]
    practice: Practice
    tunnels: Sequence[tuple[str, Box]] = ()

    def boxes(self, own: tuple[str, ...] = ()) -> list[Box]:
        """Return the boxes that a new fastener must stay out of: keepouts and earlier fasteners, with clearance."""
        c = self.practice["fastener.clearance"]
        out: list[Box] = [
            (sub(k.lo, (c, c, c)), add(k.hi, (c, c, c)))
            for k in self.keepouts
            if not set(k.owners) & set(own) and (not k.of or set(k.of) & set(own))
        ]
        return [*out, *self.driven]

    def openings(self, part: str, own: tuple[str, ...]) -> list[Box]:
        """Return the boxes of what is cut into a part alone, with clearance; not those that things of a joint own."""
        c = self.practice["fastener.clearance"]
        return [
            (sub(k.lo, (c, c, c)), add(k.hi, (c, c, c)))
            for k in self.keepouts
            if part in k.of and not set(k.owners) & set(own)
        ]

    def pockets(self, own: tuple[str, ...]) -> list[Box]:
        """Return the boxes of the pockets in some parts: a screw holds there, but its hole is better off elsewhere."""
        return [box for path, box in self.tunnels if path in own]


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolution:
    """What a joint adds: features by path, fasteners, findings; the boxes of its pockets by the path of their part."""

    features: tuple[tuple[str, Feature], ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    findings: tuple[Finding, ...] = ()
    tunnels: tuple[tuple[str, Box], ...] = ()


class Detail(Protocol):
    """The contract of a joint's detail."""

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Return the features and fasteners of the joint."""


@dataclass(frozen=True, slots=True)
class Nothing:
    """A joint that needs no cut and no fastener (glue alone)."""

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Return nothing."""
        return Resolution()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """A joint made by cuts that its block has laid out already."""

    cuts: tuple[tuple[str, Feature], ...]

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Return the cuts."""
        return Resolution(features=self.cuts)
