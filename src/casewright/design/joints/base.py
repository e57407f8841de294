"""How a joint is made: a detail record that resolves to features and fasteners, without side effects.

Three phases: bare parts are placed; joints are named with a detail; then each detail is resolved
against the parts in place. Keepouts are known before any detail is resolved, and each resolution sees
the fasteners of those before it, so that screws go around whatever is hidden.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from casewright.design.assembly import Joint, Keepout
from casewright.design.features.base import Feature
from casewright.design.frames import Vec
from casewright.design.parts import Fastener, Placed
from casewright.design.sites import fastener_box
from casewright.findings import Finding
from casewright.shop.model import Practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What a detail may look at while it is resolved."""

    placed: Mapping[str, Placed]
    keepouts: tuple[Keepout, ...]
    fasteners: tuple[Fastener, ...]
    practice: Practice

    def boxes(self, clearance: float, own: tuple[str, ...] = ()) -> list[tuple[Vec, Vec]]:
        """Return the boxes that a new fastener must stay out of: keepouts and earlier fasteners, with clearance."""
        out = [
            (tuple(a - clearance for a in k.lo), tuple(b + clearance for b in k.hi))
            for k in self.keepouts
            if not set(k.owners) & set(own) and (not k.of or set(k.of) & set(own))
        ]
        out.extend(fastener_box(f, clearance) for f in self.fasteners)
        return out  # type: ignore[return-value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolution:
    """What a joint adds: features by path, fasteners, findings."""

    features: tuple[tuple[str, Feature], ...] = ()
    fasteners: tuple[Fastener, ...] = ()
    findings: tuple[Finding, ...] = ()


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
