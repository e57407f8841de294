"""Joints in which one part stands in another: rabbet, dado (through or stopped), groove, half lap.

The part that stands in is placed to its full length first; the cut follows from where it stands. Common practice:
a housing is wider than the part by the slip, and the part lies against the wall that carries it.
"""

from __future__ import annotations

from dataclasses import dataclass

from casewright.design.assembly import Joint
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Dado, Groove, HalfLap, Notch, Rabbet, RectCut
from casewright.design.frames import Vec, dot, scale
from casewright.design.joints.base import Resolution, Site
from casewright.design.joints.meeting import AXES, Meeting, meeting
from casewright.design.parts import Placed
from casewright.design.sites import DIRECTIONS, depth_along, sink, world_box


@dataclass(frozen=True, slots=True, kw_only=True)
class Housed:
    """Part b stands in part a, which is cut where b lies in it.

    `slack` is the direction in which the slip lies (away from the wall that carries b); empty for none. With `stop`
    the cut ends that far before a's edge on the side `stop_at`, and b's corner is notched to go past it. `spare` is
    how much deeper the cut is than b goes in.
    """

    slack: str = "up"
    stop: float = 0.0
    stop_at: str = "front"
    spare: float = 0.0

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Cut the housing, and the notch of a stopped one."""
        a, b = site.placed[joint.a], site.placed[joint.b]
        m = meeting(a, b)
        lo, hi = self._room(m, site.practice["fit.slip"])
        cuts: list[tuple[str, Feature]] = []
        if self.stop > 0:
            lo, hi = self._stopped(a, lo, hi)
            cuts.append((b.path, self._notch(a, b, m, site.practice["fit.slip"], joint.id)))
        cuts.append((a.path, sink(self.cut_in(a, m), a, m.drive, lo, hi, joint.id)))
        return Resolution(features=tuple(cuts))

    def cut_in(self, a: Placed, m: Meeting) -> type[RectCut]:
        """Return the kind of cut: a rabbet at a's border, a groove along its grain, else a dado."""
        (lo, hi), t = world_box(a), m.thick
        if min(abs(m.lo[t] - lo[t]), abs(m.hi[t] - hi[t])) < 1e-6:
            return Rabbet
        return Groove if abs(dot(a.frame.x, AXES[m.run])) > 0.5 else Dado

    def _room(self, m: Meeting, slip: float) -> tuple[Vec, Vec]:
        lo, hi = list(m.lo), list(m.hi)
        into = -m.drive[m.axis] * (m.reach + self.spare)
        lo[m.axis], hi[m.axis] = min(m.plane, m.plane + into), max(m.plane, m.plane + into)
        if self.slack:
            way = DIRECTIONS[self.slack]
            for i in range(3):
                lo[i] += min(0.0, way[i]) * slip
                hi[i] += max(0.0, way[i]) * slip
        return (lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2])

    def _stopped(self, a: Placed, lo: Vec, hi: Vec) -> tuple[Vec, Vec]:
        way, box = DIRECTIONS[self.stop_at], world_box(a)
        low, high = list(lo), list(hi)
        i = next(k for k in range(3) if way[k])
        if way[i] < 0:
            low[i] = max(low[i], box[0][i] + self.stop)
        else:
            high[i] = min(high[i], box[1][i] - self.stop)
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def _notch(self, a: Placed, b: Placed, m: Meeting, slip: float, joint: str) -> Notch:
        """The corner of b that would stand in what the stopped cut leaves, a slip larger."""
        way, (al, ah), (bl, bh) = DIRECTIONS[self.stop_at], world_box(a), world_box(b)
        i = next(k for k in range(3) if way[k])
        lo, hi = list(bl), list(bh)
        if way[i] < 0:
            hi[i] = al[i] + self.stop + slip
        else:
            lo[i] = ah[i] - self.stop - slip
        if m.drive[m.axis] > 0:
            hi[m.axis] = m.plane
        else:
            lo[m.axis] = m.plane
        return sink(Notch, b, AXES[m.thick], (lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]), joint)


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfLapped:
    """Two parts that cross or end in the same plane: a loses the half that `opens`, b the other half."""

    opens: str = "front"

    def resolve(self, joint: Joint, site: Site) -> Resolution:
        """Take half the thickness off each, where the two lie in one another."""
        a, b = site.placed[joint.a], site.placed[joint.b]
        (al, ah), (bl, bh) = world_box(a), world_box(b)
        lo, hi = [max(p) for p in zip(al, bl, strict=True)], [min(p) for p in zip(ah, bh, strict=True)]
        way = DIRECTIONS[self.opens]
        i = next(k for k in range(3) if way[k])
        half = lo[i] + (hi[i] - lo[i]) / 2
        lower, upper = (lo[i], half), (half, hi[i])
        mine, other = (upper, lower) if way[i] > 0 else (lower, upper)
        return Resolution(
            features=(
                (a.path, self._lap(a, way, i, mine, lo, hi, joint.id)),
                (b.path, self._lap(b, scale(way, -1.0), i, other, lo, hi, joint.id)),
            )
        )

    @staticmethod
    def _lap(
        part: Placed, way: Vec, axis: int, half: tuple[float, float], lo: list[float], hi: list[float], joint: str
    ) -> HalfLap:
        low, high = list(lo), list(hi)
        low[axis], high[axis] = half
        return sink(HalfLap, part, way, (low[0], low[1], low[2]), (high[0], high[1], high[2]), joint)


def dado_depth(thickness: float, share: float, cover: float) -> float:
    """Return how deep a dado may be in a part of a thickness: its share, and never so deep that it shows through."""
    return min(thickness * share, thickness - cover)


def shows_through(a: Placed, m: Meeting, cover: float) -> bool:
    """True where what is left of a under a housing is thinner than `cover`."""
    return depth_along(a, m.drive) - m.reach < cover - 1e-6
