"""What a seeded fault is, and what edits of parts its tables share."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tests.checks.fault_edits import Edit

from casewright.design.assembly import Motion
from casewright.design.blanks import Face
from casewright.design.frames import scale
from casewright.design.parts import FaceUse, Intent, Part

BEDSIDE, CHEST, CUPBOARD, BASE, MEDIA = "lantern-hill", "six-drawer-chest", "tall-cupboard", "base-unit", "media-unit"
DRAWER, DOOR = "drawer[c1,r1]", "door[c1,r2]"
TOUCHING = ("attached.gap", "collision.parts", "collision.fastener", "collision.keepout", "collision.crossing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One mistake in one example: what it does to the design, and where it must be found."""

    name: str
    of: str
    edit: Edit
    code: str
    path: str
    also: tuple[str, ...] = ()


def backwards(m: Motion) -> Motion:
    return replace(m, direction=scale(m.direction, -1.0))


def shows(face: Face, finish: str = "paint") -> FaceUse:
    return FaceUse(face=face, intent=Intent.SHOWS, finish=finish)


def clear(part: Part) -> Part:
    return replace(part, faces=tuple(replace(u, finish="clear") for u in part.faces))


def heavy(part: Part) -> Part:
    return replace(part, mass_density=20_000.0)
