"""A case that folds sideways: what keeps its rectangle square is a back, a frame, or a fixed panel.

A butted or pocketed corner turns under a push against the top edge; a sheet glued or pinned around its edges does not.
A face frame holds a low case, hardly a high one.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from itertools import pairwise

from casewright.checks.model import Check, Subject
from casewright.checks.woods import Timber, length, timber
from casewright.design.assembly import JointKind
from casewright.design.parts import Form, Part
from casewright.findings import Finding, Severity

SOURCE = "common practice: a case stands square by a panel fastened around its edges"
FASTENED = frozenset(
    {JointKind.RABBET, JointKind.PINS, JointKind.SCREWS, JointKind.GLUE, JointKind.GROOVE, JointKind.BUTT_SCREWS}
)


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a finding for a case that nothing keeps square."""
    t = timber(subject)
    piece = subject.piece
    sides = [s for hand in ("left", "right") if (s := f"{piece.path}/side.{hand}") in t.parts]
    if len(sides) < 2 or any(_braces(t, path, sides) for path in sorted(t.parts)):
        return
    if _framed(t, sides) or _in_pieces(t, sides):
        return
    height = length(t.spans[sides[0]][2])
    framed = f"{piece.path}/frame/rail.top" in t.parts
    low = subject.practice["racking.frame_height"]
    if framed and height <= low:
        return
    yield subject.finding(
        code="racking.open",
        severity=Severity.WARN if framed else Severity.STOP,
        path=piece.path,
        related=tuple(sides),
        message="no back is fastened to both sides: "
        + ("the face frame alone" if framed else "nothing")
        + f" keeps {height:.0f} mm of case square",
        value=height,
        limit=low if framed else 0.0,
        source=SOURCE,
        remedy="a back in rabbets, glued and pinned; or a fixed panel, or a deep rail with strong joints, at the rear",
    )


def _braces(t: Timber, path: str, sides: list[str]) -> bool:
    """True for an upright panel across the case that is fastened to both sides, or to frame members of both."""
    x, y, z = t.spans[path]
    if length(y) > min(length(x), length(z)) / 4 or length(z) < 0.4 * length(t.spans[sides[0]][2]):
        return False
    held = _held(t, path)
    # A back in the rear posts of a case holds the sides that these are fastened to.
    posts = {p for p in held if isinstance(part := t.subject.by_path[p].thing, Part) and part.form is Form.STICK}
    held |= {other for post in posts for other in _held(t, post, FASTENED | {JointKind.DOWEL})}
    return all(side in held for side in sides)


def _in_pieces(t: Timber, sides: list[str]) -> bool:
    """True for a back of several sheets that meet on dividers to which both are fastened, and that reach both sides."""
    pieces = sorted(p for p in t.parts if p.startswith(f"{t.subject.piece.path}/back[b"))
    held = [_held(t, p) for p in pieces]
    uprights = [{h for h in one if "/divider[" in h} for one in held]
    return len(pieces) > 1 and all(a & b for a, b in pairwise(uprights)) and set(sides) <= set().union(*held)


def _framed(t: Timber, sides: list[str]) -> bool:
    """True for a back of stiles and rails, glued together, whose stiles are fastened to both sides or rear posts."""
    back = f"{t.subject.piece.path}/back"
    stiles = [s for hand in ("left", "right") if (s := f"{back}/stile.{hand}") in t.parts]
    rails = [r for end in ("top", "bottom") if (r := f"{back}/rail.{end}") in t.parts]
    glued = FASTENED | {JointKind.STUB_TENON, JointKind.TENON}
    square = all(set(stiles) <= _held(t, rail, glued) for rail in rails)
    fast = [_held(t, stile) for stile in stiles]
    posts = {p for held in fast for p in held if p.rpartition("/")[2].startswith("post.")}
    reached = set().union(*fast, *(_held(t, post, FASTENED | {JointKind.DOWEL}) for post in posts))
    return len(stiles) == len(rails) == 2 and square and set(sides) <= reached


def _held(t: Timber, path: str, kinds: Set[JointKind] = FASTENED) -> set[str]:
    """Return the parts that a part is fastened to by joints of some kinds."""
    return {
        j.b if j.a == path else j.a
        for j in t.joints.get(path, ())
        if j.kind in kinds and (j.glued or t.fasteners.get(j.id))
    }


CHECK = Check(
    code="racking",
    what="a back or a frame keeps the case square",
    needs=("joints of back and sides",),
    source=SOURCE,
    run=run,
)
