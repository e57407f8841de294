"""The fastener schedule by joint: what holds it, how many, and every hole with the face that it is drilled from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from casewright.design.assembly import JointKind, kind_words
from casewright.design.features.holes import Hole, PocketHole
from casewright.packet.drawing.subject import SizeWords
from casewright.packet.joint_schedule import Bore, JointRow, joint_rows, slot_size
from casewright.packet.pages.setting import Setting
from casewright.stock.model import Dowel, Item, Pin
from casewright.units import Role

FACE_WORDS: Mapping[str, str] = {
    "top": "top face",
    "underside": "underside",
    "front": "front face",
    "back": "rear face",
    "outer": "outer face",
    "inner": "inner face",
    "left": "left face",
    "right": "right face",
    "end": "end",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLine:
    """One row: the joint, its marks, the fastener and how many, and a text for each hole."""

    joint: str
    kind: str
    marks: str
    fastener: str
    each: int
    joints: int
    count: int
    holes: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    """The context of the fastener schedule."""

    unit: str
    lines: tuple[JointLine, ...]


def fastening(setting: Setting) -> Fastening:
    """Return the context of the fastener schedule."""
    words = SizeWords(style=setting.printer.style)
    lines = tuple(_line(setting, row, words) for row in joint_rows(setting.project))
    return Fastening(unit=setting.printer.unit, lines=lines)


def _line(setting: Setting, row: JointRow, words: SizeWords) -> JointLine:
    item = setting.project.stock.get(row.item)
    return JointLine(
        joint=f"{row.a} to {row.b}",
        kind=kind_words(JointKind(row.kind), row.glued),
        marks=", ".join("–".join(m for m in pair if m) for pair in row.marks),
        fastener=item.name if item is not None else row.item,
        each=row.each,
        joints=row.joints,
        count=row.count,
        holes=tuple(bore_text(setting, bore, words, _guide(row)) for bore in row.bores) or (_no_holes(item),),
        why=row.why,
    )


def _no_holes(item: Item | None) -> str:
    return "no hole" if isinstance(item, Pin) else "glue alone" if isinstance(item, Dowel) else "drives itself in"


def _guide(row: JointRow) -> str:
    """Return what shows where a hole made at assembly comes: a hole made on the bench, or the hardware in its place."""
    bored = any(not bore.at_assembly for bore in row.bores)
    return "through the first hole" if bored else f"through the {row.a} in its place"


def bore_text(setting: Setting, bore: Bore, words: SizeWords, guide: str) -> str:
    """Return a hole in words: part, what is drilled how deep, from which face, and `guide` if not on the bench.

    What is bored on through at assembly comes from where its guide lies, whatever face the hole is counted from.
    """
    when = f", at assembly {guide}" if bore.at_assembly else ""
    guided = bore.at_assembly and isinstance(bore.hole, Hole) and bore.hole.depth is None
    face = "" if guided else f", from its {FACE_WORDS[bore.face]}"
    return f"{bore.part}: {hole_text(setting, bore, words)}{face}{when}"


def hole_text(setting: Setting, bore: Bore, words: SizeWords) -> str:
    """Return what is drilled and how deep, without part and face."""
    hole, show = bore.hole, setting.printer
    if isinstance(hole, Hole):
        depth = "through" if hole.depth is None else f"× {show.size(hole.depth)} deep"
        text = f"Ø {words.drill(hole.diameter)} {depth}"
        if hole.bore_diameter > 0:
            text += f", counterbored Ø {words.drill(hole.bore_diameter)} × {show.size(hole.bore_depth)}"
        if hole.countersink > hole.diameter:
            text += f", countersunk {hole.sink_angle:g}° to Ø {words.nearest_drill(hole.countersink)}"
        return text
    if isinstance(hole, PocketHole):
        return f"pocket Ø {words.drill(hole.pocket_diameter)} at {hole.angle:g}°"
    length, width = slot_size(hole)
    return f"slot {words.drill(width)} × {words.text(length, Role.HOUSING)} through"
