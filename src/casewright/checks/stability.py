"""Tipping: does a standing piece stay upright with its drawers out and filled, and with a child on one of them.

As the clothing-storage rule describes (16 CFR 1261, which adopts ASTM F2057-23; the fill density, the pull and the
carpet's block from memory). An engineering estimate from the solids as designed: no certificate, for only a test is.
It takes all drawers and doors as open and all drawers as filled, which is at least as hard as the rule.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from casewright.checks.model import Check, Subject
from casewright.checks.stability_model import Open, Standing, drawers, standing
from casewright.design.assembly import MotionKind
from casewright.findings import Finding, Severity
from casewright.solids.collide import is_under_any, placed_boxes
from casewright.stock.fittings import WallFixing

SOURCE = (
    "16 CFR 1261 (ASTM F2057-23) and statics; an engineering estimate, no certificate: only a test shows compliance"
)
HUNG = re.compile(r"fixing_rail|batten\.\w+|wall_hanger.*|hang\.\w+")
BALLAST_IN = 50.0  # mm: ballast lies this far before the rear line of the stand

SEAT = 550.0  # mm: as high as people sit down on (common practice)
SAT = 60.0  # mm: how far behind a seat's front edge a sitter's weight is taken (EN 1022, from memory)


def run(subject: Subject) -> Iterator[Finding]:
    """Yield what the rule says of the piece, and each way in which it tips."""
    if not subject.piece.motions or _hung(subject):
        return
    s = standing(subject)
    if s is None:
        return
    yield from _sitter(subject, s)
    if not s.opens:
        return
    scope = _scope(subject, s)
    if scope.covered and not _tied(subject):
        yield _untied(subject)
    if subject.use.clothes:
        yield _rule(subject, s, scope)
    yield from _by_itself(subject, s, scope.covered)
    if scope.large and (subject.use.clothes or not _tied(subject)):
        severity = Severity.STOP if scope.covered else Severity.WARN
        yield from _child(subject, s, severity)
        yield from _pull(subject, s, severity)


@dataclass(frozen=True, slots=True)
class _Scope:
    """Whether all three sizes reach the rule's, and whether the rule covers the piece."""

    large: bool
    covered: bool


def _hung(subject: Subject) -> bool:
    start = len(subject.piece.path) + 1
    return any(HUNG.fullmatch(p.path[start:]) for p in subject.piece.placed)


def _tied(subject: Subject) -> bool:
    items = (subject.items.get(line.item) for line in subject.piece.bought)
    return any(isinstance(i, WallFixing) and i.use == "tie" for i in items)


def _scope(subject: Subject, s: Standing) -> _Scope:
    p = subject.practice
    large = (
        subject.piece.height >= p["tipping.height"] - 1e-6
        and s.mass >= p["tipping.mass"]
        and s.volume >= p["tipping.volume"]
    )
    return _Scope(large=large, covered=large and subject.use.clothes)


def _rule(subject: Subject, s: Standing, scope: _Scope) -> Finding:
    p = subject.practice
    height = subject.piece.height
    return subject.finding(
        code="stability.rule",
        severity=Severity.NOTE,
        path=subject.piece.path,
        message=f"{'in' if scope.covered else 'out of'} scope of the clothing-storage rule: {height:.0f} mm high "
        f"(from {p['tipping.height']:.0f}), {s.mass:.1f} kg without its screws (from {p['tipping.mass']:.1f}), "
        f"{s.volume:.1f} dm³ enclosed (from {p['tipping.volume']:.1f})",
        value=s.volume,
        limit=p["tipping.volume"],
        unit="dm³",
        source=SOURCE,
        remedy="have it tested before it is sold" if scope.covered else "",
    )


# --- ways to tip ---


def _untied(subject: Subject) -> Finding:
    return _finding(
        subject,
        "stability.tie",
        Severity.WARN,
        "it keeps clothes, is as large as the clothing-storage rule means, and nothing ties it to the wall",
        subject.piece.height,
        subject.practice["tipping.height"],
        "mm",
        "straps from its rear rail to a stud, on the list and in the steps",
    )


def _sitter(subject: Subject, s: Standing) -> Iterator[Finding]:
    """Someone sits down on the front edge of a chest with a lid."""
    lid = next((m for m in subject.piece.motions if m.kind is MotionKind.SWING and abs(m.direction[2]) < 0.5), None)
    if lid is None or subject.piece.height > SEAT:
        return
    parts = [p for p in subject.piece.placed if is_under_any(p.path, lid.members)]
    front = min(float(placed_boxes((p,), subject.cache)[0][1]) for p in parts)
    out = s.stand.front - front
    lever = out - SAT
    bears = s.moment(()) / lever if lever > 0.0 else float("inf")
    sitter = subject.practice["seat.sitter"]
    if bears < sitter:
        yield _finding(
            subject,
            "stability.sit",
            Severity.STOP,
            f"its stand lies {out:.0f} mm behind its front edge; {SAT:.0f} mm behind that edge it bears {_kg(bears)}: "
            "who sits down there tips it",
            max(0.0, bears),
            sitter,
            "kg",
            f"a stand not more than {SAT + s.moment(()) / sitter:.0f} mm behind the edge, or screws to the wall",
        )


