"""Shelves, bottoms and stretchers that sag, drawer bottoms that belly.

Sag with creep of a simply supported beam (checks/beams.py). Ends in dadoes or on screws hold a little more than that,
a shelf on pins does not. A shelf seen from the front sags visibly at 1/32 in per foot.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from casewright.checks.beams import GRAVITY, sag_centre, sag_plate, sag_uniform, second_moment
from casewright.checks.model import Check, Subject
from casewright.checks.woods import Timber, common, elasticity, length, timber
from casewright.design.assembly import JointKind
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.stock.fittings import ShelfPin

SOURCE = "mechanics (5wL⁴/384EI); limits of practice sag.visible and sag.most; creep: practice sag.creep"
SHELF = re.compile(r".*/(loose\[.*\]/\d+/board|shelf\[[^\]]*\]|panel\[[^\]]*\])")
BOX = re.compile(r".*/drawer\[[^\]]*\]/box_back")
DRAWER_OVER = 80.0  # mm: a drawer that runs lower than this over a board leaves no room for a load on it
DRAWER_BOTTOM = re.compile(r".*/drawer\[[^\]]*\]/bottom")


def run(subject: Subject) -> Iterator[Finding]:
    """Yield shelves, the case's bottom and stretchers, and drawer bottoms that sag too much."""
    t = timber(subject)
    for path, placed in t.parts.items():
        if DRAWER_BOTTOM.fullmatch(path):
            yield from _drawer_bottom(t, placed)
        elif SHELF.fullmatch(path):
            yield from _board(t, placed, "strength.sag", _shelf_load(t))
            yield from _pins(t, placed)
        elif path == f"{subject.piece.path}/bottom":
            yield from _board(t, placed, "strength.sag", _shelf_load(t))
    yield from _top(t)


# --- shelves and bottoms ---


@dataclass(frozen=True, slots=True)
class _Beam:
    """The longest free length of a board and its stiffness EI with all that is glued along it."""

    span: float
    stiffness: float


def _shelf_load(t: Timber) -> float:
    """N on each mm of a shelf."""
    return t.subject.practice["sag.shelf_load"] * GRAVITY / 1000.0


def _board(t: Timber, placed: Placed, code: str, load: float) -> Iterator[Finding]:
    """Judge a board by what lies on it: a drawer over it hangs on its slides and loads it not at all."""
    beam = _beam(t, placed)
    if beam is None:
        return
    free = 1.0 - _drawn_over(t, placed)
    sag = sag_uniform(load * free, beam.span, beam.stiffness)
    loaded = f"{t.subject.practice['sag.shelf_load']:.0f} kg on each metre" + (" that is free" if free < 1.0 else "")
    yield from _judge(t, placed, code, beam.span, (sag, sag), loaded)


def _drawn_over(t: Timber, placed: Placed) -> float:
    """Return the share of a board's length over which a drawer runs close above it."""
    x, _, z = t.spans[placed.path]
    boxes = [s for path, s in t.spans.items() if BOX.fullmatch(path) and 0.0 <= s[2][0] - z[1] < DRAWER_OVER]
    return min(1.0, sum(length(common(b[0], x)) for b in boxes) / length(x))


def _judge(
    t: Timber, placed: Placed, code: str, span: float, sags: tuple[float, float], loaded: str
) -> Iterator[Finding]:
    """Judge the sag of the first day against what is too weak, and that of years against what is seen.

    `sags` are both as reckoned without creep: under the load at its worst, and spread out.
    """
    p = t.subject.practice
    first, lasting = sags[0], sags[1] * p["sag.creep"]
    seen, most = span / p["sag.visible"], span / p["sag.most"]
    weak = first > most
    if lasting <= seen and not weak:
        return
    times = max(lasting / seen, first / most) ** (1 / 3)
    when = f"sags {first:.1f} mm at once" if weak else f"sags {lasting:.1f} mm in years"
    yield t.subject.finding(
        code=code,
        severity=Severity.STOP if weak else Severity.WARN,
        path=placed.path,
        message=f"{placed.name}: over {span:.0f} mm it {when} under {loaded}",
        value=first * p["sag.creep"] if weak else lasting,
        limit=most * p["sag.creep"] if weak else seen,
        source=SOURCE,
        remedy=f"{times:.2f} times the thickness, a support, a strip of solid wood along its front edge, "
        f"or a span of {span / times:.0f} mm",
    )


