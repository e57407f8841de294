"""A lid at the height of a seat bears who sits down on its middle.

The lid is reckoned as a cross of two beams: along its grain between the sides, and a strip across it, battens
included, between what lies under its front and rear edges, which bend as well. Both share the load as they are stiff.

Key: k stiffness of a beam under a force in its middle, N/mm: 48EI/L³.
"""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.beams import GRAVITY, second_moment
from casewright.checks.model import Check, Subject
from casewright.checks.woods import Timber, elasticity, length, timber
from casewright.findings import Finding, Severity

SOURCE = "mechanics (PL³/48EI); practice seat.sitter and seat.bend"
SEAT = (350.0, 600.0)  # mm: heights that people sit down on (common practice)
STRIP = 300.0  # mm: what one sits on, along the lid


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a lid that bends too far under a sitter."""
    t, path = timber(subject), f"{subject.piece.path}/lid/panel"
    if path not in t.parts or not SEAT[0] <= subject.piece.height <= SEAT[1]:
        return
    sides = [t.spans[side][0] for hand in ("left", "right") if (side := f"{subject.piece.path}/side.{hand}") in t.spans]
    if len(sides) < 2:
        return
    span = max(s[0] for s in sides) - min(s[1] for s in sides)
    p = subject.practice
    bend = p["seat.sitter"] * GRAVITY / (_along(t, path, span) + _across(t, path, span))
    limit = span / p["seat.bend"]
    if bend > limit:
        yield subject.finding(
            code="strength.seat",
            severity=Severity.WARN,
            path=path,
            message=f"the lid bends {bend:.1f} mm where {p['seat.sitter']:.0f} kg sit down on its middle",
            value=bend,
            limit=limit,
            source=SOURCE,
            remedy="a thicker lid, battens across it, or a divider under its middle",
        )


def _along(t: Timber, path: str, span: float) -> float:
    """Return k of the lid between the sides."""
    _, y, z = t.spans[path]
    grain = abs(t.parts[path].frame.x[0]) > 0.7
    stiff = elasticity(t.subject, t.parts[path].part, along=grain) * second_moment(length(y), length(z))
    return 48.0 * stiff / span**3


def _across(t: Timber, path: str, span: float) -> float:
    """Return k of a strip across the lid with its battens, on edges that give; 0 where one edge lies on nothing."""
    front, rear = _edge(t, "frame/rail.top", span), _edge(t, "stretcher.rear", span)
    if not front or not rear:
        return 0.0
    x, y, z = t.spans[path]
    grain = abs(t.parts[path].frame.x[1]) > 0.7
    stiff = elasticity(t.subject, t.parts[path].part, along=grain) * second_moment(STRIP, length(z))
    middle = (x[0] + x[1]) / 2
    for other, part in t.parts.items():
        bx, by, bz = t.spans[other]
        if "/lid/batten." in other and abs((bx[0] + bx[1]) / 2 - middle) < STRIP / 2 and length(by) > length(bx):
            stiff += elasticity(t.subject, part.part) * second_moment(length(bx), length(bz))
    return 1.0 / (length(y) ** 3 / (48.0 * stiff) + (1.0 / front + 1.0 / rear) / 4.0)


def _edge(t: Timber, name: str, span: float) -> float:
    """Return k of a part under an edge and of the upright panels that are glued to it, each bent by itself."""
    path = f"{t.subject.piece.path}/{name}"
    if path not in t.parts:
        return 0.0
    stiff = 0.0
    for own in (path, *sorted(t.glued_to(path))):
        x, y, z = t.spans[own]
        if length(x) > 0.8 * span:
            grain = abs(t.parts[own].frame.x[0]) > 0.7
            stiff += elasticity(t.subject, t.parts[own].part, along=grain) * second_moment(length(y), length(z))
    return 48.0 * stiff / span**3


CHECK = Check(
    code="strength.seat",
    what="a lid at the height of a seat bears a sitter",
    needs=("stiffness of lid, battens and what lies under its edges", "practice seat.*"),
    source=SOURCE,
    run=run,
)
