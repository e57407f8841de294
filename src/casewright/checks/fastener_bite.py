"""Screws bite far enough, pocket screws suit the thickness, pull screws reach the pull and do not bottom in it."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.model import Check, Subject
from casewright.design.parts import Fastener, Hardware
from casewright.findings import Finding, Severity
from casewright.stock.model import Pin, Pull, Screw

SOURCE = (
    "common practice: a screw of a glued joint or of hardware bites two diameters; for full load NDS 12.1.5 wants six"
)
POCKET_SOURCE = "common table of pocket-screw lengths by thickness (1/2 in: 1 in, 3/4: 1-1/4, 1: 1-1/2, 1-1/2: 2-1/2)"
PULL_SOURCE = "common practice: a machine screw engages at least its diameter; what is deeper than its bore bottoms"
LEAST, NONE = 2.0, 1.25  # diameters; below the last one a screw is as good as none
PIN_BITE = 8.0  # mm
# Thickness of the part with the pocket, from; length of the screw, mm.
POCKET = ((12.0, 25.4), (18.0, 31.75), (22.0, 38.1), (28.0, 44.45), (31.0, 50.8), (37.0, 63.5))
POCKET_SLACK = 7.0  # mm: the next length up or down still serves


def run(subject: Subject) -> Iterator[Finding]:
    """Yield what is wrong with the length of each fastener."""
    for fastener, held in holds(subject):
        item = subject.items.get(fastener.item)
        pull = _pull(subject, fastener)
        if pull is not None and isinstance(item, Screw) and item.kind.startswith("machine"):
            yield from _pull_screw(subject, fastener, held, pull)
        elif held and isinstance(item, Screw | Pin):
            yield from _bite(subject, held, through=len(held) == len(fastener.parts))
            if isinstance(item, Screw) and item.kind.startswith("pocket"):
                yield from _pocket(subject, held[0], item)


def _bite(subject: Subject, held: tuple[Hold, ...], *, through: bool) -> Iterator[Finding]:
    """`through`: its head lies in the first of the parts, which does not count; else in hardware, and all count."""
    last = held[-1]
    bite = last.bite if through else sum(h.bite for h in held)
    if isinstance(last.item, Pin):
        least, worst = PIN_BITE, PIN_BITE / 2
    elif last.screw is not None and last.screw.kind.startswith("pocket"):
        least, worst = subject.practice["pocket.bite"], NONE * last.diameter
    elif last.screw is not None and last.screw.kind.startswith("machine"):
        return
    else:
        least, worst = LEAST * last.diameter, NONE * last.diameter
    if bite >= least - 0.05:
        return
    yield subject.finding(
        code="fastener.bite",
        severity=Severity.STOP if bite < worst else Severity.WARN,
        path=last.fastener.path,
        related=(last.placed.path,),
        message=f"bites {bite:.1f} mm into {last.placed.path}",
        value=bite,
        limit=least,
        source=SOURCE,
        remedy="take a longer one, or sink its head",
    )


def _pocket(subject: Subject, first: Hold, screw: Screw) -> Iterator[Finding]:
    thickness = first.part.blank.thickness
    fitting = [length for least, length in POCKET if thickness >= least - 1.0]
    if not fitting or abs(screw.length - fitting[-1]) <= POCKET_SLACK:
        return
    yield subject.finding(
        code="fastener.pocket",
        severity=Severity.WARN,
        path=first.fastener.path,
        related=(first.placed.path,),
        message=f"a pocket screw of {screw.length:.1f} mm in stock of {thickness:.1f} mm",
        value=screw.length,
        limit=fitting[-1],
        source=POCKET_SOURCE,
        remedy=f"take one of about {fitting[-1]:.0f} mm",
    )


def _pull(subject: Subject, fastener: Fastener) -> Pull | None:
    for path in fastener.parts:
        placed = subject.by_path.get(path)
        if placed is not None and isinstance(placed.thing, Hardware):
            item = subject.items.get(placed.thing.item)
            if isinstance(item, Pull):
                return item
    return None


def _pull_screw(subject: Subject, fastener: Fastener, held: tuple[Hold, ...], pull: Pull) -> Iterator[Finding]:
    if not held:
        return
    engaged = fastener.length - held[-1].leave
    least, most = 2 * fastener.shank_radius, subject.practice["pull.thread_most"]
    if least <= engaged <= most + 0.05:
        return
    short = engaged < least
    yield subject.finding(
        code="fastener.pull",
        severity=Severity.STOP,
        path=fastener.path,
        related=(held[-1].placed.path,),
        message=f"engages {max(engaged, 0.0):.1f} mm of the thread of {pull.name}" + ("" if short else ": it bottoms"),
        value=engaged,
        limit=least if short else most,
        source=PULL_SOURCE,
        remedy="take a longer screw" if short else "take a shorter screw",
    )


CHECK = Check(
    code="fastener.bite",
    what="screws and pins bite far enough, pocket screws suit their stock, pull screws their pull",
    needs=("axes of fasteners", "blanks", "screws and pulls of the stock", "practice pocket.bite, pull.thread_most"),
    source=SOURCE,
    run=run,
)
