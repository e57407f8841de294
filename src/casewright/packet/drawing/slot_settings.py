"""Blade, fence and height for a spline's slot in a bevelled end: what is set on the saw, or on a router with a block.

On the saw the short face lies down and the long edge is against the fence; the blade is tilted away from the fence
until it stands square to the bevel. Key: b bevel of the end from square; s from the short edge to the slot's middle
along the bevel; T thickness; d depth. In the plane of the cut the bevel runs from the short edge, on the table, to the
long one, T · tan b further out and T up. The slot's middle line meets the table s / sin b out from the short edge, and
its floor lies s · cos b + d · sin b over the table. The blade's tilt from upright is 90° − b.

Common practice: a spline stands near the short edge, where the wood behind it is thickest; what ends before an edge,
or is narrower than the blade, is routed, the router on a block with the same bevel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.design.blanks import Face, face_of
from casewright.design.features.mitres import MitreSlot
from casewright.design.features.shaping import EndCut
from casewright.design.parts import Part
from casewright.packet.drawing.subject import SizeWords, face_name, listed
from casewright.packet.printed import decimal
from casewright.shop.model import Machines
from casewright.units import Role

SAME = 0.05  # mm: a slot this much wider than the blade is one pass
TILT_MOST = 46.0  # degrees from upright that a table saw's blade goes


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass on the saw, mm: from the fence to the middle of the blade at the table, and how high its tip stands."""

    fence: float
    height: float


@dataclass(frozen=True, slots=True)
class SawnSlot:
    """A slot as it is sawn: the face that lies down, the blade's tilt from upright in degrees, its outermost passes."""

    down: Face
    tilt: float
    passes: tuple[Pass, ...]
    count: int


def sawn_slot(part: Part, slot: MitreSlot, kerf: float) -> SawnSlot | None:
    """Return how a slot is sawn with a blade of this kerf (mm), None where it cannot be."""
    short, bevel, size = _bevelled(part, slot)
    tilt = 90.0 - math.degrees(bevel)
    if slot.stop0 or slot.stop1 or not 0 < kerf <= slot.width + SAME or not 0 < tilt <= TILT_MOST:
        return None
    middle = slot.offset if slot.level is short else size / math.cos(bevel) - slot.offset
    spare = max(0.0, slot.width - kerf) / 2
    places = (middle - spare, middle + spare) if spare > SAME / 2 else (middle,)
    passes = tuple(
        Pass(
            fence=size * math.tan(bevel) - s / math.sin(bevel),
            height=s * math.cos(bevel) + slot.depth * math.sin(bevel),
        )
        for s in places
    )
    if min(p.fence for p in passes) < kerf / (2 * math.sin(bevel)):
        return None  # the blade would meet the fence
    return SawnSlot(short, tilt, passes, max(1, math.ceil(round((slot.width - SAME) / kerf, 6))))


def _bevelled(part: Part, slot: MitreSlot) -> tuple[Face, float, float]:
    """Return the face at the short edge of a slot's end, its bevel from square (radians), the size across that face."""
    n = EndCut(face=slot.face, at=slot.at, mitre=slot.mitre, bevel=slot.bevel).normal()
    axis = slot.level.axis
    return face_of(axis, n[axis] > 0), math.atan2(abs(n[axis]), abs(n[0])), part.blank.size[axis]


def slot_words(
    part: Part, words: SizeWords, machines: Machines, layer: float, bits: tuple[float, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the settings of spline slots in words, those of the saw and those of the router, alike ends together."""
    saw = machines.of("table saw")
    sawn: dict[str, list[Face]] = {}
    routed: dict[str, list[Face]] = {}
    for slot in _slots(part):
        one = sawn_slot(part, slot, saw.kerf) if saw is not None else None
        if one is not None:
            sawn.setdefault(_sawn_words(one, words), []).append(slot.face)
        elif machines.of("router") is not None:
            text = _routed_words(slot, words, layer, bits)
            if text:
                routed.setdefault(text, []).append(slot.face)
    return _ended(sawn), _ended(routed)


def _slots(part: Part) -> Iterator[MitreSlot]:
    return (f for f in part.features if isinstance(f, MitreSlot))


def _ended(found: dict[str, list[Face]]) -> tuple[str, ...]:
    return tuple(
        f"spline slot in {'either end' if len(set(ends)) == 2 else listed([face_name(e) for e in ends])}, {text}"
        for text, ends in found.items()
    )


def _sawn_words(one: SawnSlot, words: SizeWords) -> str:
    first, *others = one.passes
    text = (
        f"square to its bevel: {face_name(one.down)} down, the long edge on the fence, blade tilted "
        f"{decimal(one.tilt, 1)}° away from the fence, its tip {words.place(first.height)} high, fence "
        f"{words.place(first.fence)} to the middle of the blade at the table"
    )
    for last in others:
        text += f"; then {words.place(last.height)} high, fence {words.place(last.fence)}"
    return text + (f", {one.count} passes in all" if one.count > 2 else "")


def _routed_words(slot: MitreSlot, words: SizeWords, layer: float, bits: tuple[float, ...]) -> str:
    fitting = [bit for bit in bits if bit <= slot.width + SAME]
    if not fitting:
        return ""
    layers = max(1, math.ceil(round(slot.depth / layer, 6)))
    near, far = slot.offset - slot.width / 2, slot.offset + slot.width / 2
    stops = [f"{words.place(stop)} short of one edge" for stop in (slot.stop0, slot.stop1) if stop]
    return (
        f"square to its bevel, the router on a block bevelled as the end is: bit {words.drill(fitting[-1])}, "
        f"{words.shallow(slot.depth, Role.HOUSING)} deep{f' in {layers} layers' if layers > 1 else ''}, walls "
        f"{words.place(near)} and {words.place(far)} from {face_name(slot.level)} along the bevel"
        + "".join(f", {stop}" for stop in stops)
    )
