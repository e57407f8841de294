"""Feet that break off, tops that break over their edge, lids that fall.

A foot under a leaning case is a short lever: the push on the case's top edge comes out at the floor, and what holds
the foot bears push × height. A top's overhang is a cantilever under somebody's weight.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from casewright.checks.beams import GRAVITY, stress
from casewright.checks.model import Check, Subject
from casewright.checks.woods import Timber, bending_strength, length, timber
from casewright.design.assembly import JointKind, MotionKind
from casewright.design.frames import dot
from casewright.design.parts import Hardware, Placed
from casewright.findings import Finding, Severity
from casewright.stock.fittings import LidStay

SOURCE = "statics; strength of wood: Wood Handbook Ch. 5; loads: practice strength.*"
FOOT = re.compile(r".*/foot\.[^/]*/wood")
SCREWED = {JointKind.SCREWS, JointKind.BUTT_SCREWS, JointKind.POCKET_SCREWS}
DOWEL_STRENGTH = (
    70.0  # MPa: modulus of rupture of a birch or beech dowel, with a reserve (Wood Handbook Ch. 5: 110 MPa)
)
SHARE = 2  # a push sideways is borne by two of the feet at least: the others may stand clear of an uneven floor
SHEAR = 3.0  # MPa: glue line of a dowel in end grain or side grain, from memory, cautious


def run(subject: Subject) -> Iterator[Finding]:
    """Yield weak feet, weak overhangs and lids that nothing holds."""
    t = timber(subject)
    for path, placed in t.parts.items():
        if FOOT.fullmatch(path):
            yield from _foot(t, placed)
    yield from _overhang(t)
    yield from _lids(t)


# --- feet ---


def _foot(t: Timber, placed: Placed) -> Iterator[Finding]:
    joints = [j for j in t.joints.get(placed.path, ()) if t.pair(j) is not None]
    dowels = [f for j in joints if j.kind is JointKind.DOWEL for f in t.fasteners.get(j.id, ())]
    screws = [f for j in joints if j.kind in SCREWED for f in t.fasteners.get(j.id, ())]
    post = length(t.spans[placed.path][2]) > 0.6 * t.subject.piece.height
    beside = any(j.glued and _beside(t, placed.path, j.b if j.a == placed.path else j.a) for j in joints)
    if post or beside:
        return
    if not dowels:
        in_end = [f for f in screws if abs(dot(f.frame.z, placed.frame.x)) > 0.9]
        yield _finding(
            t,
            "strength.foot_screws" if in_end or not screws else "strength.foot",
            Severity.STOP,
            placed,
            "screws in its end grain alone hold it" if in_end else "neither dowel nor bolt holds it",
            float(len(dowels)),
            1.0,
            "",
            "a glued dowel or a bolt of 40 mm or more in the foot",
        )
        return
    deep = max(_depth(t, placed, f.frame.origin, f.tip) for f in dowels)
    least = t.subject.practice["strength.foot_hold"]
    if deep < least - 0.05:
        yield _finding(
            t,
            "strength.foot_hold",
            Severity.WARN,
            placed,
            f"its dowel stands {deep:.0f} mm in it",
            deep,
            least,
            "mm",
            f"a dowel that goes {least:.0f} mm into the foot",
        )
    yield from _leaning(t, placed, [f.shank_radius for f in dowels], deep)


def _leaning(t: Timber, placed: Placed, radii: list[float], deep: float) -> Iterator[Finding]:
    """The push's moment at the foot's upper end against the dowels' bending, or their pull over the shoulder."""
    x, y, z = t.spans[placed.path]
    moment = t.subject.practice["strength.push"] * GRAVITY / SHARE * (z[1] - 0.0)
    shoulder = min(length(x), length(y)) / 2
    bending = sum(math.pi * (2 * r) ** 3 / 32 * DOWEL_STRENGTH for r in radii)
    pull = sum(SHEAR * math.pi * 2 * r * deep * shoulder for r in radii)
    bears = max(bending, pull) / t.subject.practice["strength.reserve"]
    if moment > bears:
        yield _finding(
            t,
            "strength.foot",
            Severity.STOP,
            placed,
            f"a push at the top edge brings {moment / 1000:.1f} N·m to it, its dowel bears {bears / 1000:.1f} N·m",
            moment / 1000,
            bears / 1000,
            "N·m",
            "a thicker or longer dowel, a wider foot, or a lower one",
        )


