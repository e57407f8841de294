"""Where a front lies before its opening: inset within it, or overlay in front of the frame or the case's edges.

Common practice. An inset front is flush with the face and leaves a gap on all four sides. An overlay front lies
on the face and laps over it; where two share a member, each laps half of it less half the gap between them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from casewright.design.blocks.face_frame import Opening
from casewright.design.draft import Draft
from casewright.design.sites import Span
from casewright.findings import Severity
from casewright.units.printed import Role


class Mount(StrEnum):
    """How a front meets its opening."""

    INSET = "inset"
    OVERLAY = "overlay"
    HALF = "half-overlay"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontMount:
    """How one front is mounted, mm.

    `laps` is how far it reaches beyond the opening at left, right, down and up, all 0 where it is inset; beside a front
    that nothing but a gap parts from it, less than 0: its opening reaches over that gap. `gap` is the
    wood's gap: around an inset front, or between two overlay ones. `off` is how far an overlay front stays off the
    face, for the rims of cup hinges and for bumpers.
    """

    kind: Mount
    gap: float
    laps: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    off: float = 0.0

    @property
    def inset(self) -> bool:
        """True where the front lies in its opening."""
        return self.kind is Mount.INSET

    def reach(self, thickness: float) -> float:
        """Return the y of a front's back, mm: its thickness where it is inset, before the face where it laps."""
        return thickness if self.inset else -self.off


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontPlace:
    """Where a front lies: its spans in the piece, mm."""

    x: Span
    z: Span
    y: Span


def inset(gap: float) -> FrontMount:
    """Return the mount of an inset front with a gap in mm."""
    return FrontMount(kind=Mount.INSET, gap=gap)


def gap_before_swelling(d: Draft, ordered: float | None) -> float:
    """Return the gap around the wood of fronts without what solid ones swell, mm: finished gap and paint on both faces.

    Known before there are fronts; `ordered` None takes practice.
    """
    return _finished(d, ordered) + _film(d)


def let_gap(d: Draft, ordered: float | None) -> float:
    """Let the finished gap and the paint film, and return what `gap_before_swelling` does."""
    finished = d.let("gap.finished", _finished(d, ordered), rule="as ordered, or practice")
    return finished + d.let("gap.film", _film(d), rule="paint on both faces of the gap")


def _finished(d: Draft, ordered: float | None) -> float:
    return d.practice["gap.inset"] if ordered is None else ordered


def _film(d: Draft) -> float:
    return 2 * d.practice["finish.film_face"]


def lap_over(member: float, gap: float, *, shared: bool) -> float:
    """Return the lap over a member (stile, rail, edge) that is `member` mm wide.

    A member between two fronts is shared: half of it less half the gap; at the outside all of it less half the gap.
    """
    return (member / 2 if shared else member) - gap / 2


def let_front(
    d: Draft,
    opening: Opening,
    mount: FrontMount,
    thickness: float,
    g: str,
    *,
    names: tuple[str, str] = ("front.width", "front.height"),
) -> FrontPlace:
    """Let a front's sizes and return its place; `thickness` (mm) must be known.

    Sizes: `{g}.gap`, and `{g}.` with each of `names` (across, up). Chains `{g}.chain.x` and `{g}.chain.z`: opening =
    gap + front + gap where it is inset, front = lap + opening + lap where it laps.
    """
    d.let(f"{g}.gap", mount.gap, rule="finished gap + paint film + swelling")
    if mount.inset:
        return _inset(d, opening, mount, thickness, g, names)
    return _overlay(d, opening, mount, thickness, g, names)


def _inset(
    d: Draft, opening: Opening, mount: FrontMount, thickness: float, g: str, names: tuple[str, str]
) -> FrontPlace:
    gap, spans = f"{g}.gap", []
    for axis, housing, name, span in (
        ("x", opening.width_name, f"{g}.{names[0]}", opening.x),
        ("z", opening.height_name, f"{g}.{names[1]}", opening.z),
    ):
        size = span[1] - span[0] - 2 * mount.gap
        cut = d.let(name, size, housing, gap, rule="opening less two gaps", role=Role.INSERT)
        d.chain(f"{g}.chain.{axis}", axis, housing, (gap, name, gap), gap, mount.gap * 0.4, mount.gap + 1.0)
        d.fit(f"{g}.fit.{axis}", housing, name, mount.gap, 2 * mount.gap + 2.5, source="common practice")
        middle = (span[0] + span[1]) / 2
        spans.append((middle - cut / 2, middle + cut / 2))
    return FrontPlace(x=spans[0], z=spans[1], y=(0.0, thickness))


def _overlay(
    d: Draft, opening: Opening, mount: FrontMount, thickness: float, g: str, names: tuple[str, str]
) -> FrontPlace:
    spans = []
    for axis, housing, name, span, (low, high), ends in (
        ("x", opening.width_name, f"{g}.{names[0]}", opening.x, mount.laps[:2], ("left", "right")),
        ("z", opening.height_name, f"{g}.{names[1]}", opening.z, mount.laps[2:], ("down", "up")),
    ):
        laps = _let_laps(d, g, ends, (low, high), "side" if axis == "x" else "ends", mount.gap)
        size = low + (span[1] - span[0]) + high
        cut = d.let(name, size, housing, *dict.fromkeys(laps), rule="opening and both laps", role=Role.FREE)
        d.chain(f"{g}.chain.{axis}", axis, name, (laps[0], housing, laps[1]), laps[1], high - 2.0, high + 2.0)
        middle = (span[0] - low + span[1] + high) / 2
        spans.append((middle - cut / 2, middle + cut / 2))
    return FrontPlace(x=spans[0], z=spans[1], y=(-thickness - mount.off, -mount.off))


def _let_laps(
    d: Draft, g: str, ends: tuple[str, str], laps: tuple[float, float], alike: str, gap: float
) -> tuple[str, str]:
    """Let the laps of one direction, under one name where they are alike; find one that lets light through.

    A lap of less than nothing, the gap, is that beside another front that no member parts from this one.
    """
    rule = "over the member behind it, half of one that two fronts share"
    beside = "no member parts it from the next front: their openings lap over the gap"
    least = d.practice["front.lap_least"]
    over = [lap for lap in laps if lap > -gap]
    if min(over, default=least) < least:
        d.find(
            "front.lap",
            Severity.STOP,
            g,
            f"the front laps only {min(over):.1f} mm over the edge of its opening",
            value=min(over),
            limit=least,
            source="common practice: practice front.lap_least",
            remedy="a wider member, a smaller gap, or an inset front",
        )
    if laps[0] == laps[1]:
        d.let(f"{g}.lap.{alike}", laps[0], rule=rule if over else beside)
        return f"{g}.lap.{alike}", f"{g}.lap.{alike}"
    for end, lap in zip(ends, laps, strict=True):
        d.let(f"{g}.lap.{end}", lap, rule=rule if lap > -gap else beside)
    return f"{g}.lap.{ends[0]}", f"{g}.lap.{ends[1]}"