def _beam(t: Timber, placed: Placed) -> _Beam | None:
    """Return the beam that a level board makes along x, None for a part that bends no such way."""
    x, _, z = t.spans[placed.path]
    if length(x) < length(z) or length(x) < 100.0:
        return None
    supports = sorted(_supports(t, placed))
    if len(supports) < 2:
        return None
    gaps = [b[0] - a[1] for a, b in pairwise(supports)]
    return _Beam(span=max(gaps), stiffness=_stiffness(t, placed))


def _supports(t: Timber, placed: Placed) -> Iterator[tuple[float, float]]:
    """Yield the ranges (x) of what carries a board: pins, uprights at its ends or under it, feet and plinths."""
    x, _, z = t.spans[placed.path]
    for joint in t.joints.get(placed.path, ()):
        other = joint.b if joint.a == placed.path else joint.a
        if other in t.parts:
            ox, _, oz = t.spans[other]
            upright = length(oz) > length(ox) or oz[1] <= z[0] + 1.0
            if upright and length(ox) < 0.5 * length(x):
                yield ox
        elif joint.kind is JointKind.HELD:  # it lies on its pins
            at = t.subject.by_path[other].frame.origin[0]
            yield (at, at)


def _stiffness(t: Timber, placed: Placed) -> float:
    """Return EI of a board and of every part glued along most of it, each bent by itself."""
    return _own_stiffness(t, placed) + sum(_own_stiffness(t, t.parts[path]) for path in _strips(t, placed))


def _strips(t: Timber, placed: Placed) -> list[str]:
    """Return the paths of the rails and edgings that are glued along most of a board."""
    x = t.spans[placed.path][0]
    glued = sorted(t.glued_to(placed.path))
    return [o for o in glued if length(common(t.spans[o][0], x)) > 0.8 * length(x) and _lengthwise(t, o)]


def _lengthwise(t: Timber, path: str) -> bool:
    x, y, z = t.spans[path]
    return length(x) > 2 * length(z) and length(y) < 100.0  # a rail, an edging: not the back


def _own_stiffness(t: Timber, placed: Placed) -> float:
    _, y, z = t.spans[placed.path]
    along = abs(placed.frame.x[0]) > 0.7
    return elasticity(t.subject, placed.part, along=along) * second_moment(length(y), length(z))


def _pins(t: Timber, placed: Placed) -> Iterator[Finding]:
    """Four pins carry a loose shelf and what lies on it."""
    pins = []
    for joint in t.joints.get(placed.path, ()):
        other = t.subject.by_path.get(joint.b if joint.a == placed.path else joint.a)
        if other is not None and isinstance(other.thing, Hardware):
            item = t.subject.items.get(other.thing.item)
            if isinstance(item, ShelfPin):
                pins.append(item)
    if not pins:
        return
    x, y, z = t.spans[placed.path]
    own = length(x) * length(y) * length(z) * 1e-9 * placed.part.mass_density
    each = (t.subject.practice["sag.shelf_load"] * length(x) / 1000.0 + own) / len(pins)
    limit = min(p.load for p in pins)
    if each > limit:
        yield t.subject.finding(
            code="strength.pins",
            severity=Severity.STOP,
            path=placed.path,
            message=f"{len(pins)} pins bear {each:.1f} kg each",
            value=each,
            limit=limit,
            unit="kg",
            source=pins[0].source,
            remedy="stronger pins, more of them, or a shorter shelf",
        )