def _beside(t: Timber, path: str, other: str) -> bool:
    """True where a part runs down beside a foot, so that the foot is glued to it along its height."""
    a, b = t.spans[path], t.spans[other]
    return min(a[2][1], b[2][1]) - max(a[2][0], b[2][0]) > 25.0


def _depth(t: Timber, placed: Placed, start: tuple[float, float, float], tip: tuple[float, float, float]) -> float:
    z = t.spans[placed.path][2]
    low, high = sorted((start[2], tip[2]))
    return max(0.0, min(high, z[1]) - max(low, z[0]))


# --- overhang ---


def _overhang(t: Timber) -> Iterator[Finding]:
    """Someone leans on the edge of the top: stress at the last thing under it."""
    piece = t.subject.piece
    top = t.parts.get(f"{piece.path}/top")
    if top is None:
        return
    under = [s for path, s in t.spans.items() if path != top.path and abs(s[2][1] - t.spans[top.path][2][0]) < 1.0]
    if not under:
        return
    for axis, name in ((0, "side"), (1, "front")):
        reach = min(s[axis][0] for s in under) - t.spans[top.path][axis][0]
        if reach <= 0.0:
            continue
        thick = length(t.spans[top.path][2])
        width = min(length(t.spans[top.path][1 - axis]), 2 * reach + 100.0)  # the load spreads at 45° from a hand
        along = abs(top.frame.x[axis]) > 0.7
        force = t.subject.practice["strength.lean"] * GRAVITY
        value = stress(force * reach, width, thick)
        limit = bending_strength(t.subject, top.part, along=along) / t.subject.practice["strength.reserve"]
        if value > limit:
            yield _finding(
                t,
                "strength.overhang",
                Severity.WARN,
                top,
                f"{reach:.0f} mm stand out at the {name}: under {t.subject.practice['strength.lean']:.0f} kg on the "
                f"edge the wood bears {value:.1f} MPa " + ("along" if along else "across") + " its grain",
                value,
                limit,
                "MPa",
                "a thicker top, less overhang, or a rail or brackets under it",
            )


# --- lids ---


def _lids(t: Timber) -> Iterator[Finding]:
    piece = t.subject.piece
    for motion in piece.motions:
        if motion.kind is not MotionKind.SWING or abs(motion.direction[2]) > 0.5:
            continue
        panel = next((p for p in t.parts.values() if _member(p.path, motion.members)), None)
        if panel is None:
            continue
        stays = [i for h in piece.placed if (i := _stay(t, h)) is not None]
        moment = _lid_moment(t, motion.members, motion.origin[1])
        bears = sum(s.torque for s in stays)
        if moment > bears:
            yield _finding(
                t,
                "strength.lid",
                Severity.STOP,
                panel,
                f"the open lid pulls with {moment:.1f} N·m, "
                + (f"its stays bear {bears:.1f} N·m" if stays else "and nothing holds it: it falls on hands and heads"),
                moment,
                bears,
                "N·m",
                "stays that bear it, one at each side",
            )


def _member(path: str, members: tuple[str, ...]) -> bool:
    return any(path == m or path.startswith((f"{m}/", f"{m}.")) for m in members)


def _stay(t: Timber, placed: Placed) -> LidStay | None:
    item = t.subject.items.get(placed.thing.item) if isinstance(placed.thing, Hardware) else None
    return item if isinstance(item, LidStay) else None


def _lid_moment(t: Timber, members: tuple[str, ...], hinge: float) -> float:
    """Return the moment of a lid about its hinge line when it lies level, N·m; whole blanks."""
    total = 0.0
    for path, placed in t.parts.items():
        if _member(path, members):
            b = placed.part.blank
            mass = b.length * b.width * b.thickness * 1e-9 * placed.part.mass_density
            y = t.spans[path][1]
            total += mass * GRAVITY * abs(hinge - (y[0] + y[1]) / 2) / 1000.0
    return total


def _finding(
    t: Timber,
    code: str,
    severity: Severity,
    placed: Placed,
    message: str,
    value: float,
    limit: float,
    unit: str,
    remedy: str,
) -> Finding:
    return t.subject.finding(
        code=code,
        severity=severity,
        path=placed.path,
        message=f"{placed.name}: {message}",
        value=value,
        limit=limit,
        unit=unit,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="strength.feet",
    what="feet bear a push, a top's overhang bears someone leaning on it, a lid is held open",
    needs=("joints and dowels of feet", "overhangs of the top", "lids and their stays"),
    source=SOURCE,
    run=run,
)
