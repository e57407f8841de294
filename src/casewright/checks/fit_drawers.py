"""Drawers: their slides bear what is in them and fit the box, blocking lies flush, and something stops them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from casewright.checks.fit_boxes import Box, box_of, fixed_to, item_of, motions, overlap_of
from casewright.checks.model import Check, Subject
from casewright.design.assembly import Motion, MotionKind
from casewright.design.parts import Placed
from casewright.findings import Finding, Severity
from casewright.solids.measure import mass_of
from casewright.stock.fittings import UnderSlide
from casewright.stock.model import Slide

LOAD_SOURCE = "the slide's rating; filling by practice tipping.fill (ASTM F2057-23: 8.5 lb/ft³ of clothes)"
FLUSH_SOURCE = "common practice: blocking lies flush with its opening, up to 0.4 mm behind it, never proud"
PROUD, BEHIND = 0.0, 0.4  # mm
EPS = 1e-3
IDLE = 130.0  # mm behind a drawer box: two lengths of slides more


def run(subject: Subject) -> Iterator[Finding]:
    """Yield what is wrong with the running of each drawer."""
    for motion, group, moving in motions(subject, MotionKind.SLIDE):
        own = [*moving, *fixed_to(subject, group)]
        slides = [item for p in own if isinstance(item := item_of(subject, p), Slide | UnderSlide)]
        box = _inside(subject, group)
        if slides and box is not None:
            yield from _load(subject, group, moving, box, slides[0])
        if slides:
            yield from _length(subject, motion, group, slides[0])
        elif not any(".stop" in p.path or "stop" in p.name for p in own):
            yield subject.finding(
                "fit.no_stop",
                Severity.WARN,
                group,
                "nothing stops it when it is pushed in",
                source="common practice",
                remedy="set a stop",
            )
        yield from _blocking(subject, group)
        yield from _unused(subject, group)


def _inside(subject: Subject, group: str) -> tuple[float, float, float] | None:
    """Return (width, depth, height) inside a drawer box, mm; None where it has no plain one."""
    names = ("side.left", "side.right", "box_front", "box_back", "bottom")
    found = [subject.by_path.get(f"{group}/{n}") for n in names]
    if any(p is None for p in found):
        return None
    left, right, front, back, bottom = (box_of(subject, [p]) for p in found if p is not None)
    return (
        float(right[0, 0] - left[1, 0]),
        float(back[0, 1] - front[1, 1]),
        float(left[1, 2] - bottom[1, 2]),
    )


def _load(
    subject: Subject,
    group: str,
    moving: Sequence[Placed],
    inside: tuple[float, float, float],
    slide: Slide | UnderSlide,
) -> Iterator[Finding]:
    own = sum(mass_of(p.thing, subject.cache) for p in moving)
    fill = inside[0] * inside[1] * inside[2] * 1e-6 * subject.practice["tipping.fill"]
    if own + fill > slide.load:
        yield subject.finding(
            "fit.slide_load",
            Severity.STOP,
            group,
            f"filled it weighs {own + fill:.1f} kg, {own:.1f} kg of it its own; a pair of {slide.name} bears less",
            value=own + fill,
            limit=slide.load,
            unit="kg",
            source=LOAD_SOURCE,
            remedy="take heavier slides, or divide the drawer",
        )


def _length(subject: Subject, motion: Motion, group: str, slide: Slide | UnderSlide) -> Iterator[Finding]:
    if motion.reach > slide.travel + 0.5:
        yield subject.finding(
            "fit.slide_travel",
            Severity.STOP,
            group,
            f"is to come {motion.reach:.0f} mm out; {slide.name} lets it out less",
            value=motion.reach,
            limit=slide.travel,
            source="the slide's travel",
            remedy="take longer slides, or slides of more travel",
        )
    side = subject.by_path.get(f"{group}/side.left")
    if side is None or not isinstance(slide, Slide):
        return
    box = box_of(subject, [side])
    depth = float(box[1, 1] - box[0, 1])
    if slide.length > depth + 6.0:
        yield subject.finding(
            "fit.slide_length",
            Severity.STOP,
            group,
            f"its slides are longer than its box ({depth:.1f} mm)",
            value=slide.length,
            limit=depth,
            source="common practice: the drawer member is screwed on over its whole length",
            remedy="take shorter slides, or make the box deeper",
        )


def _unused(subject: Subject, group: str) -> Iterator[Finding]:
    """Warn of a box behind which a good deal of the case lies idle."""
    back = subject.by_path.get(f"{group}/box_back")
    if back is None:
        return
    box = box_of(subject, [back])
    own = (f"{group}/", f"{group}.")
    behind = [box_of(subject, [p]) for p in subject.piece.placed if not p.path.startswith(own)]
    wide = 0.5 * (box[1, 0] - box[0, 0])
    walls = [float(b[0, 1]) for b in behind if overlap_of(b, box, 0) > wide and overlap_of(b, box, 2) > 0]
    idle = min((w for w in walls if w > box[1, 1] - 1.0), default=float(box[1, 1])) - float(box[1, 1])
    if idle > IDLE:
        yield subject.finding(
            "fit.drawer_depth",
            Severity.WARN,
            group,
            f"{idle:.0f} mm of the case lie idle behind its box",
            value=idle,
            limit=IDLE,
            source="common practice: slides come in steps of 2 in; the next ones would fit",
            remedy="longer slides and a deeper box",
        )


def _blocking(subject: Subject, group: str) -> Iterator[Finding]:
    """Compare the face of each blocking with the edge of the frame's opening in front of it."""
    for hand, inner in (("left", 1), ("right", 0)):
        blocking = subject.by_path.get(f"{group}.blocking.{hand}")
        if blocking is None:
            continue
        box = box_of(subject, [blocking])
        edge = _opening_edge(subject, box, inner)
        if edge is None:
            continue
        behind = (edge - float(box[inner, 0])) * (1.0 if inner == 1 else -1.0)
        if not PROUD - EPS <= behind <= BEHIND + EPS:
            proud = behind < PROUD
            yield subject.finding(
                "fit.blocking",
                Severity.STOP if proud else Severity.WARN,
                blocking.path,
                f"stands {-behind:.2f} mm proud of its opening"
                if proud
                else f"lies {behind:.2f} mm behind its opening",
                value=behind,
                limit=PROUD if proud else BEHIND,
                source=FLUSH_SOURCE,
                remedy="plane the blocking" if proud else "make the blocking thicker, or shim the slide",
            )


def _opening_edge(subject: Subject, blocking: Box, inner: int) -> float | None:
    """Return x of the frame's edge beside a blocking: of the nearest upright in front that covers it."""
    best: float | None = None
    for p in subject.piece.placed:
        if "/frame/" not in p.path:
            continue
        box = box_of(subject, [p])
        beside = box[1, 1] <= blocking[0, 1] + 1.0 and overlap_of(box, blocking, 0) > 0
        if beside and overlap_of(box, blocking, 2) > (blocking[1, 2] - blocking[0, 2]) * 0.9:
            edge = float(box[inner, 0])
            best = edge if best is None or abs(edge - blocking[inner, 0]) < abs(best - blocking[inner, 0]) else best
    return best


CHECK = Check(
    code="fit.drawer",
    what="slides bear the filled drawer and fit its box, blocking is flush, something stops it",
    needs=("motions", "boxes of parts", "slides of the stock", "practice tipping.fill"),
    source=LOAD_SOURCE,
    run=run,
)