# --- drawer bottoms ---


def _drawer_bottom(t: Timber, placed: Placed) -> Iterator[Finding]:
    p = t.subject.practice
    x, y, z = t.spans[placed.path]
    shorter = min(length(x), length(y))
    pressure = p["sag.drawer_load"] * GRAVITY * 1e-6
    along = elasticity(t.subject, placed.part)
    weak = elasticity(t.subject, placed.part, along=False)
    # The span along the grain is the stiff one; a plate of unlike stiffness lies between, and the mean is used.
    sag = sag_plate(pressure, length(x), length(y), length(z), (along * weak) ** 0.5) * p["sag.creep"]
    if weak < 0.2 * along:  # solid wood: a strip along the grain carries it
        stiff = along * second_moment(1.0, length(z))
        span = length(x) if abs(placed.frame.x[0]) > 0.7 else length(y)
        sag = min(sag, sag_uniform(pressure, span, stiff) * p["sag.creep"])
    room = _room_below(t, placed, z[0])
    limit = shorter / p["sag.drawer_bottom"]
    if sag <= min(limit, room):
        return
    yield t.subject.finding(
        code="strength.drawer_bottom",
        severity=Severity.STOP if sag > room else Severity.WARN,
        path=placed.path,
        message=f"a bottom of {length(z):.1f} mm over {length(x):.0f} × {length(y):.0f} mm sags {sag:.1f} mm in years"
        + (" and drags" if sag > room else ""),
        value=sag,
        limit=min(limit, room),
        source="plate held on four sides under 15 lb/ft² (practice sag.drawer_load), creep: practice sag.creep",
        remedy="a thicker bottom, or a muntin under it in the middle",
    )


def _room_below(t: Timber, placed: Placed, low: float) -> float:
    """Return how far a drawer's bottom may come down before it reaches the lower edges of its sides, mm."""
    box = placed.path.rpartition("/")[0]
    sides = [t.spans[f"{box}/side.{hand}"][2][0] for hand in ("left", "right") if f"{box}/side.{hand}" in t.spans]
    return low - max(sides) if sides else float("inf")


# --- what carries the top's load ---


def _top(t: Timber) -> Iterator[Finding]:
    """The top and the parts along x that it lies on bear [use] top_load together: first in its middle, then spread."""
    path = t.subject.piece.path
    top = t.parts.get(f"{path}/top") or t.parts.get(f"{path}/top_panel")
    if top is None or t.subject.use.top_load <= 0:
        return
    under = [t.parts[path] for path in sorted(t.parts) if _carries(t, path, top)]
    spans = [b.span for placed in (under or [top]) if (b := _beam(t, placed)) is not None]
    if not spans:
        return
    span = max(spans)
    carrying = {top.path, *(u.path for u in under), *_strips(t, top)}
    stiffness = sum(_own_stiffness(t, t.parts[path]) for path in sorted(carrying))
    load = t.subject.use.top_load
    sags = (
        sag_centre(load * GRAVITY, span, stiffness),
        sag_uniform(load * GRAVITY / length(t.spans[top.path][0]), span, stiffness),
    )
    yield from _judge(t, top, "strength.top", span, sags, f"{load:.0f} kg on it ([use] top_load)")


def _carries(t: Timber, path: str, top: Placed) -> bool:
    name = path.rpartition("/")[2]
    x, _, z = t.spans[path]
    lies = abs(z[1] - t.spans[top.path][2][0]) < 1.0 and length(x) > 0.3 * length(t.spans[top.path][0])
    return lies and (name.startswith("stretcher") or name == "rail.top")


CHECK = Check(
    code="strength.sag",
    what="shelves, bottoms, stretchers and drawer bottoms do not sag too much, creep included",
    needs=("spans between supports", "stiffness of the stock", "practice sag.*", "[use] top_load"),
    source=SOURCE,
    run=run,
)
