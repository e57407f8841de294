"""The lip of a pocket: wood stays between the pocket of a screw and what else is cut into its part.

A pocket opens far behind its screw: its mouth reaches half its width over the sine of its angle beyond the axis,
18 mm of a pocket of 3/8 in at 15°. A cut there leaves a sliver that the bit breaks out, or the pocket opens into it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from casewright.checks.model import Check, Subject
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Dado, Groove, HingeMortise, Rabbet
from casewright.design.features.holes import PocketHole
from casewright.design.features.openings import Channel, Cutout, Mortise, Recess, Slot
from casewright.design.parts import Part
from casewright.design.paths import own_path
from casewright.design.volumes import HalfSpace, Volume
from casewright.findings import Finding
from casewright.solids.between import left_between

SOURCE = "practice fastener.clearance; common practice: a lip thinner than that breaks out when the pocket is bored"
CUTS = (Channel, Recess, Cutout, Mortise, Slot, Dado, Groove, HingeMortise, Rabbet, PocketHole)
EVEN = 0.01  # mm


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a warning for each pocket that another cut of its part leaves too little wood beside."""
    least = subject.practice["fastener.clearance"]
    for placed in subject.piece.placed:
        if not isinstance(placed.thing, Part):
            continue
        part = placed.part
        for pocket, cut, gap in subject.cache.made("lips", (part.key, least), partial(_thin, part, least)):
            what = part.features[cut].describe()
            yield subject.warned(
                "fastener.lip",
                own_path(part.features[pocket].joint, subject.piece.path) or placed.path,
                f"a pocket of {placed.name} opens into its {what}"
                if gap <= EVEN
                else f"{gap:.1f} mm of wood between a pocket of {placed.name} and its {what}",
                gap,
                least,
                source=SOURCE,
                remedy="move the pocket along its joint, or the cut, or bore the pocket from the other face",
            )


def _thin(part: Part, least: float) -> tuple[tuple[int, int, float], ...]:
    """Return the pockets of a part with cuts that stand nearer than `least`: numbers of both features, mm."""
    pockets = [i for i, f in enumerate(part.features) if isinstance(f, PocketHole)]
    cuts = [(i, v) for i, f in enumerate(part.features) if isinstance(f, CUTS) for v in _volumes(part, f)]
    out = []
    for pocket in pockets:
        bored = part.features[pocket].lower(part.blank)[0]  # the pocket; its pilot is the screw's own
        for cut, volume in cuts:
            if cut == pocket or (cut in pockets and cut < pocket):
                continue
            gap = left_between(part.blank.size, bored, volume, least)
            if gap < least - EVEN:
                out.append((pocket, cut, gap))
    return tuple(out)


def _volumes(part: Part, feature: Feature) -> tuple[Volume, ...]:
    return tuple(v for v in feature.lower(part.blank) if not isinstance(v, HalfSpace))


CHECK = Check(
    code="fastener.lip",
    what="wood stays between the pocket of a screw and the other cuts of its part",
    needs=("features of parts", "practice fastener.clearance"),
    source=SOURCE,
    run=run,
)