def _by_itself(subject: Subject, s: Standing, covered: bool) -> Iterator[Finding]:
    """Drawers out and filled, nobody near. Beyond the rule: one alone must not tip it."""
    out = _out(subject, s)
    moment, one = s.moment(out), min(s.moment((o,)) for o in s.opens)
    if moment > 0.0 or (not covered and one > 0.0 and _tied(subject)):
        return
    yield _finding(
        subject,
        "stability.drawers",
        Severity.STOP if covered or one <= 0.0 else Severity.WARN,
        f"{_what(s, out)} it tips by itself, {-moment / 1000:.1f} kg·m over the front",
        moment / 1000,
        0.0,
        "kg·m",
        _cures(s, -moment, out, f"one by itself leaves {one / 1000:.1f} kg·m" if one > 0 else ""),
    )


def _child(subject: Subject, s: Standing, severity: Severity) -> Iterator[Finding]:
    """A child's weight on the front of the furthest open one, the rear raised as on carpet."""
    p = subject.practice
    lean = s.carpet(p["tipping.carpet"])
    limit = p["tipping.child"]
    ways = [_out(subject, s, o) for o in s.opens]
    out = min(ways, key=lambda w: s.hung(w, lean))
    bears = s.hung(out, lean)
    if bears >= limit:
        return
    short = (limit - bears) * s.furthest(out, lean)
    single = min(s.hung((o,), lean) for o in s.opens)
    yield _finding(
        subject,
        "stability.child",
        severity,
        f"{_what(s, out)}, on carpet, it bears {_kg(bears)} on the front that stands out furthest; "
        f"a child weighs {limit:.1f} kg",
        max(0.0, bears),
        limit,
        "kg",
        _cures(s, short, out, f"it then bears {_kg(single)}"),
    )


def _pull(subject: Subject, s: Standing, severity: Severity) -> Iterator[Finding]:
    """A pull outwards at the highest hand hold."""
    p = subject.practice
    high = min(p["tipping.hand_most"], max(o.hold[1] for o in s.opens) - s.stand.floor)
    out = _out(subject, s)
    bears, limit = s.moment(out) / high, p["tipping.push"]
    if bears >= limit:
        return
    yield _finding(
        subject,
        "stability.pull",
        severity,
        f"{_what(s, out)}, it bears a pull of {_kg(bears)} at a height of {high:.0f} mm",
        max(0.0, bears),
        limit,
        "kg",
        _cures(s, (limit - bears) * high, out, ""),
    )


def _out(subject: Subject, s: Standing, first: Open | None = None) -> tuple[Open, ...]:
    """Return what is open together: `first` if it is given, and those that bring the piece nearest to tipping."""
    most = int(subject.practice["tipping.open_at_once"]) or len(s.opens)
    shut = s.moment(())
    others = sorted((o for o in s.opens if o is not first), key=lambda o: s.moment((o,)) - shut)
    return ((first, *others) if first is not None else tuple(others))[:most]


def _what(s: Standing, out: tuple[Open, ...]) -> str:
    return "with all open and its drawers filled" if len(out) == len(s.opens) else f"with {len(out)} open and filled"


def _kg(bears: float) -> str:
    return f"{bears:.1f} kg" if bears > 0.0 else "nothing"


def _cures(s: Standing, short: float, out: tuple[Open, ...], single: str) -> str:
    """Name the cures with their sizes; `short` is the moment that lacks, kg·mm."""
    ballast = short / max(1.0, s.stand.rear - s.stand.front - BALLAST_IN)
    carried = s.mass + sum(o.contents.mass for o in out)
    cures = [
        f"{ballast:.0f} kg of ballast low at the back",
        f"a stand {short / carried:.0f} mm further forward (a deeper case)",
    ]
    if len(list(drawers(out))) > 1 and len(out) == len(s.opens):
        cures.append("an interlock that lets one drawer out at a time" + (f" ({single})" if single else ""))
    cures.append("and a strap to the wall besides")
    return "; ".join(cures)


def _finding(
    subject: Subject, code: str, severity: Severity, message: str, value: float, limit: float, unit: str, remedy: str
) -> Finding:
    return subject.finding(
        code=code,
        severity=severity,
        path=subject.piece.path,
        message=message,
        value=value,
        limit=limit,
        unit=unit,
        source=SOURCE,
        remedy=remedy,
    )


CHECK = Check(
    code="stability",
    what="a standing piece does not tip with its drawers out and filled, a child on one, or a pull on it",
    needs=("masses of solids", "motions", "what stands on the floor", "[use] clothes", "practice tipping.*"),
    source=SOURCE,
    run=run,
)
