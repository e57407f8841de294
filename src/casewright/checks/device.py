"""Let-in devices: the wood over them, the way of their plug, room, heat, and that they come out again.

Figures of a device come from its own data; the least wood, the air and the margin are common practice. Mains belongs
to a licensed electrician and to the maker's own sheet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.model import Check, Subject
from casewright.design.assembly import Joint, JointKind
from casewright.design.blocks.step_words import POWER
from casewright.design.features.openings import Channel, Recess
from casewright.design.outlines import Outline
from casewright.design.parts import Fastener, Part, Placed
from casewright.findings import Finding, Severity
from casewright.stock.model import Device

SOURCE = "the device's own data; common practice"
LOW_VOLTAGE = 50.0  # V: above it a touch can kill (IEC 61140: extra-low voltage, from memory)
TOLERANCE = 0.05


@dataclass(frozen=True, slots=True)
class _LetIn:
    """A device, the part that it is let into, and the recess that it lies in."""

    placed: Placed
    item: Device
    host: Placed
    recess: Recess


def run(subject: Subject) -> Iterator[Finding]:
    """Yield what is wrong with each let-in device."""
    for placed in subject.piece.placed:
        item = None if isinstance(placed.thing, Part) else subject.items.get(placed.thing.item)
        if not isinstance(item, Device):
            continue
        joints = [j for j in subject.piece.joints if placed.path in (j.a, j.b)]
        yield from _held(subject, placed, joints)
        yield from _mains(subject, placed, item)
        host = _host(subject, placed, item, joints)
        if host is None:
            yield _finding(
                subject,
                "device.recess",
                Severity.STOP,
                placed,
                f"{placed.name}: no part has a recess for it",
                remedy="let it into a part",
            )
            continue
        yield from _covered(subject, host)
        yield from _airy(subject, host)
        yield from _plug(subject, host)
        yield from _fasteners(subject, host)


def _host(subject: Subject, placed: Placed, item: Device, joints: list[Joint]) -> _LetIn | None:
    for joint in joints:
        other = subject.by_path.get(joint.b if joint.a == placed.path else joint.a)
        if other is None or not isinstance(other.thing, Part):
            continue
        recess = next((f for f in other.thing.features if type(f) is Recess and _around(other, f, placed)), None)
        if recess is not None:
            return _LetIn(placed, item, other, recess)
    return None


def _around(host: Placed, recess: Recess, device: Placed) -> bool:
    """True where the device's middle lies within the outline of a recess."""
    at = _on_face(host, recess, device)
    u0, v0, u1, v1 = recess.outline.box
    return u0 < at[0] < u1 and v0 < at[1] < v1


def _on_face(host: Placed, recess: Recess | Channel, device: Placed) -> tuple[float, float]:
    local = host.frame.local_point(device.frame.origin)
    u, v = recess.face.uv_axes
    return local[u], local[v]


def _extent(host: Placed, recess: Recess) -> float:
    return host.part.blank.extent(recess.face)[2]


# --- what is checked ---


def _covered(subject: Subject, d: _LetIn) -> Iterator[Finding]:
    """Wood left over it: within what it works through, and not so thin that it breaks."""
    left = _extent(d.host, d.recess) - d.recess.depth
    if left <= TOLERANCE and d.item.range_least == 0.0:
        return  # it lies bare
    least = max(d.item.range_least, subject.practice["device.wood_least"])
    if left < least - TOLERANCE or left > d.item.range_most + TOLERANCE:
        thin = left < least
        yield _finding(
            subject,
            "device.cover",
            Severity.STOP,
            d.placed,
            f"{left:.1f} mm of wood stay over it; "
            + ("it breaks, or is too near" if thin else "it cannot work through"),
            left,
            least if thin else d.item.range_most,
            remedy=f"leave {least:.1f} to {d.item.range_most:.1f} mm",
        )


def _airy(subject: Subject, d: _LetIn) -> Iterator[Finding]:
    """Room around and behind it, for its heat and its cable."""
    u0, v0, u1, v1 = d.recess.outline.box
    around = (min(u1 - u0, v1 - v0) - d.item.diameter) / 2
    behind = d.recess.depth - d.item.thickness
    air = subject.practice["device.air"]
    if behind < -TOLERANCE:
        yield _finding(
            subject,
            "device.proud",
            Severity.STOP,
            d.placed,
            f"it stands {-behind:.1f} mm out of its recess",
            behind,
            0.0,
            remedy="a deeper recess, or a flatter device",
        )
    for got, need, where in ((around, d.item.clearance, "around"), (behind, air, "behind")):
        if behind >= -TOLERANCE and got < need - TOLERANCE:
            yield _finding(
                subject,
                "device.heat",
                Severity.WARN,
                d.placed,
                f"{got:.1f} mm {where} it: its heat cannot leave",
                got,
                need,
                remedy=f"{need:.1f} mm or more {where} it, open to the channel",
            )


