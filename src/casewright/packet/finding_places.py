"""Where in a piece a finding points: the things, screws and joints that its paths name; which findings get a picture.

A finding that stops or warns, and one that the order accepts, is shown where its paths name something inside a piece
that could be built. What concerns a whole piece, the stock or the order has no place to show.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from casewright.design.assembly import Assembly, PieceDesign
from casewright.findings import Finding, Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingPlace:
    """What of a piece is meant: paths of placed things, and of fasteners, in the order in which they are named."""

    piece: PieceDesign
    things: tuple[str, ...]
    fasteners: tuple[str, ...]


def place_of(finding: Finding, pieces: Iterable[PieceDesign]) -> FindingPlace | None:
    """Return the place of a finding, or None where it names nothing inside a piece."""
    piece = next((p for p in pieces if _inside(finding.path, p.path) and p.placed), None)
    if piece is None:
        return None
    things: dict[str, None] = {}
    fasteners: dict[str, None] = {}
    for path in (finding.path, *finding.related):
        named = _named(path, piece) if path != piece.path else ((), ())
        things |= dict.fromkeys(named[0])
        fasteners |= dict.fromkeys(named[1])
    if not (things or fasteners):
        return None
    return FindingPlace(piece=piece, things=tuple(things), fasteners=tuple(fasteners))


def is_shown(finding: Finding) -> bool:
    """True for a finding that is worth a picture."""
    return finding.severity is not Severity.NOTE or bool(finding.accepted)


def numbered_places(findings: Iterable[Finding], assembly: Assembly) -> tuple[tuple[Finding, FindingPlace], ...]:
    """Return the findings that get a picture, each with its place; they are numbered from 1 in this order."""
    shown = ((f, place_of(f, assembly.pieces)) for f in findings if is_shown(f))
    return tuple((f, place) for f, place in shown if place is not None)


def _named(path: str, piece: PieceDesign) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the things and fasteners that a path names: itself, members of a group, the two parts of a joint."""
    things = tuple(p.path for p in piece.placed if _inside(p.path, path))
    fasteners = tuple(f.path for f in piece.fasteners if f.path == path) if not things else ()
    if things or fasteners:
        return things, fasteners
    joint = next((j for j in piece.joints if j.id == path), None)
    if joint is not None:
        return (joint.a, joint.b), ()
    above = path.rpartition("/")[0]
    return _named(above, piece) if _inside(above, piece.path) and above != piece.path else ((), ())


def _inside(path: str, group: str) -> bool:
    """True for the group's own path and those of its members; "door[c1,r2].left" is a member of "door[c1,r2]"."""
    return path == group or path.startswith((f"{group}/", f"{group}."))
