"""Boards that nobody measured, and seams that print through paint.

A design takes its boards at the moisture of the fitting day; boards from a damp yard move more than all it allows for.
Where solid wood and sheet meet flush under paint, the seam is seen after a year or two.
"""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.checks.woods import AXES, Timber, length, timber, wood_of
from casewright.design.assembly import Joint
from casewright.design.features.edges import EdgeProfile, VGroove
from casewright.design.parts import FaceUse, Form, Intent, Placed
from casewright.findings import Finding, Severity

SOURCE = "common practice; Wood Handbook Ch. 13: furniture lumber at 6–8 % moisture content"
FLUSH = 0.1  # mm
AIR = 1.0  # mm of movement from which the boards' moisture matters


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a note where the boards' moisture is taken on trust, and a warning for each seam that prints."""
    t = timber(subject)
    yield from _unknown(t)
    yield from _reading(t)
    for joint in subject.piece.joints:
        if joint.glued:
            yield from _seam(t, joint)


def _reading(t: Timber) -> Iterator[Finding]:
    moving = {path: max(c * length(r) for c, r in zip(t.moves[path], t.spans[path], strict=True)) for path in t.parts}
    if not moving:
        return
    worst = max(sorted(moving), key=lambda path: moving[path])
    move = moving[worst] * t.range
    if move < AIR:
        return
    fitted = t.subject.moisture.fitted
    if t.subject.room.wood_moisture is not None:
        return
    yield t.subject.finding(
        code="movement.reading",
        severity=Severity.NOTE,
        path=t.subject.piece.path,
        related=(worst,),
        message=f"no moisture reading of the boards is given; the sizes take them at {fitted:.1f} % when fitted. "
        f"The {t.parts[worst].name} moves {moving[worst]:.2f} mm for each 1 % that they are off",
        value=fitted,
        unit="%",
        source=SOURCE,
        remedy=f"stack the boards in the shop until a meter reads {fitted - 1:.0f} to {fitted + 1:.0f} %",
    )


def _unknown(t: Timber) -> Iterator[Finding]:
    """Boards of a species without movement figures: nothing is known of them, and no other check speaks of them."""
    bare: dict[str, str] = {}
    for path, placed in t.parts.items():
        wood = wood_of(t.subject, placed.part)
        if placed.part.form is Form.BOARD and (wood is None or wood.tangential_coefficient is None):
            bare.setdefault(wood.name if wood is not None else placed.part.stock, path)
    for name, path in bare.items():
        yield t.subject.finding(
            code="movement.unknown",
            severity=Severity.WARN,
            path=path,
            message=f"no movement figures are known of {name}: where it binds or splits is not checked",
            source=SOURCE,
            remedy="another species, or the figures of this one in the stock of the shop",
        )


def _seam(t: Timber, joint: Joint) -> Iterator[Finding]:
    both = t.pair(joint)
    if both is None or (both[0].part.form is Form.SHEET) == (both[1].part.form is Form.SHEET):
        return
    solid = both[0] if both[1].part.form is Form.SHEET else both[1]
    if max(t.moves[solid.path]) == 0.0:
        return
    for axis in range(3):
        for high in (0, 1):
            a, b = (t.spans[p.path][axis][high] for p in both)
            if abs(a - b) <= FLUSH and _prints(t, both, axis, high):
                yield _finding(t, joint, solid, both[1] if solid is both[0] else both[0])
                return


def _prints(t: Timber, both: tuple[Placed, Placed], axis: int, high: int) -> bool:
    """True where both faces on that side show under paint, meet along an edge, and nothing breaks the seam."""
    way = AXES[axis] if high else tuple(-v for v in AXES[axis])
    for placed in both:
        face = placed.face_towards((way[0], way[1], way[2]))
        use = next((u for u in placed.part.faces if u.face is face), None)
        if use is None or not _painted(use):
            return False
        if any(isinstance(f, (EdgeProfile, VGroove)) for f in placed.part.features):
            return False
    flat = [i for i in range(3) if i != axis]
    shared = sorted(
        min(t.spans[both[0].path][i][1], t.spans[both[1].path][i][1])
        - max(t.spans[both[0].path][i][0], t.spans[both[1].path][i][0])
        for i in flat
    )
    return shared[0] < FLUSH and shared[1] > 50.0  # side by side in one plane, along an edge


def _painted(use: FaceUse) -> bool:
    return use.intent is Intent.SHOWS and use.finish.startswith("paint")


def _finding(t: Timber, joint: Joint, solid: Placed, sheet: Placed) -> Finding:
    return t.subject.finding(
        code="movement.seam",
        severity=Severity.WARN,
        path=joint.id,
        related=(solid.path, sheet.path),
        message=f"{solid.name} and {sheet.name} meet flush under paint: the seam prints in a year or two",
        source="common practice",
        remedy="a small chamfer or V along the seam, or a reveal",
    )


CHECK = Check(
    code="movement.stock",
    what="the moisture of the boards is known, and no seam of solid wood and sheet prints through paint",
    needs=("species of the boards", "moisture of the room", "faces and their finish", "profiles along edges"),
    source=SOURCE,
    run=run,
)
