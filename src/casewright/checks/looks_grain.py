"""The grain of fronts side by side runs one way, and no veneer is sanded through where solid wood is trimmed flush."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from casewright.checks.model import Check, Subject
from casewright.design.assembly import JointKind
from casewright.design.frames import Y, dot
from casewright.design.parts import FaceUse, Form, Intent, Part, Placed
from casewright.findings import Finding, Severity
from casewright.stock.model import Sheet

SOURCE = "common practice: the grain of a run of fronts goes one way"
THIN_SOURCE = "common practice: face veneers of 0.6 mm and less are sanded through where a solid neighbour is flushed"
FLUSH = 0.6  # mm


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each front whose grain runs across the others', and for veneer beside a flush joint."""
    yield from _fronts(subject)
    for joint in subject.piece.joints:
        a, b = subject.by_path.get(joint.a), subject.by_path.get(joint.b)
        if a is None or b is None or not joint.glued or joint.kind is JointKind.GROOVE:
            continue
        for veneered, solid in ((a, b), (b, a)):
            if _veneered(subject, veneered) and _is_solid(solid) and _flush(veneered, solid):
                yield subject.finding(
                    code="looks.veneer",
                    severity=Severity.WARN,
                    path=veneered.path,
                    related=(solid.path,),
                    message=f"its veneer lies flush with {solid.path} under a clear finish: flushing sands it through",
                    source=THIN_SOURCE,
                    remedy="a reveal (`frame_reveal`) or V-groove between the two, or plane the solid part beforehand",
                )


def _fronts(subject: Subject) -> Iterator[Finding]:
    fronts = [p for p in subject.piece.placed if _grained_front(p)]
    ways = Counter(_upright(p) for p in fronts)
    if len(ways) < 2:
        return
    fewer = ways[True] < ways[False]
    for p in fronts:
        if _upright(p) == fewer:
            yield subject.finding(
                code="looks.grain",
                severity=Severity.WARN,
                path=p.path,
                related=tuple(q.path for q in fronts if _upright(q) != fewer)[:1],
                message=f"its grain runs {'upright' if fewer else 'level'}, that of the other fronts across it",
                source=SOURCE,
                remedy="turn the grain of one, or cut them from one run",
            )


def _grained_front(placed: Placed) -> bool:
    """True for a drawer front or slab door whose grain is seen."""
    if not placed.path.endswith(("/face/front", "/slab")) or not isinstance(placed.thing, Part):
        return False
    part = placed.thing
    return part.grain and any(u.intent is Intent.SHOWS and u.clear for u in part.faces)


def _upright(placed: Placed) -> bool:
    return abs(placed.frame.x[2]) > 0.7


def _veneered(subject: Subject, placed: Placed) -> bool:
    part = placed.thing
    if not isinstance(part, Part) or part.form is not Form.SHEET:
        return False
    sheet = subject.items.get(part.stock)
    return isinstance(sheet, Sheet) and sheet.material == "plywood" and bool(_shown(placed))


def _shown(placed: Placed) -> list[FaceUse]:
    return [u for u in placed.part.faces if u.face.axis == 2 and u.intent is Intent.SHOWS and u.clear]


def _is_solid(placed: Placed) -> bool:
    return isinstance(placed.thing, Part) and placed.thing.form is not Form.SHEET


def _flush(veneered: Placed, solid: Placed) -> bool:
    """True where a face of the solid part lies in the plane of the veneered face that shows, its grain beside it."""
    for use in _shown(veneered):
        blank = veneered.part.blank
        point = veneered.frame.point(blank.point(use.face, (0.0, 0.0)))
        out = veneered.frame.direction(blank.inward(use.face))
        if abs(dot(out, Y)) > 0.7:
            continue  # fronts are not flushed against their frames
        size = solid.part.blank.size
        corners = [solid.frame.point((x, y, z)) for x in (0.0, size[0]) for y in (0.0, size[1]) for z in (0.0, size[2])]
        depth = min(dot(out, (c[0] - point[0], c[1] - point[1], c[2] - point[2])) for c in corners)
        if abs(depth) < FLUSH:
            return True
    return False


CHECK = Check(
    code="looks.grain",
    what="the grain of fronts runs one way, no veneer is flushed against solid wood under a clear finish",
    needs=("grain", "faces that show and their finish", "glued joints"),
    source=SOURCE,
    run=run,
)