def _plug(subject: Subject, d: _LetIn) -> Iterator[Finding]:
    """A channel leads the plug from the recess out of the part."""
    channels = [
        f
        for f in d.host.part.features
        if isinstance(f, Channel) and f.face is d.recess.face and _meet(f.outline, d.recess.outline)
    ]
    out = [c for c in channels if _leads_out(d.host, c)]
    if not out:
        yield _finding(
            subject,
            "device.plug",
            Severity.STOP,
            d.placed,
            "no channel leads its plug out at the back",
            0.0,
            remedy="a channel from the recess through the rear edge",
        )
        return
    wide = max(min(c.outline.box[2] - c.outline.box[0], c.outline.box[3] - c.outline.box[1]) for c in out)
    deep = max(c.depth for c in out)
    for got, need, what in ((wide, d.item.plug_width, "wide"), (deep, d.item.plug_height, "deep")):
        if got < need - TOLERANCE:
            yield _finding(
                subject,
                "device.plug",
                Severity.STOP,
                d.placed,
                f"its plug does not pass the channel, which is {got:.1f} mm {what}",
                got,
                need,
                remedy=f"a channel {need + subject.practice['device.channel_play']:.1f} mm {what}",
            )


def _meet(a: Outline, b: Outline) -> bool:
    p, q = a.box, b.box
    return p[0] < q[2] and q[0] < p[2] and p[1] < q[3] and q[1] < p[3]


def _leads_out(host: Placed, channel: Channel) -> bool:
    length, width, _ = host.part.blank.extent(channel.face)
    u0, v0, u1, v1 = channel.outline.box
    return u0 <= 0.0 or v0 <= 0.0 or u1 >= length or v1 >= width


def _fasteners(subject: Subject, d: _LetIn) -> Iterator[Finding]:
    """Every fastener in its host keeps its margin."""
    for fastener in subject.piece.fasteners:
        if d.host.path not in fastener.parts:
            continue
        off = _off(d, fastener)
        if off < d.item.margin - TOLERANCE:
            yield _finding(
                subject,
                "device.fastener",
                Severity.STOP,
                d.placed,
                f"a fastener of {fastener.joint.removeprefix(subject.piece.path + '/')} passes {off:.1f} mm from it",
                off,
                d.item.margin,
                related=(fastener.path,),
                remedy="move the fastener, or the device",
            )


def _off(d: _LetIn, fastener: Fastener) -> float:
    """Return how far a fastener passes from the device's side, mm, seen square to the recess."""
    middle = _on_face(d.host, d.recess, d.placed)
    u, v = d.recess.face.uv_axes
    a, b = (d.host.frame.local_point(p) for p in (fastener.frame.origin, fastener.tip))
    return _segment((a[u], a[v]), (b[u], b[v]), middle) - d.item.diameter / 2 - fastener.shank_radius


def _segment(a: tuple[float, float], b: tuple[float, float], p: tuple[float, float]) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    s = 0.0 if long < 1e-12 else max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long))
    return math.hypot(a[0] + s * dx - p[0], a[1] + s * dy - p[1])


def _held(subject: Subject, placed: Placed, joints: list[Joint]) -> Iterator[Finding]:
    """Something carries it, and lets it go again."""
    if any(j.glued for j in joints):
        yield _finding(
            subject,
            "device.removable",
            Severity.WARN,
            placed,
            f"{placed.name} is glued in: it cannot be changed",
            remedy="hold it by a strip on two screws",
        )
        return
    holders = [j.b if j.a == placed.path else j.a for j in joints if j.kind is JointKind.HELD]
    glued = [h for h in holders[1:] for j in subject.piece.joints if h in (j.a, j.b) and j.glued]
    if len(holders) < 2:
        yield _finding(
            subject,
            "device.removable",
            Severity.STOP,
            placed,
            f"nothing carries {placed.name} in its recess",
            remedy="a strip across the recess, on two screws",
        )
    elif glued:
        yield _finding(
            subject,
            "device.removable",
            Severity.WARN,
            placed,
            f"what carries {placed.name} is glued: it cannot be changed",
            related=tuple(glued),
            remedy="hold the strip by two screws, without glue",
        )


def _mains(subject: Subject, placed: Placed, item: Device) -> Iterator[Finding]:
    if item.voltage <= LOW_VOLTAGE:
        return
    cautioned = any(POWER in s.cautions for s in subject.piece.steps)
    yield _finding(
        subject,
        "device.mains",
        Severity.NOTE if cautioned else Severity.STOP,
        placed,
        f"{placed.name} works on {item.voltage:.0f} V: "
        + ("a licensed electrician connects it" if cautioned else "mains, and no step says who may connect it"),
        item.voltage,
        LOW_VOLTAGE,
        unit="V",
        remedy="a low-voltage device; or a licensed electrician, and a caution beside the step",
    )


def _finding(
    subject: Subject,
    code: str,
    severity: Severity,
    placed: Placed,
    message: str,
    value: float | None = None,
    limit: float | None = None,
    *,
    unit: str = "mm",
    remedy: str,
    related: tuple[str, ...] = (),
) -> Finding:
    return subject.finding(
        code=code,
        severity=severity,
        path=placed.path,
        related=related,
        message=message,
        value=value,
        limit=limit,
        unit=unit,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="device",
    what="a let-in device has its wood, its room, a way for its plug, and comes out again",
    needs=("devices and their joints", "recess and channel", "fasteners", "data of the device"),
    source=SOURCE,
    run=run,
)
