"""No fastener meets a cut that was made for something else: a recess, a channel, a groove, another one's hole."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from casewright.checks.fastener_holds import Hold, holds
from casewright.checks.model import Check, Subject
from casewright.checks.standing import standing
from casewright.design.features.base import Feature
from casewright.design.features.cuts import Dado, Groove, HingeMortise, Rabbet
from casewright.design.features.hole_rows import HoleRow
from casewright.design.features.holes import Hole, PocketHole
from casewright.design.features.openings import Channel, Cutout, Mortise, Recess, Slot
from casewright.design.parts import Fastener, Hardware, Part, Placed
from casewright.design.paths import own_path
from casewright.design.volumes import HalfSpace, Volume
from casewright.findings import Finding, Severity
from casewright.solids.fastened import enters
from casewright.solids.reach import moved, reach

SOURCE = "common practice: a screw in a hollow holds nothing, and a point in a recess harms what lies in it"
CUTS = (Channel, Recess, Cutout, Mortise, Slot, Dado, Groove, HingeMortise, Rabbet, Hole, HoleRow, PocketHole)
BORED = (Hole, HoleRow, PocketHole, Slot)  # they do no harm in a part that the fastener only passes
HARMED = (Channel, Recess)  # something lies in them
INSIDE = 0.3  # mm: what reaches into a cut by less merely lies against it
Boxes = NDArray[np.float64]


def run(subject: Subject) -> Iterator[Finding]:
    """Yield a stop for a fastener in a recess or channel, a warning for one in another cut."""
    pairs = {j.id: frozenset((j.a, j.b)) for j in subject.piece.joints}
    for fastener, held in holds(subject):
        for hold in held:
            for feature in _cuts_near(subject, hold):
                bored = isinstance(feature, BORED) and len(held) > 1 and hold is not held[-1]
                if not bored and not _its_own(subject, fastener, feature, pairs):
                    yield from _meets(subject, hold, feature)


def _cuts_near(subject: Subject, hold: Hold) -> list[Feature]:
    """Return the cuts of a part whose boxes the fastener comes near."""
    part = hold.part
    owners, boxes = subject.cache.made("cut boxes", part.key, lambda: _boxes(part))
    if not len(boxes):
        return []
    ends = np.array((hold.at(0.0), hold.at(hold.fastener.length)))
    radius = max(hold.fastener.shank_radius, hold.fastener.head_radius)
    low, high = ends.min(axis=0) - radius, ends.max(axis=0) + radius
    meets = ((boxes[:, 0] <= high) & (boxes[:, 1] >= low)).all(axis=1)
    found = dict.fromkeys(owners[i] for i in np.nonzero(meets)[0].tolist())
    return [part.features[i] for i in found]


def _boxes(part: Part) -> tuple[list[int], Boxes]:
    """Return a box for each volume of each cut, (n, 2, 3) in the blank, and the number of its feature."""
    owners: list[int] = []
    boxes: list[Boxes] = []
    for i, feature in enumerate(part.features):
        for volume in _volumes(part, feature):
            owners.append(i)
            boxes.append(reach(volume))
    return owners, np.array(boxes).reshape(-1, 2, 3)


def _volumes(part: Part, feature: Feature) -> tuple[Volume, ...]:
    if not isinstance(feature, CUTS):
        return ()
    return tuple(v for v in feature.lower(part.blank) if not isinstance(v, HalfSpace))


def _its_own(subject: Subject, fastener: Fastener, feature: Feature, pairs: dict[str, frozenset[str]]) -> bool:
    """True where the cut belongs to the fastener's joint, or to another joint of the same parts."""
    joint = own_path(feature.joint, subject.piece.path)
    return joint == fastener.joint or (joint in pairs and pairs[joint] <= set(fastener.parts))


def _meets(subject: Subject, hold: Hold, feature: Feature) -> Iterator[Finding]:
    volumes = _volumes(hold.part, feature)
    if _filled(subject, hold, volumes):
        return
    hollow = Placed(
        path=hold.placed.path,
        name=feature.describe(),
        thing=Hardware(item=feature.describe(), bodies=volumes, mass=0.0),
        frame=hold.placed.frame,
    )
    if not enters(hold.fastener, hollow, subject.cache):
        return
    harm = type(feature) in HARMED
    yield subject.finding(
        code="fastener.meets",
        severity=Severity.STOP if harm else Severity.WARN,
        path=hold.fastener.path,
        related=(hold.placed.path,),
        message=f"runs into the {feature.describe()} of {hold.placed.path}"
        + (f", which is made for {own_path(feature.joint, subject.piece.path)}" if feature.joint else ""),
        source=SOURCE,
        remedy="move it along its joint, or take a shorter one",
    )


def _filled(subject: Subject, hold: Hold, volumes: tuple[Volume, ...]) -> bool:
    """True where something else that the fastener holds lies in the cut: then it is made for that."""
    for path in hold.fastener.parts:
        if path == hold.placed.path or path not in subject.by_path:
            continue
        other = standing(subject).of((subject.by_path[path],))[0].reshape(2, 3)
        for volume in volumes:
            room = reach(volume)
            inside = np.array((np.maximum(room[0], 0.0), np.minimum(room[1], hold.part.blank.size)))  # bits start proud
            cut = moved(inside, hold.placed.frame)
            if (np.minimum(cut[1], other[1]) - np.maximum(cut[0], other[0]) > INSIDE).all():
                return True
    return False


CHECK = Check(
    code="fastener.meets",
    what="fasteners keep clear of recesses, channels, grooves, cups and each other's holes",
    needs=("axes of fasteners", "features of the parts that they hold"),
    source=SOURCE,
    run=run,
)
